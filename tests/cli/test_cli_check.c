/* `pumpday check` as an installer would use it. */
#include "cli/program.h"

#include <CUnit/CUnit.h>

void suite_cli_check(void);

#define QUICK "$P check --quick --supply '40 psi' --shutoff '90 ft' --duty '10 gpm@75 ft' "

static void help_and_usage(void)
{
    CU_ASSERT(program_ends("$P check --help", 0, "example"));
    CU_ASSERT(program_ends("$P check", 2, "scenario"));
    CU_ASSERT(program_ends("$P check $S --tank '24 L'", 2, "--tank is for --quick"));
    CU_ASSERT(program_ends("$P check --quick $S --duty '1 gpm@1 m'", 2, "without a scenario"));
    CU_ASSERT(program_ends("$P check $T/nowhere", 3, "nowhere"));
}

/* A fail ends with 1, none with 0. */
static void exit_code_by_the_lines(void)
{
    CU_ASSERT(program_ends("$P check $S --strategy pressure-start", 0, "\n0 of "));
    CU_ASSERT(program_ends("$P check $S --strategy pressure-start --set 'supply.pressure=19 psi'",
                           1, "fail  lowest pressure of the main"));
    CU_ASSERT(program_ends("$P check $S --csv --units us --strategy peak-only | head -n 1", 0,
                           "strategy,what,found,unit,sense,limit,source,level,note"));
}

static void quick_in_both_systems(void)
{
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --units us", 0, "\n0 of 14 lines fail"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --units us", 0, "precharge"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --units us", 0, "\nthe worst draw, 0."));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --draw '0.5 gpm' --units us", 0,
                           "\nat the draw told, 0.50 gpm"));
    CU_ASSERT(program_ends(QUICK "--tank '2 gal' --units us", 1, "fail  starts per hour at the w"));
    CU_ASSERT(program_ends(QUICK "--tank '2 gal' --units us", 1, "smallest tank that passes"));
    // 275.8 kPa and 27.432 m of water of 999.3 kg/m3 (IAPWS, 15 degC), 268.8 kPa: 544.6 kPa
    CU_ASSERT(program_ends(QUICK "--tank '100 L'", 0, "79.0 psi"));
    CU_ASSERT(program_ends(QUICK "--tank '4 L' --start '60 psi' --precharge '70 psi'", 1,
                           "fail  precharge"));
    CU_ASSERT(program_ends(QUICK "--tank '20 gal' --draw '30 gpm'", 1, "fail  flow given"));
    CU_ASSERT(program_ends(QUICK, 2, "--quick needs --tank"));
    CU_ASSERT(program_ends(QUICK "--tank 20", 2, "--tank: no unit"));
    CU_ASSERT(program_ends(QUICK "--tank '20 gal' --duty '10 gpm'", 2, "FLOW@HEAD"));
    CU_ASSERT(program_ends(QUICK "--tank '20 gal' --duty '10 gpm@95 ft'", 2, "shutoff head"));
}

static void quick_takes_pipe_motor_and_phases(void)
{
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --units us", 0, "tell --motor"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --motor '1 hp' --units us", 1, "tell --phases"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --motor '1 hp' --phases single", 1, "<= 7.5"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --motor '1 hp' --phases polyphase", 0, "<= 15"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --phases two", 2, "single|polyphase"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --codes mars", 2, "us|european|none"));
    // 545 kPa, over the 500 kPa of EN 806-2 and under the 80 psi of US codes
    CU_ASSERT(program_ends(QUICK "--tank '100 L' --codes european --units si", 1,
                           "fail  static pressure at the lowest fixture 545 kPa     <= 500 kPa"));
    CU_ASSERT(program_ends(QUICK "--tank '100 L' --codes european --units si", 1, "<= 20 "));
    CU_ASSERT(program_ends(QUICK "--tank '100 L' --codes none", 0, "\n0 of"));
    CU_ASSERT(program_ends(QUICK "--tank '100 L' --pipe '25mm@10m' --units si", 0,
                           "pipe to the pump of 25.0 mm and 10.0 m"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --pipe '0.5 in@20 ft' --units us", 1,
                           "fail  velocity in the pipe then"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --pipe '25 mm'", 2, "BORE@LENGTH"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --pipe '25 mm@10 L'", 2, "--pipe"));
    CU_ASSERT(program_ends(QUICK "--tank '26 gal' --stop '60 psi'", 2, "needs a start pressure"));
    CU_ASSERT(program_ends(QUICK "--tank '86 gal' --start '50 psi' --stop '70 psi' --units us", 0,
                           "the same, by a pressure switch"));
    CU_ASSERT(program_ends("$P check $S --pipe '25mm@10m'", 2, "--pipe is for --quick"));
}

void suite_cli_check(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli check", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, help_and_usage);
    CU_ADD_TEST(suite, exit_code_by_the_lines);
    CU_ADD_TEST(suite, quick_in_both_systems);
    CU_ADD_TEST(suite, quick_takes_pipe_motor_and_phases);
}
