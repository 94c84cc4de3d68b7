/* Lowest and highest pressures of a day: at the steps' ends, at events, and where a pressure turns
 * within a step. */
#include "day/inside.h"

#include <math.h>
#include <string.h>

int extremes_hour(double time)
{
    int index = (int)floor(time / 3600.0);
    return index < 0 ? 0 : index >= PD_HOURS ? PD_HOURS - 1 : index;
}

void extremes_lower(double *least, double value)
{
    if (isnan(*least) || value < *least) {
        *least = value;
    }
}

/* Extremes of the pressures in house and header. */
static void note_pressures(struct pd_day *day, double time, const double *state)
{
    struct pd_day_result *result = &day->result;

    if (day->mode.demand > 0.0) {
        double tap = circuit_tap_pressure(&day->circuit, &day->mode, state);
        extremes_lower(&result->lowest_tap_pressure, tap);
        extremes_lower(&result->hours[extremes_hour(time)].lowest_tap_pressure, tap);
    }
    if (!(state[AT_PRESSURE] <= result->highest_header_pressure)) {
        result->highest_header_pressure = state[AT_PRESSURE];
    }
}

/* Extremes of one state in the present mode; gives back the suction pressure, NAN if no water
 * flows.
 */
static double note_state(struct pd_day *day, double time, const double *state)
{
    note_pressures(day, time, state);
    if (!day->mode.valve_open || state[AT_FLOW] <= 0.0) {
        return NAN;
    }
    double suction = circuit_suction(&day->circuit, &day->mode, time, state);
    extremes_lower(&day->result.lowest_suction_pressure, suction);
    if (day->mode.pump_on) {
        watch_suction(day, time, state, suction);
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
static bool note_turn_inside(struct pd_day *day, double time, const double slope[2],
                             double pressure)
{
    const struct ledger *ledger = &day->ledger;
    double span = time - ledger->middle_time;
    double turned[STATE_COUNT];

    if (!(slope[0] * slope[1] < 0.0)) {
        return true;
    }
    double part = turn_of(pressure - ledger->middle, span * slope[0], span * slope[1]);
    double at = ledger->middle_time + span * fmin(fmax(part, 0.0), 1.0);
    if (!integrator_state_at(day->integrator, at, turned)) {
        return false;
    }
    (void)note_state(day, at, turned);
    return true;
}

/* The header turned round between three steps: its extreme is the vertex of the parabola through
 * them. */
static void note_turn_between(struct pd_day *day, double time, const double *state)
{
    struct ledger *ledger = &day->ledger;
    double left = ledger->middle - ledger->before, right = state[AT_PRESSURE] - ledger->middle;

    if (!isnan(ledger->before) && left * right < 0.0) {
        double h1 = ledger->middle_time - ledger->before_time, h2 = time - ledger->middle_time;
        double curvature = (right / h2 - left / h1) / (h1 + h2);
        double slope = right / h2 - curvature * h2;
        double turned[STATE_COUNT];
        memcpy(turned, state, sizeof turned);
        turned[AT_PRESSURE] = ledger->middle - slope * slope / (4.0 * curvature);
        note_pressures(day, time, turned);
    }
}

/* The suction pressure turned upward within the last step: worth a look where it may have been the
 * lowest so far.  Steps as a pump starts were seen to dip 1 kPa under both ends. */
static const double deepest_dip = 2.0e4; /* Pa */

static bool note_inlet_turn(struct pd_day *day, double time, const double *state, double suction)
{
    const struct ledger *ledger = &day->ledger;
    double span = time - ledger->middle_time;
    double change = suction - ledger->inlet;
    double flow[2], header[2], turned[STATE_COUNT];

    if (!(fmin(suction, ledger->inlet) - deepest_dip < day->result.lowest_suction_pressure) ||
        !integrator_slopes(day->integrator, AT_FLOW, flow) ||
        !integrator_slopes(day->integrator, AT_PRESSURE, header)) {
        return true;
    }
    if (!integrator_state_at(day->integrator, ledger->middle_time, turned)) {
        return false;
    }
    double first = circuit_suction_rate(&day->circuit, &day->mode, ledger->middle_time, turned,
                                        flow[0], header[0]);
    double last = circuit_suction_rate(&day->circuit, &day->mode, time, state, flow[1], header[1]);
    if (!(first < 0.0 && last > 0.0)) {
        return true;
    }
    double part = turn_of(change, span * first, span * last);
    double at = ledger->middle_time + span * fmin(fmax(part, 0.0), 1.0);
    if (!integrator_state_at(day->integrator, at, turned)) {
        return false;
    }
    (void)note_state(day, at, turned);
    return true;
}

static bool note_turn(struct pd_day *day, double time, const double *state)
{
    struct ledger *ledger = &day->ledger;
    double slope[2];
    bool good = true;

    if (integrator_slopes(day->integrator, AT_PRESSURE, slope)) {
        good = note_turn_inside(day, time, slope, state[AT_PRESSURE]);
    } else {
        note_turn_between(day, time, state);
    }
    ledger->before = ledger->middle;
    ledger->before_time = ledger->middle_time;
    ledger->middle = state[AT_PRESSURE];
    ledger->middle_time = time;
    return good;
}

bool extremes_step(struct pd_day *day, double to, const double *state)
{
    double suction = note_state(day, to, state);

    if (!note_inlet_turn(day, to, state, suction) || !note_turn(day, to, state)) {
        return false;
    }
    day->ledger.inlet = suction;
    return true;
}

void extremes_event(struct pd_day *day)
{
    struct ledger *ledger = &day->ledger;

    ledger->before = NAN;
    ledger->middle = day->state[AT_PRESSURE];
    ledger->middle_time = day->now;
    if (ledger->counting) {
        ledger->inlet = note_state(day, day->now, day->state);
    }
}
