/* Watches a day while it is simulated, for what its result does not keep. */
#include "studies/findings.h"

#include <math.h>

/* Seconds between looks; every event of the day is looked at besides. */
static const double look_every = 1.0;

/* The water pumped is sorted by its flow into this many parts of a flow at which no pump runs. */
enum { BINS = 400 };
static const double bins_reach = 2.0; /* times the largest flow of the pump's curve */

/* What is gathered. */
struct watch {
    const struct pd_plant *plant;
    const struct pd_strategy *strategy;
    struct watched_day *seen;
    struct pd_trace_row last;
    bool has_last;
    double least_margin; /* m */
    double dry_spell;    /* s on without flow and pressure, so far */
    double volume[BINS]; /* m3 pumped at a flow */
    double bin;          /* m3/s, width of one */
};

static void watch_npsh(struct watch *watch, const struct pd_trace_row *row)
{
    const struct pd_plant *plant = watch->plant;

    if (!row->pump_on || !row->valve_open || row->pump_flow <= 0) {
        return;
    }
    watch->seen->lowest_inlet = fmin(watch->seen->lowest_inlet, row->suction_pressure);
    if (!plant->has_npsh) {
        return;
    }
    double flow = fmin(row->pump_flow, plant->npsh_required.x[plant->npsh_required.count - 1]);
    double margin = pd_npsh_available(row->suction_pressure, plant->atmosphere,
                                      plant->water.vapour_pressure, plant->water.density) -
                    pd_curve_at(&plant->npsh_required, flow, NULL);
    if (margin < watch->least_margin) {
        watch->least_margin = margin;
        watch->seen->npsh_flow = flow;
    }
}

/* Running dry as the guard would have it: on, no flow, and no pressure to show for it.  A stop does
 * not end the spell, since the controller starts again at once. */
static void watch_dry(struct watch *watch, const struct pd_trace_row *row)
{
    bool dry = row->pump_flow < watch->strategy->stop_flow &&
               row->header_pressure < watch->strategy->dry_pressure;

    if (!dry) {
        watch->dry_spell = 0;
        return;
    }
    if (watch->has_last && watch->last.pump_on) {
        watch->dry_spell += row->time - watch->last.time;
    }
    watch->seen->longest_dry = fmax(watch->seen->longest_dry, watch->dry_spell);
}

/* The water that went through since the last look. */
static void watch_volume(struct watch *watch, const struct pd_trace_row *row)
{
    double flow = watch->last.pump_flow;

    if (!watch->has_last || !watch->last.pump_on || flow <= 0) {
        return;
    }
    size_t bin = (size_t)fmin(flow / watch->bin, BINS - 1);
    watch->volume[bin] += flow * (row->time - watch->last.time);
}

static bool look(void *context, const struct pd_trace_row *row)
{
    struct watch *watch = context;

    watch->seen->highest_flow = fmax(watch->seen->highest_flow, row->pump_flow);
    watch_npsh(watch, row);
    watch_dry(watch, row);
    watch_volume(watch, row);
    watch->last = *row;
    watch->has_last = true;
    return true;
}

/* The flow at which half of the water pumped went at less. */
static double middle_flow(const struct watch *watch)
{
    double all = 0, sum = 0;
    size_t bin = 0;

    for (size_t i = 0; i < BINS; i++) {
        all += watch->volume[i];
    }
    if (!(all > 0)) {
        return NAN;
    }
    while (bin < BINS - 1 && sum + watch->volume[bin] < all / 2) {
        sum += watch->volume[bin++];
    }
    return ((double)bin + 0.5) * watch->bin;
}

bool watched_day_run(struct pd_day *day, const struct pd_plant *plant,
                     const struct pd_strategy *strategy, const struct pd_day_options *options,
                     struct pd_day_result *result, struct watched_day *seen, struct pd_error *error)
{
    struct pd_day_options watched = *options;
    struct watch watch = {
        .plant = plant,
        .strategy = strategy,
        .seen = seen,
        .least_margin = INFINITY,
        .bin = bins_reach * plant->pump.last_flow / BINS,
    };

    *seen = (struct watched_day){
        .result = result,
        .npsh_flow = NAN,
        .lowest_inlet = NAN,
        .reach = plant->lowest_supply + plant->pump.shutoff,
    };
    watched.trace = look;
    watched.trace_context = &watch;
    watched.trace_every = look_every;
    if (!pd_day_run(day, plant, strategy, &watched, result, error)) {
        return false;
    }
    seen->usual_flow = middle_flow(&watch);
    return true;
}
