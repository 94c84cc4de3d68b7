/* What is counted of a day: totals, hours and runs.  Counting looks at states
 * that the integrator has passed; it never makes it stop or restart. */
#include "observe/ledger.h"

#include <math.h>
#include <string.h>

static const double hour = 3600.0; /* s */

/* A result of nothing yet. */
static void clear(struct pd_day_result *result, const struct pd_run *runs)
{
    *result = (struct pd_day_result){
        .shortest_run = NAN,
        .shortest_rest = NAN,
        .runs = runs,
    };
}

int hour_of(double time)
{
    int index = (int)floor(time / hour);
    return index < 0 ? 0 : index >= PD_HOURS ? PD_HOURS - 1 : index;
}

static void lower(double *least, double value)
{
    if (isnan(*least) || value < *least) {
        *least = value;
    }
}

static void midnight(void *context, const struct run *run)
{
    struct ledger *ledger = context;

    ledger->accounted = run->now;
    ledger->stored_at_midnight = circuit_stored(&run->circuit, &run->mode, run->state);
    memcpy(ledger->midnight, run->state, sizeof run->state);
    memcpy(ledger->hour_began, run->state, sizeof run->state);
}

/* Time with taps open, and open under the limit. */
static void before(void *context, const struct run *run)
{
    struct ledger *ledger = context;
    double span = run->now - ledger->accounted;

    ledger->accounted = run->now;
    if (run->mode.zone[0].demand > 0.0) {
        ledger->result->time_draw_open += span;
        ledger->result->time_below_tap_limit += run->tap_low ? span : 0.0;
    }
}

static void end_hour(struct ledger *ledger, const double *state)
{
    struct pd_hour *counted = &ledger->result->hours[ledger->hours_done];

    counted->energy = state[AT_ENERGY] - ledger->hour_began[AT_ENERGY];
    counted->volume = state[AT_DELIVERED] - ledger->hour_began[AT_DELIVERED];
    memcpy(ledger->hour_began, state, sizeof ledger->hour_began);
    ledger->hours_done++;
}

static enum pd_answer step(void *context, const struct run *run, double to, const double *state)
{
    struct ledger *ledger = context;
    double between[STATE_COUNT];

    (void)state;
    while (ledger->hours_done < PD_HOURS - 1 && to >= hour * (ledger->hours_done + 1)) {
        if (!integrator_state_at(run->integrator, hour * (ledger->hours_done + 1), between)) {
            return PD_FAILED;
        }
        end_hour(ledger, between);
    }
    return PD_GO_ON;
}

/* A run that began in the day, not before it. */
static void count_start(struct pd_day_result *result, double now, double rest)
{
    result->starts++;
    result->hours[hour_of(now)].starts++;
    if (!isinf(rest)) {
        lower(&result->shortest_rest, rest);
    }
}

static void starts(void *context, const struct run *run, enum pd_cause cause)
{
    struct ledger *ledger = context;
    struct pd_day_result *result = ledger->result;
    bool carried = cause == PD_CAUSE_CARRIED_OVER;

    if (!run->counting || result->run_count == PD_RUNS_MOST) {
        return;
    }
    double rest = run->now - ledger->stopped;
    ledger->runs[result->run_count++] = (struct pd_run){
        .start = run->now,
        .rest_before = carried || isinf(rest) ? (double)NAN : rest,
        .start_cause = cause,
    };
    ledger->run_volume = run->state[AT_SUPPLIED];
    ledger->run_energy = run->state[AT_ENERGY];
    if (!carried) {
        count_start(result, run->now, rest);
    }
}

/* What a run has been, once it is over. */
static void count_run(const struct ledger *ledger, const struct run *run, enum pd_cause cause)
{
    struct pd_day_result *result = ledger->result;
    struct pd_run *ended = &ledger->runs[result->run_count - 1];

    ended->run_time = run->now - ended->start;
    ended->volume = run->state[AT_SUPPLIED] - ledger->run_volume;
    ended->energy = run->state[AT_ENERGY] - ledger->run_energy;
    ended->stop_cause = cause;
    result->run_time += ended->run_time;
    // only runs that began and ended in the day have a length of their own
    if (ended->start_cause != PD_CAUSE_CARRIED_OVER && cause != PD_CAUSE_END_OF_DAY) {
        lower(&result->shortest_run, ended->run_time);
    }
    for (int i = hour_of(ended->start); i <= hour_of(run->now); i++) {
        double overlap = fmin(run->now, hour * (i + 1)) - fmax(ended->start, hour * i);
        result->hours[i].run_time += fmax(overlap, 0.0);
    }
}

static void stops(void *context, const struct run *run, enum pd_cause cause)
{
    struct ledger *ledger = context;
    struct pd_day_result *result = ledger->result;

    ledger->stopped = run->now;
    result->locked_out = result->locked_out || cause == PD_CAUSE_DRY;
    if (run->counting && result->run_count > 0) {
        result->suction_trips += cause == PD_CAUSE_LOW_SUCTION ? 1 : 0;
        count_run(ledger, run, cause);
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

/* s after midnight; negative for a draw of the day before */
static double opened_at(const struct pd_scenario *scenario, size_t index)
{
    return scenario->draws[index].time - (index < scenario->draw_count ? 0.0 : PD_DAY_SECONDS);
}

/* Draws by volume that wait for water which does not come, or comes as a trickle. */
static int unfilled(const struct run *run)
{
    int count = 0;

    for (size_t i = 0; i < run->draws.count; i++) {
        const struct open_draw *open = &run->draws.list[i];
        double since = opened_at(run->plant->scenario, open->index);
        bool waits = isfinite(open->sigma_end) && since < run->now - hour;
        count += waits && !opened_again(&run->draws, i) ? 1 : 0;
    }
    return count;
}

/* What the states at midnight and at the end tell. */
static void count_totals(const struct ledger *ledger, const struct run *run)
{
    struct pd_day_result *result = ledger->result;
    const double *first = ledger->midnight, *last = run->state;
    double standby = run->plant->standby_power;

    for (int i = 0; i < ledger->hours_done; i++) {
        result->hours[i].energy += standby * fmin(hour, fmax(result->end_time - hour * i, 0.0));
    }
    result->supplied = last[AT_SUPPLIED] - first[AT_SUPPLIED];
    result->delivered = last[AT_DELIVERED] - first[AT_DELIVERED];
    result->leaked = last[AT_LEAKED] - first[AT_LEAKED];
    result->energy = last[AT_ENERGY] - first[AT_ENERGY] + standby * result->end_time;
    result->stored = circuit_stored(&run->circuit, &run->mode, last) - ledger->stored_at_midnight;
    result->last_level = last[AT_LEVEL];
    result->balance_error = result->supplied - result->delivered - result->leaked - result->stored;
}

static void end(void *context, const struct run *run)
{
    struct ledger *ledger = context;
    struct pd_day_result *result = ledger->result;

    result->end_time = fmax(run->now, 0.0);
    result->draws_unfilled = unfilled(run);
    if (run->counting) {
        end_hour(ledger, run->state);
        count_totals(ledger, run);
    }
}

struct observer ledger_observer(struct ledger *ledger, struct pd_day_result *result,
                                struct pd_run *runs)
{
    *ledger = (struct ledger){.result = result, .runs = runs, .stopped = -INFINITY};
    clear(result, runs);
    return (struct observer){
        .context = ledger,
        .step = step,
        .before = before,
        .midnight = midnight,
        .starts = starts,
        .stops = stops,
        .end = end,
    };
}
