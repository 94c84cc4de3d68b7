/* `pumpday sheet` as an installer would use it. */
#include "cli/program.h"

#include <CUnit/CUnit.h>

void suite_cli_sheet(void);

static void help_and_usage(void)
{
    CU_ASSERT(program_ends("$P sheet --help", 0, "example"));
    CU_ASSERT(program_ends("$P sheet $S", 2, "--strategy"));
    CU_ASSERT(program_ends("$P sheet --strategy peak-only", 2, "scenario"));
    CU_ASSERT(program_ends("$P sheet $S --strategy peak-only -o $T/sheet.pdf", 2, ".html or .txt"));
}

static void text_and_page(void)
{
    CU_ASSERT(program_ends("$P sheet $S --strategy pressure-start", 0, "Order of work"));
    // what is to be set does not hang on what is lost in later months
    CU_ASSERT(
        program_ends("$P sheet $S --strategy pressure-start > $T/a.txt; $P sheet $S --strategy "
                     "pressure-start --set 'tank.gas_loss=50 mbar' --set tank.months=24 | cmp - "
                     "$T/a.txt && echo same",
                     0, "same"));
    CU_ASSERT(program_ends("$P sheet $S --strategy pressure-start --units us -o $T/a/s.txt && "
                           "cat $T/a/s.txt",
                           0, " psi  ______"));
    CU_ASSERT(program_ends("$P sheet $S --strategy pressure-start -o $T/s.html && "
                           "head -c 60 $T/s.html",
                           0, "<!DOCTYPE html>"));
    CU_ASSERT(program_ends("$P sheet $S --strategy pressure-start -o /proc/s.html", 5, "/proc"));
    CU_ASSERT(
        program_ends("$P sheet $S --strategy pressure-start > /dev/full", 5, "standard output"));
}

/* A sheet that must not be put to work yet is written whole, and says so by its code too. */
static void judged_first(void)
{
    CU_ASSERT(program_ends("$P sheet $S --strategy pressure-start --set tank.precharge='9 bar' "
                           "--set tank.rated_pressure='6 bar'",
                           1, "Do not put into service before"));
    CU_ASSERT(program_ends("$P sheet $S --strategy pressure-start --set tank.precharge='9 bar' "
                           "--set tank.rated_pressure='6 bar' -o $T/bad.html",
                           1, "wrote"));
    CU_ASSERT(program_ends("cat $T/bad.html", 0, "signed</span></div>\n</body></html>"));
    CU_ASSERT(program_ends("$P sheet $S --strategy pressure-start --set tank.precharge='9 bar' "
                           "--set tank.rated_pressure='6 bar' -o /proc/s.html",
                           5, "/proc"));
}

void suite_cli_sheet(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli sheet", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, help_and_usage);
    CU_ADD_TEST(suite, text_and_page);
    CU_ADD_TEST(suite, judged_first);
}
