/* How the pump is used: the flows at which it works, its suction, and whether it runs dry.  Summed
 * over the integrator's steps, in each of which the flow is taken to change evenly. */
#include "day/inside.h"

#include <math.h>
#include <string.h>

/* The bins reach to this many times the last flow of the pump's curve. */
static const double bins_reach = 2.0;

void watch_begin(struct pd_day *day)
{
    memset(&day->watch, 0, sizeof day->watch);
    day->watch.short_since = NAN;
    day->watch.bin = bins_reach * day->plant->pump.last_flow / FLOW_BINS;
}

void watch_from(struct pd_day *day)
{
    day->watch.time = day->now;
    day->watch.flow = day->state[AT_FLOW];
}

/* Available head less what the pump asks for [m], and the least of it. */
static double npsh_margin(struct pd_day *day, double flow, double suction)
{
    struct pd_day_result *result = &day->result;
    const struct pd_plant *plant = day->plant;
    double last = plant->npsh_required.x[plant->npsh_required.count - 1];
    double on_curve = fmin(flow, last);
    double margin = pd_npsh_available(suction, plant->atmosphere, plant->water.vapour_pressure,
                                      plant->water.density) -
                    pd_curve_at(&plant->npsh_required, on_curve, NULL);

    if (!(margin >= result->lowest_npsh_margin)) {
        result->lowest_npsh_margin = margin;
        result->npsh_flow = on_curve;
    }
    return margin;
}

/* The inlet of a pump that is on, at a state with water flowing: its head against what the pump
 * asks for, or, where that is not known, against boiling. */
void watch_suction(struct pd_day *day, double time, const double *state, double suction)
{
    struct pd_day_result *result = &day->result;
    double *since = &day->watch.short_since;
    bool is_short = day->plant->has_npsh ? npsh_margin(day, state[AT_FLOW], suction) < 0.0
                                         : suction <= day->plant->boiling;

    if (!(suction >= result->lowest_inlet_pressure)) {
        result->lowest_inlet_pressure = suction;
    }
    if (!is_short) {
        *since = NAN;
        return;
    }
    *since = isnan(*since) ? time : *since;
    result->longest_short_suction = fmax(result->longest_short_suction, time - *since);
}

/* Running dry as the guard would have it: on, no flow, and no pressure to show for it.  A stop does
 * not end the spell, since the controller starts again at once. */
static void watch_dry(struct pd_day *day, double span, const double *state)
{
    struct watch *watch = &day->watch;
    bool dry = state[AT_FLOW] < day->strategy->stop_flow &&
               state[AT_PRESSURE] < day->strategy->dry_pressure;

    if (!dry) {
        watch->dry_spell = 0.0;
    } else if (day->mode.pump_on) {
        watch->dry_spell += span;
        day->result.longest_dry = fmax(day->result.longest_dry, watch->dry_spell);
    }
}

/* The part of a step with more flow than the curve has, and the water that went through in it. */
static void watch_beyond(struct pd_day *day, double span, double from, double to)
{
    double last = day->plant->pump.last_flow;
    double most = fmax(from, to), least = fmin(from, to);

    if (most <= last) {
        return;
    }
    double share = least >= last ? 1.0 : (most - last) / (most - least);
    day->result.time_beyond_curve += share * span;
    day->result.pumped_beyond_curve += share * span * 0.5 * (most + fmax(least, last));
}

void watch_step(struct pd_day *day, double to, const double *state)
{
    struct watch *watch = &day->watch;
    double span = to - watch->time;
    double from = fmax(watch->flow, 0.0), flow = fmax(state[AT_FLOW], 0.0);
    double mean = 0.5 * (from + flow);

    watch->time = to;
    watch->flow = state[AT_FLOW];
    day->result.highest_flow = fmax(day->result.highest_flow, fmax(from, flow));
    watch_dry(day, span, state);
    if (day->mode.pump_on && mean > 0.0) {
        int bin = (int)fmin(mean / watch->bin, FLOW_BINS - 1);
        watch->volume[bin] += mean * span;
        day->result.pumped += mean * span;
        watch_beyond(day, span, from, flow);
    }
}

/* The flow at which half of the water pumped went at less. */
void watch_end(struct pd_day *day)
{
    const struct watch *watch = &day->watch;
    double sum = 0.0;
    int bin = 0;

    if (!(day->result.pumped > 0.0)) {
        return;
    }
    while (bin < FLOW_BINS - 1 && sum + watch->volume[bin] < day->result.pumped / 2.0) {
        sum += watch->volume[bin++];
    }
    day->result.usual_flow = ((double)bin + 0.5) * watch->bin;
}
