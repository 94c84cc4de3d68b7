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

/* A folder, a file and a title that ring, colour, move the cursor and turn the writing: none of it
 * arrives, whatever a command prints or fails with. */
static void nothing_steers_the_terminal(void)
{
    static const char *const lines[] = {
        "$P compare \"$O\"",
        "$P compare $S --set \"$X=1\"",
        "$P compare $S --set \"title=$X\"",
        "$P compare $S --set \"energy.price=1 \xC2\x9B/kWh\" --every 60 -o \"$O\"",
        "$P compare $S --units \"$X\"",
        "$P compare $S \"--$X\"",
        "$P compare $S \"$X\"",
        "$P \"$X\"",
        "$P plot \"$O\"",
        "$P plot \"$O\" --scripts \"$O\"",
        "$P report $S -o \"$O/a.html\"",
        "PATH=/nowhere $P report $S -o \"$O/a.html\"",
        "$P report $S -o \"$S/site.csv/$X\"",
        "$P sheet $S --strategy pressure-start -o \"$O/sheet.txt\"",
        "$P sheet $S --strategy pressure-start --set \"title=$X\"",
        "$P sheet $S --strategy \"$X\"",
        "$P sweep $S --vary \"tank.volume=8$X\" -o $T/a.csv",
        "$P sweep $S --vary tank.volume=8L --strategy peak-only -o \"$O/a.csv\"",
        "$P sweep $S --vary tank.volume=8L --strategy peak-only -o \"$O/a.csv/b\"",
        "$P settings \"$O\"",
        "$P check \"$O/house\"",
        "$P check $S --strategy peak-only --set \"title=$X\"",
        "$P diagnose $S --seen \"$X=1\"",
        "$P diagnose $S --log \"$O/none.csv\"",
        "$P new \"$O\"",
        "$P new \"$O/new\"",
        "$P items \"$X\"",
        "$P compare $T/odd",
    };
    // bytes of C0 but line ends, DEL, and in UTF-8 C1, marks of direction, separators
    static const char check[] =
        " 2>&1 | LC_ALL=C grep -c \"$(printf '[\\001-\\011\\013-\\037\\177]\\|\\302[\\200-\\237]\\|"
        "\\330\\234\\|\\342\\200[\\216\\217\\250-\\256]\\|\\342\\201[\\246-\\251]')\"";
    char line[1500];

    CU_ASSERT(
        program_ends("cp -r $S $T/odd; printf 'title,\\033\\302\\233\\n\\342\\200\\256,1\\n' >> "
                     "$T/odd/site.csv",
                     0, ""));
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        (void)snprintf(
            line, sizeof line,
            "X=\"$(printf "
            "'\\033]0;x\\007\\302\\233K\\342\\200\\256q\\330\\234\\342\\201\\246\\015\\377')\"; "
            "O=\"$T/$X\"; mkdir -p \"$O\"; { %s; }%s",
            lines[i], check);
        CU_ASSERT(program_ends(line, 1, "0\n"));
    }
}

void suite_cli_safety(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli_safety", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, no_cell_is_run_by_a_spreadsheet);
    CU_ADD_TEST(suite, nothing_steers_the_terminal);
}
