/* Whole days of an installation with something wrong, and what is read of them. */
#include "studies/planted.h"

#include <pumpday/sheet.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double litre = 1e-3, minute = 60;

/* Times of the days, s. */
static const double charge_at = 600, charge_for = 45, dawdle = PD_BENCH_STANDS, give_up = 21600,
                    hour = 3600;

/* A fitter opens several taps to make the pump run. */
static const double charge_taps = 3;

enum { EVENTS_MOST = 24, SETS_MOST = 2 };

/* A pump that stops by flow on a main that sags; one with a drip that is known; a two-pressure
 * switch.  Their gas laws differ. */
static const struct {
    const char *folder, *sets[SETS_MOST];
    double draw_litres; /* a minute */
} installations[SITES] = {
    {"scenarios/hillside-house", {"tank.gas=thermal", "energy.standby=3 W"}, 1.1},
    {"scenarios/low-precharge", {"tank.gas=isothermal", "tank.precharge=60 psi"}, 1.3},
    {"scenarios/precharge-lesson", {"tank.gas=polytropic", "tank.exponent=1.15"}, 3},
};

/* What a day shows from one time on. */
struct watch {
    double after, until; /* s */
    size_t wanted;       /* events */
    size_t count;
    struct {
        double time, gauge;
        bool on;
    } event[EVENTS_MOST];
    double drawn, gauge;
    struct pd_trace_row last;
    struct pd_log *log;
    size_t log_most;
    double interval;
    bool done;
};

static void look_at_log(struct watch *watch, const struct pd_trace_row *row)
{
    struct pd_log *log = watch->log;
    double rows = (row->time - watch->after) / watch->interval;

    if (log == NULL || row->time < watch->after || fabs(rows - round(rows)) > 1e-6 ||
        (log->count > 0 && row->time < log->time[log->count - 1] + 0.5 * watch->interval)) {
        return;
    }
    log->time[log->count] = row->time;
    log->pressure[log->count] = row->header_pressure;
    if (log->power != NULL) {
        log->power[log->count] = row->power;
    }
    log->count++;
}

static enum pd_answer look(void *context, const struct pd_trace_row *row)
{
    struct watch *watch = context;

    if (row->time > watch->after) {
        watch->drawn += row->demand_flow * (row->time - fmax(watch->last.time, watch->after));
        if (row->pump_on != watch->last.pump_on && watch->count < EVENTS_MOST) {
            watch->event[watch->count].time = row->time;
            watch->event[watch->count].gauge = row->header_pressure;
            watch->event[watch->count++].on = row->pump_on;
        }
    }
    look_at_log(watch, row);
    watch->gauge = row->header_pressure;
    watch->last = *row;
    watch->done = watch->count >= watch->wanted || row->time >= watch->until;
    return watch->done ? PD_ENOUGH : PD_GO_ON;
}

static bool live(struct site *site, const struct state *state, bool switched_off, double every,
                 struct watch *watch)
{
    struct pd_day_options options = pd_day_default();
    struct pd_day_result result;
    struct pd_plant plant;
    struct pd_error error = {.code = PD_DONE};
    double *value = site->still.value;

    value[PD_HOUSE_LEAK] = state->leak;
    value[PD_CHECK_VALVE_LEAK_BY] = state->leak_by;
    value[PD_TANK_PRECHARGE] = state->precharge;
    value[PD_PRESSURE_START_START] = state->start;
    value[PD_TANK_VOLUME] = state->tank;
    // once stopped it may not start again that day
    value[PD_GUARD_LEAST_REST] =
        switched_off ? PD_DAY_SECONDS : site->scenario.value[PD_GUARD_LEAST_REST];
    options.trace = look;
    options.trace_context = watch;
    options.trace_every = every;
    bool good = pd_plant_build(&site->still, &plant, &error);
    if (good) {
        struct pd_strategy strategy = pd_strategy_for(pd_strategy_find("pressure-start"), &plant);
        good = pd_day_run(site->day, &plant, &strategy, &options, &result, &error);
        pd_plant_free(&plant);
    }
    if (!good) {
        pd_error_print(stdout, &error);
    }
    return good;
}

static struct pd_draw tap(double time, double duration, double flow)
{
    return (struct pd_draw){.time = time, .flow = flow, .duration = duration, .volume = NAN};
}

/* Taps that make the pump run, where it does not start by itself as the day begins; then all are
 * shut. */
static void charge(struct site *site, bool by_taps)
{
    site->draws[0] = tap(charge_at, charge_for, charge_taps * site->tap);
    site->charging = by_taps ? 1 : 0;
    site->still.draw_count = site->charging;
    site->still.profile_count = 0;
}

static struct watch watch_for(double after, size_t wanted, double until)
{
    return (struct watch){.after = after, .wanted = wanted, .until = until};
}

/* The first stop with all taps shut; NAN if there is none. */
static bool find_stop(struct site *site, const struct state *state, double *stop, double *gauge)
{
    *stop = *gauge = NAN;
    for (int by_taps = 0; by_taps < 2 && isnan(*stop); by_taps++) {
        double from = by_taps ? charge_at + charge_for : -1;
        struct watch watch = watch_for(from, 2, from + charge_at);
        charge(site, by_taps);
        if (!live(site, state, false, minute, &watch)) {
            return false;
        }
        for (size_t i = 0; i < watch.count && isnan(*stop); i++) {
            *stop = watch.event[i].on ? (double)NAN : watch.event[i].time;
            *gauge = watch.event[i].gauge;
        }
    }
    return true;
}

static bool read_between(struct site *site, const struct state *state, double stop,
                         struct pd_seen *seen)
{
    struct watch watch = watch_for(stop + 1, 4, give_up);

    if (!live(site, state, false, minute, &watch)) {
        return false;
    }
    seen->sign[PD_SIGN_BETWEEN_STARTS] =
        watch.count >= 3 ? fmin(watch.event[2].time - watch.event[0].time, PD_SIGN_NEVER)
                         : PD_SIGN_NEVER;
    return true;
}

static bool read_bucket(struct site *site, const struct state *state, double stop,
                        struct pd_seen *seen)
{
    struct watch watch = watch_for(stop + 1, 1, stop + dawdle + hour);

    site->draws[site->charging] = tap(stop + dawdle, hour, site->tap);
    site->still.draw_count = site->charging + 1;
    bool good = live(site, state, false, 0.5, &watch);
    site->still.draw_count = site->charging;
    if (good && watch.count > 0) {
        // a pump that starts before the tap is opened leaves no bucket to fill
        seen->sign[PD_SIGN_DRAWN] = watch.event[0].time > stop + dawdle ? watch.drawn : (double)NAN;
        seen->sign[PD_SIGN_START_GAUGE] = watch.event[0].gauge;
    }
    return good;
}

static bool read_fall(struct site *site, const struct state *state, bool isolated, double stop,
                      double from, double *share)
{
    struct watch watch = watch_for(stop, EVENTS_MOST, stop + hour);
    struct state shut = *state;

    shut.leak = isolated ? 0 : state->leak;
    if (!live(site, &shut, true, minute, &watch)) {
        return false;
    }
    *share = (from - watch.gauge) / (from - fmax(site->supply, 0));
    return true;
}

static bool read_steady(struct site *site, const struct state *state, struct pd_seen *seen)
{
    struct watch watch = watch_for(-1, 8, 3 * hour);

    site->still.draw_count = 0;
    site->still.profile_count = 1;
    site->steady = (struct pd_sample){0, site->draw};
    bool good = live(site, state, false, minute, &watch);
    site->still.profile_count = 0;
    seen->draw = site->draw;
    seen->sign[PD_SIGN_ON] = watch.last.pump_on ? PD_SIGN_NEVER : 0;
    seen->sign[PD_SIGN_OFF] = watch.last.pump_on ? 0 : PD_SIGN_NEVER;
    for (size_t i = 1; i < watch.count; i++) {
        seen->sign[watch.event[i].on ? PD_SIGN_OFF : PD_SIGN_ON] =
            watch.event[i].time - watch.event[i - 1].time;
    }
    return good;
}

bool site_read(struct site *site, const struct state *state, struct pd_seen *seen)
{
    double stop, gauge;

    *seen = pd_seen_nothing();
    seen->supply = site->supply;
    if (!find_stop(site, state, &stop, &gauge)) {
        return false;
    }
    seen->sign[PD_SIGN_PRECHARGE] = state->precharge;
    seen->sign[PD_SIGN_STOPS] = isnan(stop) ? 0 : 1;
    if (isnan(stop)) {
        return read_steady(site, state, seen);
    }
    seen->sign[PD_SIGN_STOP_GAUGE] = gauge;
    return read_between(site, state, stop, seen) && read_bucket(site, state, stop, seen) &&
           read_fall(site, state, false, stop, gauge, &seen->sign[PD_SIGN_FALLS]) &&
           read_fall(site, state, true, stop, gauge, &seen->sign[PD_SIGN_FALLS_ISOLATED]) &&
           read_steady(site, state, seen);
}

bool site_log(struct site *site, const struct state *state, double interval, double span,
              struct pd_log *log)
{
    double stop, gauge;

    log->count = 0;
    if (!find_stop(site, state, &stop, &gauge) || isnan(stop)) {
        return false;
    }
    // a logger's rows are at whole intervals of its own
    double from = interval * ceil((stop + minute) / interval);
    struct watch watch = watch_for(from, SIZE_MAX, from + span);
    watch.log = log;
    watch.interval = interval;
    return live(site, state, false, interval, &watch);
}

/* A leak that starts the pump so often: by hand, which is near enough to choose a size. */
static double loss_for(const struct site *site, const struct state *state, double seconds)
{
    double low = fmax(state->start, state->precharge) + 101325, high = site->stop_gauge + 101325;
    double charge = state->tank * (state->precharge + 101325);

    return charge * (1 / low - 1 / fmax(high, low * 1.01)) / seconds;
}

static void plant_precharge(const struct site *site, bool low, struct chance *chance,
                            struct state *state)
{
    double designed = site->designed.precharge;

    // a tank that is hardly filled by the highest pressure chatters
    state->precharge =
        low ? designed * chance_uniform(chance, 0.05, 0.85)
            : designed + (site->stop_gauge - designed) * chance_uniform(chance, 0.15, 0.6);
}

static void plant_loss(const struct site *site, bool valve, struct chance *chance,
                       struct state *state)
{
    double loss = loss_for(site, state, chance_by_ratio(chance, 60, 1500));
    double gauge = (state->start + site->stop_gauge) / 2;

    if (valve) {
        state->leak_by = loss * sqrt(1e5 / (gauge - site->supply));
    } else {
        state->leak = loss * sqrt(site->scenario.value[PD_HOUSE_LEAK_PRESSURE] / gauge);
    }
}

static bool is_low(enum pd_suspect_kind kind)
{
    return kind == PD_SUSPECT_PRECHARGE_LOW || kind == PD_SUSPECT_LEAK_PRECHARGE_LOW ||
           kind == PD_SUSPECT_VALVE_PRECHARGE_LOW;
}

static bool is_high(enum pd_suspect_kind kind)
{
    return kind == PD_SUSPECT_PRECHARGE_HIGH || kind == PD_SUSPECT_LEAK_PRECHARGE_HIGH ||
           kind == PD_SUSPECT_VALVE_PRECHARGE_HIGH;
}

static bool is_leak(enum pd_suspect_kind kind)
{
    return kind == PD_SUSPECT_LEAK || kind == PD_SUSPECT_LEAK_PRECHARGE_LOW ||
           kind == PD_SUSPECT_LEAK_PRECHARGE_HIGH;
}

static bool is_valve(enum pd_suspect_kind kind)
{
    return kind == PD_SUSPECT_CHECK_VALVE || kind == PD_SUSPECT_VALVE_PRECHARGE_LOW ||
           kind == PD_SUSPECT_VALVE_PRECHARGE_HIGH;
}

struct state plant_fault(const struct site *site, enum pd_suspect_kind kind, struct chance *chance)
{
    struct state state = site->designed;

    if (is_low(kind) || is_high(kind)) {
        plant_precharge(site, is_low(kind), chance, &state);
    }
    if (is_leak(kind) || is_valve(kind)) {
        plant_loss(site, is_valve(kind), chance, &state);
    }
    if (kind == PD_SUSPECT_START_OFF) {
        double by = chance_uniform(chance, 0.3, 0.6) * (site->stop_gauge - state.start);
        state.start += chance_uniform(chance, -1, 1) < 0 ? -by : by;
    }
    if (kind == PD_SUSPECT_TANK_SMALL) {
        state.tank *= chance_uniform(chance, 0.15, 0.65);
    }
    return state;
}

/* The supply at its mean, nothing drawn but by the fitter. */
static bool make_still(struct site *site, double draw)
{
    const struct pd_scenario *scenario = &site->scenario;
    struct pd_plant plant;
    struct pd_error error = {.code = PD_DONE};

    if (!pd_plant_build(scenario, &plant, &error)) {
        pd_error_print(stdout, &error);
        return false;
    }
    struct pd_strategy strategy = pd_strategy_for(pd_strategy_find("pressure-start"), &plant);
    site->supply = plant.mean_supply;
    pd_plant_free(&plant);
    site->designed = (struct state){
        .leak = scenario->value[PD_HOUSE_LEAK],
        .leak_by = scenario->value[PD_CHECK_VALVE_LEAK_BY],
        .precharge = strategy.precharge,
        .start = strategy.start_pressure,
        .tank = scenario->value[PD_TANK_VOLUME],
    };
    site->tap = 8 * litre / minute;
    site->draw = draw * litre / minute;
    site->still = *scenario;
    site->still.supply = NULL;
    site->still.supply_count = 0;
    site->still.value[PD_SUPPLY_PRESSURE] = site->supply;
    site->still.value[PD_DAY_WARM_UP] = 0;
    site->still.draws = site->draws;
    site->still.draw_count = 0;
    site->still.profile = &site->steady;
    site->still.profile_count = 0;
    return true;
}

bool site_open(struct site *site, size_t which)
{
    static struct pd_faults faults;
    struct pd_error error = {.code = PD_DONE};
    double stop;

    faults.count = 0;
    memset(site, 0, sizeof *site);
    site->name = installations[which].folder;
    if (!pd_scenario_read(site->name, installations[which].sets, SETS_MOST, &site->scenario,
                          &faults)) {
        pd_faults_print(stdout, &faults);
        return false;
    }
    site->day = pd_day_create(&error);
    return site->day != NULL && make_still(site, installations[which].draw_litres) &&
           find_stop(site, &site->designed, &stop, &site->stop_gauge) && !isnan(stop);
}

void site_close(struct site *site)
{
    pd_day_free(site->day);
    pd_scenario_free(&site->scenario);
}
