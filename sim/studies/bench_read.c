/* Small synthetic days on which a system shows its readings: taps shut for hours, one tap opened on
 * a full tank, a steady draw. */
#include "studies/diagnose_parts.h"

#include <math.h>
#include <string.h>

/* Times, s.  A charging draw starts pumps that do not start by themselves; it is shut a moment
 * after the start.  An opened tap must start the pump within tap_for; a steady draw shows whole
 * cycles or none within steady_for.  A day with other draws has its stop a hair's breadth apart:
 * `settled` leaves it out. */
static const double charge_at = 60, charge_most = 900, charge_more = 5;
static const double settled = 0.5, tap_for = 3600, steady_for = 7200, fall_for = 3600;

/* The bucket is filled as on a commissioning sheet: the gauge has stood for a while. */
static const double tap_after = PD_BENCH_STANDS;

/* Longer than any day here: once stopped, the pump counts as switched off. */
static const double off_for_good = 1e6;

/* Charging takes three taps, as on a commissioning sheet. */
static const double charge_taps = 3;

enum { EVENTS_MOST = 16 };

struct event {
    double time, gauge;
    bool on;
};

/* One day while it is watched. */
struct watch {
    double until, after; /* s; events up to `after` do not count */
    size_t wanted;       /* events, then the day is over */
    size_t count;
    struct event event[EVENTS_MOST];
    double drawn;          /* m3 since `after` */
    double delivered;      /* m3 by then; NAN before */
    double gauge;          /* Pa, the last seen */
    bool on;               /* the pump, when it was last seen */
    struct gauge_log *log; /* or NULL */
    double interval;       /* s, of its rows */
    long row;              /* which one is due */
};

static enum pd_answer add_row(struct watch *watch, const struct run *run, const double *state)
{
    struct gauge_log *log = watch->log;

    if (log->count == log->most) {
        return PD_ENOUGH;
    }
    log->time[log->count] = (double)watch->row * watch->interval;
    log->pressure[log->count] = state[AT_PRESSURE];
    if (log->power != NULL) {
        double motor =
            watch->on ? pd_pump_power(&run->plant->branch[0].pump, state[AT_FLOW], NULL) : 0;
        log->power[log->count] = motor + run->plant->standby_power;
    }
    log->count++;
    watch->row++;
    return PD_GO_ON;
}

/* Rows of the log within the step just taken; events between them are left out, as a logger would.
 */
static enum pd_answer log_step(void *context, const struct run *run, double to, const double *state)
{
    struct watch *watch = context;
    double between[STATE_COUNT];
    enum pd_answer answer = PD_GO_ON;

    (void)state;
    while (answer == PD_GO_ON && (double)watch->row * watch->interval <= to) {
        if (!integrator_state_at(run->integrator, (double)watch->row * watch->interval, between)) {
            return PD_FAILED;
        }
        answer = add_row(watch, run, between);
    }
    return answer;
}

/* The pump goes on or off, or a tap is opened. */
static enum pd_answer look(void *context, const struct run *run)
{
    struct watch *watch = context;
    bool counts = run->now > watch->after;

    if (counts && run->mode.branch[0].pump_on != watch->on && watch->count < EVENTS_MOST) {
        watch->event[watch->count++] =
            (struct event){run->now, run->state[AT_PRESSURE], run->mode.branch[0].pump_on};
    }
    if (counts && isnan(watch->delivered)) {
        watch->delivered = run->state[AT_DELIVERED];
    }
    watch->drawn = run->state[AT_DELIVERED] - watch->delivered;
    watch->on = run->mode.branch[0].pump_on;
    return watch->count >= watch->wanted ? PD_ENOUGH : PD_GO_ON;
}

static void end(void *context, const struct run *run)
{
    struct watch *watch = context;

    watch->gauge = run->state[AT_PRESSURE];
    watch->on = run->mode.branch[0].pump_on;
}

/* Puts a trial in place of what was designed. */
static void apply(const struct trial *trial, struct pd_plant *plant)
{
    const double *value = plant->scenario->value;

    plant->leak_coefficient =
        trial->leak / pow(value[PD_HOUSE_LEAK_PRESSURE], plant->leak_exponent);
    plant->branch[0].valve_leak_by = trial->leak_by / sqrt(1.0e5);
    plant->tank.volume = trial->tank;
}

static struct watch watch_for(double after, size_t wanted, double until)
{
    return (struct watch){.after = after, .wanted = wanted, .until = until, .delivered = NAN};
}

static bool watch_day(struct bench *bench, const struct trial *trial, bool stays_off,
                      struct watch *watch, struct pd_error *error)
{
    struct pd_day_options options = *bench->options;
    struct pd_strategy strategy = trial->strategy;
    struct run *run = bench->run;

    // a short day is over before it asks by itself
    if (options.go_on != NULL && !options.go_on(options.go_on_context)) {
        return pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request");
    }
    if (!pd_plant_set_draws(&bench->plant, error)) {
        return false;
    }
    apply(trial, &bench->plant);
    if (stays_off) {
        strategy.guards.least_rest = off_for_good;
    }
    options.until = watch->until;
    run->plant = &bench->plant;
    run->strategy = &strategy;
    run->options = &options;
    run->observer[0] = (struct observer){.context = watch, .event = look, .end = end};
    run->observer[0].step = watch->log != NULL ? log_step : NULL;
    run->observers = 1;
    return run_through(run, error);
}

static struct pd_draw open_tap(double from, double duration, double flow)
{
    return (struct pd_draw){.time = from, .flow = flow, .duration = duration, .volume = NAN};
}

/* Finds how to get the tank full: draws[0] is what starts the pump, if anything must.  *charged
 * gets whether it started. */
static bool charge(struct bench *bench, const struct trial *trial, bool *charged,
                   struct pd_error *error)
{
    struct watch watch = watch_for(-1, 1, charge_at + charge_most);

    bench->scenario.profile_count = 0;
    bench->draws[0] = open_tap(charge_at, charge_most, charge_taps * bench->tap);
    bench->scenario.draw_count = 1;
    if (!watch_day(bench, trial, false, &watch, error)) {
        return false;
    }
    *charged = watch.count > 0;
    if (*charged && watch.event[0].time < charge_at) {
        bench->scenario.draw_count = 0;
    } else if (*charged) {
        bench->draws[0].duration = watch.event[0].time - charge_at + charge_more;
    }
    return true;
}

/* With all taps shut: stop, start, stop, start.  *stop gets the first stop, NAN if there is none.
 */
static bool read_shut(struct bench *bench, const struct trial *trial, bool cycle, double *stop,
                      double reading[PD_SIGN_COUNT], struct pd_error *error)
{
    struct watch watch = watch_for(0, EVENTS_MOST, PD_SIGN_NEVER + charge_most);
    size_t first = 0;

    // the charging start may stand before the first stop
    watch.wanted = cycle ? 5 : 2;
    watch.after = -1;
    if (!watch_day(bench, trial, false, &watch, error)) {
        return false;
    }
    while (first < watch.count && watch.event[first].on) {
        first++;
    }
    *stop = first < watch.count ? watch.event[first].time : (double)NAN;
    reading[PD_SIGN_STOP_GAUGE] = first < watch.count ? watch.event[first].gauge : (double)NAN;
    reading[PD_SIGN_BETWEEN_STARTS] =
        first + 3 < watch.count
            ? fmin(watch.event[first + 3].time - watch.event[first + 1].time, PD_SIGN_NEVER)
            : PD_SIGN_NEVER;
    return true;
}

/* One tap opened on a full tank; no bucket where the pump starts before. */
static bool read_bucket(struct bench *bench, const struct trial *trial, double stop,
                        double reading[PD_SIGN_COUNT], struct pd_error *error)
{
    struct watch watch = watch_for(stop + settled, 1, stop + tap_after + tap_for);
    size_t charging = bench->scenario.draw_count;

    bench->draws[charging] = open_tap(stop + tap_after, tap_for, bench->tap);
    bench->scenario.draw_count = charging + 1;
    bool good = watch_day(bench, trial, false, &watch, error);
    bench->scenario.draw_count = charging;
    if (good && watch.count > 0) {
        bool opened = watch.event[0].time > stop + tap_after;
        reading[PD_SIGN_DRAWN] = opened ? watch.drawn : (double)NAN;
        reading[PD_SIGN_START_GAUGE] = watch.event[0].gauge;
    }
    return good;
}

/* How far the gauge falls with the pump off. */
static bool read_fall(struct bench *bench, const struct trial *trial, bool isolated, double stop,
                      double stop_gauge, double *share, struct pd_error *error)
{
    struct watch watch = watch_for(stop + settled, EVENTS_MOST, stop + fall_for);
    struct trial shut = *trial;
    double way = stop_gauge - fmax(bench->supply, 0);

    shut.leak = isolated ? 0 : trial->leak;
    if (!watch_day(bench, &shut, true, &watch, error)) {
        return false;
    }
    *share = way > 0 ? fmin(fmax((stop_gauge - watch.gauge) / way, 0), 1) : (double)NAN;
    return true;
}

/* Runs and rests at a steady draw: the last whole ones of three cycles. */
static bool read_steady(struct bench *bench, const struct trial *trial,
                        double reading[PD_SIGN_COUNT], struct pd_error *error)
{
    struct watch watch = watch_for(-1, 7, steady_for);

    bench->scenario.draw_count = 0;
    bench->scenario.profile_count = 1;
    bench->steady = (struct pd_sample){0, bench->draw};
    bool good = watch_day(bench, trial, false, &watch, error);
    bench->scenario.profile_count = 0;
    // nothing happens: it never comes on, or never goes off
    reading[PD_SIGN_ON] = watch.on ? PD_SIGN_NEVER : 0;
    reading[PD_SIGN_OFF] = watch.on ? 0 : PD_SIGN_NEVER;
    for (size_t i = 1; i < watch.count; i++) {
        double span = watch.event[i].time - watch.event[i - 1].time;
        reading[watch.event[i].on ? PD_SIGN_OFF : PD_SIGN_ON] = span;
    }
    return good;
}

/* Readings on a tank that was filled. */
static bool read_full(struct bench *bench, const struct trial *trial,
                      const bool wanted[PD_SIGN_COUNT], double reading[PD_SIGN_COUNT],
                      struct pd_error *error)
{
    bool charged = false;
    double stop = NAN;

    if (!charge(bench, trial, &charged, error)) {
        return false;
    }
    if (!charged) {
        reading[PD_SIGN_BETWEEN_STARTS] = PD_SIGN_NEVER;
        return true;
    }
    if (!read_shut(bench, trial, wanted[PD_SIGN_BETWEEN_STARTS], &stop, reading, error)) {
        return false;
    }
    reading[PD_SIGN_STOPS] = isnan(stop) ? 0 : 1;
    if (isnan(stop)) {
        return true;
    }
    if ((wanted[PD_SIGN_DRAWN] || wanted[PD_SIGN_START_GAUGE]) &&
        !read_bucket(bench, trial, stop, reading, error)) {
        return false;
    }
    for (int sign = PD_SIGN_FALLS; sign <= PD_SIGN_FALLS_ISOLATED; sign++) {
        // a house that loses nothing is as if it were shut
        if (trial->leak <= 0 && !isnan(reading[PD_SIGN_FALLS])) {
            reading[sign] = reading[PD_SIGN_FALLS];
        } else if (wanted[sign] && !read_fall(bench, trial, sign == PD_SIGN_FALLS_ISOLATED, stop,
                                              reading[PD_SIGN_STOP_GAUGE], &reading[sign], error)) {
            return false;
        }
    }
    return true;
}

bool bench_read(struct bench *bench, const struct trial *trial, const bool wanted[PD_SIGN_COUNT],
                double reading[PD_SIGN_COUNT], struct pd_error *error)
{
    bool steady = wanted[PD_SIGN_ON] || wanted[PD_SIGN_OFF];
    bool full = false;

    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        reading[sign] = NAN;
        full = full || (wanted[sign] && sign != PD_SIGN_PRECHARGE && sign != PD_SIGN_ON &&
                        sign != PD_SIGN_OFF);
    }
    // gas does not pull: a tank without gas shows nothing
    reading[PD_SIGN_PRECHARGE] = fmax(trial->strategy.precharge, 0);
    return (!full || read_full(bench, trial, wanted, reading, error)) &&
           (!steady || read_steady(bench, trial, reading, error));
}

bool bench_log(struct bench *bench, const struct trial *trial, double interval, size_t starts,
               double span, struct gauge_log *log, struct pd_error *error)
{
    double reading[PD_SIGN_COUNT], stop = NAN;
    bool charged = false;

    log->count = 0;
    if (!charge(bench, trial, &charged, error)) {
        return false;
    }
    if (!charged) {
        return true;
    }
    if (!read_shut(bench, trial, false, &stop, reading, error)) {
        return false;
    }
    if (isnan(stop)) {
        return true;
    }
    struct watch watch = watch_for(stop + settled, 2 * starts, fmin(stop + span, PD_DAY_SECONDS));
    watch.log = log;
    watch.interval = interval;
    watch.row = (long)ceil(watch.after / interval);
    return watch_day(bench, trial, false, &watch, error);
}
