/* How the pump is used, summed over the integrator's steps, in each of which the flow is taken to
 * change evenly. */
#include "observe/usage.h"

#include <math.h>

/* The bins reach to this many times the last flow of the pump's curve. */
static const double bins_reach = 2.0;

/* Running dry as the guard would have it: on, no flow, and no pressure to show for it.  A stop does
 * not end the spell, since the controller starts again at once. */
static void note_dry(struct usage *usage, const struct run *run, double span, const double *state)
{
    bool dry = state[AT_FLOW] < run->strategy->stop_flow &&
               state[AT_PRESSURE] < run->strategy->dry_pressure;

    if (!dry) {
        usage->dry_spell = 0.0;
    } else if (run->mode.branch[0].pump_on) {
        usage->dry_spell += span;
        usage->result->longest_dry = fmax(usage->result->longest_dry, usage->dry_spell);
    }
}

/* The part of a step with more flow than the curve has, and the water that went through in it. */
static void note_beyond(struct usage *usage, const struct run *run, double span, double from,
                        double to)
{
    double last = run->plant->branch[0].pump.last_flow;
    double most = fmax(from, to), least = fmin(from, to);

    if (most <= last) {
        return;
    }
    double share = least >= last ? 1.0 : (most - last) / (most - least);
    usage->result->time_beyond_curve += share * span;
    usage->result->pumped_beyond_curve += share * span * 0.5 * (most + fmax(least, last));
}

static enum pd_answer step(void *context, const struct run *run, double to, const double *state)
{
    struct usage *usage = context;
    struct pd_day_result *result = usage->result;
    double span = to - usage->time;
    double from = fmax(usage->flow, 0.0), flow = fmax(state[AT_FLOW], 0.0);
    double mean = 0.5 * (from + flow);

    usage->time = to;
    usage->flow = state[AT_FLOW];
    result->highest_flow = fmax(result->highest_flow, fmax(from, flow));
    note_dry(usage, run, span, state);
    if (run->mode.branch[0].pump_on && mean > 0.0) {
        int bin = (int)fmin(mean / usage->bin, FLOW_BINS - 1);
        usage->volume[bin] += mean * span;
        result->pumped += mean * span;
        note_beyond(usage, run, span, from, flow);
    }
    return PD_GO_ON;
}

/* The state may have jumped: the next step begins here. */
static void begin_step(void *context, const struct run *run)
{
    struct usage *usage = context;

    usage->time = run->now;
    usage->flow = run->state[AT_FLOW];
}

static enum pd_answer event(void *context, const struct run *run)
{
    begin_step(context, run);
    return PD_GO_ON;
}

/* The flow at which half of the water pumped went at less. */
static void end(void *context, const struct run *run)
{
    const struct usage *usage = context;
    double sum = 0.0;
    int bin = 0;

    (void)run;
    if (!(usage->result->pumped > 0.0)) {
        return;
    }
    while (bin < FLOW_BINS - 1 && sum + usage->volume[bin] < usage->result->pumped / 2.0) {
        sum += usage->volume[bin++];
    }
    usage->result->usual_flow = ((double)bin + 0.5) * usage->bin;
}

struct observer usage_observer(struct usage *usage, struct pd_day_result *result,
                               const struct pd_plant *plant)
{
    *usage = (struct usage){.result = result,
                            .bin = bins_reach * plant->branch[0].pump.last_flow / FLOW_BINS};
    result->usual_flow = NAN;
    return (struct observer){
        .context = usage, .step = step, .event = event, .midnight = begin_step, .end = end};
}
