/* What switches: conditions of the state, the clocks that follow them, and the order in which the
 * events of one instant are taken. */
#include "reference_parts.h"
#include <math.h>

enum { ROUNDS_MOST = 50 }; // of one instant; more is a state that never comes to rest

// m3/s, below which a flow that dies away is no flow either way: rounding must not work the valve
static const double no_flow = 1e-11;

/* <= 0 where the strategy wants the pump. */
static double start_margin(const struct ref_day *day, const double *y)
{
    return day->by_flow ? day->set.start_flow - y[REF_FLOW]
                        : y[REF_HEADER] - day->set.start_pressure;
}

static bool may_start(const struct ref_day *day)
{
    return !day->on && !day->locked && day->time >= day->rest_ends && day->time >= day->hold_ends;
}

/* < 0 while it runs dry. */
static double dry_margin(const struct ref_day *day, const double *y)
{
    // each part over a usual size, so that the larger one of them is meant
    return fmax((y[REF_FLOW] - day->set.stop_flow) / 1e-3,
                (y[REF_HEADER] - day->set.dry_pressure) / 1e5);
}

static double draw_margin(const struct ref_day *day, const double *y)
{
    double first = INFINITY;

    for (size_t i = 0; i < day->draw_count; i++) {
        first = fmin(first, day->draws[i].closes_sigma);
    }
    return y[REF_SIGMA] - first;
}

/* Margins of what has only to be watched while the pump is on. */
static double running_margin(const struct ref_day *day, int event, double time, const double *y)
{
    double margin = -1;

    if (!day->on) {
        return margin;
    }
    if (event == REF_EVENT_STOP && !isnan(day->set.stop_pressure)) {
        margin = y[REF_HEADER] - day->set.stop_pressure;
    } else if (event == REF_EVENT_FLOW_LOW) {
        margin = day->set.stop_flow - y[REF_FLOW];
        margin = day->flow_low ? -margin : margin;
    } else if (event == REF_EVENT_SUCTION && isfinite(day->plant.low_suction)) {
        margin = day->plant.low_suction - ref_suction(day, time, y);
        margin = day->suction_low ? -margin : margin;
    } else if (event == REF_EVENT_DRY && isfinite(day->plant.dry_time)) {
        margin = dry_margin(day, y);
        margin = day->dry ? margin : -margin;
    }
    return margin;
}

static double air_margin(const struct ref_day *day, const double *y)
{
    if (!isfinite(day->plant.empty)) {
        return -1;
    }
    return day->air ? y[REF_LEVEL] - day->plant.recovered : day->plant.empty - y[REF_LEVEL];
}

double ref_event_margin(const struct ref_day *day, int event, double time, const double *y)
{
    double above_empty;

    switch (event) {
    case REF_EVENT_AIR:
        return air_margin(day, y);
    case REF_EVENT_VALVE:
        if (day->valve_open) {
            return -y[REF_FLOW] - no_flow;
        }
        return day->air ? -1 : ref_opening_margin(day, time, y);
    case REF_EVENT_TANK:
        above_empty = y[REF_HEADER] + day->plant.atmosphere - ref_empty_pressure(day, y);
        return day->tank_empty ? above_empty : -above_empty;
    case REF_EVENT_START:
        return may_start(day) ? -start_margin(day, y) : -1;
    case REF_EVENT_DRAW:
        return draw_margin(day, y);
    default:
        return running_margin(day, event, time, y);
    }
}

/* The next time at which something happens without the state being asked. */
double ref_next_time(const struct ref_day *day)
{
    double next = day->time < 0 ? 0 : 86400;

    if (day->edge_next < day->edge_count) {
        next = fmin(next, day->edges[day->edge_next].time);
    }
    for (size_t i = 0; i < day->draw_count; i++) {
        next = fmin(next, day->draws[i].closes_at);
    }
    next = fmin(next, fmin(day->run_on_ends, fmin(day->suction_ends, day->dry_ends)));
    if (!day->on && day->rest_ends > day->time) {
        next = fmin(next, day->rest_ends);
    }
    if (!day->on && day->hold_ends > day->time) {
        next = fmin(next, day->hold_ends);
    }
    return next;
}

static void switch_motor(struct ref_day *day, bool on)
{
    double speed = ref_speed(day, day->time);

    day->on = on;
    day->speed_then = speed;
    day->switched_at = day->time;
}

static void start_pump(struct ref_day *day)
{
    struct reference_result *result = day->result;

    switch_motor(day, true);
    day->on_since = day->time;
    if (day->counting) {
        if (result->starts < REFERENCE_STARTS_MOST) {
            result->start_time[result->starts] = day->time;
        }
        result->starts++;
    }
}

static void stop_pump(struct ref_day *day)
{
    switch_motor(day, false);
    bool guarded = isfinite(day->plant.dry_time);
    day->dry_spent = day->dry && guarded ? day->plant.dry_time - (day->dry_ends - day->time) : 0;
    day->rest_ends = day->time + day->plant.least_rest;
    day->run_on_ends = day->suction_ends = day->dry_ends = INFINITY;
    day->flow_low = day->suction_low = day->dry = false;
    if (day->counting) {
        day->result->run_time += day->time - fmax(day->on_since, 0);
    }
}

static void take_timers(struct ref_day *day)
{
    if (day->time >= day->suction_ends) {
        stop_pump(day);
        day->hold_ends = day->time + day->plant.retry;
        day->result->suction_trips += day->counting ? 1 : 0;
    }
    if (day->time >= day->dry_ends) {
        stop_pump(day);
        day->locked = true;
    }
    if (day->time >= day->run_on_ends) {
        stop_pump(day);
    }
}

static bool take_air(struct ref_day *day)
{
    double level = day->y[REF_LEVEL];

    if (!isfinite(day->plant.empty)) {
        return false;
    }
    if (day->air) {
        day->air = level < day->plant.recovered;
        return !day->air;
    }
    day->air = level <= day->plant.empty;
    return day->air;
}

static bool take_valve(struct ref_day *day)
{
    bool was = day->valve_open;

    if (day->valve_open) {
        day->valve_open = !day->air && day->y[REF_FLOW] >= -no_flow;
    } else {
        day->valve_open = !day->air && ref_opening_margin(day, day->time, day->y) > 0;
    }
    if (!day->valve_open) {
        day->y[REF_FLOW] = 0;
    }
    return day->valve_open != was;
}

static bool take_tank(struct ref_day *day)
{
    bool was = day->tank_empty;

    day->tank_empty = day->y[REF_HEADER] + day->plant.atmosphere < ref_empty_pressure(day, day->y);
    return day->tank_empty != was;
}

/* One round of what the state itself asks for; true if anything changed. */
static bool take_round(struct ref_day *day)
{
    bool changed = take_air(day);

    changed = take_valve(day) || changed;
    changed = take_tank(day) || changed;
    if (day->on && !isnan(day->set.stop_pressure) && day->y[REF_HEADER] >= day->set.stop_pressure) {
        stop_pump(day);
        changed = true;
    }
    if (may_start(day) && start_margin(day, day->y) <= 0) {
        start_pump(day);
        changed = true;
    }
    return changed;
}

/* Starts a clock where its condition has become true, clears it where it is false. */
static void follow(const struct ref_day *day, bool now, bool *was, double lasts, double *ends)
{
    if (!now) {
        *ends = INFINITY;
    } else if (!*was) {
        *ends = day->time + lasts;
    }
    *was = now;
}

static void follow_conditions(struct ref_day *day)
{
    if (!day->on) {
        return;
    }
    bool by_run_on = isnan(day->set.stop_pressure);
    follow(day, day->y[REF_FLOW] < day->set.stop_flow, &day->flow_low,
           by_run_on ? day->set.run_on : (double)INFINITY, &day->run_on_ends);
    follow(day, ref_suction(day, day->time, day->y) < day->plant.low_suction, &day->suction_low,
           day->plant.delay, &day->suction_ends);
    bool dry = dry_margin(day, day->y) < 0;
    follow(day, dry, &day->dry, day->plant.dry_time - day->dry_spent, &day->dry_ends);
    day->dry_spent = dry ? day->dry_spent : 0;
}

bool ref_take_instant(struct ref_day *day)
{
    int rounds = 0;

    ref_close_draws(day);
    ref_take_edges(day);
    take_timers(day);
    while (take_round(day)) {
        if (++rounds > ROUNDS_MOST) {
            return false;
        }
    }
    follow_conditions(day);
    return true;
}
