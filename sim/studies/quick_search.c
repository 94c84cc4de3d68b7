/* Draws that stay open, and the pump's cycle at each: many of them share one simulated day, each
 * for some cycles.  Whole cycles count from its first start on, since every cycle begins with the
 * header at the start pressure. */
#include "scenario/read.h"
#include "studies/findings.h"
#include "studies/halving.h"
#include "studies/quick_parts.h"

#include <math.h>

/* Fewer draws, longer ones, for tanks so large that no two starts fall into an hour. */
enum { LONG_DRAWS = 4 };

/* Cycles simulated in a day, as far as they can be told beforehand: enough of each draw for an
 * estimate that is out by half, and a tenth of a second of work. */
static const double cycles_a_day = 6.0 * QUICK_DRAWS;

/* A cycle takes no less in the estimate: an empty tank's would be nothing. */
static const double shortest_cycle = 15; /* s */

/* What one day told. */
struct row {
    size_t count;
    struct pd_quick_cycle cycle[QUICK_DRAWS];
    double shortest_run, shortest_rest; /* s; NAN if none */
    double lowest_inlet;                /* Pa gauge; NAN if no water flowed */
    bool chatters;
};

static void lower(double *least, double value)
{
    if (!(*least <= value)) {
        *least = value;
    }
}

/* Whole runs and rests of a span, added up. */
struct tally {
    double first, last; /* s, starts */
    int starts, runs, rests;
    double run_time, rest_time, volume;
    bool runs_on;
};

static void tally_run(struct tally *tally, const struct pd_run *run, double from, double to,
                      struct row *row)
{
    double end = run->start + run->run_time;
    bool is_start = run->start_cause != PD_CAUSE_CARRIED_OVER && run->start >= from;

    tally->runs_on = tally->runs_on || (run->start < (from + to) / 2 && end >= to);
    if (!is_start) {
        return;
    }
    tally->first = tally->starts == 0 ? run->start : tally->first;
    tally->last = run->start;
    tally->starts++;
    if (run->start - run->rest_before >= from) {
        tally->rests++;
        tally->rest_time += run->rest_before;
        lower(&row->shortest_rest, run->rest_before);
    }
    if (end < to) {
        tally->runs++;
        tally->run_time += run->run_time;
        tally->volume += run->volume;
        lower(&row->shortest_run, run->run_time);
    }
}

static void measure(const struct pd_day_result *result, double from, double to, struct row *row)
{
    struct pd_quick_cycle *cycle = &row->cycle[row->count];
    struct tally tally = {.starts = 0};

    for (size_t i = 0; i < result->run_count; i++) {
        const struct pd_run *run = &result->runs[i];
        if (run->start < to && run->start + run->run_time > from) {
            tally_run(&tally, run, from, to, row);
        }
    }
    bool cycles = tally.starts > 1;
    cycle->starts_per_hour =
        cycles ? 3600.0 * (tally.starts - 1) / (tally.last - tally.first) : 0.0;
    cycle->run_time = cycles ? tally.run_time / tally.runs : (double)NAN;
    cycle->rest_time = cycles ? tally.rest_time / tally.rests : (double)NAN;
    cycle->volume = cycles ? tally.volume / tally.runs : (double)NAN;
    cycle->runs_on = !cycles && tally.runs_on;
}

static bool run_day(const struct quick_bench *bench, const struct pd_scenario *scenario,
                    struct pd_day_result *result)
{
    struct pd_plant plant;

    if (!pd_plant_build(scenario, &plant, bench->error)) {
        return false;
    }
    struct pd_strategy strategy = pd_strategy_for(pd_strategy_find("pressure-start"), &plant);
    bool good = pd_day_run(bench->day, &plant, &strategy, bench->options, result, bench->error);
    pd_plant_free(&plant);
    return good;
}

/* A cycle at a draw, roughly [s]: what the tank gives by Boyle's law, drawn and then pumped at the
 * flow at the start pressure. */
static double estimate(const struct quick_bench *bench, double flow)
{
    const struct pd_quick *quick = bench->quick;
    double gas = isnan(quick->precharge) ? bench->start - 2 * FINDINGS_PSI : quick->precharge;
    double high = (gas + bench->air) / (fmax(bench->start, gas) + bench->air);
    double low = (gas + bench->air) / (fmax(bench->top, gas) + bench->air);
    double gives = quick->tank * fmax(high - low, 0);
    double fills = fmax(bench->drawing_flow - flow, flow / QUICK_DRAWS);

    return shortest_cycle + gives / flow + gives / fills;
}

/* Opens the draws one after the other, each for as many cycles, as the day has room for. */
static void set_times(const struct quick_bench *bench, struct quick_draw *draws, size_t count)
{
    double cycles = cycles_a_day / (double)count, total = 0;

    for (size_t i = 0; i < count; i++) {
        draws[i].from = total;
        total += cycles * estimate(bench, draws[i].flow);
        draws[i].to = total;
    }
    double share = fmin(1, PD_DAY_SECONDS / total);
    for (size_t i = 0; i < count; i++) {
        draws[i].from *= share;
        draws[i].to *= share;
    }
}

/* Simulates a day of these draws; a day that chatters ends in the one where it does. */
static bool run_row(const struct quick_bench *bench, struct quick_draw *draws, size_t count,
                    struct row *row)
{
    struct pd_scenario scenario;
    struct pd_day_result result;

    set_times(bench, draws, count);
    if (!quick_scenario(bench->quick, draws, count, &scenario, bench->error)) {
        return false;
    }
    bool good = run_day(bench, &scenario, &result);
    pd_scenario_free(&scenario);
    if (!good) {
        return false;
    }
    *row = (struct row){.shortest_run = NAN,
                        .shortest_rest = NAN,
                        .lowest_inlet = result.lowest_suction_pressure,
                        .chatters = result.ending == PD_ENDING_CHATTER};
    for (; row->count < count && draws[row->count].from < result.end_time; row->count++) {
        const struct quick_draw *draw = &draws[row->count];
        row->cycle[row->count].draw = draw->flow;
        measure(&result, draw->from, fmin(draw->to, result.end_time), row);
    }
    return true;
}

bool quick_told(const struct quick_bench *bench, struct pd_quick_found *found)
{
    struct quick_draw draw = {.flow = bench->quick->draw};
    struct row row;

    found->told.draw = bench->quick->draw;
    if (isnan(bench->quick->draw)) {
        return true;
    }
    if (!run_row(bench, &draw, 1, &row)) {
        return false;
    }
    found->told = row.cycle[0];
    found->chatters = row.chatters;
    lower(&found->drawing_pressure, row.lowest_inlet);
    return true;
}

/* The place in a row of the draw with the most starts. */
static size_t worst_of(const struct row *row)
{
    size_t worst = 0;

    for (size_t i = 1; i < row->count; i++) {
        if (row->cycle[i].starts_per_hour > row->cycle[worst].starts_per_hour) {
            worst = i;
        }
    }
    return worst;
}

static bool all_run_on(const struct row *row)
{
    bool all = true;

    for (size_t i = 0; i < row->count; i++) {
        all = all && row->cycle[i].runs_on;
    }
    return all;
}

/* Draws evenly spread over a stretch, without its lower end; takes what the day told into `found`,
 * and *place to where the worst stands. */
static bool try_between(const struct quick_bench *bench, double low, double high, size_t count,
                        struct pd_quick_found *found, double *step)
{
    struct quick_draw draws[QUICK_DRAWS];
    struct row row;

    *step = (high - low) / (double)count;
    for (size_t i = 0; i < count; i++) {
        draws[i].flow = low + *step * (double)(i + 1);
    }
    if (!run_row(bench, draws, count, &row)) {
        return false;
    }
    const struct pd_quick_cycle *worst = &row.cycle[worst_of(&row)];
    if (row.chatters) {
        worst = &row.cycle[row.count > 0 ? row.count - 1 : 0];
    }
    if (worst->starts_per_hour > found->worst.starts_per_hour || row.chatters) {
        found->worst = *worst;
    }
    found->worst.runs_on = found->worst.runs_on || all_run_on(&row);
    found->chatters = found->chatters || row.chatters;
    lower(&found->shortest_run, row.shortest_run);
    lower(&found->shortest_rest, row.shortest_rest);
    return true;
}

/* Once over all draws, then between the neighbours of the worst. */
bool quick_worst(const struct quick_bench *bench, struct pd_quick_found *found)
{
    double step, most = bench->most_draw;

    found->worst = (struct pd_quick_cycle){.draw = NAN, .run_time = NAN, .rest_time = NAN};
    found->shortest_run = found->shortest_rest = NAN;
    if (!(most > 0)) {
        return true;
    }
    if (!try_between(bench, 0, most, QUICK_DRAWS, found, &step)) {
        return false;
    }
    if (!(found->worst.starts_per_hour > 0) && !found->chatters) {
        return try_between(bench, 0, most, LONG_DRAWS, found, &step);
    }
    double low = fmax(found->worst.draw - step, 0), high = fmin(found->worst.draw + step, most);
    return found->chatters || try_between(bench, low, high, QUICK_DRAWS, found, &step);
}

static bool passes(const struct pd_motor_rule *rule, const struct pd_quick_found *found)
{
    bool rests = rule->rest_is_assumed || !(found->shortest_rest < rule->least_rest);

    return !found->chatters && found->worst.starts_per_hour <= rule->starts_per_hour &&
           !(found->shortest_run < rule->least_run) && rests;
}

/* The search for a tank: its sizes, and the installation with one of them. */
struct sizing {
    struct pd_scenario sizes;
    struct pd_quick quick;
    struct quick_bench bench;
};

static bool passes_with(void *context, size_t place, bool *good)
{
    struct sizing *sizing = context;
    struct pd_quick_found trial = {.chatters = false};

    sizing->quick.tank = sizing->sizes.tank_sizes[place];
    if (!quick_worst(&sizing->bench, &trial)) {
        return false;
    }
    *good = passes(&sizing->bench.rule, &trial);
    return true;
}

/* A larger tank starts the pump less often: the sizes are halved. */
bool quick_tank(const struct quick_bench *bench, struct pd_quick_found *found)
{
    struct sizing sizing = {.quick = *bench->quick, .bench = *bench};
    size_t place;

    pd_tank_sizes_usual(&sizing.sizes, sizing.quick.units);
    sizing.bench.quick = &sizing.quick;
    sizing.quick.precharge = NAN;
    if (!first_that_passes(passes_with, &sizing, sizing.sizes.tank_size_count, &place)) {
        return false;
    }
    found->smallest_tank =
        place < sizing.sizes.tank_size_count ? sizing.sizes.tank_sizes[place] : (double)NAN;
    return true;
}
