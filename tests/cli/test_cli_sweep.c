/* `pumpday sweep` as a user meets it. */
#include "cli/program.h"

#include <pumpday/error.h>

#include <CUnit/CUnit.h>

void suite_cli_sweep(void);

static void help_tells_how(void)
{
    CU_ASSERT(program_ends("$P sweep --help", PD_DONE, "--vary ITEM=VALUES"));
    CU_ASSERT(program_ends("$P --help", PD_DONE, "sweep"));
}

static void wrong_usage_is_named(void)
{
    CU_ASSERT(program_ends("$P sweep", PD_BAD_USAGE, "which scenario"));
    CU_ASSERT(program_ends("$P sweep $S -o $T/a.csv", PD_BAD_USAGE, "--vary is missing"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1,2L", PD_BAD_USAGE, "-o FILE"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1,2L -o ''", PD_BAD_USAGE, "empty"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1:2:0L -o $T/a.csv", PD_BAD_USAGE,
                           "a step of nothing"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1:2:-1L -o $T/a.csv", PD_BAD_USAGE,
                           "away from the end"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volum=1:2:1L -o $T/a.csv", PD_BAD_USAGE,
                           "perhaps tank.volume"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1,2L --vary tank.volume=1L -o $T/a.csv",
                           PD_BAD_USAGE, "twice"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1:1001:1L "
                           "--vary house.elevation=0:10:0.01m -o $T/a.csv",
                           PD_BAD_USAGE, "at most 1000000"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1L --jobs 0 -o $T/a.csv", PD_BAD_USAGE,
                           "1 to 256"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1L --jobs 1.5 -o $T/a.csv", PD_BAD_USAGE,
                           "\"1.5\""));
    // nothing is left of it
    CU_ASSERT(program_ends("ls -A $T | wc -l", 0, "1\n"));
}

static void wrong_input_and_places_are_named(void)
{
    CU_ASSERT(program_ends("$P sweep $T/nowhere --vary tank.volume=1L -o $T/a.csv", PD_BAD_INPUT,
                           "nowhere"));
    CU_ASSERT(program_ends("$P sweep $S --set tank.volum=1 --vary tank.volume=1L -o $T/a.csv",
                           PD_BAD_INPUT, "tank.volum"));
    CU_ASSERT(
        program_ends("$P sweep $S --vary tank.volume=1L -o $T", PD_OUTPUT_FAILED, "plain file"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=0L -o $T/a.csv > /dev/full",
                           PD_OUTPUT_FAILED, "standard output"));
}

/* A short sweep is shown whole, a long one by its extremes, and no progress in a pipe. */
static void the_table_is_short(void)
{
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=0,40L --set 'house.elevation=2 m' "
                           "--units us -o $T/a.csv",
                           PD_DONE, "failed: tank.volume: out of range"));
    CU_ASSERT(program_ends("head -n 1 $T/a.csv", 0, "lowest_tap_pressure [psi]"));
    CU_ASSERT(program_ends("wc -l < $T/a.csv", 0, "7\n"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=0:0.03:0.001L -o $T/b.csv", PD_DONE,
                           "\n93 days: 0 pass, 0 with faults, 93 failed\n"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=5:125:10L --strategy peak-only "
                           "--strategy pressure-start --vary tank.gas=isothermal,polytropic "
                           "-o $T/c.csv | wc -l",
                           0, "11\n"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=20L -o $T/d.csv 2>&1 >/dev/null | wc -c",
                           0, "0\n"));
}

/* The limit moves, the day does not: its lowest tap, 39.2 psi or so, passes 39.5 psi for a moment
 * only, and 10 psi for good.  The first row is not the best then. */
static void a_day_without_a_dip_is_best(void)
{
    CU_ASSERT(
        program_ends("cp scenarios/hillside-house/*.csv $S && "
                     "$P sweep $S --vary limit.tap_pressure=39.5,10psi "
                     "--vary tank.volume=24:62:2L --strategy pressure-start -o $T/a.csv >$T/long; "
                     "grep -A1 ^best $T/long | tail -n 1 | tr -s ' ' | cut -d ' ' -f 2,3",
                     0, "10 62\n"));
    CU_ASSERT(program_ends("sed -n '/^best/,/^worst/p' $T/long | grep -c 'taps dip$'", 1, "0\n"));
    CU_ASSERT(program_ends("grep '^taps dip' $T/long", 0, "taps dip (20 days)"));
    CU_ASSERT(
        program_ends("$P sweep $S --vary limit.tap_pressure=39.5,10psi --strategy pressure-start "
                     "--set 'tank.volume=60 L' -o $T/b.csv | grep -c 'ok, taps dip$'",
                     0, "1\n"));
}

/* Nobody chooses how far a main sags: such a sweep has no best row, and says why; one of a choice
 * tells how many rows are as good, and where none passes. */
static void only_choices_have_a_best(void)
{
    CU_ASSERT(program_ends("cp scenarios/hillside-house/*.csv $S && "
                           "$P sweep $S --vary supply.offset=-1:0.9:0.05bar --strategy "
                           "pressure-start -o $T/a.csv >$T/long; grep -c ^best $T/long; "
                           "grep '^no best' $T/long",
                           0, "0\nno best: supply.offset is found, not chosen\n"));
    CU_ASSERT(
        program_ends("$P sweep $S --vary tank.volume=2:5:0.05L --strategy pressure-start "
                     "-o $T/b.csv >$T/long; "
                     "hour=$(grep -A1 ^best $T/long | tail -n 1 | tr -s ' ' | cut -d ' ' -f 5) "
                     "&& awk -F, -v hour=$hour 'NR == 1 {for (i = 1; i <= NF; i++) "
                     "if ($i ~ /starts_in_worst_hour/) at = i; else if ($i == \"verdict\") "
                     "said = i} NR > 1 && $said ~ /^ok/ && $at == hour {n++} "
                     "END {print n - 1}' $T/b.csv >$T/counted; "
                     "sed -n 's/^ *\\([0-9]*\\) others start as seldom.*/\\1/p' $T/long | "
                     "cmp - $T/counted && cat $T/counted",
                     0, "8\n"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1:3:0.05L --strategy pressure-start "
                           "-o $T/c.csv | grep -A1 ^best | tail -n 1",
                           0, "  none passes\n"));
}

/* A main that sags more is the same day, told by the item or by every row of supply.csv; without
 * that file there is nothing to move. */
static void a_sagging_main_is_swept(void)
{
    CU_ASSERT(program_ends("cp scenarios/hillside-house/*.csv $S && "
                           "$P sweep $S --vary supply.offset=-0.5,0bar -o $T/a.csv >$T/long && "
                           "head -n 1 $T/a.csv | cut -d , -f 1",
                           0, "supply.offset [bar]\n"));
    CU_ASSERT(program_ends("awk -F, -v OFS=, 'NR > 1 {$2 -= 0.5} 1' $S/supply.csv >$T/low && "
                           "cp $T/low $S/supply.csv && "
                           "$P sweep $S --vary supply.offset=0bar -o $T/b.csv >$T/long && "
                           "grep '^-0.5,' $T/a.csv | cut -d , -f 2-12 >$T/told && "
                           "cut -d , -f 2-12 $T/b.csv | tail -n +2 | diff $T/told - && "
                           "wc -l < $T/told",
                           0, "3\n"));
    CU_ASSERT(program_ends("rm $S/supply.csv; "
                           "$P sweep $S --set 'supply.pressure=2 bar' "
                           "--vary supply.offset=-0.5,0bar -o $T/c.csv",
                           PD_DONE, "supply.offset: no use without supply.csv"));
}

/* A name of the shell's must not speak to the terminal. */
static void a_file_is_shown_without_controls(void)
{
    CU_ASSERT(program_ends("n=$(printf 'a\\033b.csv'); "
                           "$P sweep $S --vary tank.volume=20L -o \"$T/$n\" | tail -n 1",
                           0, "/a?b.csv\n"));
}

/* An interrupt leaves whole rows, --resume ends with the file that one run makes. */
static void an_interrupt_is_gone_on_with(void)
{
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1:300:1L --jobs 2 -o $T/whole.csv",
                           PD_DONE, "whole.csv"));
    CU_ASSERT(program_ends("timeout --foreground --preserve-status -s INT 0.5 "
                           "$P sweep $S --vary tank.volume=1:300:1L -o $T/a.csv",
                           130, "--resume"));
    CU_ASSERT(program_ends("ls $T", 0, "a.csv.part\na.csv.part.key\n"));
    CU_ASSERT(program_ends("tail -c 1 $T/a.csv.part | wc -l", 0, "1\n"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1:300:1L -o $T/a.csv", PD_OUTPUT_FAILED,
                           "--resume"));
    CU_ASSERT(
        program_ends("$P sweep $S --vary tank.volume=1:299:1L --units us -o $T/a.csv --resume",
                     PD_OUTPUT_FAILED, "a.csv.part:1: cannot resume"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1:300:1L --set 'house.elevation=9 m' "
                           "-o $T/a.csv --resume",
                           PD_OUTPUT_FAILED, "another scenario"));
    CU_ASSERT(program_ends("$P sweep $S --vary tank.volume=1:300:1L -o $T/a.csv --resume", PD_DONE,
                           "a.csv"));
    CU_ASSERT(program_ends("cmp $T/a.csv $T/whole.csv && ls $T", 0, "a.csv\nhouse\nwhole.csv\n"));
}

/* Two at once must not write one file. */
static void a_second_sweep_keeps_off(void)
{
    CU_ASSERT(program_ends("timeout -s INT 5 $P sweep $S --vary tank.volume=1:9000:1L -o $T/a.csv "
                           ">/dev/null 2>&1 & sleep 0.5; "
                           "$P sweep $S --vary tank.volume=1:9000:1L -o $T/a.csv --resume; "
                           "code=$?; kill -INT $!; wait; exit $code",
                           PD_OUTPUT_FAILED, "another sweep is writing it"));
}

/* Lines for one varied item, a map a strategy for two; what is no sweep is passed over. */
static void sweeps_are_drawn(void)
{
    CU_ASSERT(
        program_ends("$P sweep $S --vary tank.volume=10:40:10L -o $T/out/one.csv && "
                     "$P sweep $S --vary tank.volume=0,40L --vary tank.gas=isothermal,thermal "
                     "--strategy flow-start --units us -o $T/out/two.csv && "
                     "cp $S/demand.csv $T/out && $P plot $T/out",
                     PD_DONE, "sweep-one.svg\n"));
    CU_ASSERT(program_ends("cd $T/out && ls *.svg *.png", 0,
                           "sweep-one.png\nsweep-one.svg\nsweep-two-flow-start.png\n"
                           "sweep-two-flow-start.svg\n"));
    // the axes carry the heads of the columns, and every strategy its line
    CU_ASSERT(program_ends("grep -c '>tank.volume \\[L\\]<' $T/out/sweep-one.svg", 0, "1\n"));
    CU_ASSERT(program_ends("grep -c '<text.*>peak-only<' $T/out/sweep-one.svg", 0, "1\n"));
    CU_ASSERT(
        program_ends("grep -c 'lowest tap pressure \\[psi\\]' $T/out/sweep-two-*.svg", 0, "1\n"));
    CU_ASSERT(program_ends("grep -c '>isothermal<' $T/out/sweep-two-flow-start.svg", 0, "4\n"));
    CU_ASSERT(program_ends("$P plot $S", PD_BAD_INPUT, "no files that a chart is made from"));
}

void suite_cli_sweep(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli_sweep", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, help_tells_how);
    CU_ADD_TEST(suite, wrong_usage_is_named);
    CU_ADD_TEST(suite, wrong_input_and_places_are_named);
    CU_ADD_TEST(suite, the_table_is_short);
    CU_ADD_TEST(suite, a_day_without_a_dip_is_best);
    CU_ADD_TEST(suite, only_choices_have_a_best);
    CU_ADD_TEST(suite, a_sagging_main_is_swept);
    CU_ADD_TEST(suite, a_file_is_shown_without_controls);
    CU_ADD_TEST(suite, an_interrupt_is_gone_on_with);
    CU_ADD_TEST(suite, a_second_sweep_keeps_off);
    CU_ADD_TEST(suite, sweeps_are_drawn);
}
