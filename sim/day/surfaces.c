/* The surfaces between modes: how far away each is, and what crossing it does.
 *
 * Distances are about 1 in size and positive on the side where the mode belongs; a surface that
 * does not matter in a mode is 1 away. */
#include "day/inside.h"

#include <math.h>

static const double pressure_scale = 1.0e5; /* Pa */
static const double flow_scale = 1.0e-4;    /* m3/s */
static const double sigma_scale = 500.0;    /* Pa^0.5 s: one second at an ordinary tap */
static const double far_away = 1.0;

/* a state this far on the wrong side of a surface has crossed it: 0.01 Pa, 1e-11 m3/s */
static const double slack = 1.0e-7;

/* an empty cistern is drawn from again when this much has come in: the travel of its float */
static const double recovery = 0.05; /* m */

/* settling goes through the surfaces until nothing changes; more rounds than this are a loop */
static const int most_rounds = 20;

static double oriented(bool below, double margin)
{
    return below ? -margin : margin;
}

static double recovered_level(const struct pd_plant *plant)
{
    double half_way = 0.5 * (plant->supply_level - plant->cistern_empty_level);
    return plant->cistern_empty_level + fmin(recovery, half_way);
}

static double cistern_distance(const struct pd_day *day, const double *state)
{
    const struct pd_plant *plant = day->plant;

    if (!plant->level_moves || isinf(plant->cistern_empty_level)) {
        return far_away;
    }
    return day->mode.supply_dry ? recovered_level(plant) - state[AT_LEVEL]
                                : state[AT_LEVEL] - plant->cistern_empty_level;
}

static double valve_distance(const struct pd_day *day, double time, const double *state)
{
    if (day->mode.supply_dry) {
        return far_away;
    }
    if (day->mode.valve_open) {
        return state[AT_FLOW] / flow_scale;
    }
    return (day->plant->valve_opening - circuit_across(&day->circuit, &day->mode, time, state)) /
           pressure_scale;
}

static double suction_distance(const struct pd_day *day, double time, const double *state)
{
    if (!day->controller.on || isinf(day->plant->low_suction)) {
        return far_away;
    }
    double suction = circuit_suction(&day->circuit, &day->mode, time, state);
    return oriented(day->controller.suction.runs,
                    (suction - day->plant->low_suction) / pressure_scale);
}

/* Dry while both the flow is under the stop flow and the header under the dry pressure. */
static double dry_distance(const struct pd_day *day, const double *state)
{
    if (!day->controller.on || isinf(day->plant->dry_run_time)) {
        return far_away;
    }
    double flow = (state[AT_FLOW] - day->strategy->stop_flow) / flow_scale;
    double pressure = (state[AT_PRESSURE] - day->strategy->dry_pressure) / pressure_scale;
    return oriented(day->controller.dry.runs, fmax(flow, pressure));
}

static double control_distance(const struct pd_day *day, double time, const double *state)
{
    const struct pd_strategy *strategy = day->strategy;
    struct pd_readings readings = {state[AT_PRESSURE], state[AT_FLOW]};

    if (day->controller.on) {
        return oriented(day->controller.low.runs, strategy->kind->stop_margin(strategy, &readings));
    }
    if (!controller_may_start(&day->controller, day->plant, time)) {
        return far_away;
    }
    return strategy->kind->start_margin(strategy, &readings);
}

void surfaces_distances(const struct pd_day *day, double time, const double *state,
                        double *distance)
{
    const struct mode *mode = &day->mode;

    distance[SURFACE_DRAW] = isinf(day->draws.next_sigma)
                                 ? far_away
                                 : (day->draws.next_sigma - state[AT_SIGMA]) / sigma_scale;
    distance[SURFACE_CISTERN] = cistern_distance(day, state);
    distance[SURFACE_VALVE] = valve_distance(day, time, state);
    distance[SURFACE_TANK] =
        oriented(!mode->tank_wet, circuit_over_empty(&day->circuit, state) / pressure_scale);
    distance[SURFACE_SUCTION] = suction_distance(day, time, state);
    distance[SURFACE_DRY] = dry_distance(day, state);
    distance[SURFACE_CONTROL] = control_distance(day, time, state);
    distance[SURFACE_TAP] = far_away;
    if (mode->demand > 0.0) {
        double over = circuit_tap_pressure(&day->circuit, mode, state) - day->plant->tap_limit;
        distance[SURFACE_TAP] = oriented(day->tap_low, over / pressure_scale);
    }
}

void demand_changed(struct pd_day *day)
{
    mode_set_demand(&day->mode, day->plant, draws_coefficient(&day->draws));
    day->rates_changed = true;
    if (day->mode.demand <= 0.0) {
        day->tap_low = false;
    }
}

static void pump_start(struct pd_day *day)
{
    struct controller *controller = &day->controller;
    struct pd_readings readings = {day->state[AT_PRESSURE], day->state[AT_FLOW]};

    controller->on = true;
    // the clock of the run-on runs from the start too
    controller->low.runs = day->strategy->kind->stop_margin(day->strategy, &readings) < 0.0;
    controller->low.since = day->now;
    controller->suction.runs = false;
    controller->dry.runs = false;
    mode_switch_pump(&day->circuit, &day->mode, true, day->now);
    day->rates_changed = true;
    ledger_run_begins(day, day->strategy->kind->start_cause);
}

void pump_stop(struct pd_day *day, enum pd_cause cause)
{
    struct controller *controller = &day->controller;

    controller->dry_before = controller->dry.runs ? day->now - controller->dry.since : 0.0;
    controller->on = false;
    controller->stopped = day->now;
    controller->low.runs = false;
    controller->suction.runs = false;
    controller->dry.runs = false;
    mode_switch_pump(&day->circuit, &day->mode, false, day->now);
    day->rates_changed = true;
    ledger_run_ends(day, cause);
}

static void turn_valve(struct pd_day *day)
{
    day->mode.valve_open = !day->mode.valve_open;
    day->state[AT_FLOW] = 0.0;
    day->rates_changed = true;
}

static void turn_cistern(struct pd_day *day)
{
    day->mode.supply_dry = !day->mode.supply_dry;
    day->rates_changed = true;
    if (day->mode.supply_dry && day->mode.valve_open) {
        turn_valve(day);
    }
}

/* Time run dry adds up over runs: the run-on would stop the pump before any longer guard. */
static void turn_dry(struct controller *controller, double now)
{
    controller_turn(&controller->dry, now);
    if (controller->dry.runs) {
        controller->dry.since -= controller->dry_before;
    } else {
        controller->dry_before = 0.0;
    }
}

void surfaces_cross(struct pd_day *day, enum surface surface)
{
    switch (surface) {
    case SURFACE_DRAW:
        draws_close_full(&day->draws, fmax(day->state[AT_SIGMA], day->draws.next_sigma));
        demand_changed(day);
        break;
    case SURFACE_CISTERN:
        turn_cistern(day);
        break;
    case SURFACE_VALVE:
        // a cistern that ran empty at the same instant has shut it already, and keeps it shut
        if (!day->mode.supply_dry) {
            turn_valve(day);
        }
        break;
    case SURFACE_TANK:
        day->mode.tank_wet = !day->mode.tank_wet;
        day->rates_changed = true;
        break;
    case SURFACE_SUCTION:
        controller_turn(&day->controller.suction, day->now);
        break;
    case SURFACE_DRY:
        turn_dry(&day->controller, day->now);
        break;
    case SURFACE_CONTROL:
        if (day->controller.on) {
            controller_turn(&day->controller.low, day->now);
        } else {
            pump_start(day);
        }
        break;
    case SURFACE_TAP:
        day->tap_low = !day->tap_low;
        break;
    case SURFACE_COUNT:
        break;
    }
}

/* An open valve without flow that is pressed shut closes; the root finder cannot see this, since
 * the flow starts on the surface. */
static bool pressed_shut(const struct pd_day *day)
{
    return day->mode.valve_open && day->state[AT_FLOW] <= 0.0 &&
           circuit_across(&day->circuit, &day->mode, day->now, day->state) <
               day->plant->valve_opening - slack * pressure_scale;
}

/* Clocks that have come to their end, guards first. */
static bool run_clocks(struct pd_day *day)
{
    struct controller *controller = &day->controller;

    if (!controller->on) {
        return false;
    }
    if (controller_elapsed(&controller->suction, day->plant->suction_delay, day->now)) {
        controller->held_until = day->now + day->plant->suction_retry;
        day->result.suction_trips += day->ledger.counting ? 1 : 0;
        pump_stop(day, PD_CAUSE_LOW_SUCTION);
        return true;
    }
    if (controller_elapsed(&controller->dry, day->plant->dry_run_time, day->now)) {
        controller->locked_out = true;
        pump_stop(day, PD_CAUSE_DRY);
        return true;
    }
    if (controller_elapsed(&controller->low, day->strategy->run_on, day->now)) {
        bool two_pressure = !isnan(day->strategy->stop_pressure);
        pump_stop(day, two_pressure ? PD_CAUSE_STOP_PRESSURE : PD_CAUSE_LOW_FLOW);
        return true;
    }
    return false;
}

/* Crosses what the state stands beyond, clocks first, until nothing changes.  False: it never ends.
 */
bool surfaces_settle(struct pd_day *day)
{
    double distance[SURFACES_MOST];

    for (int round = 0; round < most_rounds; round++) {
        bool changed = run_clocks(day);

        for (int i = 0; i < SURFACE_COUNT; i++) {
            surfaces_distances(day, day->now, day->state, distance);
            bool shut = i == SURFACE_VALVE && pressed_shut(day);
            if (distance[i] < -slack || shut) {
                surfaces_cross(day, (enum surface)i);
                changed = true;
            }
        }
        if (!changed) {
            return true;
        }
    }
    return false;
}
