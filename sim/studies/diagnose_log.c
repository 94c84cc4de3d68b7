/* The fit of water lost, start pressure and precharge to a logged gauge. */
#include "studies/bench_team.h"
#include "studies/log_parts.h"

#include <math.h>
#include <string.h>

/* Gauges are averaged over this many intervals; rises shorter than so many tell too little,
 * and fitted ones so short cannot be what was seen. */
static const double window_of_interval = 2.5, rise_of_interval = 2, beat_of_interval = 0.5;

/* Rows too far apart to follow a run will do where the gauge takes so many of them for the middle
 * of its way down.  Gauges are then averaged while they fall by so much, Pa; and a rise that takes
 * so many rows longer than the fitted one was seen in a beat. */
static const double fall_of_interval = 3, window_fall = 3e3, beat_apart = 0.4;

/* Gauges that differ by less are the same but for the rounding of numbers, Pa. */
static const double same_gauge = 1;

/* Between a pump's rest and its run the power differs by more, W. */
static const double power_least = 20;

/* First steps of the fit, and the precharges from which it sets out, as shares of the start
 * pressure, absolute. */
static const double steps[LOG_SIZES] = {
    [LOG_LEAK] = 0.2, [LOG_START] = 20e3, [LOG_PRECHARGE] = -0.15, [LOG_SUPPLY] = 10e3};
static const double shares[VALLEYS] = {0.25, 0.5, 0.75, 0.95, 1.15};

/* Traits beside which a supply counts as one more. */
static const double traits_usual = 6;

/* A main's pressure is not known better than that, Pa. */
static const double supply_off_least = 30e3;

/* A start so far above the precharge is seen as the gauge falls to it, Pa; a precharge that may be
 * off by more than that may stand anywhere. */
static const double precharge_clear = 10e3, precharge_open = 75e3;

/* The shut stop valve of the house tells whether the water is lost behind it. */
static const double half_way = 0.5;

static double misfit_of(const struct pd_log_fit *fit, const double simulated[PD_TRAIT_COUNT])
{
    double sum = 0;
    size_t count = 0;

    for (int i = 0; i < PD_TRAIT_COUNT; i++) {
        if (!isnan(fit->logged[i])) {
            double distance = trait_distance(fit, (enum pd_trait)i, simulated[i]);
            sum += distance * distance;
            count++;
        }
    }
    return sqrt(sum / (double)count);
}

/* A supply far from the day's is not believed for what it explains. */
static double with_supply(const struct log_fitting *fitting, double misfit, double supply)
{
    double by = (supply - fitting->supply) / fitting->supply_off;

    return hypot(misfit, by / sqrt(traits_usual));
}

static bool try_sizes(void *context, const double free[], double *value)
{
    struct log_fitting *fitting = context;
    struct pd_log_fit *fit = fitting->fit;
    double simulated[PD_TRAIT_COUNT], at[LOG_SIZES];

    all_sizes(fitting, free, at);
    if (!log_trial(fitting, at, simulated)) {
        return false;
    }
    *value = with_supply(fitting, misfit_of(fit, simulated), at[LOG_SUPPLY]);
    if (*value < fitting->least) {
        fitting->least = *value;
        fit->misfit = misfit_of(fit, simulated);
        memcpy(fit->simulated, simulated, sizeof simulated);
    }
    return true;
}

/* The share of a leak's flow at its own pressure that flows at a gauge. */
static double share_at(const struct log_fitting *fitting, double gauge)
{
    const double *value = fitting->bench->scenario.value;
    bool valve = fitting->fit->by_valve;
    double across = valve ? gauge - fitting->bench->supply : gauge;

    return pow(fmax(across, 1) / fitting->fit->leak_pressure,
               valve ? 0.5 : value[PD_HOUSE_LEAK_EXPONENT]);
}

/* The leak that a precharge goes with, by hand: falling takes from high to low. */
static double leak_guess(const struct log_fitting *fitting, double precharge)
{
    const struct pd_log_fit *fit = fitting->fit;
    double low = fit->logged[PD_TRAIT_LOW], high = fit->logged[PD_TRAIT_HIGH];
    struct pd_tank tank = {
        .gas = PD_GAS_ISOTHERMAL,
        .volume = fitting->bench->designed.tank,
        .precharge = precharge,
        .exponent = 1,
    };
    double leak =
        pd_leak_by_hand(&tank, fitting->bench->atmosphere, low, high, fit->logged[PD_TRAIT_PERIOD]);

    return fmax(leak, 1e-9) / share_at(fitting, (low + high) / 2);
}

/* Where the fit sets out with one of the precharges, or the gauged one. */
static void set_out(const struct log_fitting *fitting, double share, double free[LOG_SIZES])
{
    double low = fitting->fit->logged[PD_TRAIT_LOW];
    double precharge = fitting->fit->gauged ? precharge_at(fitting->at[LOG_PRECHARGE])
                                            : share * (low + fitting->bench->atmosphere);
    double guess[LOG_SIZES] = {
        [LOG_LEAK] = log(leak_guess(fitting, precharge)),
        [LOG_START] = low,
        [LOG_PRECHARGE] = place_of_precharge(precharge),
        [LOG_SUPPLY] = fitting->supply,
    };

    for (size_t k = 0; k < fitting->free_count; k++) {
        free[k] = guess[fitting->free[k]];
    }
}

/* A simplex to one side; another to the other gets out of a flat one. */
static bool go_down(struct log_fitting *fitting, double side, double free[LOG_SIZES], double *value)
{
    double step[LOG_SIZES];

    for (size_t k = 0; k < fitting->free_count; k++) {
        step[k] = side * steps[fitting->free[k]];
    }
    return least_near(try_sizes, fitting, fitting->free_count, step, free, value);
}

/* Searches side by side: how each begins, and where each writes its end. */
struct searches {
    struct log_fitting begin;
    struct log_fitting *end;
};

/* Goes down from one precharge, on a bench and with a fit of its own. */
static bool fit_valley(void *context, struct bench *bench, size_t number, struct pd_error *error)
{
    struct searches *searches = context;
    struct log_fitting fitting = searches->begin;
    struct pd_log_fit fit = *fitting.fit;
    double *valley = searches->end->valley[number];

    fitting.bench = bench;
    fitting.fit = &fit;
    fitting.error = error;
    set_out(&fitting, shares[number], valley);
    bool good = log_trial_begin(&fitting, fit.has_power) &&
                go_down(&fitting, 1, valley, &searches->end->depth[number]);
    log_trial_end(&fitting);
    return good;
}

/* A log may have more than one valley: down from every precharge, then on in the deepest. */
static bool fit_sizes(struct log_fitting *fitting, const struct bench_work *benches,
                      double free[LOG_SIZES])
{
    struct searches searches = {*fitting, fitting};
    struct bench_work work = *benches;
    size_t best = 0;
    double value = 0;

    work.context = &searches;
    work.count = fitting->valleys = fitting->fit->gauged ? 1 : VALLEYS;
    if (!bench_team_run(&work, fitting->error)) {
        return false;
    }
    for (size_t i = 1; i < fitting->valleys; i++) {
        best = fitting->depth[i] < fitting->depth[best] ? i : best;
    }
    memcpy(free, fitting->valley[best], LOG_SIZES * sizeof *free);
    return go_down(fitting, -1, free, &value) && go_down(fitting, 1, free, &value);
}

static double usual_interval(const struct pd_log *log)
{
    return (log->time[log->count - 1] - log->time[0]) / (double)(log->count - 1);
}

/* Power that hardly moves shows no start; a log without power shows them by the gauge alone. */
static bool shows_starts(const struct pd_log *log)
{
    double least = INFINITY, most = -INFINITY;

    for (size_t i = 0; log->power != NULL && i < log->count; i++) {
        least = fmin(least, log->power[i]);
        most = fmax(most, log->power[i]);
    }
    return log->power == NULL || most - least >= power_least;
}

/* Rows that jump over the runs show gauges at random, or a slow beat that is not there. */
static bool too_far_apart(const struct pd_log *log, const struct pd_log_fit *fit,
                          struct pd_error *error)
{
    return pd_error_set(error, PD_BAD_INPUT, log->file, 0, NULL,
                        "the rows, one every %.3g s, are too far apart to see the gauge rise and "
                        "fall; log a row a second or oftener, or so often that the gauge takes "
                        "five rows at least to fall",
                        fit->interval);
}

/* The least difference between two rows that follow each other: the logger's step, or next to
 * nothing where it has none. */
static double gauge_step(const struct pd_log *log)
{
    double step = INFINITY;

    for (size_t i = 1; i < log->count; i++) {
        double by = fabs(log->pressure[i] - log->pressure[i - 1]);
        step = by > same_gauge ? fmin(step, by) : step;
    }
    return isinf(step) ? 0 : step;
}

/* The middle of the way down. */
static double fall_of(const struct pd_log_fit *fit)
{
    return fit->logged[PD_TRAIT_UPPER_FALL] + fit->logged[PD_TRAIT_LOWER_FALL];
}

/* Reads the traits anew: by rows, of which each counts by chance. */
static void take_traits_apart(const struct gauge_log *gauge, struct log_fitting *fitting)
{
    struct pd_log_fit *fit = fitting->fit;
    double way = fit->logged[PD_TRAIT_HIGH] - fit->logged[PD_TRAIT_LOW];
    double slope = 0.6 * way / fall_of(fit);

    fitting->rows.apart = fit->interval;
    fitting->rows.window = fmin(fitting->rows.window, window_fall / slope);
    fit->cycles = log_traits(gauge, &fitting->rows, fit->logged);
    fitting->logged_rise = fit->logged[PD_TRAIT_RISE];
    fit->logged[PD_TRAIT_RISE] = NAN;
}

static bool take_traits(const struct pd_log *log, struct log_fitting *fitting)
{
    struct gauge_log gauge = {log->time, log->pressure, log->power, log->count, log->count};
    struct pd_log_fit *fit = fitting->fit;

    fit->interval = usual_interval(log);
    fit->gauge_step = gauge_step(log);
    fit->has_power = log->power != NULL;
    fitting->rows = (struct log_rows){.window = window_of_interval * fit->interval};
    fit->cycles = log_traits(&gauge, &fitting->rows, fit->logged);
    if (fit->cycles == 0) {
        return pd_error_set(fitting->error, PD_BAD_INPUT, log->file, 0, NULL,
                            "the gauge does not rise and fall twice in the %.3g minutes logged, "
                            "expected at least two starts of the pump with all taps shut; log on, "
                            "or, if it stands for 4 hours, tell --seen between_starts=never",
                            (log->time[log->count - 1] - log->time[0]) / 60);
    }
    bool short_rise = !(fit->logged[PD_TRAIT_RISE] >= rise_of_interval * fit->interval);
    fit->far_apart = short_rise && fall_of(fit) >= fall_of_interval * fit->interval;
    // rows far apart may miss every run
    if (!fit->far_apart && !shows_starts(log)) {
        return pd_error_set(fitting->error, PD_BAD_INPUT, log->file, 0, NULL,
                            "the power never goes on and off: no start of the pump was logged, "
                            "expected at least two");
    }
    if (fit->far_apart) {
        take_traits_apart(&gauge, fitting);
    } else if (!(fit->logged[PD_TRAIT_RISE] >= fit->interval)) {
        return too_far_apart(log, fit, fitting->error);
    }
    fit->logged_slowly = short_rise && !fit->far_apart;
    set_trait_off(fit);
    return true;
}

/* A rise that was seen in a beat between rows and cycles is over between two rows of the fit. */
static bool is_beat(const struct log_fitting *fitting)
{
    const struct pd_log_fit *fit = fitting->fit;
    double fitted = fit->simulated[PD_TRAIT_RISE];

    return fit->far_apart ? fitted < fitting->logged_rise - beat_apart * fit->interval
                          : fitted < beat_of_interval * fit->interval;
}

/* What is known of the installation and was told beside the log. */
static void take_told(struct log_fitting *fitting, const struct pd_seen *seen)
{
    struct pd_log_fit *fit = fitting->fit;
    const struct bench *bench = fitting->bench;
    double isolated = seen->sign[PD_SIGN_FALLS_ISOLATED];

    fit->gauged = !isnan(seen->sign[PD_SIGN_PRECHARGE]);
    fit->by_valve = isolated > half_way;
    fit->house_leaks = isolated < half_way;
    fit->strategy = bench->designed.strategy;
    fit->leak_pressure = fit->by_valve ? 1e5 : bench->scenario.value[PD_HOUSE_LEAK_PRESSURE];
    fit->leak_designed = fit->by_valve ? bench->designed.leak_by : bench->designed.leak;
    fit->misfit = fitting->least = INFINITY;
    fit->supply_designed = fitting->supply = bench->supply;
    fit->supply_told = !isnan(seen->supply) || isnan(bench->supply_off);
    fitting->supply_off = fmax(bench->supply_off, supply_off_least);
}

static void choose_free(struct log_fitting *fitting, const struct pd_seen *seen)
{
    const struct pd_log_fit *fit = fitting->fit;
    double gauged = seen->sign[PD_SIGN_PRECHARGE] + fitting->bench->atmosphere;

    fitting->at[LOG_PRECHARGE] = fit->gauged ? place_of_precharge(gauged) : 0;
    fitting->at[LOG_SUPPLY] = fitting->supply;
    for (int i = 0; i < LOG_SIZES; i++) {
        bool held = (i == LOG_PRECHARGE && fit->gauged) || (i == LOG_SUPPLY && fit->supply_told);
        if (!held) {
            fitting->free[fitting->free_count++] = (enum log_size)i;
        }
    }
}

/* How far over the fitted precharge the real one may stand. */
static double reach_of(double off)
{
    return off > precharge_open ? 2 * off : fmin(off, precharge_clear);
}

static bool fit_log(const struct pd_log *log, const struct bench_work *work,
                    struct log_fitting *fitting)
{
    struct pd_log_fit *fit = fitting->fit;
    double free[LOG_SIZES] = {0}, at[LOG_SIZES];

    if (!fit_sizes(fitting, work, free)) {
        return false;
    }
    all_sizes(fitting, free, at);
    if (is_beat(fitting)) {
        return too_far_apart(log, fit, fitting->error);
    }
    double precharge = precharge_at(at[LOG_PRECHARGE]);
    fit->precharge = precharge - fitting->bench->atmosphere;
    fit->leak = exp(at[LOG_LEAK]);
    fit->start = at[LOG_START];
    fit->supply = at[LOG_SUPPLY];
    fit->leak_by_hand = leak_guess(fitting, precharge);
    if (!find_sizes_off(fitting, at)) {
        return false;
    }
    fit->start_hidden = fit->precharge + reach_of(fit->precharge_off) >= fit->start;
    return true;
}

bool pd_log_fit(const struct pd_scenario *scenario, const struct pd_strategy_kind *kind,
                const struct pd_log *log, const struct pd_seen *seen,
                const struct pd_day_options *day, struct pd_log_fit *fit, struct pd_error *error)
{
    struct bench bench;
    struct log_fitting fitting = {.bench = &bench, .fit = fit, .error = error};
    struct bench_work work = {
        .scenario = scenario,
        .kind = kind,
        .seen = seen,
        .day = day,
        .make = fit_valley,
    };

    memset(fit, 0, sizeof *fit);
    if (!take_traits(log, &fitting)) {
        return false;
    }
    bool good = bench_make(&bench, scenario, kind, seen, day, error);
    if (good && isnan(bench.designed.strategy.start_pressure)) {
        good = pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL,
                            "a log tells of a start pressure, and %s has none", kind->name);
    }
    if (good) {
        take_told(&fitting, seen);
        choose_free(&fitting, seen);
        good = log_trial_begin(&fitting, log->power != NULL) && fit_log(log, &work, &fitting);
    }
    log_trial_end(&fitting);
    bench_free(&bench);
    return good;
}
