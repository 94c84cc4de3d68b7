/* The fit of the suspects' sizes to what was seen. */
#include "studies/bench_team.h"
#include "studies/diagnose_parts.h"

#include <math.h>
#include <string.h>

/* A precharge that was gauged is looked for within so many times what its reading may be off. */
static const double gauged_within = 2.5;

/* A yes or no that was seen rules out what shows the other more than half of the way. */
static const double half_way = 0.5;

/* Two sizes are looked for on a grid, then by a simplex from its best place. */
enum { GRID_OF_TWO = 9, GRID_OF_GAUGED = 3 };
static const double first_step = 0.04;

double pd_leak_by_hand(const struct pd_tank *tank, double atmosphere, double low, double high,
                       double seconds)
{
    return pd_tank_drawdown(tank, low + atmosphere, high + atmosphere) / seconds;
}

/* One suspect while its sizes are looked for. */
struct fitting {
    struct bench *bench;
    const struct pd_seen *seen;
    bool wanted[PD_SIGN_COUNT];
    struct pd_suspect *suspect;
    struct size_range range[PD_PARTS_MOST];
    struct pd_error *error;
};

static void set_sizes(struct fitting *fitting, const double at[])
{
    for (size_t i = 0; i < PD_PARTS_MOST && i < fitting->suspect->parts; i++) {
        fitting->suspect->part[i].size = size_in_range(&fitting->range[i], at[i]);
    }
}

/* The value that is made least: the sum, so that a simplex ends when it is known well enough.  It
 * rises beyond the ends of the ranges. */
static bool try_sizes(void *context, const double at[], double *value)
{
    struct fitting *fitting = context;
    double reading[PD_SIGN_COUNT];
    double beyond = 0;
    size_t told;

    for (size_t i = 0; i < PD_PARTS_MOST && i < fitting->suspect->parts; i++) {
        beyond += fmax(0, fmax(-at[i], at[i] - 1));
    }
    set_sizes(fitting, at);
    struct trial trial = suspect_trial(fitting->bench, fitting->suspect);
    if (!bench_read(fitting->bench, &trial, fitting->wanted, reading, fitting->error)) {
        return false;
    }
    *value = signs_apart(fitting->seen, reading, &told) * (1 + beyond);
    return true;
}

static bool try_size(void *context, double at, double *value)
{
    const double only[PD_PARTS_MOST] = {at};

    return try_sizes(context, only, value);
}

static bool fit_two(struct fitting *fitting, double at[PD_PARTS_MOST])
{
    const double step[PD_PARTS_MOST] = {first_step, -first_step};
    int second = fitting->wanted[PD_SIGN_PRECHARGE] ? GRID_OF_GAUGED : GRID_OF_TWO;
    double least = INFINITY, value = 0;

    for (int i = 0; i < GRID_OF_TWO * second; i++) {
        int row = i / second, column = i % second;
        double place[PD_PARTS_MOST] = {(row + 0.5) / GRID_OF_TWO, (column + 0.5) / second};
        if (!try_sizes(fitting, place, &value)) {
            return false;
        }
        if (value < least) {
            least = value;
            memcpy(at, place, sizeof place);
        }
    }
    return least_near(try_sizes, fitting, PD_PARTS_MOST, step, at, &value);
}

/* A yes or no is not outweighed by how well the other readings fit. */
static enum pd_sign ruled_out_by(const struct pd_suspect *suspect, const struct pd_seen *seen)
{
    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        if (pd_signs[sign].kind == PD_KIND_CHOICE &&
            fabs(suspect->reading[sign] - seen->sign[sign]) > half_way) {
            return (enum pd_sign)sign;
        }
    }
    return PD_SIGN_COUNT;
}

/* All readings of a suspect, told or not. */
static bool read_all(struct fitting *fitting)
{
    struct pd_suspect *suspect = fitting->suspect;
    struct trial trial = suspect_trial(fitting->bench, suspect);
    bool wanted[PD_SIGN_COUNT];
    size_t told;

    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        wanted[sign] = true;
    }
    if (!bench_read(fitting->bench, &trial, wanted, suspect->reading, fitting->error)) {
        return false;
    }
    double sum = signs_apart(fitting->seen, suspect->reading, &told);
    suspect->misfit = sqrt(sum / (double)told);
    suspect->ruled_out_by = ruled_out_by(suspect, fitting->seen);
    return true;
}

/* The precharge of a pair needs not be looked for where it was gauged not to be.  A tank without
 * gas shows nothing, however little it acts as if it held. */
static bool narrow_to_gauged(const struct pd_seen *seen, struct size_range *range)
{
    double gauged = seen->sign[PD_SIGN_PRECHARGE];
    double off = pd_sign_off(PD_SIGN_PRECHARGE, gauged, seen->step[PD_SIGN_PRECHARGE]);

    range->least = gauged > off ? fmax(range->least, gauged - gauged_within * off) : range->least;
    range->most = fmin(range->most, gauged + gauged_within * off);
    return range->most > range->least;
}

static bool find_ranges(struct fitting *fitting)
{
    bool room = fitting->suspect->parts > 0;

    for (size_t i = 0; i < fitting->suspect->parts; i++) {
        room =
            suspect_range(fitting->bench, &fitting->suspect->part[i], &fitting->range[i]) && room;
    }
    if (room && fitting->suspect->parts == PD_PARTS_MOST && fitting->wanted[PD_SIGN_PRECHARGE]) {
        room = narrow_to_gauged(fitting->seen, &fitting->range[1]);
    }
    return room;
}

static bool fit_suspect(struct fitting *fitting)
{
    double at[PD_PARTS_MOST] = {0}, value = 0;

    if (find_ranges(fitting)) {
        bool good = fitting->suspect->parts == 1 ? least_between(try_size, fitting, &at[0], &value)
                                                 : fit_two(fitting, at);
        if (!good) {
            return false;
        }
        set_sizes(fitting, at);
    }
    return read_all(fitting);
}

/* By the gauges and the precharge as seen, else as the leak that was fitted and the design have
 * them. */
static double by_hand(const struct bench *bench, const struct pd_suspect *leak,
                      const struct pd_seen *seen)
{
    double low = seen->sign[PD_SIGN_START_GAUGE], high = seen->sign[PD_SIGN_STOP_GAUGE];
    double seconds = seen->sign[PD_SIGN_BETWEEN_STARTS];
    double gauged = seen->sign[PD_SIGN_PRECHARGE];
    double precharge = isnan(gauged) ? bench->designed.strategy.precharge : gauged;
    struct pd_tank tank = {
        .gas = PD_GAS_ISOTHERMAL,
        .volume = bench->designed.tank,
        .precharge = precharge + bench->atmosphere,
        .exponent = 1,
    };

    low = isnan(low) ? leak->reading[PD_SIGN_START_GAUGE] : low;
    high = isnan(high) ? leak->reading[PD_SIGN_STOP_GAUGE] : high;
    if (!(seconds < PD_SIGN_NEVER) || !(low < high)) {
        return NAN;
    }
    return pd_leak_by_hand(&tank, bench->atmosphere, low, high, seconds);
}

/* Whether the pump stays off at a draw, or with the gauge below where it should start.  Whoever
 * read something as it started saw it start. */
static bool never_starts(const struct bench *bench, const struct pd_suspect *designed,
                         const struct pd_seen *seen)
{
    const double *sign = seen->sign;
    double start = bench->designed.strategy.start_pressure;
    double least_below = pd_sign_off(PD_SIGN_STOP_GAUGE, start, NAN);
    bool stays_off = sign[PD_SIGN_BETWEEN_STARTS] >= PD_SIGN_NEVER;
    bool falls = sign[PD_SIGN_FALLS] > half_way || sign[PD_SIGN_FALLS_ISOLATED] > half_way;

    if (!isnan(sign[PD_SIGN_START_GAUGE]) || !isnan(sign[PD_SIGN_DRAWN]) ||
        sign[PD_SIGN_BETWEEN_STARTS] < PD_SIGN_NEVER) {
        return false;
    }
    if (sign[PD_SIGN_ON] <= 0 && designed->reading[PD_SIGN_ON] > 0) {
        return true;
    }
    return stays_off && ((falls && bench->supply < start - least_below) ||
                         sign[PD_SIGN_STOP_GAUGE] < start - least_below);
}

/* What the suspects share while they are fitted side by side. */
struct inquiry {
    const struct pd_seen *seen;
    struct pd_diagnosis *diagnosis;
};

static size_t count_told(const struct pd_seen *seen, bool wanted[PD_SIGN_COUNT])
{
    size_t told = 0;

    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        wanted[sign] = !isnan(seen->sign[sign]);
        told += wanted[sign];
    }
    return told;
}

/* Pairs take longest and come first. */
static bool fit_one(void *context, struct bench *bench, size_t number, struct pd_error *error)
{
    struct inquiry *inquiry = context;
    size_t kind = PD_SUSPECT_COUNT - 1 - number;
    struct fitting fitting = {.bench = bench, .seen = inquiry->seen, .error = error};

    (void)count_told(inquiry->seen, fitting.wanted);
    fitting.suspect = &inquiry->diagnosis->suspect[kind];
    *fitting.suspect = suspect_as_designed(bench, (enum pd_suspect_kind)kind);
    return fit_suspect(&fitting);
}

/* What is said beside the suspects, and their order. */
static void conclude(const struct bench *bench, const struct pd_seen *seen,
                     struct pd_diagnosis *diagnosis)
{
    diagnosis->strategy = bench->designed.strategy;
    diagnosis->supply = bench->supply;
    diagnosis->draw = bench->draw;
    diagnosis->leak_pressure = bench->scenario.value[PD_HOUSE_LEAK_PRESSURE];
    diagnosis->leak_by_hand = by_hand(bench, &diagnosis->suspect[PD_SUSPECT_LEAK], seen);
    diagnosis->never_starts = never_starts(bench, &diagnosis->suspect[PD_SUSPECT_NONE], seen);
    rank_suspects(diagnosis);
    find_apart(diagnosis, seen);
}

bool pd_diagnose(const struct pd_scenario *scenario, const struct pd_strategy_kind *kind,
                 const struct pd_seen *seen, const struct pd_day_options *day,
                 struct pd_diagnosis *diagnosis, struct pd_error *error)
{
    struct bench bench;
    bool wanted[PD_SIGN_COUNT];
    struct inquiry inquiry = {seen, diagnosis};
    const struct bench_work work = {
        .scenario = scenario,
        .kind = kind,
        .seen = seen,
        .day = day,
        .count = PD_SUSPECT_COUNT,
        .context = &inquiry,
        .make = fit_one,
    };

    memset(diagnosis, 0, sizeof *diagnosis);
    diagnosis->told = count_told(seen, wanted);
    if (diagnosis->told == 0) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL, "no reading to compare with");
    }
    bool good =
        bench_make(&bench, scenario, kind, seen, day, error) && bench_team_run(&work, error);
    if (good) {
        conclude(&bench, seen, diagnosis);
    }
    bench_free(&bench);
    return good;
}
