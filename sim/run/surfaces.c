/* The surfaces between modes: how far away each is, and what crossing it does.
 *
 * Distances are about 1 in size and positive on the side where the mode belongs; a surface that
 * does not matter in a mode is 1 away. */
#include "run/run.h"

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

static double cistern_distance(const struct run *run, const double *state)
{
    const struct pd_plant *plant = run->plant;

    if (!plant->level_moves || isinf(plant->cistern_empty_level)) {
        return far_away;
    }
    return run->mode.supply_dry ? recovered_level(plant) - state[AT_LEVEL]
                                : state[AT_LEVEL] - plant->cistern_empty_level;
}

static double valve_distance(const struct run *run, double time, const double *state)
{
    if (run->mode.supply_dry) {
        return far_away;
    }
    if (run->mode.branch[0].valve_open) {
        return state[AT_FLOW] / flow_scale;
    }
    return (run->plant->branch[0].valve_opening -
            circuit_across(&run->circuit, &run->mode, 0, time, state)) /
           pressure_scale;
}

/* What the controller's sensors read of a state. */
static struct pd_readings readings_of(const struct run *run, double time, const double *state)
{
    return (struct pd_readings){
        .time = time,
        .header_pressure = state[AT_PRESSURE],
        .suction_pressure = run->wants_suction
                                ? circuit_suction(&run->circuit, &run->mode, 0, time, state)
                                : (double)NAN,
        .pump_flow = state[AT_FLOW],
    };
}

static void control_distances(const struct run *run, double time, const double *state,
                              double *distance)
{
    for (size_t i = run->controller->surfaces; i < PD_CONTROL_SURFACES_MOST; i++) {
        distance[i] = far_away;
    }
    if (run->controller->distances != NULL) {
        struct pd_readings readings = readings_of(run, time, state);
        run->controller->distances(run->strategy, run->memory, &readings, distance);
    }
}

void surfaces_distances(const struct run *run, double time, const double *state, double *distance)
{
    const struct mode *mode = &run->mode;

    distance[SURFACE_DRAW] = isinf(run->draws.next_sigma)
                                 ? far_away
                                 : (run->draws.next_sigma - state[AT_SIGMA]) / sigma_scale;
    distance[SURFACE_CISTERN] = cistern_distance(run, state);
    distance[SURFACE_VALVE] = valve_distance(run, time, state);
    distance[SURFACE_TANK] =
        oriented(!mode->tank_wet, circuit_over_empty(&run->circuit, state) / pressure_scale);
    distance[SURFACE_TAP] = far_away;
    if (mode->zone[0].demand > 0.0) {
        double over =
            circuit_tap_pressure(&run->circuit, mode, 0, state) - run->plant->zone[0].tap_limit;
        distance[SURFACE_TAP] = oriented(run->tap_low, over / pressure_scale);
    }
    control_distances(run, time, state, distance + SURFACE_CONTROL);
}

void control_remembers(struct run *run)
{
    const struct pd_controller_kind *controller = run->controller;

    run->wants_suction =
        controller->reads_suction != NULL && controller->reads_suction(run->strategy, run->memory);
}

void demand_changed(struct run *run)
{
    mode_set_demand(&run->mode, run->plant, 0, draws_coefficient(&run->draws));
    run->rates_changed = true;
    if (run->mode.zone[0].demand <= 0.0) {
        run->tap_low = false;
    }
}

/* The controller has done something: does what it wants now. */
static void obey(struct run *run, struct pd_command command)
{
    bool was_on = run->command.on;

    run->command = command;
    control_remembers(run);
    if (command.on == was_on) {
        return;
    }
    mode_switch_pump(&run->circuit, &run->mode, 0, command.on, run->now);
    run->rates_changed = true;
    if (command.on) {
        observers_starts(run, command.cause);
    } else {
        observers_stops(run, command.cause);
    }
}

static void cross_control(struct run *run, size_t surface)
{
    struct pd_readings readings = readings_of(run, run->now, run->state);
    struct pd_command command = run->command;

    run->controller->crossed(run->strategy, run->memory, surface, &readings, &command);
    obey(run, command);
}

static void turn_valve(struct run *run)
{
    run->mode.branch[0].valve_open = !run->mode.branch[0].valve_open;
    run->state[AT_FLOW] = 0.0;
    run->rates_changed = true;
}

static void turn_cistern(struct run *run)
{
    run->mode.supply_dry = !run->mode.supply_dry;
    run->rates_changed = true;
    if (run->mode.supply_dry && run->mode.branch[0].valve_open) {
        turn_valve(run);
    }
}

void surfaces_cross(struct run *run, int surface)
{
    switch (surface) {
    case SURFACE_DRAW:
        draws_close_full(&run->draws, fmax(run->state[AT_SIGMA], run->draws.next_sigma));
        demand_changed(run);
        break;
    case SURFACE_CISTERN:
        turn_cistern(run);
        break;
    case SURFACE_VALVE:
        // a cistern that ran empty at the same instant has shut it already, and keeps it shut
        if (!run->mode.supply_dry) {
            turn_valve(run);
        }
        break;
    case SURFACE_TANK:
        run->mode.tank_wet = !run->mode.tank_wet;
        run->rates_changed = true;
        break;
    case SURFACE_TAP:
        run->tap_low = !run->tap_low;
        break;
    default:
        cross_control(run, (size_t)(surface - SURFACE_CONTROL));
        break;
    }
}

/* An open valve without flow that is pressed shut closes; the root finder cannot see this, since
 * the flow starts on the surface. */
static bool pressed_shut(const struct run *run)
{
    return run->mode.branch[0].valve_open && run->state[AT_FLOW] <= 0.0 &&
           circuit_across(&run->circuit, &run->mode, 0, run->now, run->state) <
               run->plant->branch[0].valve_opening - slack * pressure_scale;
}

/* A time may have come for the controller. */
static bool run_clocks(struct run *run)
{
    struct pd_readings readings = readings_of(run, run->now, run->state);
    struct pd_command command = run->command;
    bool changed =
        run->strategy->kind->controller->on_time(run->strategy, run->memory, &readings, &command);

    if (changed) {
        obey(run, command);
    }
    return changed;
}

/* Crosses what the state stands beyond, clocks first, until nothing changes.  False: it never ends.
 */
bool surfaces_settle(struct run *run)
{
    double distance[SURFACES_MOST];

    for (int round = 0; round < most_rounds; round++) {
        bool changed = run_clocks(run);

        for (int i = 0; i < SURFACE_COUNT; i++) {
            surfaces_distances(run, run->now, run->state, distance);
            bool shut = i == SURFACE_VALVE && pressed_shut(run);
            if (distance[i] < -slack || shut) {
                surfaces_cross(run, i);
                changed = true;
            }
        }
        if (!changed) {
            return true;
        }
    }
    return false;
}
