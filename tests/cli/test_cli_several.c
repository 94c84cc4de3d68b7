/* `pumpday compare` and `pumpday report` of several scenarios, as a user would run them. */
#include "cli/program.h"

#include <CUnit/CUnit.h>

void suite_cli_several(void);

#define HOUSE "scenarios/hillside-house"
#define FLATS "scenarios/six-flats"

static void usage_is_told(void)
{
    CU_ASSERT(program_ends("$P compare '" HOUSE "*x' " FLATS, 2, "whole number of days behind *"));
    CU_ASSERT(program_ends("$P compare '" HOUSE "*0'", 2, "1 to 366"));
    CU_ASSERT(program_ends("$P compare '" HOUSE "*367'", 2, "1 to 366"));
    CU_ASSERT(program_ends("$P compare '" HOUSE "*1.5'", 2, "whole number"));
    CU_ASSERT(program_ends("$P compare " HOUSE " " HOUSE "/", 2, "named twice"));
    CU_ASSERT(program_ends("$P compare $(seq 17)", 2, "more than 16 scenarios"));
    CU_ASSERT(program_ends("$P report " HOUSE " " FLATS, 2, "-o"));
}

/* The faults of all are told before anything is run. */
static void faults_of_all_are_told(void)
{
    CU_ASSERT(program_ends("$P compare $T/a " FLATS " $T/b -o $T/out", 3, "/a: there is no such"));
    CU_ASSERT(program_ends("$P compare $T/a " FLATS " $T/b -o $T/out", 3, "/b: there is no such"));
    CU_ASSERT(program_ends("test -e $T/out", 1, ""));
}

/* A folder whose very name ends in *2 is that folder. */
static void a_name_goes_before_a_weight(void)
{
    CU_ASSERT(program_ends("cp -r $S $T/odd\\*2; $P compare \"$T/odd*2\" " HOUSE, 0, "odd*2: "));
    CU_ASSERT(program_ends("$P compare \"$T/odd*2*3\" " HOUSE, 0, ", 3 days"));
}

static void one_table_holds_all(void)
{
    CU_ASSERT(program_ends("$P compare '" HOUSE "*5' " FLATS "*2 --strategy peak-only > $T/table; "
                           "grep -c peak-only $T/table; grep -A2 '^all' $T/table | tail -1; "
                           "awk 'length > 100' $T/table | wc -l",
                           0, "      7 of 7 days: hillside-house, six-flats\n0\n"));
    CU_ASSERT(program_ends("cat $T/table", 0, "hillside-house: hillside house, 5 days\n"));
    // without weights nothing is said of days
    CU_ASSERT(program_ends("$P compare " HOUSE " " FLATS " | grep -c '[0-9] days$'", 1, "0"));
    CU_ASSERT(program_ends("$P compare " HOUSE " " FLATS " --units us", 0, "[gal]"));
}

/* The sums, from the rows of the days themselves. */
static void the_files_add_up(void)
{
    CU_ASSERT(program_ends("$P compare '" HOUSE "*5' '" FLATS "*2' -o $T/out > $T/table; ls $T/out",
                           0, "scenarios-cycles.csv\nscenarios-hours.csv\nscenarios.csv\n"));
    CU_ASSERT(program_ends(
        "awk -F, 'NR > 1 && $1 != \"all\" { e[$3] += $2 * $7; s[$3] += $2 * $4 } NR > 1 && $1 == "
        "\"all\" { d = $7 - e[$3]; if (d < 0) d = -d; print $3, $2, $4 == s[$3], d < 1e-6 }' "
        "$T/out/scenarios.csv",
        0, "pressure-start 7 1 1\nflow-start 7 1 1\npeak-only 7 1 1\n"));
    // starts of the hours and rows of the cycles are those of the day
    CU_ASSERT(program_ends("awk -F, '$1 == \"six-flats\" && $2 == \"flow-start\" { n += $4 } END { "
                           "print n }' $T/out/scenarios-hours.csv; grep -c '^six-flats,flow-start' "
                           "$T/out/scenarios-cycles.csv; grep '^six-flats,2,flow-start' "
                           "$T/out/scenarios.csv | cut -d, -f4",
                           0, "13\n13\n13\n"));
}

static void a_picture_is_drawn(void)
{
    CU_ASSERT(program_ends("$P compare " HOUSE " " FLATS " -o $T/out > $T/table; $P plot $T/out", 0,
                           "/scenarios.svg"));
    CU_ASSERT(program_ends("grep -c 'hillside-house' $T/out/scenarios.svg", 0, "3"));
}

/* Names of charts, which are ids, do not come twice on the page. */
static void the_page_holds_all(void)
{
    CU_ASSERT(program_ends("$P report '" HOUSE "*5' " FLATS " -o $T/r.html", 0, "wrote"));
    CU_ASSERT(program_ends("grep -o ' id=\"[^\"]*\"' $T/r.html | sort | uniq -d | wc -l; grep -c "
                           "'<svg' $T/r.html",
                           0, "0\n18\n"));
    CU_ASSERT(program_ends("grep -o '2 scenarios compared' $T/r.html | head -1", 0,
                           "2 scenarios compared"));
    CU_ASSERT(program_ends("grep -o 'hillside house, 5 days' $T/r.html | head -1", 0,
                           "hillside house, 5 days"));
    CU_ASSERT(program_ends("grep -o '6 of 6 days: hillside-house' $T/r.html | head -1", 0,
                           "6 of 6 days: hillside-house"));
    CU_ASSERT(program_ends("cp $T/r.html $T/before; $P report " HOUSE " $T/none -o $T/r.html; "
                           "cmp $T/r.html $T/before",
                           0, "none: there is no such folder"));
}

void suite_cli_several(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli_several", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, usage_is_told);
    CU_ADD_TEST(suite, faults_of_all_are_told);
    CU_ADD_TEST(suite, a_name_goes_before_a_weight);
    CU_ADD_TEST(suite, one_table_holds_all);
    CU_ADD_TEST(suite, the_files_add_up);
    CU_ADD_TEST(suite, a_picture_is_drawn);
    CU_ADD_TEST(suite, the_page_holds_all);
}
