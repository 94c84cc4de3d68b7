/* A logged gauge: reading it, its traits, and the fit of precharge, leak and start pressure. */
#include "studies/diagnose_parts.h"

#include "base/memory.h"
#include "base/text.h"
#include "scenario/columns.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ROWS_MOST = 100000, SHOWN = 48, CYCLES_MOST = 512, TURNS_MOST = 1024 };
enum { COLUMN_TIME, COLUMN_PRESSURE, COLUMN_POWER, COLUMN_COUNT };

static const struct pd_column columns[COLUMN_COUNT] = {
    [COLUMN_TIME] = {"time", {PD_KIND_TIME, "h", 0, 168}, true, true},
    [COLUMN_PRESSURE] = {"pressure", {PD_KIND_PRESSURE, "bar", -1, 60}, false, true},
    [COLUMN_POWER] = {"power", {PD_KIND_POWER, "kW", -1, 500}, false, false},
};

const struct pd_sign_row pd_traits[PD_TRAIT_COUNT] = {
    [PD_TRAIT_LOW] = {"gauge before a rise", PD_KIND_PRESSURE, ""},
    [PD_TRAIT_HIGH] = {"gauge before a fall", PD_KIND_PRESSURE, ""},
    [PD_TRAIT_PERIOD] = {"from rise to rise", PD_KIND_TIME, ""},
    [PD_TRAIT_RISE] = {"rise, 20 % to 80 % of the way", PD_KIND_TIME, ""},
    [PD_TRAIT_UPPER_FALL] = {"fall, 80 % to 50 %", PD_KIND_TIME, ""},
    [PD_TRAIT_LOWER_FALL] = {"fall, 50 % to 20 %", PD_KIND_TIME, ""},
    [PD_TRAIT_ON] = {"power on", PD_KIND_TIME, ""},
};

/* What traits may be off: gauges; times by a share and by a part of the interval between rows. */
static const double gauge_off = 3e3, time_share = 0.03, time_of_interval = 0.1;

/* Gauges are averaged over this many intervals; rises shorter than so many tell too little,
 * and fitted ones so short cannot be what was seen. */
static const double window_of_interval = 2.5, rise_of_interval = 2, beat_of_interval = 0.5;

/* A turn of the gauge counts once it has gone back by this share of the whole way, which must be
 * more than a gauge's noise. */
static const double turn_share = 0.5, way_least = 15e3;

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

static bool in_order(const struct pd_log *log, const struct pd_heads *heads,
                     const struct pd_table *table, size_t row, struct pd_faults *faults)
{
    char now[SHOWN];

    if (row < 2 || log->time[row - 1] > log->time[row - 2]) {
        return true;
    }
    pd_text_show(now, sizeof now, pd_heads_text(heads, table, row, COLUMN_TIME));
    if (log->time[row - 1] >= log->time[row - 2]) {
        return pd_faults_add(faults, table->path, table->rows[row].line, "time",
                             "two rows of the same time \"%s\", expected one row for each; rows "
                             "within a second take time [s] with decimals",
                             now);
    }
    return pd_faults_add(faults, table->path, table->rows[row].line, "time",
                         "out of order, got \"%s\", expected rising times; a log over midnight "
                         "takes time [s]",
                         now);
}

static bool read_rows(struct pd_log *log, const struct pd_heads *heads, struct pd_table *table,
                      struct pd_faults *faults)
{
    bool good = !table->damaged;

    for (size_t row = 1; row <= log->count; row++) {
        size_t i = row - 1;
        bool fits = pd_heads_row_fits(table, row, faults);
        fits = pd_heads_number(heads, table, row, COLUMN_TIME, &log->time[i], faults) && fits;
        fits =
            pd_heads_number(heads, table, row, COLUMN_PRESSURE, &log->pressure[i], faults) && fits;
        if (log->power != NULL) {
            fits = pd_heads_number(heads, table, row, COLUMN_POWER, &log->power[i], faults) && fits;
        }
        good = good && fits;
        // the first fault of order makes all that follow doubtful
        if (good && !in_order(log, heads, table, row, faults)) {
            return false;
        }
    }
    return good;
}

static double *column_of(size_t count)
{
    return pd_memory_resize(NULL, (count > 0 ? count : 1) * sizeof(double));
}

static bool read_table(struct pd_log *log, struct pd_table *table, struct pd_faults *faults)
{
    struct pd_heads heads;

    if (!pd_heads_read(&heads, columns, COLUMN_COUNT, table, faults)) {
        return false;
    }
    log->count = table->row_count - 1;
    log->time = column_of(log->count);
    log->pressure = column_of(log->count);
    log->power = heads.found[COLUMN_POWER] ? column_of(log->count) : NULL;
    if (log->time == NULL || log->pressure == NULL ||
        (heads.found[COLUMN_POWER] && log->power == NULL)) {
        return pd_faults_add(faults, table->path, 0, NULL, "memory ran out");
    }
    if (log->count < 2) {
        return pd_faults_add(faults, table->path, 0, NULL,
                             "fewer than two rows below the column heads, expected a logged gauge");
    }
    return read_rows(log, &heads, table, faults);
}

bool pd_log_read(const char *file, struct pd_log *log, struct pd_faults *faults)
{
    struct pd_table table = {.row_count = 0};

    memset(log, 0, sizeof *log);
    if (!pd_path_join(table.path, file, NULL)) {
        return pd_faults_add(faults, NULL, 0, "log", "the path is too long");
    }
    (void)snprintf(log->file, sizeof log->file, "%s", table.path);
    bool good = pd_table_read(&table, ROWS_MOST, faults) && read_table(log, &table, faults);
    pd_table_free(&table);
    if (!good) {
        pd_log_free(log);
    }
    return good;
}

void pd_log_free(struct pd_log *log)
{
    free(log->time);
    free(log->pressure);
    free(log->power);
    log->time = log->pressure = log->power = NULL;
    log->count = 0;
}

/* Turns of the gauge: lows and highs by turns. */
struct turns {
    size_t count;
    size_t at[TURNS_MOST];
    bool first_is_low;
};

static bool find_way(const struct gauge_log *log, double *way)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < log->count; i++) {
        low = fmin(low, log->pressure[i]);
        high = fmax(high, log->pressure[i]);
    }
    *way = high - low;
    return *way >= way_least;
}

static void add_turn(struct turns *turns, size_t at, bool is_low)
{
    if (turns->count == 0) {
        turns->first_is_low = is_low;
    }
    turns->at[turns->count++] = at;
}

/* A turn is known once the gauge has gone back far enough; the row farthest out is the turn. */
static void find_turns(const struct gauge_log *log, double far, struct turns *turns)
{
    const double *p = log->pressure;
    size_t low = 0, high = 0;
    int going = 0; // up, down, or not known yet

    turns->count = 0;
    for (size_t i = 1; i < log->count && turns->count < TURNS_MOST; i++) {
        low = p[i] < p[low] ? i : low;
        high = p[i] > p[high] ? i : high;
        if (going <= 0 && p[i] > p[low] + far) {
            add_turn(turns, low, true);
            going = 1;
            high = i;
        } else if (going >= 0 && p[i] < p[high] - far) {
            add_turn(turns, high, false);
            going = -1;
            low = i;
        }
    }
}

/* Mean gauge from a time before a row to a time behind it. */
static double mean_gauge(const struct gauge_log *log, size_t at, double before, double behind)
{
    double sum = 0;
    size_t count = 0, first = at, last = at;

    while (first > 0 && log->time[at] - log->time[first - 1] <= before) {
        first--;
    }
    while (last + 1 < log->count && log->time[last + 1] - log->time[at] <= behind) {
        last++;
    }
    for (size_t i = first; i <= last; i++, count++) {
        sum += log->pressure[i];
    }
    return sum / (double)count;
}

/* When the gauge last passes a level between two rows, from one side to the other. */
static double passes(const struct gauge_log *log, size_t from, size_t to, double level)
{
    bool rises = log->pressure[to] > log->pressure[from];

    for (size_t i = to; i > from; i--) {
        double before = log->pressure[i - 1], after = log->pressure[i];
        bool passed = rises ? before < level && after >= level : before > level && after <= level;
        if (passed) {
            return log->time[i - 1] +
                   (log->time[i] - log->time[i - 1]) * (level - before) / (after - before);
        }
    }
    return NAN;
}

static int compare_numbers(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;

    return a < b ? -1 : a > b;
}

/* The middle value: a tap opened while the gauge was logged spoils its own cycle only. */
static double middle(double *values, size_t count)
{
    if (count == 0) {
        return NAN;
    }
    qsort(values, count, sizeof *values, compare_numbers);
    return (values[(count - 1) / 2] + values[count / 2]) / 2;
}

/* A trait of every cycle. */
struct gathered {
    size_t count;
    double value[CYCLES_MOST];
};

static void gather(struct gathered *gathered, double value)
{
    if (!isnan(value) && gathered->count < CYCLES_MOST) {
        gathered->value[gathered->count++] = value;
    }
}

/* Spans with the power over the middle of its range. */
static double power_on(const struct gauge_log *log)
{
    struct gathered spans = {.count = 0};
    double least = INFINITY, most = -INFINITY, since = NAN;

    for (size_t i = 0; log->power != NULL && i < log->count; i++) {
        least = fmin(least, log->power[i]);
        most = fmax(most, log->power[i]);
    }
    for (size_t i = 1; log->power != NULL && i < log->count; i++) {
        bool was = log->power[i - 1] > (least + most) / 2, is = log->power[i] > (least + most) / 2;
        if (is && !was) {
            since = log->time[i];
        } else if (was && !is) {
            gather(&spans, log->time[i] - since);
        }
    }
    return middle(spans.value, spans.count);
}

/* What one rise or one fall tells; the levels are of the whole log. */
static void gather_way(const struct gauge_log *log, size_t from, size_t to, double low, double way,
                       struct gathered gathered[PD_TRAIT_COUNT], double *last_rise)
{
    double fifth = passes(log, from, to, low + 0.2 * way);
    double half = passes(log, from, to, low + 0.5 * way);
    double four = passes(log, from, to, low + 0.8 * way);

    if (log->pressure[to] > log->pressure[from]) {
        gather(&gathered[PD_TRAIT_RISE], four - fifth);
        gather(&gathered[PD_TRAIT_PERIOD], half - *last_rise);
        *last_rise = half;
    } else {
        gather(&gathered[PD_TRAIT_UPPER_FALL], half - four);
        gather(&gathered[PD_TRAIT_LOWER_FALL], fifth - half);
    }
}

static void gather_gauges(const struct gauge_log *log, const struct turns *turns, double window,
                          struct gathered gathered[PD_TRAIT_COUNT])
{
    for (size_t i = 0; i < turns->count; i++) {
        bool low = turns->first_is_low == (i % 2 == 0);
        // before a low the gauge falls slowly; behind it the pump lifts it at once
        gather(&gathered[low ? PD_TRAIT_LOW : PD_TRAIT_HIGH],
               mean_gauge(log, turns->at[i], low ? window : window / 2, low ? 0 : window / 2));
    }
}

size_t log_traits(const struct gauge_log *log, double window, double trait[PD_TRAIT_COUNT])
{
    static const struct gathered none;
    struct gathered gathered[PD_TRAIT_COUNT];
    struct turns turns = {.count = 0};
    double way = 0, last_rise = NAN;

    for (int i = 0; i < PD_TRAIT_COUNT; i++) {
        gathered[i] = none;
        trait[i] = NAN;
    }
    if (log->count < 2 || !find_way(log, &way)) {
        return 0;
    }
    find_turns(log, turn_share * way, &turns);
    gather_gauges(log, &turns, window, gathered);
    trait[PD_TRAIT_LOW] = middle(gathered[PD_TRAIT_LOW].value, gathered[PD_TRAIT_LOW].count);
    trait[PD_TRAIT_HIGH] = middle(gathered[PD_TRAIT_HIGH].value, gathered[PD_TRAIT_HIGH].count);
    way = trait[PD_TRAIT_HIGH] - trait[PD_TRAIT_LOW];
    for (size_t i = 1; i < turns.count; i++) {
        gather_way(log, turns.at[i - 1], turns.at[i], trait[PD_TRAIT_LOW], way, gathered,
                   &last_rise);
    }
    for (int i = PD_TRAIT_PERIOD; i < PD_TRAIT_ON; i++) {
        trait[i] = middle(gathered[i].value, gathered[i].count);
    }
    trait[PD_TRAIT_ON] = power_on(log);
    return gathered[PD_TRAIT_PERIOD].count;
}

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

static bool make_room(struct gauge_log *log, bool with_power, struct pd_error *error)
{
    log->most = ROWS_SIMULATED;
    log->time = column_of(log->most);
    log->pressure = column_of(log->most);
    log->power = with_power ? column_of(log->most) : NULL;
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
