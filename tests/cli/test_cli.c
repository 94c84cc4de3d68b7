/* The built program as a user meets it: exit codes, messages, files.  The environment's PUMPDAY
 * tells where it stands; build/pumpday without. */
#include <pumpday/pumpday.h>

#include "output/folder.h"
#include "output/text_file.h"

#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <sys/wait.h>

void suite_cli(void);

enum { COMMAND_MOST = 2048 };

/* What a run of the program gave. */
struct run {
    int code;
    char text[TEXT_MOST]; /* of the stream asked for */
};

/* A folder for each test, with a scenario of the program's own in it. */
static char place[FOLDER_MOST], scenario[FOLDER_MOST];

/* Runs a shell's line in which `$P` is the program, `$S` the scenario and `$T` the test's folder;
 * what comes out is the standard output of the line. */
static void run_line(struct run *run, const char *line)
{
    char command[COMMAND_MOST];
    const char *program = getenv("PUMPDAY");

    (void)snprintf(command, sizeof command, "P='%s'; S='%s'; T='%s'; unset NO_COLOR; %s",
                   program != NULL ? program : "build/pumpday", scenario, place, line);
    run->code = -1;
    FILE *pipe = popen(command, "r");
    CU_ASSERT_PTR_NOT_NULL_FATAL(pipe);
    size_t length = fread(run->text, 1, sizeof run->text - 1, pipe);
    run->text[length] = '\0';
    int status = pclose(pipe);
    if (WIFEXITED(status)) {
        run->code = WEXITSTATUS(status);
    }
}

static bool says(const struct run *run, const char *words)
{
    if (strstr(run->text, words) != NULL) {
        return true;
    }
    (void)printf("\n      no \"%s\" in\n%s", words, run->text);
    return false;
}

/* True if a line ends with a code and its output, standard error included, holds the words. */
static bool ends(const char *line, int code, const char *words)
{
    char both[COMMAND_MOST];
    struct run run;

    (void)snprintf(both, sizeof both, "{ %s; } 2>&1", line);
    run_line(&run, both);
    if (run.code != code) {
        (void)printf("\n      `%s` gave %d, not %d:\n%s", line, run.code, code, run.text);
        return false;
    }
    return says(&run, words);
}

static void begin(void)
{
    struct run run;

    folder_make(place);
    (void)folder_path(place, "house", scenario);
    run_line(&run, "$P new \"$S\"");
    CU_ASSERT_EQUAL_FATAL(run.code, PD_DONE);
}

static void end(void)
{
    struct run run;

    // the test's own folder, of a name that mkdtemp gave
    run_line(&run, "rm -rf \"$T\"");
}

static void help_and_version(void)
{
    CU_ASSERT(ends("$P --help", PD_DONE, "compare"));
    CU_ASSERT(ends("$P --help", PD_DONE, "example"));
    CU_ASSERT(ends("$P --version", PD_DONE, "pumpday " PD_VERSION));
    CU_ASSERT(ends("$P compare --help", PD_DONE, "example"));
    CU_ASSERT(ends("$P new --help", PD_DONE, "example"));
    CU_ASSERT(ends("$P items --help", PD_DONE, "example"));
    CU_ASSERT(ends("$P help", PD_DONE, "exit codes"));
    CU_ASSERT(ends("$P help compare", PD_DONE, "usage: pumpday compare"));
    CU_ASSERT(ends("$P help help", PD_DONE, "exit codes"));
    CU_ASSERT(ends("$P help compere", PD_BAD_USAGE, "\"compere\""));
    // none of it is wider than a terminal of 100 columns
    CU_ASSERT(ends("for c in '' compare check days choose settings sheet diagnose sweep plot "
                   "report new items; "
                   "do $P help $c || echo '#'; done | awk 'length > 100 || /^#/ { wide++ } "
                   "END { print wide + 0, \"wide of\", (NR > 150) }'",
                   PD_DONE, "0 wide of 1"));
    // help goes to the standard output
    CU_ASSERT(ends("$P compare --help 2>/dev/null", PD_DONE, "--units"));
}

static void wrong_usage_is_named(void)
{
    CU_ASSERT(ends("$P", PD_BAD_USAGE, "usage"));
    CU_ASSERT(ends("$P compere", PD_BAD_USAGE, "\"compere\""));
    CU_ASSERT(ends("$P --verbose", PD_BAD_USAGE, "\"--verbose\""));
    CU_ASSERT(ends("$P compare", PD_BAD_USAGE, "--help"));
    CU_ASSERT(ends("$P compare $S --unit si", PD_BAD_USAGE, "\"--unit\""));
    CU_ASSERT(ends("$P compare $S -x", PD_BAD_USAGE, "\"-x\""));
    CU_ASSERT(ends("$P compare $S $S", PD_BAD_USAGE, "named twice"));
    CU_ASSERT(ends("$P compare scenarios/deep-well", PD_DONE, "flow-start cannot work here"));
    CU_ASSERT(ends("$P new $T/w --kind lake", PD_BAD_USAGE, "expected house or well"));
    CU_ASSERT(ends("$P new $T/w --kind well && $P check $T/w --strategy pressure-start", PD_DONE,
                   "0 of"));
    CU_ASSERT(ends("$P check $S $S", PD_BAD_USAGE, "one scenario"));
    CU_ASSERT(ends("$P compare $S -o", PD_BAD_USAGE, "\"-o\" needs a value"));
    CU_ASSERT(ends("$P compare $S -o ''", PD_BAD_USAGE, "empty"));
    CU_ASSERT(ends("$P compare $S --units metric", PD_BAD_USAGE, "\"metric\""));
    CU_ASSERT(ends("$P compare $S --strategy always", PD_BAD_USAGE, "\"always\""));
    CU_ASSERT(
        ends("$P compare $S --strategy peak-only --strategy peak-only", PD_BAD_USAGE, "twice"));
    // nothing of it on the standard output
    struct run run;
    run_line(&run, "$P compare $S --units metric 2>/dev/null");
    CU_ASSERT(same_text(run.text, ""));
}

/* Those of tank and leak; what is no part of a name is told with the nearest one. */
static void items_are_picked_by_name(void)
{
    struct run run;

    run_line(&run, "$P items --csv leak TANK.v | cut -d, -f1 | tr '\\n' ' '");
    CU_ASSERT(same_text(run.text, "item check_valve.leak_by tank.volume house.leak "
                                  "house.leak_pressure house.leak_exponent "));
    CU_ASSERT(ends("$P items precharge", PD_DONE, "pressure_start.precharge"));
    CU_ASSERT(ends("$P items tank.volum3", PD_BAD_USAGE, "perhaps tank.volume"));
    CU_ASSERT(ends("$P items xyzzy", PD_BAD_USAGE, "no item has \"xyzzy\" in its name\n"));
    run_line(&run, "$P items --csv | wc -l");
    CU_ASSERT_EQUAL(strtol(run.text, NULL, 10), PD_ITEM_COUNT + 1);
}

static void steps_of_the_trace_have_limits(void)
{
    CU_ASSERT(ends("$P compare $S --every 0", PD_BAD_USAGE, "\"0\""));
    CU_ASSERT(ends("$P compare $S --every 0.09", PD_BAD_USAGE, "0.1 to 3600"));
    CU_ASSERT(ends("$P compare $S --every 3601", PD_BAD_USAGE, "0.1 to 3600"));
    CU_ASSERT(ends("$P compare $S --every nan", PD_BAD_USAGE, "\"nan\""));
    CU_ASSERT(ends("$P compare $S --every 10s", PD_BAD_USAGE, "\"10s\""));
    CU_ASSERT(ends("$P compare $S --every=3600", PD_DONE, "verdict"));
}

static void wrong_input_is_named(void)
{
    CU_ASSERT(ends("$P compare $T/nowhere", PD_BAD_INPUT, "nowhere"));
    CU_ASSERT(ends("$P compare -- --help", PD_BAD_INPUT, "--help"));
    CU_ASSERT(ends("$P compare $S --set tank.volum=80", PD_BAD_INPUT, "tank.volum"));
    CU_ASSERT(ends("$P compare $S --set 'tank.volume=80'", PD_BAD_INPUT, "tank.volume"));
    CU_ASSERT(ends("$P compare $S --set 'supply.level=2 m'", PD_BAD_INPUT,
                   "--set: supply.level: a main has no level"));
    CU_ASSERT(ends("$P check $S --set 'tank.volume=80'", PD_BAD_INPUT, "--set: tank.volume: no u"));
    CU_ASSERT(ends("$P compare $S --set tank.volume", PD_BAD_INPUT, "--set: malformed override"));
    CU_ASSERT(ends("rm $S/pump.csv; $P compare $S", PD_BAD_INPUT, "pump.csv"));
}

static void the_table_comes_without_files(void)
{
    struct run run;

    run_line(&run, "P=$(realpath $P) && cd $T && $P compare $S && ls -A");
    CU_ASSERT_EQUAL(run.code, PD_DONE);
    CU_ASSERT(says(&run, "pressure-start"));
    CU_ASSERT(says(&run, "flow-start"));
    CU_ASSERT(says(&run, "peak-only"));
    CU_ASSERT(says(&run, "verdict"));
    CU_ASSERT(says(&run, "caution"));
    // no colour in a pipe, and no file beside the scenario
    CU_ASSERT_PTR_NULL(strchr(run.text, '\x1b'));
    CU_ASSERT(says(&run, "\nhouse\n"));
    CU_ASSERT_PTR_NULL(strstr(run.text, ".csv"));
}

static void strategies_and_units_are_chosen(void)
{
    struct run run;

    run_line(
        &run,
        "$P compare $S --strategy=peak-only --units us -o $T/out && head -q -n 9 $T/out/*.csv");
    CU_ASSERT_EQUAL(run.code, PD_DONE);
    CU_ASSERT(says(&run, "peak-only"));
    CU_ASSERT(says(&run, "[psi]"));
    CU_ASSERT_PTR_NULL(strstr(run.text, "flow-start,"));
    CU_ASSERT_PTR_NULL(strstr(run.text, "[kPa]"));
}

static void an_item_set_changes_the_day(void)
{
    struct run before, after;

    run_line(&before, "$P compare $S --strategy pressure-start");
    run_line(&after, "$P compare $S --strategy pressure-start --set 'pressure_start.run_on=33 s'");
    CU_ASSERT_EQUAL(before.code, PD_DONE);
    CU_ASSERT_EQUAL(after.code, PD_DONE);
    CU_ASSERT(says(&after, "33.0"));
    CU_ASSERT(strcmp(before.text, after.text) != 0);
}

static void all_files_or_none(void)
{
    static const char *const names =
        "cycles.csv\nhours.csv\nsettings.csv\nsummary.csv\ntrace.csv\nzoom.csv\n";
    struct run run;

    run_line(&run, "$P compare $S -o $T/deep/out >/dev/null && ls -A $T/deep/out");
    CU_ASSERT_EQUAL(run.code, PD_DONE);
    CU_ASSERT(same_text(run.text, names));
    // a second run that fails leaves them as they are
    run_line(&run,
             "cd $T/deep/out && rm trace.csv && mkdir trace.csv && cksum [chs]*.csv > $T/sums");
    CU_ASSERT_EQUAL(run.code, 0);
    CU_ASSERT(ends("$P compare $S --set 'tank.volume=55 L' -o $T/deep/out", PD_OUTPUT_FAILED,
                   "trace.csv"));
    run_line(&run, "cd $T/deep/out && cksum [chs]*.csv | cmp - $T/sums && ls -A");
    CU_ASSERT_EQUAL(run.code, 0);
    CU_ASSERT(same_text(run.text, names));
}

static void places_that_cannot_be_written(void)
{
    CU_ASSERT(ends("touch $T/file; $P compare $S -o $T/file", PD_OUTPUT_FAILED, "file"));
    CU_ASSERT(ends("$P compare $S -o $T/file/below", PD_OUTPUT_FAILED, "file"));
    CU_ASSERT(ends("$P compare $S -o /proc/nowhere", PD_OUTPUT_FAILED, "/proc/nowhere"));
}

static void output_that_does_not_arrive_is_told(void)
{
    CU_ASSERT(ends("$P compare $S > /dev/full", PD_OUTPUT_FAILED, "standard output"));
    CU_ASSERT(ends("$P compare $S >&-", PD_OUTPUT_FAILED, "standard output"));
    CU_ASSERT(ends("$P --help > /dev/full", PD_OUTPUT_FAILED, "standard output"));
    // with the output closed no result file may take its place
    CU_ASSERT(
        ends("$P compare $S -o $T/out >&-; head -n 1 $T/out/summary.csv", 0, "strategy,starts"));
    // a reader that has gone away
    CU_ASSERT(ends("{ sleep 0.2; $P --help; echo code $? >&2; } | true", 0, "code 5"));
}

/* Rows every 0.1 s take seconds to write: an interrupt comes before the end. */
static void an_interrupt_leaves_nothing(void)
{
    struct run run;

    CU_ASSERT(
        ends("timeout --preserve-status -s INT 0.3 $P compare $S --every 0.1 -o $T/out", 130, ""));
    run_line(&run, "ls -A $T");
    CU_ASSERT(same_text(run.text, "house\n"));
}

/* The same command twice writes the same bytes. */
static void results_are_repeatable(void)
{
    struct run run;

    run_line(&run, "$P compare $S -o $T/a >/dev/null && $P compare $S -o $T/b >/dev/null && "
                   "diff -r $T/a $T/b && wc -l < $T/a/trace.csv");
    CU_ASSERT_EQUAL(run.code, 0);
    // three strategies, a row every 10 s and one at 24:00, and a head
    CU_ASSERT(strtol(run.text, NULL, 10) > 3 * 8640L);
}

void suite_cli(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("cli", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, help_and_version);
    CU_ADD_TEST(suite, wrong_usage_is_named);
    CU_ADD_TEST(suite, items_are_picked_by_name);
    CU_ADD_TEST(suite, steps_of_the_trace_have_limits);
    CU_ADD_TEST(suite, wrong_input_is_named);
    CU_ADD_TEST(suite, the_table_comes_without_files);
    CU_ADD_TEST(suite, strategies_and_units_are_chosen);
    CU_ADD_TEST(suite, an_item_set_changes_the_day);
    CU_ADD_TEST(suite, all_files_or_none);
    CU_ADD_TEST(suite, places_that_cannot_be_written);
    CU_ADD_TEST(suite, output_that_does_not_arrive_is_told);
    CU_ADD_TEST(suite, an_interrupt_leaves_nothing);
    CU_ADD_TEST(suite, results_are_repeatable);
}
