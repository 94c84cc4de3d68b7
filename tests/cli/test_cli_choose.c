/* `pumpday choose` as a user would run it. */
#include "cli/program.h"

#include <CUnit/CUnit.h>

void suite_cli_choose(void);

#define OFFERS "scenarios/ten-flats/offers/"

static void usage_is_told(void)
{
    CU_ASSERT(program_ends("$P choose --help", 0, "--tanks"));
    CU_ASSERT(program_ends("$P choose", 2, "scenario"));
    CU_ASSERT(program_ends("$P choose $S", 2, "among what"));
    CU_ASSERT(program_ends("$P choose $S --tanks x.csv --share 101", 2, "50 to 100"));
    CU_ASSERT(program_ends("$P choose $S --tanks " OFFERS "tanks.csv", 3, "--dwellings"));
    CU_ASSERT(program_ends("$P choose scenarios/ten-flats --tanks $T/none.csv", 3, "none.csv"));
    CU_ASSERT(program_ends("(cat " OFFERS "tanks.csv; tail -1 " OFFERS "tanks.csv) > $T/twice.csv; "
                           "$P choose scenarios/ten-flats --tanks $T/twice.csv",
                           3, "expected a name that no row before this one has"));
}

static void offers_are_ranked(void)
{
    CU_ASSERT(program_ends(
        "grep -E 'name|35 L|150 L' " OFFERS "tanks.csv > $T/tanks.csv; $P choose "
        "scenarios/ten-flats --tanks $T/tanks.csv --strategy pressure-start --count 20 --share 90 "
        "-o $T/choice.csv",
        0, "least cost among those that pass on 90 % of the days: its own, 150 L, pressure-start"));
    // the settings that were found, which the scenario does not have
    CU_ASSERT(program_ends("cut -d, -f13,14,18 $T/choice.csv | head -2", 0,
                           "start_pressure [kPa],stop_pressure [kPa],precharge [kPa]\n400,,385"));
    CU_ASSERT(
        program_ends("cut -d, -f1-4,7 $T/choice.csv", 0,
                     "rank,pump,tank,strategy,passes\n1,its own,150 L,pressure-start,1\n2,its "
                     "own,35 L,pressure-start,0\n"));
    CU_ASSERT(program_ends("grep -E 'name|35 L' " OFFERS "tanks.csv > $T/tanks.csv; $P choose "
                           "scenarios/ten-flats --tanks $T/tanks.csv --strategy pressure-start "
                           "--count 20",
                           1, "none passes on 99 % of the days"));
    CU_ASSERT(program_ends("$P days scenarios/ten-flats --count 3", 0, "cost of 15 years [EUR]"));
    CU_ASSERT(program_ends("$P choose scenarios/ten-flats --tanks $T/tanks.csv -o "
                           "scenarios/ten-flats/site.csv",
                           2, "a file of a scenario"));
}

void suite_cli_choose(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli choose", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, usage_is_told);
    CU_ADD_TEST(suite, offers_are_ranked);
}
