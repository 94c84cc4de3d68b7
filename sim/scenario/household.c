/* Draws days of a household.  Each use has a stream of its own for each day, so that a use more or
 * less leaves the draws of the others as they are. */
#include <pumpday/household.h>

#include "base/memory.h"
#include "scenario/random.h"

#include <pumpday/units.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double day_seconds = 86400.0;

// draws are drawn in the units of demand.csv, to these steps: a file then holds them exactly
static const double times_per_second = 10;
static const double duration_step = 0.1; // s
static const double flow_step = 0.01;    // L/min
static const double volume_step = 0.01;  // L

enum { DAYS_IN_WEEK = 7, DAYS_IN_YEAR = 365, WEEKDAYS_IN_YEAR = 261 };

/* Streams behind those of the uses. */
enum { STREAM_AWAY = PD_USES_MOST, STREAM_HOLIDAY };

/* A day while it is drawn. */
struct drawing {
    struct pd_draws *draws;
    const struct pd_unit *litres_a_minute, *litres;
    struct random_stream stream;
    bool full, no_memory;
};

bool pd_day_is_weekend(long day)
{
    return (day - 1) % 7 >= 5;
}

const char *pd_day_kind_name(enum pd_day_kind kind)
{
    static const char *const names[PD_DAY_KIND_COUNT] = {
        [PD_DAY_WEEKDAY] = "weekday",
        [PD_DAY_WEEKEND] = "weekend",
        [PD_DAY_HOLIDAY] = "holiday",
        [PD_DAY_AWAY] = "away",
    };

    return names[kind];
}

/* Whether a day of a year, from 0, falls into its absence, which begins after the first week. */
static bool is_away(const struct pd_calendar *calendar, uint64_t seed, long year, long day)
{
    struct random_stream stream = random_stream_for(seed, (uint64_t)year, STREAM_AWAY);
    long length = lround(calendar->away);
    long room = DAYS_IN_YEAR - DAYS_IN_WEEK - length;
    long first = DAYS_IN_WEEK + (long)(random_uniform(&stream) * (double)room);

    return day >= first && day < first + length;
}

static bool is_holiday(const struct pd_calendar *calendar, uint64_t seed, long day)
{
    struct random_stream stream = random_stream_for(seed, (uint64_t)day, STREAM_HOLIDAY);

    return day > 1 && random_uniform(&stream) * WEEKDAYS_IN_YEAR < calendar->holidays;
}

enum pd_day_kind pd_day_kind_of(const struct pd_calendar *calendar, uint64_t seed, long day)
{
    if (calendar != NULL &&
        is_away(calendar, seed, (day - 1) / DAYS_IN_YEAR, (day - 1) % DAYS_IN_YEAR)) {
        return PD_DAY_AWAY;
    }
    if (pd_day_is_weekend(day)) {
        return PD_DAY_WEEKEND;
    }
    return calendar != NULL && is_holiday(calendar, seed, day) ? PD_DAY_HOLIDAY : PD_DAY_WEEKDAY;
}

/* To a step, and one step at the least. */
static double rounded(double value, double step)
{
    double per = round(1.0 / step);

    return fmax(round(value * per), 1.0) / per;
}

static bool grow(struct drawing *drawing)
{
    struct pd_draws *draws = drawing->draws;
    size_t room = draws->room > 0 ? 2 * draws->room : 64;

    if (draws->count < draws->room) {
        return true;
    }
    drawing->full = draws->count >= PD_DRAWS_MOST;
    if (drawing->full) {
        return false;
    }
    struct pd_draw *grown = pd_memory_resize(draws->draw, room * sizeof *grown);
    drawing->no_memory = grown == NULL;
    if (grown != NULL) {
        draws->draw = grown;
        draws->room = room;
    }
    return grown != NULL;
}

static double about_one(struct drawing *drawing, enum pd_law law, double spread)
{
    return law == PD_LAW_GAMMA ? random_gamma(&drawing->stream, spread)
                               : random_lognormal(&drawing->stream, spread);
}

/* Adds a draw of a use at a time; *time becomes that of its end.  False if it cannot be kept. */
static bool add_draw(struct drawing *drawing, const struct pd_use *use, double *time)
{
    bool timed = isnan(use->volume);
    double flow = pd_unit_from_si(drawing->litres_a_minute, use->flow) *
                  about_one(drawing, use->law, use->flow_spread);
    double size = (timed ? use->duration : pd_unit_from_si(drawing->litres, use->volume)) *
                  about_one(drawing, use->law, use->spread);

    if (!grow(drawing)) {
        return false;
    }
    // what was begun before midnight goes on after the midnight before: the day repeats itself
    double begin = floor(fmod(*time, day_seconds) * times_per_second) / times_per_second;
    struct pd_draw *draw = &drawing->draws->draw[drawing->draws->count++];
    flow = rounded(flow, flow_step);
    *draw = (struct pd_draw){
        .time = begin,
        .flow = pd_unit_to_si(drawing->litres_a_minute, flow),
        .duration = timed ? fmin(rounded(size, duration_step), day_seconds) : (double)NAN,
        .volume = timed ? (double)NAN : pd_unit_to_si(drawing->litres, rounded(size, volume_step)),
    };
    memcpy(draw->fixture, use->name, sizeof draw->fixture);
    *time += timed ? draw->duration : draw->volume / draw->flow;
    return true;
}

static bool add_cluster(struct drawing *drawing, const struct pd_use *use, double time)
{
    int count = random_geometric(&drawing->stream, use->cluster);

    for (int i = 0; i < count; i++) {
        if (i > 0) {
            time += use->gap * random_exponential(&drawing->stream);
        }
        if (!add_draw(drawing, use, &time)) {
            return false;
        }
    }
    return true;
}

/* The time of day up to which this share of a use's clusters begins. */
static double time_of_share(const struct pd_use *use, double share)
{
    for (int hour = 0; hour < PD_USE_HOURS; hour++) {
        if (share < use->hours[hour]) {
            return 3600.0 * (hour + share / use->hours[hour]);
        }
        share -= use->hours[hour];
    }
    return day_seconds; // what rounding left
}

/* Poisson arrivals: in the share of the day's clusters that has passed they come at an even rate.
 */
static bool add_use(struct drawing *drawing, const struct pd_use *use, bool weekend)
{
    double factor = random_gamma(&drawing->stream, use->day_spread);
    double clusters =
        use->draws_per_day * (weekend ? use->weekend : use->weekday) * factor / use->cluster;

    if (!(clusters > 0)) {
        return true;
    }
    double share = random_exponential(&drawing->stream) / clusters;
    while (share < 1.0) {
        if (!add_cluster(drawing, use, time_of_share(use, share))) {
            return false;
        }
        share += random_exponential(&drawing->stream) / clusters;
    }
    return true;
}

static int by_time(const void *left, const void *right)
{
    const struct pd_draw *a = left, *b = right;

    if (a->time != b->time) {
        return a->time < b->time ? -1 : 1;
    }
    // two of one instant: a day's order must not hang on the sort
    int name = strcmp(a->fixture, b->fixture);
    return name != 0 ? name : (a->flow > b->flow) - (a->flow < b->flow);
}

bool pd_household_day(const struct pd_use *uses, size_t count, const struct pd_calendar *calendar,
                      uint64_t seed, long day, struct pd_draws *draws, struct pd_error *error)
{
    struct drawing drawing = {
        .draws = draws,
        .litres_a_minute = pd_unit_find(PD_KIND_FLOW, "L/min"),
        .litres = pd_unit_find(PD_KIND_VOLUME, "L"),
    };

    enum pd_day_kind kind = pd_day_kind_of(calendar, seed, day);

    draws->count = 0;
    for (size_t i = 0; kind != PD_DAY_AWAY && i < count; i++) {
        drawing.stream = random_stream_for(seed, (uint64_t)day, (uint32_t)i);
        if (!add_use(&drawing, &uses[i], kind != PD_DAY_WEEKDAY)) {
            return drawing.full
                       ? pd_error_set(error, PD_BAD_INPUT, NULL, 0, "draws_per_day",
                                      "day %ld has more than %d draws", day, (int)PD_DRAWS_MOST)
                       : pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL,
                                      "no memory for the draws of a day");
        }
    }
    if (draws->count > 0) {
        qsort(draws->draw, draws->count, sizeof *draws->draw, by_time);
    }
    return true;
}

void pd_draws_free(struct pd_draws *draws)
{
    free(draws->draw);
    *draws = (struct pd_draws){0};
}

double pd_use_volume(const struct pd_use *use)
{
    double each = isnan(use->volume) ? use->flow * use->duration : use->volume;

    return use->draws_per_day * each;
}
