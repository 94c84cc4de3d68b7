/* `pumpday diagnose` as an installer would use it. */
#include "cli/program.h"

#include <CUnit/CUnit.h>
#include <stdio.h>

void suite_cli_diagnose(void);

static void help_and_usage(void)
{
    CU_ASSERT(program_ends("$P diagnose --help", 0, "falls_isolated"));
    CU_ASSERT(program_ends("$P diagnose --seen falls=yes", 2, "scenario"));
    CU_ASSERT(program_ends("$P diagnose $S", 2, "what was seen?"));
    CU_ASSERT(program_ends("$P diagnose $S --seen 'leak=1 gpm'", 2, "unknown key"));
    CU_ASSERT(program_ends("$P diagnose $S --seen between_starts", 2, "KEY=VALUE"));
    CU_ASSERT(program_ends("$P diagnose $S --seen between_starts=95", 2, "no unit"));
    CU_ASSERT(program_ends("$P diagnose $S --seen 'between_starts=95 psi'", 2, "wrong kind"));
    CU_ASSERT(program_ends("$P diagnose $S --seen 'drawn=-1 L'", 2, "out of range"));
    CU_ASSERT(program_ends("$P diagnose $S --seen falls=perhaps", 2, "yes or no"));
    CU_ASSERT(program_ends("$P diagnose $S --seen falls=no --seen falls=yes", 2, "twice"));
    CU_ASSERT(program_ends("$P diagnose $S --seen 'on=9 s'", 2, "draw=FLOW"));
    CU_ASSERT(program_ends("$P diagnose $S --seen 'drawn=never'", 2, "not a number"));
    CU_ASSERT(program_ends("$P diagnose $S --seen falls=no --seen falls_isolated=yes", 2,
                           "contradict each other"));
    CU_ASSERT(program_ends("$P diagnose $T/none --seen falls=yes", 3, "none"));
}

static void says_what_to_look_at(void)
{
    CU_ASSERT(program_ends("$P diagnose $S --seen 'between_starts=400 s' --seen falls_isolated=no",
                           0, "The likeliest: leak in the house"));
    CU_ASSERT(program_ends("$P diagnose $S --seen between_starts=never --seen falls=no", 0,
                           "no fault is needed"));
    CU_ASSERT(program_ends("$P diagnose $S --seen 'start_gauge=9 psi' --units us", 0, " psi  "));
    CU_ASSERT(
        program_ends("$P diagnose $S --seen 'between_starts = 0.1 h'", 0, "read falls_isolated"));
    CU_ASSERT(
        program_ends("$P diagnose $S --seen 'stop_gauge=30 bar'", 0, "Nothing here explains"));
}

static void a_yes_or_no_rules_out(void)
{
    // gauged and found right: no pair with a wrong precharge can be it
    const char *line = "$P diagnose $S --set tank.gas=isothermal --seen 'between_starts=40 s' "
                       "--seen falls_isolated=no "
                       "--seen 'precharge=334 kPa'";

    CU_ASSERT(program_ends(line, 0, "Ruled out by falls_isolated=no: check valve passes."));
    CU_ASSERT(program_ends("$P diagnose $S --seen 'between_starts=40 s' --seen falls_isolated=no | "
                           "grep -c -e 'nearest: check valve' -e 'likeliest: check valve'",
                           1, "0"));
}

static void the_precharge_is_gauged_first(void)
{
    CU_ASSERT(program_ends("$P diagnose $S --seen 'between_starts=300 s'", 0,
                           "First gauge the precharge"));
    CU_ASSERT(program_ends("$P diagnose $S --seen 'precharge=1 bar' | grep likeliest", 0,
                           "precharge low or lost"));
    CU_ASSERT(program_ends("$P diagnose $S --seen 'drawn=1 L' --seen falls=no "
                           "--seen 'start_gauge=348 kPa' | grep -A 3 '^to tell'",
                           0, "read precharge"));
    CU_ASSERT(program_ends("$P diagnose $S --seen stops=perhaps", 2, "yes or no"));
}

static void plain_words_will_do(void)
{
    CU_ASSERT(program_ends("$P diagnose --symptom 'Pump starts every few minutes at night'", 0,
                           "no tap open"));
    CU_ASSERT(program_ends("$P diagnose --symptom 'shower pulses'", 0, "while a tap is open"));
    CU_ASSERT(
        program_ends("$P diagnose --symptom 'runs and never stops'", 0, "runs and never stops"));
    CU_ASSERT(program_ends("$P diagnose --symptom \"the pump won't start\"", 0, "does not start"));
    CU_ASSERT(program_ends("$P diagnose --symptom 'blue'", 2, "expected words such as"));
}

static void a_dead_pump_is_told_first(void)
{
    CU_ASSERT(program_ends("$P diagnose $S --seen on=never --seen 'draw=8 L/min'", 0,
                           "The pump does not start. Before any setting"));
    CU_ASSERT(program_ends("$P diagnose $S --seen on=never --seen 'draw=8 L/min' | "
                           "grep -c -e 'read start_gauge' -e 'likeliest'",
                           1, "0"));
}

/* Gas does not pull: no precharge under that of the air is told. */
static void a_lost_precharge_is_told_so(void)
{
    CU_ASSERT(program_ends("$P diagnose $S --seen 'drawn=0.1 L' | grep '^  precharge low'", 0,
                           "lost: no gas left"));
    CU_ASSERT(program_ends("$P diagnose $S --seen 'drawn=0.1 L' | grep -c -e ' -[0-9]'", 1, "0"));
}

/* A night of the program's own, with a leak and a precharge that the scenario does not tell of; the
 * size of the leak as planted. */
static void a_log_is_fitted(void)
{
    CU_ASSERT(program_ends(
        "$P compare $S --strategy pressure-start --every 1 -o $T/day "
        "--set 'house.leak=0.5 L/min' --set 'tank.precharge=1.5 bar' >/dev/null && "
        "awk -F, 'BEGIN { print \"time [s],pressure [kPa]\" } "
        "NR > 1 && $2 > 3600 && $2 < 7200 && $2 == int($2) && $2 != t { print $2 \",\" $3; t = $2 }"
        "' $T/day/trace.csv > $T/log.csv && "
        "$P diagnose $S --log $T/log.csv | awk '/leak at/ { print ($5 > 0.45 && $5 < 0.55) } "
        "/^  precharge/ { print ($2 > 1.1 && $2 < 1.9) }' | sort -u",
        0, "1\n"));
    CU_ASSERT(program_ends("$P diagnose $S --log $T/log.csv --units us", 0, " psi"));
    CU_ASSERT(program_ends("$P diagnose $S --log $T/log.csv", 0,
                           "By the log: the precharge is low; water is lost"));
    CU_ASSERT(program_ends("$P diagnose $S --log $T/log.csv --strategy flow-start", 2,
                           "flow-start has none"));
    CU_ASSERT(program_ends("$P diagnose $S --log $T/log.csv --seen falls=yes", 2, "but supply"));
}

/* The same night by rows of 10 s, which miss how the gauge rises; then with what a fitter reads
 * beside it. */
static void a_log_of_rows_far_apart(void)
{
    CU_ASSERT(program_ends(
        "$P compare $S --strategy pressure-start --every 1 -o $T/day "
        "--set 'house.leak=0.3 L/min' --set 'tank.precharge=1.5 bar' >/dev/null && "
        "awk -F, 'BEGIN { print \"time [s],pressure [kPa]\" } "
        "NR > 1 && $2 > 3600 && $2 < 7200 && $2 % 10 == 0 && $2 != t { print $2 \",\" $3; t = $2 }"
        "' $T/day/trace.csv > $T/far.csv && $P diagnose $S --log $T/far.csv",
        0, "Not read: how the gauge rises; how long a run takes: the log has no power"));
    CU_ASSERT(program_ends("$P diagnose $S --log $T/far.csv --seen 'precharge=1.5 bar' "
                           "--seen falls_isolated=no | awk '/leak at/ { print ($5 > 0.27 && $5 < "
                           "0.33) } /^  precharge/ { print $2 $3, $4 $5 }'",
                           0, "150kPa asgauged\n1\n"));
    CU_ASSERT(program_ends("$P diagnose $S --log $T/far.csv --seen 'precharge=1.5 bar' "
                           "--seen falls_isolated=no",
                           0,
                           "By the log and the gauged precharge: the precharge is low; water "
                           "is lost.\n  The gauge stands with the house shut"));
    CU_ASSERT(program_ends("$P diagnose $S --log $T/far.csv --seen falls_isolated=yes", 0,
                           "check valve at 100 kPa"));
    CU_ASSERT(program_ends("$P diagnose $S --log $T/far.csv --seen 'start_gauge=3 bar'", 2,
                           "precharge and falls_isolated"));
}

static void bad_logs(void)
{
    CU_ASSERT(program_ends("$P diagnose $S --log $T/no.csv", 3, "no.csv: there is no such file"));
    CU_ASSERT(program_ends("printf 'time [s],pressure [bar]\\n0,3\\n1,\"3,1\"\\n' > $T/l.csv; "
                           "$P diagnose $S --log $T/l.csv",
                           3, "l.csv:3: pressure: a decimal comma"));
    CU_ASSERT(program_ends("printf 'time [s],pressure [bar]\\n0,3\\n1,3\\n' > $T/l.csv; "
                           "$P diagnose $S --log $T/l.csv",
                           3, "l.csv: the gauge does not rise and fall twice"));
}

/* Cycles of 61 s with runs of 20 s, seen so seldom: at random, or as a slow beat. */
static void logs_that_miss_the_runs(void)
{
    static const char *const every[] = {"60", "23", "45", "122.5"};
    char line[512];

    for (size_t i = 0; i < sizeof every / sizeof every[0]; i++) {
        (void)snprintf(line, sizeof line,
                       "awk 'BEGIN { print \"time [s],pressure [bar]\"; "
                       "for (t = 0; t < 36000; t += %s) { s = t - 61 * int(t / 61); "
                       "print t \",\" (s < 20 ? 3 + s / 20 : 4 - (s - 20) / 41) } }' > $T/l.csv; "
                       "$P diagnose $S --log $T/l.csv",
                       every[i]);
        CU_ASSERT(program_ends(line, 3, "too far apart to see the gauge rise"));
    }
    CU_ASSERT(program_ends("awk 'BEGIN { print \"time [s],pressure [bar],power [W]\"; "
                           "for (t = 0; t < 900; t++) { s = t % 300; "
                           "print t \",\" (s < 20 ? 3 + s / 20 : 4 - (s - 20) / 280) \",3\" } "
                           "}' > $T/l.csv; $P diagnose $S --log $T/l.csv",
                           3, "no start of the pump was logged"));
    CU_ASSERT(program_ends("printf 'time [s],pressure [bar]\\n7,3\\n7,3.1\\n' > $T/l.csv; "
                           "$P diagnose $S --log $T/l.csv",
                           3, "l.csv:3: time: two rows of the same time"));
}

void suite_cli_diagnose(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("cli diagnose", NULL, NULL,
                                                           program_begin, program_end);

    CU_ADD_TEST(suite, help_and_usage);
    CU_ADD_TEST(suite, says_what_to_look_at);
    CU_ADD_TEST(suite, a_yes_or_no_rules_out);
    CU_ADD_TEST(suite, the_precharge_is_gauged_first);
    CU_ADD_TEST(suite, plain_words_will_do);
    CU_ADD_TEST(suite, a_dead_pump_is_told_first);
    CU_ADD_TEST(suite, a_lost_precharge_is_told_so);
    CU_ADD_TEST(suite, a_log_is_fitted);
    CU_ADD_TEST(suite, a_log_of_rows_far_apart);
    CU_ADD_TEST(suite, logs_that_miss_the_runs);
    CU_ADD_TEST(suite, bad_logs);
}
