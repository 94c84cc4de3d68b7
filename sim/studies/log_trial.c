/* What a trial's log would show, and how far that is from the real one. */
#include "studies/log_parts.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What traits may be off: gauges; times by a share and by a part of the interval between rows. */
static const double gauge_off = 3e3, time_share = 0.03, time_of_interval = 0.1;

/* Rows far apart: a moment lies anywhere between two rows; the deviation of that, of the
 * difference of two such moments, and of a run that is counted in rows at the most, in rows. */
static const double moment_off = 0.29, span_off = 0.41, count_off = 0.5;

/* A trait that the simulation does not show. */
static const double missing = 40;

/* Rows of a simulated log: finer than the real one, for so many cycles, within so many rows; where
 * the real ones are far apart they are taken out of as many as its rows can stand in. */
static const double finer = 4, span_of_period = 6, span_least = 120;
enum { STARTS = 4, ROWS_SIMULATED = 20000, STANDS = 8 };

/* Where precharges begin to count by ratio, and the least, Pa absolute. */
static const double low_precharge = 1e5, least_precharge = 1e3;

double precharge_at(double place)
{
    return fmax(exp(place) - low_precharge, least_precharge);
}

double place_of_precharge(double precharge)
{
    return log(precharge + low_precharge);
}

void all_sizes(const struct log_fitting *fitting, const double free[], double at[LOG_SIZES])
{
    memcpy(at, fitting->at, sizeof fitting->at);
    for (size_t i = 0; i < fitting->free_count; i++) {
        at[fitting->free[i]] = free[i];
    }
}

static double *room_for(size_t count)
{
    return pd_memory_resize(NULL, count * sizeof(double));
}

static bool make_room(struct gauge_log *log, bool with_power)
{
    log->most = ROWS_SIMULATED;
    log->time = room_for(log->most);
    log->pressure = room_for(log->most);
    log->power = with_power ? room_for(log->most) : NULL;
    return log->time != NULL && log->pressure != NULL && (log->power != NULL || !with_power);
}

bool log_trial_begin(struct log_fitting *fitting, bool with_power)
{
    if (!make_room(&fitting->simulated, with_power) || !make_room(&fitting->thinned, with_power)) {
        return pd_error_memory(fitting->error);
    }
    return true;
}

static void free_rows(struct gauge_log *log)
{
    free(log->time);
    free(log->pressure);
    free(log->power);
}

void log_trial_end(struct log_fitting *fitting)
{
    free_rows(&fitting->simulated);
    free_rows(&fitting->thinned);
}

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

/* The gauge falls on after the row before a start, and fell before the row after a stop. */
static double fall_between_rows(const struct pd_log_fit *fit, enum pd_trait trait)
{
    double way = fit->logged[PD_TRAIT_HIGH] - fit->logged[PD_TRAIT_LOW];
    double fall = fit->logged[trait == PD_TRAIT_LOW ? PD_TRAIT_LOWER_FALL : PD_TRAIT_UPPER_FALL];

    return 0.3 * way * fit->interval / fall;
}

static double off_by_rows(const struct pd_log_fit *fit, enum pd_trait trait)
{
    double cycles = (double)fit->cycles;

    switch ((int)trait) {
    case PD_TRAIT_LOW:
    case PD_TRAIT_HIGH:
        return moment_off * fall_between_rows(fit, trait) / sqrt(cycles);
    case PD_TRAIT_PERIOD:
        // from the first start to the last
        return span_off * fit->interval / cycles;
    case PD_TRAIT_ON:
        return count_off * fit->interval / sqrt(cycles);
    default:
        return span_off * fit->interval / sqrt(cycles);
    }
}

void set_trait_off(struct pd_log_fit *fit)
{
    for (int i = 0; i < PD_TRAIT_COUNT; i++) {
        enum pd_trait trait = (enum pd_trait)i;
        double rows = fit->far_apart ? off_by_rows(fit, trait) : 0;
        if (pd_traits[i].kind == PD_KIND_PRESSURE) {
            fit->off[i] = hypot(hypot(gauge_off, fit->gauge_step / 2), rows);
        } else {
            double least = fit->far_apart ? rows : time_of_interval * fit->interval;
            fit->off[i] = time_share * fit->logged[i] + least + time_of_step(fit, trait);
        }
    }
}

double trait_distance(const struct pd_log_fit *fit, enum pd_trait trait, double simulated)
{
    double logged = fit->logged[trait], off = fit->off[trait];

    if (isnan(simulated)) {
        return missing;
    }
    if (pd_traits[trait].kind == PD_KIND_PRESSURE) {
        return (simulated - logged) / off;
    }
    // in units of what may be off while small; by the ratio when large
    return log((time_share * (simulated - logged) + off) / off) / time_share;
}

static struct trial trial_of(const struct log_fitting *fitting, const double at[LOG_SIZES])
{
    const struct bench *bench = fitting->bench;
    struct trial trial = bench->designed;

    *(fitting->fit->by_valve ? &trial.leak_by : &trial.leak) = exp(at[LOG_LEAK]);
    trial.strategy.start_pressure = at[LOG_START];
    trial.strategy.precharge = precharge_at(at[LOG_PRECHARGE]) - bench->atmosphere;
    return trial;
}

/* Every so many rows from one on. */
static void thin_out(const struct gauge_log *log, size_t from, size_t every, struct gauge_log *thin)
{
    thin->count = 0;
    for (size_t i = from; i < log->count; i += every, thin->count++) {
        thin->time[thin->count] = log->time[i];
        thin->pressure[thin->count] = log->pressure[i];
        if (log->power != NULL) {
            thin->power[thin->count] = log->power[i];
        }
    }
}

/* The mean over all the places in which a logger's rows can stand. */
static void stand_anywhere(struct log_fitting *fitting, double simulated[PD_TRAIT_COUNT])
{
    double sum[PD_TRAIT_COUNT] = {0}, shown[PD_TRAIT_COUNT];
    size_t count[PD_TRAIT_COUNT] = {0};

    for (size_t from = 0; from < STANDS; from++) {
        thin_out(&fitting->simulated, from, STANDS, &fitting->thinned);
        (void)log_traits(&fitting->thinned, &fitting->rows, shown);
        for (int i = 0; i < PD_TRAIT_COUNT; i++) {
            sum[i] += isnan(shown[i]) ? 0 : shown[i];
            count[i] += isnan(shown[i]) ? 0 : 1;
        }
    }
    for (int i = 0; i < PD_TRAIT_COUNT; i++) {
        simulated[i] = count[i] > STANDS / 2 ? sum[i] / (double)count[i] : (double)NAN;
    }
}

bool log_trial(struct log_fitting *fitting, const double at[LOG_SIZES],
               double simulated[PD_TRAIT_COUNT])
{
    const struct pd_log_fit *fit = fitting->fit;
    struct trial trial = trial_of(fitting, at);
    bool apart = fit->far_apart;
    double span = fmax(span_of_period * fit->logged[PD_TRAIT_PERIOD], span_least);
    double interval = fmax(fit->interval / (apart ? STANDS : finer), span / ROWS_SIMULATED);

    if (!bench_set_supply(fitting->bench, at[LOG_SUPPLY], fitting->error) ||
        !bench_log(fitting->bench, &trial, interval, STARTS, span, &fitting->simulated,
                   fitting->error)) {
        return false;
    }
    if (apart) {
        stand_anywhere(fitting, simulated);
    } else {
        (void)log_traits(&fitting->simulated, &fitting->rows, simulated);
    }
    return true;
}
