/* Strategies side by side: what is kept, what is written, and what happens when it must stop. */
#include <pumpday/compare.h>

#include "output/folder.h"
#include "output/text_file.h"
#include "physics/near.h"

#include <CUnit/CUnit.h>
#include <stdlib.h>

void suite_compare(void);

static char place[FOLDER_MOST];
static struct pd_scenario scenario;

/* The program's own template as the scenario, in a folder of the test's. */
static void begin(void)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_faults *faults = calloc(1, sizeof *faults);
    char folder[FOLDER_MOST];

    CU_ASSERT_PTR_NOT_NULL_FATAL(faults);
    folder_make(place);
    (void)folder_path(place, "house", folder);
    CU_ASSERT_FATAL(
        pd_scenario_write_template(folder, &(struct pd_template){.units = PD_UNITS_SI}, &error));
    CU_ASSERT_FATAL(pd_scenario_read(folder, NULL, 0, &scenario, faults));
    folder_remove(folder);
    free(faults);
}

static void end(void)
{
    pd_scenario_free(&scenario);
    folder_remove(place);
}

/* Each row's list of runs adds up to the row's own totals: it was kept, and is not another's. */
static void rows_keep_their_own_runs(void)
{
    struct pd_compare_options options = pd_compare_default();
    struct pd_comparison comparison;
    struct pd_error error = {.code = PD_DONE};

    CU_ASSERT_FATAL(pd_compare(&scenario, &options, &comparison, &error));
    CU_ASSERT_EQUAL(comparison.count, pd_strategy_count);
    for (size_t i = 0; i < comparison.count; i++) {
        const struct pd_day_result *day = &comparison.row[i].result;
        double run_time = 0;
        int starts = 0;
        for (size_t k = 0; k < day->run_count; k++) {
            run_time += day->runs[k].run_time;
            starts += day->runs[k].start_cause != PD_CAUSE_CARRIED_OVER;
        }
        CU_ASSERT_PTR_EQUAL(day->strategy.kind, pd_strategies[i]);
        CU_ASSERT_EQUAL(starts, day->starts);
        CU_ASSERT(within(run_time, day->run_time, 1e-6));
        CU_ASSERT(comparison.row[i].verdict[0] != '\0');
    }
    // the scenario has work for a pump
    CU_ASSERT(comparison.row[0].result.starts > 0);
    pd_comparison_free(&comparison);
    CU_ASSERT_EQUAL(comparison.count, 0);
}

/* The order asked for, and figures that do not depend on what else ran in the workspace. */
static void chosen_strategies_in_their_order(void)
{
    struct pd_compare_options options = pd_compare_default();
    struct pd_comparison all, chosen;
    struct pd_error error = {.code = PD_DONE};

    options.strategies[0] = pd_strategies[2];
    options.strategies[1] = pd_strategies[0];
    options.strategy_count = 2;
    CU_ASSERT_FATAL(pd_compare(&scenario, &options, &chosen, &error));
    options.strategy_count = 0;
    CU_ASSERT_FATAL(pd_compare(&scenario, &options, &all, &error));
    CU_ASSERT_EQUAL(chosen.count, 2);
    CU_ASSERT_PTR_EQUAL(chosen.row[0].result.strategy.kind, pd_strategies[2]);
    CU_ASSERT_EQUAL(chosen.row[1].result.starts, all.row[0].result.starts);
    CU_ASSERT(chosen.row[1].result.energy == all.row[0].result.energy);
    CU_ASSERT(chosen.row[0].result.energy == all.row[2].result.energy);
    pd_comparison_free(&all);
    pd_comparison_free(&chosen);
}

/* Lines of a file in the test's folder. */
static long line_count(const char *name)
{
    char path[FOLDER_MOST];
    FILE *stream = fopen(folder_path(place, name, path), "r");
    long count = 0;

    if (stream == NULL) {
        return -1;
    }
    for (int c; (c = fgetc(stream)) != EOF;) {
        count += c == '\n';
    }
    (void)fclose(stream);
    return count;
}

static void files_hold_what_the_rows_hold(void)
{
    struct pd_compare_options options = pd_compare_default();
    struct pd_comparison comparison;
    struct pd_error error = {.code = PD_DONE};
    long runs = 0;

    options.folder = place;
    options.day.trace_every = 600;
    CU_ASSERT_FATAL(pd_compare(&scenario, &options, &comparison, &error));
    for (size_t i = 0; i < comparison.count; i++) {
        runs += (long)comparison.row[i].result.run_count;
    }
    CU_ASSERT_EQUAL(folder_count(place), 6);
    CU_ASSERT_EQUAL(line_count("summary.csv"), 1 + pd_strategy_count);
    CU_ASSERT_EQUAL(line_count("hours.csv"), 1 + pd_strategy_count * PD_HOURS);
    CU_ASSERT_EQUAL(line_count("cycles.csv"), 1 + runs);
    CU_ASSERT_EQUAL(line_count("settings.csv"), 1 + pd_strategy_count);
    // a row each 600 s of the day and more at its events
    CU_ASSERT(line_count("trace.csv") > (long)pd_strategy_count * (86400L / 600));
    pd_comparison_free(&comparison);
}

static bool count_down(void *context)
{
    int *left = context;

    return (*left)-- > 0;
}

/* Stopped at once, on the way, or when asked the last time: never a file, always an error. */
static void stopping_leaves_no_file(void)
{
    int asked = 1000000;
    struct pd_compare_options options = pd_compare_default();
    struct pd_comparison comparison;
    struct pd_error error = {.code = PD_DONE};

    options.folder = place;
    options.day.trace_every = 600;
    options.day.go_on = count_down;
    options.day.go_on_context = &asked;
    CU_ASSERT_FATAL(pd_compare(&scenario, &options, &comparison, &error));
    pd_comparison_free(&comparison);
    folder_remove(place);
    int questions = 1000000 - asked;
    int stops[] = {0, questions / 2, questions - 1};
    for (size_t i = 0; i < COUNT(stops); i++) {
        error = (struct pd_error){.code = PD_DONE};
        asked = stops[i];
        CU_ASSERT_FALSE(pd_compare(&scenario, &options, &comparison, &error));
        CU_ASSERT(error.code != PD_DONE);
        CU_ASSERT_EQUAL(comparison.count, 0);
        // the folder itself was made for the files, and is gone with them
        CU_ASSERT_EQUAL(folder_count(place), -1);
    }
}

static void a_place_that_cannot_be_is_told(void)
{
    struct pd_compare_options options = pd_compare_default();
    struct pd_comparison comparison;
    struct pd_error error = {.code = PD_DONE};

    options.folder = "/proc/nowhere";
    CU_ASSERT_FALSE(pd_compare(&scenario, &options, &comparison, &error));
    CU_ASSERT_EQUAL(error.code, PD_OUTPUT_FAILED);
    CU_ASSERT_STRING_EQUAL(error.file, "/proc/nowhere");
}

void suite_compare(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("compare", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, rows_keep_their_own_runs);
    CU_ADD_TEST(suite, chosen_strategies_in_their_order);
    CU_ADD_TEST(suite, files_hold_what_the_rows_hold);
    CU_ADD_TEST(suite, stopping_leaves_no_file);
    CU_ADD_TEST(suite, a_place_that_cannot_be_is_told);
}
