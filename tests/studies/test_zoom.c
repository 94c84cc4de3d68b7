/* Which run is shown closely, and the rows of the trace around it. */
#include "studies/zoom.h"

#include "output/sample_day.h"

#include <CUnit/CUnit.h>

void suite_zoom(void);

static struct pd_run run_of(double start, double run_time)
{
    return (struct pd_run){.start = start,
                           .run_time = run_time,
                           .start_cause = PD_CAUSE_PRESSURE,
                           .stop_cause = PD_CAUSE_LOW_FLOW};
}

/* Lengths 20, 30, 400: the geometric mean of 20 and 150 is sqrt(3000) = 54.8, nearest 30. */
static void a_short_run_but_not_the_shortest(void)
{
    struct pd_run runs[] = {run_of(1000, 400), run_of(2000, 30), run_of(3000, 20)};
    struct pd_day_result day = sample_result();
    struct zoom_window window;

    day.runs = runs;
    day.run_count = 3;
    CU_ASSERT_FATAL(zoom_window_for(&day, &window));
    CU_ASSERT(window.from < 2000 && window.from > 1900);
    CU_ASSERT(window.to > 2030 && window.to < 2130);
    CU_ASSERT(window.every > 0 && window.every < 0.1);
}

static void only_whole_runs(void)
{
    struct pd_run runs[] = {run_of(0, 30), run_of(2000, 40), run_of(86380, 20)};
    struct pd_day_result day = sample_result();
    struct zoom_window window;

    runs[0].start_cause = PD_CAUSE_CARRIED_OVER;
    runs[2].stop_cause = PD_CAUSE_END_OF_DAY;
    day.runs = runs;
    day.run_count = 3;
    CU_ASSERT_FATAL(zoom_window_for(&day, &window));
    CU_ASSERT(window.from < 2000 && window.to > 2040);
    day.runs = &runs[2];
    day.run_count = 1;
    CU_ASSERT_FALSE(zoom_window_for(&day, &window));
    day.run_count = 0;
    CU_ASSERT_FALSE(zoom_window_for(&day, &window));
}

static void the_window_stays_in_the_day(void)
{
    struct pd_run run = run_of(1, 86397);
    struct pd_day_result day = sample_result();
    struct zoom_window window;

    day.runs = &run;
    day.run_count = 1;
    CU_ASSERT_FATAL(zoom_window_for(&day, &window));
    CU_ASSERT_EQUAL(window.from, 0);
    CU_ASSERT_EQUAL(window.to, 86400);
}

struct seen {
    double first, last;
    int rows;
};

static enum pd_answer see(void *context, const struct pd_trace_row *row)
{
    struct seen *seen = context;

    seen->first = seen->rows == 0 ? row->time : seen->first;
    seen->last = row->time;
    seen->rows++;
    return PD_GO_ON;
}

/* Rows from the window's first second to its last, none outside. */
static void the_trace_keeps_to_its_window(void)
{
    struct pd_faults faults = {.count = 0};
    struct pd_error error = {.code = PD_DONE};
    struct pd_day_options options = pd_day_default();
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct pd_day_result result;
    struct seen seen = {0};

    CU_ASSERT_FATAL(pd_scenario_read("scenarios/hillside-house", NULL, 0, &scenario, &faults));
    CU_ASSERT_FATAL(pd_plant_build(&scenario, &plant, &error));
    struct pd_day *day = pd_day_create(&error);
    CU_ASSERT_PTR_NOT_NULL_FATAL(day);
    struct pd_strategy strategy = pd_strategy_for(pd_strategies[0], &plant);
    options.trace = see;
    options.trace_context = &seen;
    options.trace_every = 0.5;
    options.trace_from = 24000;
    options.trace_to = 25000;
    CU_ASSERT(pd_day_run(day, &plant, &strategy, &options, &result, &error));
    CU_ASSERT_EQUAL(seen.first, 24000);
    CU_ASSERT_EQUAL(seen.last, 25000);
    CU_ASSERT(seen.rows >= 2001);
    CU_ASSERT(seen.rows < 2500);
    pd_day_free(day);
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
}

void suite_zoom(void)
{
    CU_pSuite suite = CU_add_suite("zoom", NULL, NULL);

    CU_ADD_TEST(suite, a_short_run_but_not_the_shortest);
    CU_ADD_TEST(suite, only_whole_runs);
    CU_ADD_TEST(suite, the_window_stays_in_the_day);
    CU_ADD_TEST(suite, the_trace_keeps_to_its_window);
}
