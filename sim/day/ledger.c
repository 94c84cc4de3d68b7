/* What is counted of a day: totals, hours and runs.  Counting looks at states
 * that the integrator has passed; it never makes it stop or restart. */
#include "day/inside.h"

#include <math.h>
#include <string.h>

static const double hour = 3600.0; /* s */

void ledger_begin(struct pd_day *day)
{
    struct pd_day_result *result = &day->result;

    day->evening_count = day->latest_count = 0;
    day->ledger = (struct ledger){.before = NAN, .middle = NAN};
    *result = (struct pd_day_result){
        .strategy = *day->strategy,
        .shortest_run = NAN,
        .shortest_rest = NAN,
        .lowest_tap_pressure = NAN,
        .highest_header_pressure = NAN,
        .lowest_suction_pressure = NAN,
        .lowest_npsh_margin = NAN,
        .npsh_flow = NAN,
        .lowest_inlet_pressure = NAN,
        .usual_flow = NAN,
        .runs = day->runs,
    };
    for (int i = 0; i < PD_HOURS; i++) {
        result->hours[i].lowest_tap_pressure = NAN;
    }
    watch_begin(day);
}

void ledger_midnight(struct pd_day *day)
{
    struct ledger *ledger = &day->ledger;

    ledger->counting = true;
    watch_from(day);
    ledger->accounted = day->now;
    ledger->stored_at_midnight = circuit_stored(&day->circuit, &day->mode, day->state);
    memcpy(ledger->midnight, day->state, sizeof day->state);
    memcpy(ledger->hour_began, day->state, sizeof day->state);
    // a run that goes on over midnight is counted from there
    if (day->controller.on) {
        ledger_run_begins(day, PD_CAUSE_CARRIED_OVER);
    }
}

/* Time with taps open, and open under the limit, up to now; called before anything changes. */
void ledger_account(struct pd_day *day)
{
    double span = day->now - day->ledger.accounted;

    if (!day->ledger.counting) {
        return;
    }
    day->ledger.accounted = day->now;
    if (day->mode.demand > 0.0) {
        day->result.time_draw_open += span;
        day->result.time_below_tap_limit += day->tap_low ? span : 0.0;
    }
}

static void end_hour(struct pd_day *day, const double *state)
{
    struct ledger *ledger = &day->ledger;
    struct pd_hour *counted = &day->result.hours[ledger->hours_done];

    counted->energy = state[AT_ENERGY] - ledger->hour_began[AT_ENERGY];
    counted->volume = state[AT_DELIVERED] - ledger->hour_began[AT_DELIVERED];
    memcpy(ledger->hour_began, state, sizeof ledger->hour_began);
    ledger->hours_done++;
}

/* A step has been taken in one mode, up to a time and state. */
bool ledger_step(struct pd_day *day, double to, const double *state)
{
    double between[STATE_COUNT];

    if (!day->ledger.counting) {
        return true;
    }
    watch_step(day, to, state);
    if (!extremes_step(day, to, state)) {
        return false;
    }
    while (day->ledger.hours_done < PD_HOURS - 1 && to >= hour * (day->ledger.hours_done + 1)) {
        if (!integrator_state_at(day->integrator, hour * (day->ledger.hours_done + 1), between)) {
            return false;
        }
        end_hour(day, between);
    }
    return true;
}

/* An event is over: the mode may be another, and the pressure has a corner here. */
void ledger_event(struct pd_day *day)
{
    extremes_event(day);
    if (day->ledger.counting) {
        watch_from(day);
    }
}

void ledger_run_begins(struct pd_day *day, enum pd_cause cause)
{
    struct pd_day_result *result = &day->result;
    bool carried = cause == PD_CAUSE_CARRIED_OVER;

    if (!carried) {
        worst_hour_start(day);
    }
    if (!day->ledger.counting) {
        worst_hour_evening(day);
        return;
    }
    if (result->run_count == PD_RUNS_MOST) {
        return;
    }
    double rest = day->now - day->controller.stopped;
    day->runs[result->run_count++] = (struct pd_run){
        .start = day->now,
        .rest_before = carried || isinf(rest) ? (double)NAN : rest,
        .start_cause = cause,
    };
    day->watch.short_since = NAN;
    day->ledger.run_volume = day->state[AT_SUPPLIED];
    day->ledger.run_energy = day->state[AT_ENERGY];
    if (carried) {
        return;
    }
    result->starts++;
    result->hours[extremes_hour(day->now)].starts++;
    if (!isinf(rest)) {
        extremes_lower(&result->shortest_rest, rest);
    }
}

void ledger_run_ends(struct pd_day *day, enum pd_cause cause)
{
    struct pd_day_result *result = &day->result;

    if (!day->ledger.counting || result->run_count == 0) {
        return;
    }
    struct pd_run *run = &day->runs[result->run_count - 1];
    run->run_time = day->now - run->start;
    run->volume = day->state[AT_SUPPLIED] - day->ledger.run_volume;
    run->energy = day->state[AT_ENERGY] - day->ledger.run_energy;
    run->stop_cause = cause;
    result->run_time += run->run_time;
    // only runs that began and ended in the day have a length of their own
    if (run->start_cause != PD_CAUSE_CARRIED_OVER && cause != PD_CAUSE_END_OF_DAY) {
        extremes_lower(&result->shortest_run, run->run_time);
    }
    for (int i = extremes_hour(run->start); i <= extremes_hour(day->now); i++) {
        double overlap = fmin(day->now, hour * (i + 1)) - fmax(run->start, hour * i);
        result->hours[i].run_time += fmax(overlap, 0.0);
    }
}

/* A draw of the evening that never ends stands in the list from the warm-up too. */
static bool opened_again(const struct open_draws *draws, size_t place)
{
    for (size_t i = place + 1; i < draws->count; i++) {
        if (draws->list[i].index == draws->list[place].index) {
            return true;
        }
    }
    return false;
}

/* Draws by volume that wait for water which does not come, or comes as a trickle. */
static int unfilled(const struct pd_day *day)
{
    int count = 0;

    for (size_t i = 0; i < day->draws.count; i++) {
        const struct open_draw *open = &day->draws.list[i];
        double since = day->plant->scenario->draws[open->index].time;
        bool waits = isfinite(open->sigma_end) && since < day->now - hour;
        count += waits && !opened_again(&day->draws, i) ? 1 : 0;
    }
    return count;
}

void ledger_end(struct pd_day *day)
{
    struct pd_day_result *result = &day->result;
    const struct ledger *ledger = &day->ledger;
    double standby = day->plant->standby_power;

    if (day->controller.on) {
        ledger_run_ends(day, PD_CAUSE_END_OF_DAY);
    }
    result->end_time = fmax(day->now, 0.0);
    result->locked_out = day->controller.locked_out;
    result->starts_in_worst_hour = worst_hour(day);
    result->last_rate = worst_hour_last_rate(day);
    result->draws_unfilled = unfilled(day);
    if (!ledger->counting) {
        return;
    }
    watch_end(day);
    end_hour(day, day->state);
    for (int i = 0; i < ledger->hours_done; i++) {
        result->hours[i].energy += standby * fmin(hour, fmax(result->end_time - hour * i, 0.0));
    }
    result->supplied = day->state[AT_SUPPLIED] - ledger->midnight[AT_SUPPLIED];
    result->delivered = day->state[AT_DELIVERED] - ledger->midnight[AT_DELIVERED];
    result->leaked = day->state[AT_LEAKED] - ledger->midnight[AT_LEAKED];
    result->energy =
        day->state[AT_ENERGY] - ledger->midnight[AT_ENERGY] + standby * result->end_time;
    result->stored =
        circuit_stored(&day->circuit, &day->mode, day->state) - ledger->stored_at_midnight;
    result->last_level = day->state[AT_LEVEL];
    result->balance_error = result->supplied - result->delivered - result->leaked - result->stored;
}
