/* What comes from elsewhere - titles, names, values - does no harm where the program shows it. */
#include "cli/program.h"

#include <CUnit/CUnit.h>

void suite_cli_safety(void);

/* A title that a spreadsheet would run is marked as text in every file, and drawn as it is; one so
 * marked in site.csv is read as it was. */
static void no_cell_is_run_by_a_spreadsheet(void)
{
    CU_ASSERT(program_ends("$P compare $S --every 600 --set 'title==1+1' -o $T/out > $T/table; "
                           "tail -n 1 $T/out/settings.csv",
                           0, ",'=1+1\n"));
    CU_ASSERT(program_ends("$P plot $T/out > $T/named; grep -o '>.*pump cycles' $T/out/hours.svg",
                           0, ">=1+1: pump cycles\n"));
    CU_ASSERT(program_ends("sed -i \"s/^title,[^,]*/title,'@SUM(A1)/\" $S/site.csv; "
                           "$P compare $S --strategy peak-only | head -n 1",
                           0, "@SUM(A1)\n"));
    CU_ASSERT(program_ends("$P check $S --csv | grep -c '^[-=+@]\\|,[-=+@][^0-9.]'", 1, "0\n"));
    CU_ASSERT(program_ends("$P items --csv | grep -c '^[-=+@]\\|,[-=+@][^0-9.]'", 1, "0\n"));
}

void suite_cli_safety(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli_safety", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, no_cell_is_run_by_a_spreadsheet);
}
