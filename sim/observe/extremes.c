/* Lowest and highest pressures of a day: at the steps' ends, at events, and where a pressure turns
 * within a step. */
#include "observe/extremes.h"

#include "observe/ledger.h"

#include <math.h>
#include <string.h>

/* NAN is over all. */
static void lower(double *least, double value)
{
    if (isnan(*least) || value < *least) {
        *least = value;
    }
}

/* Extremes of the pressures in house and header. */
static void note_pressures(struct extremes *extremes, const struct run *run, double time,
                           const double *state)
{
    struct pd_day_result *result = extremes->result;

    if (run->mode.zone[0].demand > 0.0) {
        double tap = circuit_tap_pressure(&run->circuit, &run->mode, 0, state);
        lower(&result->lowest_tap_pressure, tap);
        lower(&result->hours[hour_of(time)].lowest_tap_pressure, tap);
    }
    if (!(state[AT_PRESSURE] <= result->highest_header_pressure)) {
        result->highest_header_pressure = state[AT_PRESSURE];
    }
}

/* Extremes of one state in the present mode; gives back the suction pressure, NAN if no water
 * flows.
 */
static double note_state(struct extremes *extremes, const struct run *run, double time,
                         const double *state)
{
    note_pressures(extremes, run, time, state);
    if (!run->mode.branch[0].valve_open || state[AT_FLOW] <= 0.0) {
        return NAN;
    }
    double suction = circuit_suction(&run->circuit, &run->mode, 0, time, state);
    lower(&extremes->result->lowest_suction_pressure, suction);
    if (run->mode.branch[0].pump_on) {
        suction_note(&extremes->suction, run, time, state, suction);
    }
    return suction;
}

/* When the cubic through two values with their slopes turns, as a part of the way between them; the
 * slopes are of one unit of the way and of opposite signs. */
static double turn_of(double rise, double first, double last)
{
    // slope: first + 2 bend u + 3 twist u^2
    double bend = 3.0 * rise - 2.0 * first - last, twist = first + last - 2.0 * rise;
    double root = sqrt(fmax(bend * bend - 3.0 * twist * first, 0.0));

    return first / (copysign(root, first) - bend);
}

/* The header turned round within the last step, whose slopes are known: its extreme is where they
 * have it. */
static bool note_turn_inside(struct extremes *extremes, const struct run *run, double time,
                             const double slope[2], double pressure)
{
    double span = time - extremes->middle_time;
    double turned[STATE_COUNT];

    if (!(slope[0] * slope[1] < 0.0)) {
        return true;
    }
    double part = turn_of(pressure - extremes->middle, span * slope[0], span * slope[1]);
    double at = extremes->middle_time + span * fmin(fmax(part, 0.0), 1.0);
    if (!integrator_state_at(run->integrator, at, turned)) {
        return false;
    }
    (void)note_state(extremes, run, at, turned);
    return true;
}

/* The header turned round between three steps: its extreme is the vertex of the parabola through
 * them. */
static void note_turn_between(struct extremes *extremes, const struct run *run, double time,
                              const double *state)
{
    double left = extremes->middle - extremes->before,
           right = state[AT_PRESSURE] - extremes->middle;

    if (!isnan(extremes->before) && left * right < 0.0) {
        double h1 = extremes->middle_time - extremes->before_time,
               h2 = time - extremes->middle_time;
        double curvature = (right / h2 - left / h1) / (h1 + h2);
        double slope = right / h2 - curvature * h2;
        double turned[STATE_COUNT];
        memcpy(turned, state, sizeof turned);
        turned[AT_PRESSURE] = extremes->middle - slope * slope / (4.0 * curvature);
        note_pressures(extremes, run, time, turned);
    }
}

/* The suction pressure turned upward within the last step: worth a look where it may have been the
 * lowest so far.  Steps as a pump starts were seen to dip 1 kPa under both ends. */
static const double deepest_dip = 2.0e4; /* Pa */

static bool note_inlet_turn(struct extremes *extremes, const struct run *run, double time,
                            const double *state, double suction)
{
    double span = time - extremes->middle_time;
    double change = suction - extremes->inlet;
    double flow[2], header[2], turned[STATE_COUNT];

    if (!(fmin(suction, extremes->inlet) - deepest_dip <
          extremes->result->lowest_suction_pressure) ||
        !integrator_slopes(run->integrator, AT_FLOW, flow) ||
        !integrator_slopes(run->integrator, AT_PRESSURE, header)) {
        return true;
    }
    if (!integrator_state_at(run->integrator, extremes->middle_time, turned)) {
        return false;
    }
    double first = circuit_suction_rate(&run->circuit, &run->mode, 0, extremes->middle_time, turned,
                                        flow[0], header[0]);
    double last =
        circuit_suction_rate(&run->circuit, &run->mode, 0, time, state, flow[1], header[1]);
    if (!(first < 0.0 && last > 0.0)) {
        return true;
    }
    double part = turn_of(change, span * first, span * last);
    double at = extremes->middle_time + span * fmin(fmax(part, 0.0), 1.0);
    if (!integrator_state_at(run->integrator, at, turned)) {
        return false;
    }
    (void)note_state(extremes, run, at, turned);
    return true;
}

static bool note_turn(struct extremes *extremes, const struct run *run, double time,
                      const double *state)
{
    double slope[2];
    bool good = true;

    if (integrator_slopes(run->integrator, AT_PRESSURE, slope)) {
        good = note_turn_inside(extremes, run, time, slope, state[AT_PRESSURE]);
    } else {
        note_turn_between(extremes, run, time, state);
    }
    extremes->before = extremes->middle;
    extremes->before_time = extremes->middle_time;
    extremes->middle = state[AT_PRESSURE];
    extremes->middle_time = time;
    return good;
}

static enum pd_answer step(void *context, const struct run *run, double to, const double *state)
{
    struct extremes *extremes = context;
    double suction = note_state(extremes, run, to, state);

    if (!note_inlet_turn(extremes, run, to, state, suction) ||
        !note_turn(extremes, run, to, state)) {
        return PD_FAILED;
    }
    extremes->inlet = suction;
    return PD_GO_ON;
}

static enum pd_answer event(void *context, const struct run *run)
{
    struct extremes *extremes = context;

    extremes->before = NAN;
    extremes->middle = run->state[AT_PRESSURE];
    extremes->middle_time = run->now;
    extremes->inlet = note_state(extremes, run, run->now, run->state);
    return PD_GO_ON;
}

static void starts(void *context, const struct run *run, enum pd_cause cause)
{
    struct extremes *extremes = context;

    (void)run;
    (void)cause;
    suction_begin(&extremes->suction);
}

struct observer extremes_observer(struct extremes *extremes, struct pd_day_result *result)
{
    *extremes =
        (struct extremes){.result = result, .suction = {result, NAN}, .before = NAN, .middle = NAN};
    result->lowest_tap_pressure = result->highest_header_pressure = NAN;
    result->lowest_suction_pressure = result->lowest_inlet_pressure = NAN;
    result->lowest_npsh_margin = result->npsh_flow = NAN;
    for (int i = 0; i < PD_HOURS; i++) {
        result->hours[i].lowest_tap_pressure = NAN;
    }
    return (struct observer){.context = extremes, .step = step, .event = event, .starts = starts};
}
