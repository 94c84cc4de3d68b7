/* Simulates what a fitter does with a new booster: draw until it runs, let it stop, open one tap,
 * shut it, open three, shut them, let a trickle run. */
#include "studies/sheet_parts.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Times of the test, s.  Taps stay open long enough for a steady gauge; between two draws the pump
 * has its run-on and some time more. */
static const double begin_at = 600, charge_for = 120, open_for = 300, trickle_for = 7200;
static const double rest_for = PD_BENCH_STANDS;

/* Between two pressures the pump comes and goes with any tap: long enough for some cycles. */
static const double cycles_for = 3600;

/* A trickle is half of what stops the pump, but never more than a quarter of a tap. */
static const double trickle_of_stop = 0.5, trickle_of_tap = 0.25;

/* A house that tells of no draw. */
static const double plain_tap = 8e-3 / 60;

static const double look_every = 1; /* s; every event is looked at besides */

/* When taps open and shut. */
struct times {
    double charge, charged, one, one_shut, three, three_shut, trickle, trickle_shut;
};

/* The test while it runs. */
struct watch {
    struct times times;
    struct pd_bench *bench;
    struct pd_trace_row last;
    double first_start;   /* s, with the charging taps open; NAN if there was none */
    double volume;        /* m3 drawn since the tap was opened */
    double last_start;    /* s, with the present tap open; NAN before */
    bool started, closed; /* the first start and the first stop after it are on paper */
};

/* Draws whose flow is less than that of one of them. */
static size_t count_less(const struct pd_scenario *scenario, size_t draw)
{
    size_t count = 0;

    for (size_t i = 0; i < scenario->draw_count; i++) {
        bool first = scenario->draws[i].flow == scenario->draws[draw].flow && i < draw;
        count += scenario->draws[i].flow < scenario->draws[draw].flow || first ? 1 : 0;
    }
    return count;
}

/* The middle one of the draws' flows, found without memory that could be missing. */
static double usual_tap(const struct pd_scenario *scenario)
{
    size_t middle = 0;

    while (middle < scenario->draw_count &&
           count_less(scenario, middle) != scenario->draw_count / 2) {
        middle++;
    }
    return middle < scenario->draw_count ? scenario->draws[middle].flow : plain_tap;
}

static bool by_two_pressures(const struct pd_strategy *strategy)
{
    return !isnan(strategy->stop_pressure);
}

/* The charging taps are open for a while [s]. */
static struct times times_for(const struct pd_strategy *strategy, double charging)
{
    double gap = strategy->run_on + rest_for;
    double open = by_two_pressures(strategy) ? cycles_for : open_for;
    struct times times = {.charge = begin_at, .charged = begin_at + charging};

    times.one = times.charged + gap;
    times.one_shut = times.one + open + gap;
    times.three = times.one_shut + gap;
    times.three_shut = times.three + open_for;
    times.trickle = times.three_shut + gap;
    times.trickle_shut = times.trickle + trickle_for;
    return times;
}

static struct pd_draw tap(double open, double shut, double flow)
{
    return (struct pd_draw){.time = open, .flow = flow, .duration = shut - open, .volume = NAN};
}

/* The scenario with a supply that stands still and the test's draws in place of the day's. */
static bool make_bench(const struct pd_scenario *scenario, const struct pd_sheet *sheet,
                       const struct times *times, double supply, double weight,
                       struct pd_scenario *bench)
{
    bool is_main = scenario->value[PD_SUPPLY_KIND] == PD_SUPPLY_MAIN;
    double flow = sheet->tap_flow;
    struct pd_draw draws[] = {
        tap(times->charge, times->charged, 3 * flow),
        tap(times->one, times->one_shut, flow),
        tap(times->three, times->three_shut, 3 * flow),
        tap(times->trickle, times->trickle_shut, sheet->trickle_flow),
    };

    *bench = *scenario;
    bench->profile = NULL;
    bench->profile_count = 0;
    bench->supply = NULL;
    bench->supply_count = 0;
    bench->value[is_main ? PD_SUPPLY_PRESSURE : PD_SUPPLY_LEVEL] =
        is_main ? supply : supply / weight;
    bench->value[PD_SUPPLY_AREA] = NAN;
    bench->value[PD_SUPPLY_EMPTY_LEVEL] = NAN;
    bench->value[PD_DAY_WARM_UP] = 0;
    bench->draw_count = sizeof draws / sizeof draws[0];
    bench->draws = pd_memory_resize(NULL, sizeof draws);
    if (bench->draws == NULL) {
        return false;
    }
    memcpy(bench->draws, draws, sizeof draws);
    return true;
}

/* The start of the pump by the charging taps. */
static void watch_charging(struct watch *watch, const struct pd_trace_row *row)
{
    bool charging = row->time > watch->times.charge && row->time < watch->times.charged;

    if (charging && isnan(watch->first_start) && row->pump_on && !watch->last.pump_on) {
        watch->first_start = row->time;
    }
}

/* From the opening of one tap to the start of the pump. */
static void watch_opening(struct watch *watch, const struct pd_trace_row *row)
{
    struct pd_bench *bench = watch->bench;

    if (watch->started || row->time < watch->times.one || row->time > watch->times.one_shut) {
        return;
    }
    if (watch->last.time < watch->times.one) {
        bench->rest = row->header_pressure;
        bench->runs_already = row->pump_on;
    }
    watch->volume += row->demand_flow * (row->time - fmax(watch->last.time, watch->times.one));
    if (row->pump_on && !watch->last.pump_on) {
        watch->started = true;
        bench->start = row->header_pressure;
        bench->seconds = row->time - watch->times.one;
        bench->drawn = watch->volume;
    }
}

/* Steady readings, a moment before the taps are shut. */
static void watch_steady(struct watch *watch, const struct pd_trace_row *row)
{
    struct pd_bench *bench = watch->bench;

    if (row->time < watch->times.one_shut) {
        bench->one_tap = row->header_pressure;
        bench->one_tap_flow = row->demand_flow;
        bench->runs_on = row->pump_on;
        // of a pump that comes and goes, what it draws while it runs
        bool runs = row->pump_on || !watch->started;
        bench->one_tap_power = runs ? row->power : bench->one_tap_power;
    } else if (row->time > watch->times.three && row->time < watch->times.three_shut) {
        bench->three_taps = row->header_pressure;
    }
}

/* The first stop after the one tap was shut, and the gauge of any stop with all taps shut. */
static void watch_stop(struct watch *watch, const struct pd_trace_row *row)
{
    struct pd_bench *bench = watch->bench;

    if (!watch->last.pump_on || row->pump_on) {
        return;
    }
    if (row->demand_flow <= 0) {
        bench->shutoff = row->header_pressure;
    }
    if (!watch->closed && row->time >= watch->times.one_shut && row->time < watch->times.three) {
        watch->closed = true;
        bench->run_on = row->time - watch->times.one_shut;
    }
}

/* The last whole cycle with a tap open. */
static void watch_cycle(struct watch *watch, const struct pd_trace_row *row)
{
    const struct times *times = &watch->times;
    bool one = row->time > times->one && row->time < times->one_shut;
    bool trickle = row->time > times->trickle && row->time < times->trickle_shut;

    if (!one && !trickle) {
        watch->last_start = NAN;
        return;
    }
    if (row->pump_on && !watch->last.pump_on) {
        double *cycle = one ? &watch->bench->one_tap_cycle : &watch->bench->trickle_cycle;
        *cycle = isnan(watch->last_start) ? *cycle : row->time - watch->last_start;
        watch->last_start = row->time;
    }
}

static enum pd_answer look(void *context, const struct pd_trace_row *row)
{
    struct watch *watch = context;

    watch_charging(watch, row);
    watch_opening(watch, row);
    watch_steady(watch, row);
    watch_stop(watch, row);
    watch_cycle(watch, row);
    watch->last = *row;
    return PD_GO_ON;
}

/* Between two pressures these are of the moment at which one looked. */
static void forget_steady(struct pd_bench *bench)
{
    bench->one_tap_flow = NAN;
    bench->one_tap_power = NAN;
    bench->three_taps = NAN;
    bench->run_on = NAN;
}

static bool run_bench(const struct pd_scenario *scenario, const struct pd_sheet *sheet,
                      struct pd_day *day, const struct pd_day_options *options, struct watch *watch,
                      struct pd_error *error)
{
    struct pd_day_options watched = *options;
    struct pd_day_result result;
    struct pd_plant plant;

    if (!pd_plant_build(scenario, &plant, error)) {
        return false;
    }
    watched.trace = look;
    watched.trace_context = watch;
    watched.trace_every = look_every;
    bool good = pd_day_run(day, &plant, &sheet->strategy, &watched, &result, error);
    pd_plant_free(&plant);
    watch->bench->runs_on = watch->bench->runs_on && isnan(watch->bench->one_tap_cycle);
    // a gauge that goes up and down has no reading, nor has what hangs on it
    if (watch->started && !watch->bench->runs_on) {
        watch->bench->one_tap = NAN;
        if (by_two_pressures(&sheet->strategy)) {
            forget_steady(watch->bench);
        }
    }
    return good;
}

static const struct pd_bench nothing_read = {
    .rest = NAN,
    .start = NAN,
    .seconds = NAN,
    .drawn = NAN,
    .run_on = NAN,
    .shutoff = NAN,
    .one_tap_cycle = NAN,
    .trickle_cycle = NAN,
};

/* The readings with the charging taps open for a while [s]; *start is that of the pump by them. */
static bool read_bench(const struct pd_scenario *scenario, const struct pd_sheet *sheet,
                       double charging, double weight, struct pd_day *day,
                       const struct pd_day_options *options, struct pd_bench *bench, double *start,
                       struct pd_error *error)
{
    double supply = bench->supply;
    struct watch watch = {.times = times_for(&sheet->strategy, charging),
                          .bench = bench,
                          .first_start = NAN,
                          .last_start = NAN};
    struct pd_scenario test;

    *bench = nothing_read;
    bench->supply = supply;
    if (!make_bench(scenario, sheet, &watch.times, supply, weight, &test)) {
        return pd_error_memory(error);
    }
    bool good = run_bench(&test, sheet, day, options, &watch, error);
    free(test.draws);
    *start = watch.first_start;
    return good;
}

static bool add_bench(const struct pd_scenario *scenario, double supply, double weight,
                      struct pd_day *day, const struct pd_day_options *options,
                      struct pd_sheet *sheet, struct pd_error *error)
{
    struct pd_bench *bench = &sheet->bench[sheet->count++];
    double charging = charge_for;
    double start = NAN;

    bench->supply = supply;
    // draw until the pump starts, not on: it would stop at its pressure and the taps empty the tank
    if (by_two_pressures(&sheet->strategy)) {
        if (!read_bench(scenario, sheet, trickle_for, weight, day, options, bench, &start, error)) {
            return false;
        }
        charging = isnan(start) ? charge_for : start - begin_at + look_every;
    }
    return read_bench(scenario, sheet, charging, weight, day, options, bench, &start, error);
}

static bool fill(const struct pd_scenario *scenario, const struct pd_plant *plant,
                 const struct pd_day_options *options, struct pd_sheet *sheet,
                 struct pd_error *error)
{
    const double supplies[] = {plant->lowest_supply, plant->mean_supply, plant->highest_supply};
    bool stands_still = plant->lowest_supply == plant->highest_supply;
    struct pd_day *day = pd_day_create(error);
    bool good = day != NULL;

    for (size_t i = stands_still ? 2 : 0; good && i < PD_BENCHES_MOST; i++) {
        good = add_bench(scenario, supplies[i], plant->specific_weight, day, options, sheet, error);
    }
    pd_day_free(day);
    return good;
}

struct pd_sheet_options pd_sheet_default(void)
{
    return (struct pd_sheet_options){.day = pd_day_default(), .gauge_step = 0.1e5};
}

static void fill_settings(const struct pd_scenario *scenario, const struct pd_plant *plant,
                          const struct pd_strategy_kind *kind, struct pd_sheet *sheet)
{
    sheet->strategy = pd_strategy_for(kind, plant);
    sheet->temperature = scenario->value[PD_WATER_TEMPERATURE];
    sheet->tank = scenario->value[PD_TANK_VOLUME];
    sheet->tap_flow = usual_tap(scenario);
    bool by_flow = isnan(sheet->strategy.stop_pressure) && sheet->strategy.stop_flow > 0;
    double most = trickle_of_tap * sheet->tap_flow;
    sheet->trickle_flow = by_flow ? fmin(trickle_of_stop * sheet->strategy.stop_flow, most) : most;
}

bool pd_sheet_make(const struct pd_scenario *told, const struct pd_strategy_kind *kind,
                   const struct pd_sheet_options *options, struct pd_sheet *sheet,
                   struct pd_error *error)
{
    struct pd_scenario fresh = *told; // its lists stay those of the other
    const struct pd_scenario *scenario = &fresh;
    struct pd_plant plant;

    // on the day that it is filled
    fresh.value[PD_TANK_MONTHS] = 0;
    memset(sheet, 0, sizeof *sheet);
    if (!pd_plant_build(scenario, &plant, error)) {
        return false;
    }
    fill_settings(scenario, &plant, kind, sheet);
    bool good = fill(scenario, &plant, &options->day, sheet, error) &&
                sheet_judge(scenario, &options->day, sheet, error);
    if (good) {
        sheet_survey(&plant, options->gauge_step, sheet);
    }
    pd_plant_free(&plant);
    return good;
}
