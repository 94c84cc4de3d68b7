/* A strategy from outside: its kind, with a controller that goes by the clock alone, given to the
 * studies beside those that the program knows.  Invented: two runs a day of stated lengths, so that
 * everything about them is known without a simulation. */
#include "control/settings.h"
#include "model/plant_scenario.h"
#include "physics/near.h"

#include <pumpday/pumpday.h>

#include <math.h>
#include <string.h>

void suite_own_strategy(void);

/* s after midnight, when it goes on and off */
static const double times[] = {6 * 3600, 6 * 3600 + 1200, 18 * 3600 + 0.5, 18 * 3600 + 900.5};

struct clock {
    size_t due; /* of the times, the next */
};

static void clear(void *memory)
{
    *(struct clock *)memory = (struct clock){0};
}

static double next_time(const struct pd_strategy *strategy, const void *memory, double now)
{
    const struct clock *clock = memory;

    (void)strategy;
    (void)now;
    return clock->due < COUNT(times) ? times[clock->due] : (double)INFINITY;
}

static bool on_time(const struct pd_strategy *strategy, void *memory,
                    const struct pd_readings *readings, struct pd_command *command)
{
    struct clock *clock = memory;

    (void)strategy;
    if (clock->due == COUNT(times) || readings->time < times[clock->due]) {
        return false;
    }
    command->on = clock->due % 2 == 0;
    command->cause = command->on ? PD_CAUSE_FLOW : PD_CAUSE_LOW_FLOW;
    clock->due++;
    return true;
}

static const struct pd_controller_kind by_clock = {
    .memory = sizeof(struct clock),
    .clear = clear,
    .next_time = next_time,
    .on_time = on_time,
};

static void settle(const struct pd_plant *plant, struct pd_strategy *strategy)
{
    strategy->precharge = plant->mean_supply / 2;
}

static const struct pd_strategy_kind kind = {
    .name = "by-the-clock",
    .start_cause = PD_CAUSE_FLOW,
    .summary = "starts at two times of the day",
    .controller = &by_clock,
    .settle = settle,
};

/* Its day has the runs that it asked for, to the instant. */
static void a_day_runs_it(void)
{
    struct pd_scenario scenario = plant_scenario();
    struct pd_plant plant = plant_of(&scenario);
    struct pd_strategy strategy = pd_strategy_for(&kind, &plant);
    struct pd_day_options options = pd_day_default();
    struct pd_error error = {.code = PD_DONE};
    struct pd_day *day = pd_day_create(&error);
    struct pd_day_result result = {0};

    CU_ASSERT_PTR_NOT_NULL_FATAL(day);
    CU_ASSERT_FATAL(pd_day_run(day, &plant, &strategy, &options, &result, &error));
    CU_ASSERT_EQUAL_FATAL(result.run_count, COUNT(times) / 2);
    CU_ASSERT_EQUAL(result.starts, (int)COUNT(times) / 2);
    for (size_t i = 0; i < COUNT(times) / 2; i++) {
        CU_ASSERT(near(result.runs[i].start, times[2 * i], 1e-12));
        CU_ASSERT(near(result.runs[i].run_time, times[2 * i + 1] - times[2 * i], 1e-9));
        CU_ASSERT_EQUAL(result.runs[i].stop_cause, PD_CAUSE_LOW_FLOW);
    }
    CU_ASSERT(near(result.run_time, 1200 + 900, 1e-9));
    CU_ASSERT_STRING_EQUAL(result.strategy.kind->name, "by-the-clock");
    pd_day_free(day);
    pd_plant_free(&plant);
}

/* Comparing, checking and writing take it as they take their own, between two of them too. */
static void the_studies_take_it(void)
{
    struct pd_scenario scenario = plant_scenario();
    struct pd_compare_options options = pd_compare_default();
    struct pd_error error = {.code = PD_DONE};
    struct pd_comparison comparison;

    options.strategies[0] = pd_strategies[0];
    options.strategies[1] = &kind;
    options.strategies[2] = pd_strategies[1];
    options.strategy_count = 3;
    CU_ASSERT_FATAL(pd_compare(&scenario, &options, &comparison, &error));
    CU_ASSERT_EQUAL(comparison.count, 3);
    CU_ASSERT_PTR_EQUAL(comparison.row[1].result.strategy.kind, &kind);
    CU_ASSERT_EQUAL(comparison.row[1].result.starts, 2);
    CU_ASSERT(strlen(comparison.row[1].verdict) > 0);
    pd_comparison_free(&comparison);
}

void suite_own_strategy(void)
{
    CU_pSuite suite = CU_add_suite("own_strategy", NULL, NULL);

    CU_ADD_TEST(suite, a_day_runs_it);
    CU_ADD_TEST(suite, the_studies_take_it);
}
