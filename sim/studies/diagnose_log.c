/* The fit of precharge, leak and start pressure to a logged gauge. */
#include "studies/diagnose_parts.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What traits may be off: gauges; times by a share and by a part of the interval between rows. */
static const double gauge_off = 3e3, time_share = 0.03, time_of_interval = 0.1;

/* Gauges are averaged over this many intervals; rises shorter than so many tell too little,
 * and fitted ones so short cannot be what was seen. */
static const double window_of_interval = 2.5, rise_of_interval = 2, beat_of_interval = 0.5;

/* Gauges that differ by less are the same but for the rounding of numbers, Pa. */
static const double same_gauge = 1;

/* Between a pump's rest and its run the power differs by more, W. */
static const double power_least = 20;

/* A trait that the simulation does not show. */
static const double missing = 40;

/* Rows of a simulated log: finer than the real one, for so many cycles, within so many rows. */
static const double finer = 4, span_of_period = 6, span_least = 120;
enum { STARTS = 4, ROWS_SIMULATED = 20000 };

/* First steps of the fit, and the precharges from which it sets out, as shares of the start
 * pressure, absolute. */
static const double step_pressure = 20e3, step_ratio = 0.2;
static const double shares[] = {0.25, 0.5, 0.75, 0.95, 1.15};

/* A fit while it runs. */
struct fitting {
    struct bench *bench;
    struct pd_log_fit *fit;
    struct gauge_log simulated;
    struct pd_error *error;
};

/* The share of the gauge's way that a trait's time takes; 0 where steps do not lengthen it. */
static double share_of_way(enum pd_trait trait)
{
    return trait == PD_TRAIT_RISE                                         ? 0.6
           : trait == PD_TRAIT_UPPER_FALL || trait == PD_TRAIT_LOWER_FALL ? 0.3
                                                                          : 0;
}

/* A level is passed up to half a step early or late. */
static double time_of_step(const struct pd_log_fit *fit, enum pd_trait trait)
{
    double way = fit->logged[PD_TRAIT_HIGH] - fit->logged[PD_TRAIT_LOW];
    double share = share_of_way(trait);

    return share > 0 ? fit->logged[trait] * fit->gauge_step / 2 / (share * way) : 0;
}

static double trait_distance(const struct pd_log_fit *fit, enum pd_trait trait, double simulated)
{
    double logged = fit->logged[trait];

    if (isnan(simulated)) {
        return missing;
    }
    if (pd_traits[trait].kind == PD_KIND_PRESSURE) {
        return (simulated - logged) / hypot(gauge_off, fit->gauge_step / 2);
    }
    double least = time_of_interval * fit->interval + time_of_step(fit, trait);
    return log((time_share * simulated + least) / (time_share * logged + least)) / time_share;
}

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

/* at: precharge [Pa absolute] by its logarithm, leak likewise, start pressure in Pa. */
static bool try_three(void *context, const double at[], double *value)
{
    struct fitting *fitting = context;
    struct pd_log_fit *fit = fitting->fit;
    struct trial trial = fitting->bench->designed;
    double simulated[PD_TRAIT_COUNT];
    double span = fmax(span_of_period * fit->logged[PD_TRAIT_PERIOD], span_least);
    double interval = fmax(fit->interval / finer, span / ROWS_SIMULATED);

    trial.strategy.precharge = exp(at[0]) - fitting->bench->atmosphere;
    trial.leak = exp(at[1]);
    trial.strategy.start_pressure = at[2];
    if (!bench_log(fitting->bench, &trial, interval, STARTS, span, &fitting->simulated,
                   fitting->error)) {
        return false;
    }
    (void)log_traits(&fitting->simulated, window_of_interval * fit->interval, simulated);
    *value = misfit_of(fit, simulated);
    if (*value < fit->misfit) {
        fit->misfit = *value;
        memcpy(fit->simulated, simulated, sizeof simulated);
    }
    return true;
}

/* The leak that a precharge goes with, by hand: falling takes from high to low. */
static double leak_guess(const struct fitting *fitting, double precharge)
{
    const struct pd_log_fit *fit = fitting->fit;
    const double *value = fitting->bench->scenario.value;
    double low = fit->logged[PD_TRAIT_LOW], high = fit->logged[PD_TRAIT_HIGH];
    struct pd_tank tank = {
        .gas = PD_GAS_ISOTHERMAL,
        .volume = fitting->bench->designed.tank,
        .precharge = precharge,
        .exponent = 1,
    };
    double leak =
        pd_leak_by_hand(&tank, fitting->bench->atmosphere, low, high, fit->logged[PD_TRAIT_PERIOD]);
    double part = pow(fmax((low + high) / 2, 1) / value[PD_HOUSE_LEAK_PRESSURE],
                      value[PD_HOUSE_LEAK_EXPONENT]);

    return fmax(leak, 1e-9) / part;
}

/* Sets out from several precharges; the best one's simplex goes on. */
static bool fit_three(struct fitting *fitting, double at[SIMPLEX_MOST])
{
    const double step[SIMPLEX_MOST] = {-step_ratio, step_ratio, step_pressure};
    double low = fitting->fit->logged[PD_TRAIT_LOW], least = INFINITY, value = 0;

    for (size_t i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        double precharge = shares[i] * (low + fitting->bench->atmosphere);
        double guess[SIMPLEX_MOST] = {log(precharge), log(leak_guess(fitting, precharge)), low};
        if (!try_three(fitting, guess, &value)) {
            return false;
        }
        if (value < least) {
            least = value;
            memcpy(at, guess, sizeof guess);
        }
    }
    // a second simplex around the end of the first gets out of a flat one
    for (int i = 0; i < 2; i++) {
        if (!least_near(try_three, fitting, SIMPLEX_MOST, step, at, &value)) {
            return false;
        }
    }
    return true;
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
                        "the rows, one every %.3g s, are too far apart to see the gauge rise while "
                        "the pump runs; log a row a second or oftener",
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

static bool take_traits(const struct pd_log *log, struct pd_log_fit *fit, struct pd_error *error)
{
    struct gauge_log gauge = {log->time, log->pressure, log->power, log->count, log->count};

    fit->interval = usual_interval(log);
    fit->gauge_step = gauge_step(log);
    fit->cycles = log_traits(&gauge, window_of_interval * fit->interval, fit->logged);
    if (fit->cycles == 0) {
        return pd_error_set(error, PD_BAD_INPUT, log->file, 0, NULL,
                            "the gauge does not rise and fall twice in the %.3g minutes logged, "
                            "expected at least two starts of the pump with all taps shut; log on, "
                            "or, if it stands for 4 hours, tell --seen between_starts=never",
                            (log->time[log->count - 1] - log->time[0]) / 60);
    }
    if (!shows_starts(log)) {
        return pd_error_set(error, PD_BAD_INPUT, log->file, 0, NULL,
                            "the power never goes on and off: no start of the pump was logged, "
                            "expected at least two");
    }
    if (!(fit->logged[PD_TRAIT_RISE] >= fit->interval)) {
        return too_far_apart(log, fit, error);
    }
    fit->logged_slowly = !(fit->logged[PD_TRAIT_RISE] >= rise_of_interval * fit->interval);
    return true;
}

/* A rise that was seen in a beat between rows and cycles is over between two rows of the fit. */
static bool is_beat(const struct pd_log_fit *fit)
{
    return fit->simulated[PD_TRAIT_RISE] < beat_of_interval * fit->interval;
}

static bool fit_log(const struct pd_log *log, struct fitting *fitting)
{
    struct pd_log_fit *fit = fitting->fit;
    const struct bench *bench = fitting->bench;
    double at[SIMPLEX_MOST] = {0};

    fit->strategy = bench->designed.strategy;
    fit->leak_pressure = bench->scenario.value[PD_HOUSE_LEAK_PRESSURE];
    fit->leak_designed = bench->designed.leak;
    fit->misfit = INFINITY;
    if (!fit_three(fitting, at)) {
        return false;
    }
    if (is_beat(fit)) {
        return too_far_apart(log, fit, fitting->error);
    }
    fit->precharge = exp(at[0]) - bench->atmosphere;
    fit->leak = exp(at[1]);
    fit->start = at[2];
    fit->leak_by_hand = leak_guess(fitting, exp(at[0]));
    return true;
}

static double *room_for(size_t count)
{
    return pd_memory_resize(NULL, count * sizeof(double));
}

static bool make_room(struct gauge_log *log, bool with_power, struct pd_error *error)
{
    log->most = ROWS_SIMULATED;
    log->time = room_for(log->most);
    log->pressure = room_for(log->most);
    log->power = with_power ? room_for(log->most) : NULL;
    if (log->time == NULL || log->pressure == NULL || (with_power && log->power == NULL)) {
        return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "not enough memory");
    }
    return true;
}

bool pd_log_fit(const struct pd_scenario *scenario, const struct pd_strategy_kind *kind,
                const struct pd_log *log, const struct pd_seen *seen,
                const struct pd_day_options *day, struct pd_log_fit *fit, struct pd_error *error)
{
    struct bench bench;
    struct fitting fitting = {.bench = &bench, .fit = fit, .error = error};

    memset(fit, 0, sizeof *fit);
    if (!take_traits(log, fit, error)) {
        return false;
    }
    bool good = bench_make(&bench, scenario, kind, seen, day, error);
    if (good && isnan(bench.designed.strategy.start_pressure)) {
        good = pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL,
                            "a log tells of a start pressure, and %s has none", kind->name);
    }
    good =
        good && make_room(&fitting.simulated, log->power != NULL, error) && fit_log(log, &fitting);
    free(fitting.simulated.time);
    free(fitting.simulated.pressure);
    free(fitting.simulated.power);
    bench_free(&bench);
    return good;
}
