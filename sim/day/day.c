/* One strategy through one day: warm-up, steps, events, until midnight. */
#include "day/inside.h"

#include "model/supply_day.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* More events in a simulated minute than any controller that rests a second between runs can make:
 * the system chatters, and the day ends there. */
static const long most_events_a_minute = 3000;

/* How many steps may pass before the caller is asked whether to go on: some milliseconds. */
static const long steps_between_questions = 1024;

static bool rates(void *context, double time, const double *state, double *rate)
{
    const struct pd_day *day = context;
    return circuit_rates(&day->circuit, &day->mode, time, state, rate);
}

static bool correct(void *context, double time, const double *state, double gamma,
                    const double *known, double *correction)
{
    const struct pd_day *day = context;
    return circuit_correct(&day->circuit, &day->mode, time, state, gamma, known, correction);
}

static bool is_stiff(const void *context)
{
    const struct pd_day *day = context;

    return !day->mode.tank_wet;
}

static void distances(void *context, double time, const double *state, double *distance)
{
    surfaces_distances(context, time, state, distance);
}

struct pd_day *pd_day_create(struct pd_error *error)
{
    struct pd_day *day = calloc(1, sizeof *day);

    if (day == NULL) {
        pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "not enough memory for a day");
        return NULL;
    }
    day->integrator = integrator_create(error);
    if (day->integrator == NULL) {
        free(day);
        return NULL;
    }
    return day;
}

void pd_day_free(struct pd_day *day)
{
    if (day != NULL) {
        integrator_free(day->integrator);
        free(day);
    }
}

static bool solver_error(const struct pd_day *day, struct pd_error *error, const char *what)
{
    return pd_error_set(error, PD_SOLVER_FAILED, day->plant->scenario->folder, 0, NULL,
                        "%s at %.3f s of the day, strategy %s, pump %s, check valve %s, tank %s",
                        what, day->now, day->strategy->kind->name, day->mode.pump_on ? "on" : "off",
                        day->mode.valve_open ? "open" : "closed",
                        day->mode.tank_wet ? "with water" : "empty");
}

static bool trace_error(struct pd_error *error)
{
    return pd_error_set(error, PD_OUTPUT_FAILED, NULL, 0, NULL, "the trace was not taken");
}

static void set_supply_line(struct pd_day *day, struct supply_line line)
{
    day->mode.supply_time = line.time;
    day->mode.supply_value = line.value;
    day->mode.supply_slope = line.slope;
    // a closed valve keeps the supply out of the rates
    day->rates_changed = day->rates_changed || day->mode.valve_open;
}

/* The profile's flow in force at a time: of the last sample at or before it, round midnight. */
static double profile_flow(const struct pd_scenario *scenario, double clock)
{
    size_t i = scenario->profile_count;

    if (i == 0) {
        return 0.0;
    }
    while (i > 0 && scenario->profile[i - 1].time > clock) {
        i--;
    }
    return scenario->profile[(i + scenario->profile_count - 1) % scenario->profile_count].value;
}

/* At rest before the warm-up: pump off, valve shut, header at the supply's pressure. */
static void set_at_rest(struct pd_day *day)
{
    const struct pd_plant *plant = day->plant;
    double clock = day->now < 0.0 ? day->now + PD_DAY_SECONDS : day->now;

    memset(day->state, 0, sizeof day->state);
    day->mode = (struct mode){.speed_since = day->now};
    controller_clear(&day->controller);
    draws_clear(&day->draws);
    draws_set_profile(&day->draws, plant, profile_flow(plant->scenario, clock));
    set_supply_line(day, supply_line_at(plant, day->now));
    day->state[AT_LEVEL] = plant->level_moves ? plant->supply_level : 0.0;
    day->state[AT_TEMPERATURE] = plant->tank.wall_temperature;
    day->state[AT_PRESSURE] =
        fmax(circuit_supply(&day->circuit, &day->mode, day->now, day->state), 0.0);
    day->tap_low = false;
    demand_changed(day);
    day->mode.tank_wet = circuit_over_empty(&day->circuit, day->state) > 0.0;
}

static void day_begin(struct pd_day *day)
{
    struct motion motion = {day, rates, correct, is_stiff, distances};

    integrator_bind(day->integrator, &motion, day->options->relative_tolerance);
    day->circuit = circuit_of(day->plant, day->strategy->precharge);
    // written so that no warm-up begins at 0, not at -0
    day->now = 0.0 - day->plant->warm_up;
    day->minute = day->now;
    day->minute_events = 0;
    day->steps = 0;
    day->steps_since_question = 0;
    day->next_edge = 0;
    ledger_begin(day);
    trace_begin(day);
    set_at_rest(day);
    // the edges of the day before that lie before the warm-up do not exist
    while (day->next_edge < day->plant->edge_count &&
           day->plant->edges[day->next_edge].time < day->now) {
        day->next_edge++;
    }
}

static bool take_edge(struct pd_day *day, const struct pd_edge *edge)
{
    const struct pd_plant *plant = day->plant;
    double midnight = edge->time < 0.0 ? -PD_DAY_SECONDS : 0.0;

    switch (edge->kind) {
    case PD_EDGE_SUPPLY:
        set_supply_line(day, supply_line_from(plant, edge->index, midnight));
        return true;
    case PD_EDGE_PROFILE:
        draws_set_profile(&day->draws, plant, plant->scenario->profile[edge->index].value);
        break;
    case PD_EDGE_DRAW_CLOSES:
        draws_close(&day->draws, edge->index);
        break;
    case PD_EDGE_DRAW_OPENS:
        // what is full at this instant closes before anything opens
        draws_close_full(&day->draws, day->state[AT_SIGMA]);
        if (!draws_open(&day->draws, plant, edge->index, day->state[AT_SIGMA])) {
            return false;
        }
        break;
    }
    demand_changed(day);
    return true;
}

/* Takes the known events of this instant. */
static bool take_edges(struct pd_day *day, struct pd_error *error)
{
    const struct pd_plant *plant = day->plant;

    while (day->next_edge < plant->edge_count &&
           plant->edges[day->next_edge].time <= day->now + INSTANT) {
        if (!take_edge(day, &plant->edges[day->next_edge++])) {
            return pd_error_set(error, PD_BAD_INPUT, plant->scenario->folder, 0, NULL,
                                "more than %d draws are open at once at %.0f s of the day",
                                OPEN_DRAWS_MOST, day->now);
        }
    }
    return true;
}

/* When the day is over [s]. */
static double day_ends(const struct pd_day *day)
{
    return day->options->until > 0.0 ? day->options->until : PD_DAY_SECONDS;
}

/* The next time at which something is due. */
static double next_stop(const struct pd_day *day)
{
    double stop = day->now < 0.0 ? 0.0 : day_ends(day);

    if (day->next_edge < day->plant->edge_count) {
        stop = fmin(stop, day->plant->edges[day->next_edge].time);
    }
    return fmin(stop, controller_next(&day->controller, day->plant, day->strategy, day->now));
}

/* Counts an event; true if there have been too many to be a working system. */
static bool chatters(struct pd_day *day)
{
    day->result.effort.events++;
    if (day->now >= day->minute + 60.0) {
        day->minute = day->now;
        day->minute_events = 0;
    }
    day->minute_events++;
    return day->minute_events > most_events_a_minute || day->result.run_count == PD_RUNS_MOST;
}

/* Surfaces that a state stands beyond. */
static bool stands_beyond(const double distance[SURFACES_MOST], bool crossed[SURFACES_MOST])
{
    bool any = false;

    for (int i = 0; i < SURFACE_COUNT; i++) {
        crossed[i] = distance[i] < -1.0e-6;
        any = any || crossed[i];
    }
    return any;
}

/* Crossings that the step ran over without finding them, such as of a surface on which it began:
 * the day goes back to where the first was.  False if the states between cannot be had. */
static bool catch_missed(struct pd_day *day, double from, bool crossed[SURFACES_MOST])
{
    double low = from, distance[SURFACES_MOST], state[STATE_COUNT];
    bool beyond[SURFACES_MOST];

    if (!stands_beyond(integrator_distances(day->integrator), crossed)) {
        return true;
    }
    day->result.effort.caught++;
    while (day->now - low > INSTANT) {
        double middle = 0.5 * (low + day->now);
        if (!integrator_state_at(day->integrator, middle, state)) {
            return false;
        }
        surfaces_distances(day, middle, state, distance);
        if (stands_beyond(distance, beyond)) {
            day->now = middle;
            memcpy(day->state, state, sizeof state);
            memcpy(crossed, beyond, sizeof beyond);
        } else {
            low = middle;
        }
    }
    day->rates_changed = true;
    return true;
}

static bool any_of(const bool crossed[SURFACES_MOST])
{
    bool any = false;

    for (int i = 0; i < SURFACE_COUNT; i++) {
        any = any || crossed[i];
    }
    return any;
}

static void cross_all(struct pd_day *day, const bool crossed[SURFACES_MOST])
{
    for (int i = 0; i < SURFACE_COUNT; i++) {
        if (crossed[i]) {
            surfaces_cross(day, (enum surface)i);
        }
    }
}

/* Restarts the integrator if the rates changed, or if it has gone past the next stop. */
static bool resume(struct pd_day *day)
{
    double stop = next_stop(day);

    if (day->rates_changed || stop < integrator_reached(day->integrator)) {
        if (!integrator_restart(day->integrator, day->now, day->state)) {
            return false;
        }
        day->rates_changed = false;
    }
    return integrator_stop_at(day->integrator, stop);
}

/* One step and what comes of it.  *over: the day has ended early. */
static bool advance(struct pd_day *day, bool *over, struct pd_error *error)
{
    bool crossed[SURFACES_MOST] = {false};
    double stop = next_stop(day), from = day->now;

    if (!resume(day)) {
        return solver_error(day, error, "the integration cannot restart");
    }
    enum step_outcome outcome = integrator_step(day->integrator, &day->now, day->state, crossed);
    if (outcome == STEP_FAILED || (outcome == STEP_DONE && !catch_missed(day, from, crossed))) {
        return solver_error(day, error, integrator_complaint(day->integrator));
    }
    if (!ledger_step(day, day->now, day->state) || !trace_step(day, day->now, day->state)) {
        return trace_error(error);
    }
    bool due = day->now >= stop - INSTANT;
    if (!any_of(crossed) && !due) {
        return true;
    }
    ledger_account(day);
    if (due && fabs(day->now) <= INSTANT && !day->ledger.counting) {
        ledger_midnight(day);
    }
    cross_all(day, crossed);
    *over = chatters(day);
    if (!take_edges(day, error)) {
        return false;
    }
    *over = !surfaces_settle(day) || *over;
    ledger_event(day);
    if (!trace_event(day)) {
        return trace_error(error);
    }
    return true;
}

static bool may_go_on(struct pd_day *day)
{
    const struct pd_day_options *options = day->options;

    day->steps_since_question++;
    if (options->go_on == NULL || day->steps_since_question < steps_between_questions) {
        return true;
    }
    day->steps_since_question = 0;
    return options->go_on(options->go_on_context);
}

static void take_counts(struct pd_day *day)
{
    struct integrator_counts counts = integrator_counts(day->integrator);
    struct pd_effort *effort = &day->result.effort;

    effort->steps = counts.steps;
    effort->rhs_calls = counts.rhs_calls;
    effort->root_calls = counts.root_calls;
    effort->restarts = counts.restarts;
    effort->retries = counts.retries;
}

bool pd_day_run(struct pd_day *day, const struct pd_plant *plant,
                const struct pd_strategy *strategy, const struct pd_day_options *options,
                struct pd_day_result *result, struct pd_error *error)
{
    bool over = false;

    if (!pd_day_options_check(options, error)) {
        return false;
    }
    day->plant = plant;
    day->strategy = strategy;
    day->options = options;
    day_begin(day);
    if (plant->warm_up <= 0.0) {
        ledger_midnight(day);
    }
    if (!take_edges(day, error)) {
        return false;
    }
    over = !surfaces_settle(day);
    ledger_event(day);
    if (!trace_event(day)) {
        return trace_error(error);
    }
    while (!over && day->now < day_ends(day) - INSTANT) {
        if (!advance(day, &over, error)) {
            return false;
        }
        over = over || ++day->steps >= options->most_steps;
        if (!may_go_on(day)) {
            return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "interrupted");
        }
    }
    day->result.ending = over                                  ? PD_ENDING_CHATTER
                         : day->now < PD_DAY_SECONDS - INSTANT ? PD_ENDING_TOLD
                                                               : PD_ENDING_MIDNIGHT;
    ledger_account(day);
    ledger_end(day);
    take_counts(day);
    *result = day->result;
    return true;
}
