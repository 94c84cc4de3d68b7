/* `pumpday settings` as an installer would use it. */
#include "cli/program.h"

#include <CUnit/CUnit.h>

void suite_cli_settings(void);

static void help_and_usage(void)
{
    CU_ASSERT(program_ends("$P settings --help", 0, "example"));
    CU_ASSERT(program_ends("$P settings", 2, "scenario"));
    CU_ASSERT(program_ends("$P settings $S -o ''", 2, "empty"));
    CU_ASSERT(program_ends("$P settings $S --set 'tank.sizes=8 4 L'", 3, "not rising"));
}

/* What is written goes into site.csv by an editor, or behind --set by the shell. */
static void rows_for_an_editor_and_for_set(void)
{
    CU_ASSERT(
        program_ends("$P settings $S --strategy pressure-start -o $T/new/rows.csv >/dev/null; "
                     "cat $T/new/rows.csv",
                     0, "item,value,unit,note\npressure_start.start,"));
    CU_ASSERT(program_ends("$P settings $S --strategy pressure-start -o $T/rows.csv >/dev/null && "
                           "cut -d, -f1 $T/rows.csv | grep -v '^[#i]' > $T/items && "
                           "grep -v -F -f $T/items $S/site.csv > $T/site && "
                           "grep -v '^[#i]' $T/rows.csv >> $T/site && cp $T/site $S/site.csv && "
                           "$P compare $S --strategy pressure-start",
                           0, "pressure-start"));
    CU_ASSERT(program_ends("$P settings $S --strategy pressure-start --units us", 0, " gal\"\n"));
}

/* A slip of the hand must not replace the scenario by what was found for it. */
static void scenario_is_not_overwritten(void)
{
    CU_ASSERT(program_ends("$P settings $S -o $S/site.csv", 2, "a file of a scenario"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=5,10L -o $S/demand.csv", 2,
                           "a file of a scenario"));
    CU_ASSERT(program_ends("$P compare $S --strategy pressure-start", 0, "starts"));
}

static void none_will_do(void)
{
    CU_ASSERT(program_ends("$P settings $S --set 'supply.pressure=81 psi'", 0,
                           "without a reducing valve none will do"));
    CU_ASSERT(program_ends("$P settings $S --set 'supply.pressure=81 psi' --set "
                           "'demand.wanted_pressure=2 bar'",
                           0, "--set \"supply.reducing_valve="));
    CU_ASSERT(program_ends("$P settings $S --set 'supply.pressure=3 bar' --set "
                           "'limit.static_pressure=110 psi' -o $T/rows.csv",
                           1, "nothing to write: no booster needed"));
    // what the supply alone does not stand is told beside it, once for each
    CU_ASSERT(program_ends("$P settings scenarios/leaky-terrace", 0,
                           "one is needed if the supply is 30 kPa lower (a level: 0.5 m):"));
    CU_ASSERT(program_ends("$P settings $S --set 'supply.pressure=3 bar' --set "
                           "'limit.static_pressure=110 psi'",
                           0, "nor with anything off that was tried"));
    // taps that dip below what is wanted are not told as if they held it
    CU_ASSERT(program_ends("$P settings scenarios/hillside-house --set 'supply.offset=5 bar' --set "
                           "'demand.wanted_pressure=2 bar'",
                           0, "never below 179 kPa (less than is asked for, for moments only)"));
    CU_ASSERT(program_ends("$P settings $S --set 'limit.static_pressure=40 psi' -o $T/rows.csv", 1,
                           "none will do"));
    CU_ASSERT(program_ends("$P settings $S --set 'limit.static_pressure=40 psi'", 1,
                           "none will do; the day is that with"));
    CU_ASSERT(
        program_ends("$P settings $S --set energy.price=0.3EUR/kWh", 0, "cost of the day [EUR]"));
    CU_ASSERT(program_ends("ls $T", 0, "house\n"));
    CU_ASSERT(
        program_ends("$P settings $S --strategy pressure-start -o /proc/rows.csv", 5, "/proc"));
}

/* Two of this house draw its main below the pressure of the air, which the check calls unfit; a
 * cistern is no main. */
static void a_main_is_not_drawn_down_silently(void)
{
    CU_ASSERT(program_ends("cp scenarios/hillside-house/*.csv $S && $P settings $S >$T/all; "
                           "grep ^preferred $T/all",
                           0, "preferred: pressure-start, since no other keeps the day"));
    CU_ASSERT(program_ends(
        "grep 'lowest suction pressure' $T/all | grep -c -e ' -[0-9]* kPa.* -[0-9]* kPa'", 0, "1"));
    CU_ASSERT(program_ends("cat $T/all", 0, "caution: peak-only draws the main down to -"));
    CU_ASSERT(program_ends("cat $T/all", 0, "see `pumpday check`"));
    CU_ASSERT(program_ends("grep -c 'caution: pressure-start' $T/all", 1, "0"));
    CU_ASSERT(program_ends("$P settings scenarios/cistern-cottage | grep -c 'draws the main down'",
                           1, "0"));
    CU_ASSERT(
        program_ends("$P settings $S --strategy peak-only", 1, "peak-only       poor suction"));
}

void suite_cli_settings(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("cli settings", NULL, NULL,
                                                           program_begin, program_end);

    CU_ADD_TEST(suite, help_and_usage);
    CU_ADD_TEST(suite, rows_for_an_editor_and_for_set);
    CU_ADD_TEST(suite, scenario_is_not_overwritten);
    CU_ADD_TEST(suite, none_will_do);
    CU_ADD_TEST(suite, a_main_is_not_drawn_down_silently);
}
