/* What a logged gauge shows, cycle by cycle. */
#include "studies/diagnose_parts.h"

#include <math.h>
#include <stdlib.h>

enum { CYCLES_MOST = 512, TURNS_MOST = 1024 };

/* A turn of the gauge counts once it has gone back by this share of the whole way, which must be
 * more than a gauge's noise. */
static const double turn_share = 0.5, way_least = 15e3;

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
