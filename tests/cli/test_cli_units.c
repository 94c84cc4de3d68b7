/* Whose units come out: those that a scenario is written in, unless `--units` tells others. */
#include "cli/program.h"

#include <CUnit/CUnit.h>
#include <pumpday/error.h>
#include <stdio.h>

void suite_cli_units(void);

/* A command on the scenario $H, its output in $T/text. */
static const char *const commands[] = {
    "$P compare $H $U -o $T/days >$T/text && cat $T/days/trace.csv >>$T/text",
    // a rule of the trade keeps the unit in which it is told
    "$P check $H $U | sed 's/. psi under it//' >$T/text",
    "$P settings $H $U --strategy peak-only >$T/text",
    "$P sheet $H $U --strategy pressure-start >$T/text",
    "$P diagnose $H $U --seen between_starts=300s >$T/text",
    "$P sweep $H $U --vary tank.gas=isothermal --strategy peak-only -o $T/text",
    "$P report $H $U -o $T/page.html; sed 's/<svg.*svg>//' $T/page.html >$T/text",
};

/* Every command, which are to show pressures in one unit and not in the other. */
static void all_show(const char *scenario, const char *units, const char *shown,
                     const char *not_shown)
{
    char line[512];

    for (size_t i = 0; i < sizeof commands / sizeof commands[0]; i++) {
        (void)snprintf(line, sizeof line,
                       "H=%s; U='%s'; %s; grep -cw %s $T/text >$T/count; "
                       "grep -qw %s $T/text && echo shown, $(cat $T/count) of the other",
                       scenario, units, commands[i], not_shown, shown);
        CU_ASSERT(program_ends(line, 0, "shown, 0 of the other"));
    }
}

static void every_command_follows_the_scenario(void)
{
    all_show("scenarios/low-precharge", "", "psi", "kPa");
    all_show("scenarios/leaky-terrace", "", "kPa", "psi");
}

static void every_command_does_as_told(void)
{
    all_show("scenarios/low-precharge", "--units si", "kPa", "psi");
    all_show("scenarios/leaky-terrace", "--units us", "psi", "kPa");
}

/* What is asked beside the scenario does not turn its units. */
static void overrides_do_not_count(void)
{
    CU_ASSERT(program_ends("for i in 1 2 3 4 5 6 7 8 9; do O=\"$O --set house.leak_pressure=30psi "
                           "--set house.elevation=9ft --set house.loss=4psi\"; done; "
                           "$P compare scenarios/leaky-terrace $O | grep -c 'psi'",
                           1, "0\n"));
}

/* Without a scenario the units are those of what is told; most of them, where they differ. */
static void a_quick_check_follows_its_options(void)
{
    CU_ASSERT(program_ends("$P check --quick --csv --supply '40 psi' --shutoff '90 ft' "
                           "--duty '10 gpm@75 ft' --tank '76 L' | grep 'smallest tank that passes'",
                           0, ",gal,"));
    CU_ASSERT(program_ends("$P check --quick --csv --supply '2.8 bar' --shutoff '28 m' "
                           "--duty '38 L/min@23 m' --tank '20 gal' | "
                           "grep 'smallest tank that passes'",
                           0, ",L,"));
    CU_ASSERT(program_ends("$P check --quick --csv --supply '40 psi' --shutoff '90 ft' "
                           "--duty '10 gpm@75 ft' --tank '20 gal' --units si | "
                           "grep 'smallest tank that passes'",
                           0, ",L,"));
}

/* A new house in either system holds no unit of the other, and is the same day but for the rounding
 * of its figures to those that a fitter writes down. */
static void a_new_house_is_written_in_either(void)
{
    CU_ASSERT(program_ends("$P new --units us $T/us && cut -d , -f 3 $T/us/site.csv | "
                           "grep -cxE 'bar|kPa|GPa|m|mm|m2|L|L/min|L/min/m|degC|kW'",
                           1, "0\n"));
    CU_ASSERT(program_ends("head -n 3 $T/us/pump.csv $T/us/demand.csv", 0,
                           "flow [gpm],head [ft],power [W],npsh_required [ft]"));
    CU_ASSERT(program_ends("cut -d , -f 3 $S/site.csv | "
                           "grep -cxE 'psi|ft|in|ft2|gal|gpm|gpm/ft|degF|hp'",
                           1, "0\n"));
    CU_ASSERT(program_ends("$P compare $T/us >$T/a && grep -cw psi $T/a", 0, ""));
    CU_ASSERT(
        program_ends("$P compare $T/us --units si >$T/a && $P compare $S >$T/b && "
                     "for f in a b; do grep -A99 '^the day' $T/$f | grep -E 'starts|verdict|low "
                     "taps|note:' >$T/$f-told; done; diff $T/a-told $T/b-told && "
                     "paste $T/a $T/b | awk '/water to the taps/ {for (i = 0; i < 3; i++) "
                     "print ($(6 + i) / $(14 + i) - 1) ^ 2 < 1e-4}' | tr -d '\\n'",
                     0, "111"));
    CU_ASSERT(program_ends("wc -l <$T/a-told", 0, "6\n"));
    CU_ASSERT(program_ends("$P new --units metric $T/x", PD_BAD_USAGE, "expected si or us"));
    CU_ASSERT(program_ends("$P new --help", PD_DONE, "--units si|us"));
}

void suite_cli_units(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli_units", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, every_command_follows_the_scenario);
    CU_ADD_TEST(suite, every_command_does_as_told);
    CU_ADD_TEST(suite, a_new_house_is_written_in_either);
    CU_ADD_TEST(suite, a_quick_check_follows_its_options);
    CU_ADD_TEST(suite, overrides_do_not_count);
}
