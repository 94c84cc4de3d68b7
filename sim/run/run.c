/* The time loop: warm-up, steps, events, to the end. */
#include "run/run.h"
#include "run/missed.h"

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
    const struct run *run = context;
    return circuit_rates(&run->circuit, &run->mode, time, state, rate);
}

static bool correct(void *context, double time, const double *state, double gamma,
                    const double *known, double *correction)
{
    const struct run *run = context;
    return circuit_correct(&run->circuit, &run->mode, time, state, gamma, known, correction);
}

static bool is_stiff(const void *context)
{
    const struct run *run = context;

    return !run->mode.tank_wet;
}

static void distances(void *context, double time, const double *state, double *distance)
{
    surfaces_distances(context, time, state, distance);
}

static bool solver_error(const struct run *run, struct pd_error *error, const char *what)
{
    return pd_error_set(error, PD_SOLVER_FAILED, run->plant->scenario->folder, 0, NULL,
                        "%s at %.3f s of the day, strategy %s, pump %s, check valve %s, tank %s",
                        what, run->now, run->strategy->kind->name,
                        run->mode.branch[0].pump_on ? "on" : "off",
                        run->mode.branch[0].valve_open ? "open" : "closed",
                        run->mode.tank_wet ? "with water" : "empty");
}

static void set_supply_line(struct run *run, struct supply_line line)
{
    run->mode.supply_time = line.time;
    run->mode.supply_value = line.value;
    run->mode.supply_slope = line.slope;
    // a closed valve keeps the supply out of the rates
    run->rates_changed = run->rates_changed || run->mode.branch[0].valve_open;
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

/* That of the evening before is not known; it is not far from midnight's. */
static double first_level(const struct run *run)
{
    return isnan(run->options->level) ? run->plant->supply_level : run->options->level;
}

/* At rest before the warm-up: pump off, valve shut, header at the supply's pressure. */
static void set_at_rest(struct run *run)
{
    const struct pd_plant *plant = run->plant;
    double clock = run->now < 0.0 ? run->now + PD_DAY_SECONDS : run->now;

    memset(run->state, 0, sizeof run->state);
    run->mode = (struct mode){.branch[0].speed_since = run->now};
    run->command = (struct pd_command){0};
    run->controller = run->strategy->kind->controller;
    run->controller->clear(run->memory);
    control_remembers(run);
    draws_clear(&run->draws);
    draws_set_profile(&run->draws, plant, profile_flow(plant->scenario, clock));
    set_supply_line(run, supply_line_at(plant, run->now));
    run->state[AT_LEVEL] = plant->level_moves ? first_level(run) : 0.0;
    run->state[AT_TEMPERATURE] = plant->tank.wall_temperature;
    run->state[AT_PRESSURE] =
        fmax(circuit_supply(&run->circuit, &run->mode, run->now, run->state), 0.0);
    run->tap_low = false;
    demand_changed(run);
    run->mode.tank_wet = circuit_over_empty(&run->circuit, run->state) > 0.0;
}

static void bind(struct run *run)
{
    struct motion motion = {run, rates, correct, is_stiff, distances};

    integrator_bind(run->integrator, &motion, run->options->relative_tolerance);
}

static void begin(struct run *run)
{
    bind(run);
    run->circuit = circuit_of(run->plant, run->strategy->precharge);
    // written so that no warm-up begins at 0, not at -0
    run->now = 0.0 - run->plant->warm_up;
    run->minute = run->now;
    run->minute_events = 0;
    run->steps = 0;
    run->steps_since_question = 0;
    run->next_edge = 0;
    run->over = false;
    run->ending = PD_ENDING_MIDNIGHT;
    run->counting = false;
    run->runs_counted = 0;
    run->effort = (struct pd_effort){0};
    set_at_rest(run);
    // the edges of the day before that lie before the warm-up do not exist
    while (run->next_edge < run->plant->edge_count &&
           run->plant->edges[run->next_edge].time < run->now) {
        run->next_edge++;
    }
}

static bool take_edge(struct run *run, const struct pd_edge *edge)
{
    const struct pd_plant *plant = run->plant;
    double midnight = edge->time < 0.0 ? -PD_DAY_SECONDS : 0.0;

    switch (edge->kind) {
    case PD_EDGE_SUPPLY:
        set_supply_line(run, supply_line_from(plant, edge->index, midnight));
        return true;
    case PD_EDGE_PROFILE:
        draws_set_profile(&run->draws, plant, plant->scenario->profile[edge->index].value);
        break;
    case PD_EDGE_DRAW_CLOSES:
        draws_close(&run->draws, edge->index);
        break;
    case PD_EDGE_DRAW_OPENS:
        // what is full at this instant closes before anything opens
        draws_close_full(&run->draws, run->state[AT_SIGMA]);
        if (!draws_open(&run->draws, plant, edge->index, run->state[AT_SIGMA])) {
            return false;
        }
        break;
    }
    demand_changed(run);
    return true;
}

/* Takes the known events of this instant. */
static bool take_edges(struct run *run, struct pd_error *error)
{
    const struct pd_plant *plant = run->plant;

    while (run->next_edge < plant->edge_count &&
           plant->edges[run->next_edge].time <= run->now + INSTANT) {
        if (!take_edge(run, &plant->edges[run->next_edge++])) {
            return pd_error_set(error, PD_BAD_INPUT, plant->scenario->folder, 0, NULL,
                                "more than %d draws are open at once at %.0f s of the day",
                                OPEN_DRAWS_MOST, run->now);
        }
    }
    return true;
}

/* When the day is over [s]. */
static double ends_at(const struct run *run)
{
    return run->options->until > 0.0 ? run->options->until : PD_DAY_SECONDS;
}

/* The next time at which something is due. */
static double next_stop(const struct run *run)
{
    double stop = run->now < 0.0 ? 0.0 : ends_at(run);

    if (run->next_edge < run->plant->edge_count) {
        stop = fmin(stop, run->plant->edges[run->next_edge].time);
    }
    return fmin(stop, run->controller->next_time(run->strategy, run->memory, run->now));
}

/* Counts an event; true if there have been too many to be a working system. */
static bool chatters(struct run *run)
{
    run->effort.events++;
    if (run->now >= run->minute + 60.0) {
        run->minute = run->now;
        run->minute_events = 0;
    }
    run->minute_events++;
    return run->minute_events > most_events_a_minute || run->runs_counted >= PD_RUNS_MOST;
}

static bool any_of(const bool crossed[SURFACES_MOST])
{
    bool any = false;

    for (int i = 0; i < SURFACE_COUNT; i++) {
        any = any || crossed[i];
    }
    return any;
}

static void cross_all(struct run *run, const bool crossed[SURFACES_MOST])
{
    for (int i = 0; i < SURFACE_COUNT; i++) {
        if (crossed[i]) {
            surfaces_cross(run, i);
        }
    }
}

/* Restarts the integrator if the rates changed, or if it has gone past the next stop. */
static bool resume(struct run *run)
{
    double stop = next_stop(run);

    if (run->rates_changed || stop < integrator_reached(run->integrator)) {
        if (!integrator_restart(run->integrator, run->now, run->state)) {
            return false;
        }
        run->rates_changed = false;
    }
    return integrator_stop_at(run->integrator, stop);
}

/* The day is over before its time; a system that chatters has no other end. */
static void end_early(struct run *run, enum pd_ending ending)
{
    run->over = true;
    run->ending = run->ending == PD_ENDING_CHATTER ? run->ending : ending;
}

/* Takes the observers' answer.  False and the error if one failed. */
static bool heed(struct run *run, enum pd_answer answer, struct pd_error *error)
{
    if (answer == PD_ENOUGH) {
        end_early(run, PD_ENDING_TOLD);
    }
    return answer != PD_FAILED ||
           pd_error_set(error, PD_OUTPUT_FAILED, NULL, 0, NULL, "the trace was not taken");
}

static void pass_midnight(struct run *run)
{
    // what the warm-up drew was drawn on the day before, and is in the level that was told
    if (run->plant->level_moves && !isnan(run->options->level)) {
        run->state[AT_LEVEL] = run->options->level;
        run->rates_changed = true;
    }
    run->counting = true;
    observers_midnight(run);
    // a run that goes on over midnight is counted from there
    if (run->command.on) {
        observers_starts(run, PD_CAUSE_CARRIED_OVER);
    }
}

/* What follows from the times and crossings of this instant, until nothing changes. */
static bool settle(struct run *run, struct pd_error *error)
{
    if (!take_edges(run, error)) {
        return false;
    }
    if (!surfaces_settle(run)) {
        end_early(run, PD_ENDING_CHATTER);
    }
    return heed(run, observers_event(run), error);
}

/* Steps to the next event or a little on the way to it, and does what comes of it. */
static bool advance(struct run *run, struct pd_error *error)
{
    bool crossed[SURFACES_MOST] = {false};
    double stop = next_stop(run), from = run->now;

    if (!resume(run)) {
        return solver_error(run, error, "the integration cannot restart");
    }
    enum step_outcome outcome = integrator_step(run->integrator, &run->now, run->state, crossed);
    if (outcome == STEP_FAILED || (outcome == STEP_DONE && !missed_catch(run, from, crossed))) {
        return solver_error(run, error, integrator_complaint(run->integrator));
    }
    if (!heed(run, observers_step(run, run->now, run->state), error)) {
        return false;
    }
    bool due = run->now >= stop - INSTANT;
    if (!any_of(crossed) && !due) {
        return true;
    }
    observers_before(run);
    if (due && fabs(run->now) <= INSTANT && !run->counting) {
        pass_midnight(run);
    }
    cross_all(run, crossed);
    if (chatters(run)) {
        end_early(run, PD_ENDING_CHATTER);
    }
    return settle(run, error);
}

static bool may_go_on(struct run *run, struct pd_error *error)
{
    const struct pd_day_options *options = run->options;

    run->steps_since_question++;
    if (options->go_on == NULL || run->steps_since_question < steps_between_questions) {
        return true;
    }
    run->steps_since_question = 0;
    return options->go_on(options->go_on_context) ||
           pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "interrupted");
}

static void take_counts(struct run *run)
{
    struct integrator_counts counts = integrator_counts(run->integrator);
    struct pd_effort *effort = &run->effort;

    effort->steps = counts.steps;
    effort->rhs_calls = counts.rhs_calls;
    effort->root_calls = counts.root_calls;
    effort->restarts = counts.restarts;
    effort->retries = counts.retries;
}

/* What is open at the end is closed there, and counted. */
static void end(struct run *run)
{
    if (!run->over) {
        run->ending = run->now < PD_DAY_SECONDS - INSTANT ? PD_ENDING_TOLD : PD_ENDING_MIDNIGHT;
    }
    take_counts(run);
    observers_before(run);
    if (run->command.on) {
        observers_stops(run, PD_CAUSE_END_OF_DAY);
    }
    observers_end(run);
}

static bool go_on(struct run *run, struct pd_error *error)
{
    while (!run->over && run->now < ends_at(run) - INSTANT) {
        if (!advance(run, error) || !may_go_on(run, error)) {
            return false;
        }
        if (++run->steps >= run->options->most_steps) {
            end_early(run, PD_ENDING_CHATTER);
        }
    }
    end(run);
    return true;
}

bool run_through(struct run *run, struct pd_error *error)
{
    begin(run);
    if (run->plant->warm_up <= 0.0) {
        pass_midnight(run);
    }
    return settle(run, error) && go_on(run, error);
}

bool run_on(struct run *run, struct pd_error *error)
{
    bind(run);
    run->rates_changed = true;
    return go_on(run, error);
}
