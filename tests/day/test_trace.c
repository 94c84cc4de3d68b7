/* The trace adds up: lines drawn between its rows are the day.  Trapezoids over the rows, as a
 * reader of trace.csv would sum them, against the totals that the integration counts. */
#include "day/folders.h"

#include <CUnit/CUnit.h>

#include <math.h>

void suite_trace(void);

/* Promised of every scenario, strategy and step. */
static const double promised = 2e-3;

/* What no sum of such rows can tell: a drop, and a second of what the smallest controller takes. */
static const double drop = 1e-4 /* m3 */, blink = 10 /* J */;

/* Trapezoids under the rows so far. */
struct sum {
    struct pd_trace_row last;
    size_t rows;
    double energy, taps, pumped; /* J, m3, m3 while the pump is on */
    bool rising;
};

static enum pd_answer add(void *context, const struct pd_trace_row *row)
{
    struct sum *sum = context;
    double half = (row->time - sum->last.time) / 2;

    if (sum->rows++ > 0) {
        sum->rising = sum->rising && llround(row->time * 1e3) > llround(sum->last.time * 1e3);
        sum->energy += half * (sum->last.power + row->power);
        sum->taps += half * (sum->last.demand_flow + row->demand_flow);
        bool on = sum->last.pump_on && row->pump_on;
        sum->pumped += on ? half * (sum->last.pump_flow + row->pump_flow) : 0;
    }
    sum->last = *row;
    return PD_GO_ON;
}

static struct sum summed(struct pd_day *day, const struct pd_plant *plant,
                         const struct pd_strategy_kind *kind, double every,
                         struct pd_day_result *result)
{
    struct sum sum = {.rising = true};
    struct pd_day_options options = pd_day_default();
    struct pd_strategy strategy = pd_strategy_for(kind, plant);
    struct pd_error error = {.code = PD_DONE};

    options.trace = every > 0 ? add : NULL;
    options.trace_context = &sum;
    options.trace_every = every;
    CU_ASSERT_FATAL(pd_day_run(day, plant, &strategy, &options, result, &error));
    return sum;
}

static bool adds_up(const char *what, double sum, double total, double least)
{
    bool good = fabs(sum - total) <= promised * fabs(total) + least;

    if (!good) {
        printf("\n    %s: %g by the rows, %g by the day\n", what, sum, total);
    }
    return good;
}

static double pumped_of(const struct pd_day_result *result)
{
    double volume = 0;

    for (size_t i = 0; i < result->run_count; i++) {
        volume += result->runs[i].volume;
    }
    return volume;
}

static void check_day(struct pd_day *day, const struct pd_plant *plant,
                      const struct pd_strategy_kind *kind, double every)
{
    struct pd_day_result bare, result;

    (void)summed(day, plant, kind, 0, &bare);
    double energy = bare.energy, starts = bare.starts, water = bare.delivered;
    struct sum sum = summed(day, plant, kind, every, &result);
    CU_ASSERT(sum.rising);
    CU_ASSERT(sum.rows > result.end_time / every);
    CU_ASSERT_EQUAL(sum.last.time, result.end_time);
    CU_ASSERT(adds_up("energy", sum.energy, result.energy, blink));
    CU_ASSERT(adds_up("taps", sum.taps, result.delivered, drop));
    CU_ASSERT(adds_up("pump", sum.pumped, pumped_of(&result), drop));
    // who looks on changes nothing
    CU_ASSERT_EQUAL(result.energy, energy);
    CU_ASSERT_EQUAL(result.starts, starts);
    CU_ASSERT_EQUAL(result.delivered, water);
}

static void check_folder(const char *path, const double *every, size_t count)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_day *day = pd_day_create(&error);
    struct pd_scenario scenario;
    struct pd_plant plant;

    CU_ASSERT_FATAL(day != NULL && folders_read(path, &scenario));
    CU_ASSERT_FATAL(pd_plant_build(&scenario, &plant, &error));
    for (size_t i = 0; i < pd_strategy_count * count; i++) {
        check_day(day, &plant, pd_strategies[i % pd_strategy_count], every[i / PD_STRATEGIES_MOST]);
    }
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
    pd_day_free(day);
}

static void rows_add_up_in_every_scenario(void)
{
    const double every[] = {1, 10, 60, 3600};
    struct folders folders;

    folders_list(&folders);
    CU_ASSERT_FATAL(folders.count > 0);
    for (size_t i = 0; i < folders.count; i++) {
        check_folder(folders.path[i], every, sizeof every / sizeof every[0]);
    }
}

/* Steps that no number of milliseconds is, and steps that events fall on. */
static void rows_rise_for_every_step(void)
{
    const double every[] = {0.1, 0.7, 0.3333, 1.001, 7.77, 86400};

    check_folder("scenarios/hillside-house", every, sizeof every / sizeof every[0]);
}

void suite_trace(void)
{
    CU_pSuite suite = CU_add_suite("trace", NULL, NULL);

    CU_ADD_TEST(suite, rows_add_up_in_every_scenario);
    CU_ADD_TEST(suite, rows_rise_for_every_step);
}
