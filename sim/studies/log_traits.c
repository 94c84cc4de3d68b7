/* What a logged gauge shows, cycle by cycle. */
#include "studies/log_parts.h"

#include <math.h>
#include <stdlib.h>

enum { CYCLES_MOST = 512, TURNS_MOST = 1024 };

/* A turn of the gauge counts once it has gone back by this share of the whole way, which must be
 * more than a gauge's noise. */
static const double turn_share = 0.5, way_least = 15e3;

/* Between a pump's rest and its run the power differs by more, W. */
static const double power_least = 20;

/* Of rows far apart, what is near the middle one: gauges by a share of their way, times likewise
 * and by the time between two rows. */
static const double near_share = 0.25;

const struct pd_sign_row pd_traits[PD_TRAIT_COUNT] = {
    [PD_TRAIT_LOW] = {"gauge before a rise", PD_KIND_PRESSURE, ""},
    [PD_TRAIT_HIGH] = {"gauge before a fall", PD_KIND_PRESSURE, ""},
    [PD_TRAIT_PERIOD] = {"from rise to rise", PD_KIND_TIME, ""},
    [PD_TRAIT_RISE] = {"rise, 20 % to 80 % of the way", PD_KIND_TIME, ""},
    [PD_TRAIT_UPPER_FALL] = {"fall, 80 % to 50 %", PD_KIND_TIME, ""},
    [PD_TRAIT_LOWER_FALL] = {"fall, 50 % to 20 %", PD_KIND_TIME, ""},
    [PD_TRAIT_ON] = {"power on", PD_KIND_TIME, ""},
};

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

/* Mean gauge of a low: from a time before the row on. */
static double mean_of_low(const struct gauge_log *log, size_t at, double window)
{
    double sum = log->pressure[at];
    size_t first = at;

    while (first > 0 && log->time[at] - log->time[first - 1] <= window) {
        first--;
        sum += log->pressure[first];
    }
    return sum / (double)(at - first + 1);
}

/* Mean gauge of a high: of the rows behind it within a time, for the highest of many rows is the
 * one that noise lifts most; its own where none is so near. */
static double mean_of_high(const struct gauge_log *log, size_t at, double window)
{
    double sum = 0;
    size_t last = at;

    while (last + 1 < log->count && log->time[last + 1] - log->time[at] <= window) {
        last++;
        sum += log->pressure[last];
    }
    return last > at ? sum / (double)(last - at) : log->pressure[at];
}

/* When the gauge passes a level from one row to the next, the way it goes on the whole; NAN if it
 * does not. */
static double passes_here(const struct gauge_log *log, size_t row, bool rises, double level)
{
    double before = log->pressure[row], after = log->pressure[row + 1];
    bool passed = rises ? before < level && after >= level : before > level && after <= level;

    return passed ? log->time[row] +
                        (log->time[row + 1] - log->time[row]) * (level - before) / (after - before)
                  : (double)NAN;
}

/* When the gauge passes a level between two rows: noise takes it over the level and back, and the
 * middle of the first time and the last is neither early nor late. */
static double passes(const struct gauge_log *log, size_t from, size_t to, double level)
{
    bool rises = log->pressure[to] > log->pressure[from];
    double first = NAN, last = NAN;

    for (size_t i = from; i < to && isnan(first); i++) {
        first = passes_here(log, i, rises, level);
    }
    for (size_t i = to; i > from && isnan(last); i--) {
        last = passes_here(log, i - 1, rises, level);
    }
    return (first + last) / 2;
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

/* Values of rows far apart differ by chance: those near the middle one are averaged. */
static double typical(double *values, size_t count, double near)
{
    double centre = middle(values, count), sum = 0;
    size_t taken = 0;

    for (size_t i = 0; i < count; i++) {
        if (fabs(values[i] - centre) <= near) {
            sum += values[i];
            taken++;
        }
    }
    return taken > 0 ? sum / (double)taken : centre;
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

/* What is taken for the trait of a log; way: Pa between its lows and highs. */
static double settle(struct gathered *gathered, enum pd_trait trait, const struct log_rows *rows,
                     double way)
{
    double centre = middle(gathered->value, gathered->count);
    bool gauge = pd_traits[trait].kind == PD_KIND_PRESSURE;

    return rows->apart > 0 ? typical(gathered->value, gathered->count,
                                     gauge ? near_share * way : rows->apart + near_share * centre)
                           : centre;
}

/* A run by the rows with the power on between a low and the next. */
static double power_share(const struct gauge_log *log, const struct turns *turns,
                          const struct log_rows *read)
{
    struct gathered runs = {.count = 0};
    double least = INFINITY, most = -INFINITY;

    for (size_t i = 0; log->power != NULL && i < log->count; i++) {
        least = fmin(least, log->power[i]);
        most = fmax(most, log->power[i]);
    }
    for (size_t k = turns->first_is_low ? 0 : 1; k + 2 < turns->count; k += 2) {
        size_t rows = 0;
        for (size_t i = turns->at[k]; log->power != NULL && i < turns->at[k + 2]; i++) {
            rows += log->power[i] > (least + most) / 2;
        }
        gather(&runs, (double)rows * read->apart);
    }
    return most - least >= power_least ? settle(&runs, PD_TRAIT_ON, read, 0) : (double)NAN;
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
               low ? mean_of_low(log, turns->at[i], window)
                   : mean_of_high(log, turns->at[i], window));
    }
}

size_t log_traits(const struct gauge_log *log, const struct log_rows *rows,
                  double trait[PD_TRAIT_COUNT])
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
    gather_gauges(log, &turns, rows->window, gathered);
    trait[PD_TRAIT_LOW] = settle(&gathered[PD_TRAIT_LOW], PD_TRAIT_LOW, rows, way);
    trait[PD_TRAIT_HIGH] = settle(&gathered[PD_TRAIT_HIGH], PD_TRAIT_HIGH, rows, way);
    way = trait[PD_TRAIT_HIGH] - trait[PD_TRAIT_LOW];
    for (size_t i = 1; i < turns.count; i++) {
        gather_way(log, turns.at[i - 1], turns.at[i], trait[PD_TRAIT_LOW], way, gathered,
                   &last_rise);
    }
    for (int i = PD_TRAIT_PERIOD; i < PD_TRAIT_ON; i++) {
        trait[i] = settle(&gathered[i], (enum pd_trait)i, rows, way);
    }
    trait[PD_TRAIT_ON] = rows->apart > 0 ? power_share(log, &turns, rows) : power_on(log);
    return gathered[PD_TRAIT_PERIOD].count;
}
