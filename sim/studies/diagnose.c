/* Suspects, the fit of their sizes to what was seen, and their ranking. */
#include "studies/diagnose_parts.h"

#include <math.h>
#include <string.h>

/* What careful readings may be off; common practice, no source.  Times: a share, and a second of
 * the watch; volumes: a share, and what clings to the bucket; gauges: a needle's width; a fall is
 * called yes or no about half way. */
static const double time_share = 0.05, time_least = 1;
static const double volume_share = 0.1, volume_least = 0.2e-3;
static const double gauge_off = 10e3, fall_off = 0.15;

/* What is ruled out ranks behind any misfit. */
static const double ruled_out = 1e6;

/* What is seen and does not happen in a simulation counts as this far away. */
static const double missing = 40;

/* Two suspects so many units apart are told apart without doubt: the reading that is easiest to get
 * will do. */
static const double no_doubt = 6;

/* A yes or no that was seen rules out what shows the other more than half of the way. */
static const double half_way = 0.5;
static const enum pd_sign by_ease[PD_SIGN_COUNT] = {
    PD_SIGN_START_GAUGE, PD_SIGN_STOP_GAUGE,     PD_SIGN_FALLS, PD_SIGN_FALLS_ISOLATED,
    PD_SIGN_DRAWN,       PD_SIGN_BETWEEN_STARTS, PD_SIGN_ON,    PD_SIGN_OFF,
};

/* Where sizes are looked for: leaks and flows on a scale of ratios. */
static const double leak_least = 0.005e-3 / 60, leak_most = 30e-3 / 60;
static const double tank_least_share = 0.02;
static const double vacuum_share = 0.9; /* least precharge, of the atmosphere: hardly any gas */
static const double over_boosted = 1.2; /* highest precharge, of the boosted static pressure */
static const double flow_off_most = 20; /* start flow, times or parts of the designed */

const struct pd_sign_row pd_signs[PD_SIGN_COUNT] = {
    [PD_SIGN_BETWEEN_STARTS] = {"between_starts", PD_KIND_TIME,
                                "from start to start with all taps shut; never: not in 4 hours"},
    [PD_SIGN_ON] = {"on", PD_KIND_TIME, "a run while a tap gives draw; never: it does not come on"},
    [PD_SIGN_OFF] = {"off", PD_KIND_TIME, "a rest while a tap gives draw; never: it runs on"},
    [PD_SIGN_DRAWN] = {"drawn", PD_KIND_VOLUME,
                       "into a bucket, from a tap opened as the pump stopped until it starts"},
    [PD_SIGN_START_GAUGE] = {"start_gauge", PD_KIND_PRESSURE, "as the pump starts"},
    [PD_SIGN_STOP_GAUGE] = {"stop_gauge", PD_KIND_PRESSURE, "as it stops, all taps shut"},
    [PD_SIGN_FALLS] = {"falls", PD_KIND_CHOICE,
                       "pump switched off, all taps shut; yes: the gauge falls to the supply's in "
                       "an hour; no: it stands"},
    [PD_SIGN_FALLS_ISOLATED] = {"falls_isolated", PD_KIND_CHOICE,
                                "pump switched off, stop valve to the house shut; yes: the gauge "
                                "falls all the same; no: it "
                                "stands"},
};

static const char *const names[PD_SUSPECT_COUNT] = {
    [PD_SUSPECT_NONE] = "all as designed",
    [PD_SUSPECT_LEAK] = "leak in the house",
    [PD_SUSPECT_CHECK_VALVE] = "check valve passes",
    [PD_SUSPECT_PRECHARGE_LOW] = "precharge low or lost",
    [PD_SUSPECT_PRECHARGE_HIGH] = "precharge too high",
    [PD_SUSPECT_START_OFF] = "start setting off",
    [PD_SUSPECT_TANK_SMALL] = "tank too small",
};

const char *pd_suspect_name(enum pd_suspect_kind kind)
{
    return names[kind];
}

struct pd_seen pd_seen_nothing(void)
{
    struct pd_seen seen = {.draw = NAN, .supply = NAN};

    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        seen.sign[sign] = NAN;
    }
    return seen;
}

/* In units of share * seen + least while small; by the ratio when large. */
static double relative_distance(double simulated, double seen, double share, double least)
{
    return log((share * simulated + least) / (share * seen + least)) / share;
}

double pd_sign_distance(enum pd_sign sign, double simulated, double seen)
{
    if (isnan(simulated)) {
        return missing;
    }
    if (pd_signs[sign].kind == PD_KIND_TIME) {
        return relative_distance(simulated, seen, time_share, time_least);
    }
    if (pd_signs[sign].kind == PD_KIND_VOLUME) {
        return relative_distance(simulated, seen, volume_share, volume_least);
    }
    return (simulated - seen) / (pd_signs[sign].kind == PD_KIND_PRESSURE ? gauge_off : fall_off);
}

double pd_leak_by_hand(const struct pd_tank *tank, double atmosphere, double low, double high,
                       double seconds)
{
    return pd_tank_drawdown(tank, low + atmosphere, high + atmosphere) / seconds;
}

/* One suspect while its size is looked for. */
struct fitting {
    struct bench *bench;
    const struct pd_seen *seen;
    bool wanted[PD_SIGN_COUNT];
    enum pd_suspect_kind kind;
    double least, most;
    bool by_ratio;
    struct pd_error *error;
};

static double size_at(const struct fitting *fitting, double at)
{
    if (fitting->by_ratio) {
        return fitting->least * pow(fitting->most / fitting->least, at);
    }
    return fitting->least + at * (fitting->most - fitting->least);
}

static bool starts_by_flow(const struct bench *bench)
{
    return isnan(bench->designed.strategy.start_pressure);
}

static double designed_size(const struct bench *bench, enum pd_suspect_kind kind)
{
    const struct trial *designed = &bench->designed;

    switch (kind) {
    case PD_SUSPECT_LEAK:
        return designed->leak;
    case PD_SUSPECT_CHECK_VALVE:
        return designed->leak_by;
    case PD_SUSPECT_PRECHARGE_LOW:
    case PD_SUSPECT_PRECHARGE_HIGH:
        return designed->strategy.precharge;
    case PD_SUSPECT_START_OFF:
        return starts_by_flow(bench) ? designed->strategy.start_flow
                                     : designed->strategy.start_pressure;
    case PD_SUSPECT_TANK_SMALL:
        return designed->tank;
    case PD_SUSPECT_NONE:
    case PD_SUSPECT_COUNT:
        break;
    }
    return NAN;
}

static enum pd_kind size_kind(const struct bench *bench, enum pd_suspect_kind kind)
{
    switch (kind) {
    case PD_SUSPECT_LEAK:
    case PD_SUSPECT_CHECK_VALVE:
        return PD_KIND_FLOW;
    case PD_SUSPECT_PRECHARGE_LOW:
    case PD_SUSPECT_PRECHARGE_HIGH:
        return PD_KIND_PRESSURE;
    case PD_SUSPECT_START_OFF:
        return starts_by_flow(bench) ? PD_KIND_FLOW : PD_KIND_PRESSURE;
    case PD_SUSPECT_TANK_SMALL:
        return PD_KIND_VOLUME;
    case PD_SUSPECT_NONE:
    case PD_SUSPECT_COUNT:
        break;
    }
    return PD_KIND_TEXT;
}

static struct trial trial_of(const struct bench *bench, enum pd_suspect_kind kind, double size)
{
    struct trial trial = bench->designed;

    switch (kind) {
    case PD_SUSPECT_LEAK:
        trial.leak = size;
        break;
    case PD_SUSPECT_CHECK_VALVE:
        trial.leak_by = size;
        break;
    case PD_SUSPECT_PRECHARGE_LOW:
    case PD_SUSPECT_PRECHARGE_HIGH:
        trial.strategy.precharge = size;
        break;
    case PD_SUSPECT_START_OFF:
        *(starts_by_flow(bench) ? &trial.strategy.start_flow : &trial.strategy.start_pressure) =
            size;
        break;
    case PD_SUSPECT_TANK_SMALL:
        trial.tank = size;
        break;
    case PD_SUSPECT_NONE:
    case PD_SUSPECT_COUNT:
        break;
    }
    return trial;
}

/* Where a size is looked for; false if there is no room for it. */
static bool set_range(struct fitting *fitting)
{
    const struct bench *bench = fitting->bench;
    double boosted = bench->supply + bench->shutoff;
    double designed = designed_size(bench, fitting->kind);

    fitting->by_ratio = size_kind(bench, fitting->kind) != PD_KIND_PRESSURE;
    switch (fitting->kind) {
    case PD_SUSPECT_LEAK:
    case PD_SUSPECT_CHECK_VALVE:
        // a leak that was designed only gets larger
        fitting->least = fmax(leak_least, designed);
        fitting->most = leak_most;
        break;
    case PD_SUSPECT_PRECHARGE_LOW:
        fitting->least = -vacuum_share * bench->atmosphere;
        fitting->most = designed;
        break;
    case PD_SUSPECT_PRECHARGE_HIGH:
        fitting->least = designed;
        fitting->most = over_boosted * boosted;
        break;
    case PD_SUSPECT_START_OFF:
        fitting->least = starts_by_flow(bench) ? designed / flow_off_most : fmin(bench->supply, 0);
        fitting->most = starts_by_flow(bench) ? designed * flow_off_most : boosted;
        break;
    case PD_SUSPECT_TANK_SMALL:
        fitting->least = tank_least_share * designed;
        fitting->most = designed;
        break;
    case PD_SUSPECT_NONE:
    case PD_SUSPECT_COUNT:
        return false;
    }
    return fitting->most > fitting->least;
}

static double misfit_of(const struct pd_seen *seen, const double reading[PD_SIGN_COUNT])
{
    double sum = 0;
    size_t count = 0;

    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        if (!isnan(seen->sign[sign])) {
            double distance = pd_sign_distance((enum pd_sign)sign, reading[sign], seen->sign[sign]);
            sum += distance * distance;
            count++;
        }
    }
    return sqrt(sum / (double)count);
}

static bool try_size(void *context, double at, double *value)
{
    const struct fitting *fitting = context;
    struct trial trial = trial_of(fitting->bench, fitting->kind, size_at(fitting, at));
    double reading[PD_SIGN_COUNT];

    if (!bench_read(fitting->bench, &trial, fitting->wanted, reading, fitting->error)) {
        return false;
    }
    *value = misfit_of(fitting->seen, reading);
    return true;
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
static bool read_all(struct bench *bench, struct pd_suspect *suspect, const struct pd_seen *seen,
                     struct pd_error *error)
{
    struct trial trial = trial_of(bench, suspect->kind, suspect->size);
    bool wanted[PD_SIGN_COUNT];

    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        wanted[sign] = true;
    }
    if (!bench_read(bench, &trial, wanted, suspect->reading, error)) {
        return false;
    }
    suspect->misfit = misfit_of(seen, suspect->reading);
    suspect->ruled_out_by = ruled_out_by(suspect, seen);
    return true;
}

static bool fit_suspect(struct fitting *fitting, struct pd_suspect *suspect)
{
    double at = 0, value = 0;

    *suspect = (struct pd_suspect){
        .kind = fitting->kind,
        .size_kind = size_kind(fitting->bench, fitting->kind),
        .size = designed_size(fitting->bench, fitting->kind),
        .designed = designed_size(fitting->bench, fitting->kind),
    };
    if (set_range(fitting)) {
        if (!least_between(try_size, fitting, &at, &value)) {
            return false;
        }
        suspect->size = size_at(fitting, at);
    }
    return read_all(fitting->bench, suspect, fitting->seen, fitting->error);
}

/* Misfits that show the same figure are the same; then the order of the kinds decides.  A system as
 * designed that explains what was seen needs no fault. */
static double rank_of(const struct pd_suspect *suspect)
{
    if (suspect->ruled_out_by != PD_SIGN_COUNT) {
        return ruled_out + suspect->misfit;
    }
    if (suspect->kind == PD_SUSPECT_NONE && suspect->misfit <= 1) {
        return -1;
    }
    return round(suspect->misfit * 10) + 0.01 * suspect->kind;
}

static void rank(struct pd_diagnosis *diagnosis)
{
    struct pd_suspect *suspect = diagnosis->suspect;

    for (size_t i = 1; i < PD_SUSPECT_COUNT; i++) {
        for (size_t j = i; j > 0 && rank_of(&suspect[j]) < rank_of(&suspect[j - 1]); j--) {
            struct pd_suspect kept = suspect[j];
            suspect[j] = suspect[j - 1];
            suspect[j - 1] = kept;
        }
    }
    diagnosis->alike = 1;
    while (diagnosis->alike < PD_SUSPECT_COUNT &&
           suspect[diagnosis->alike].ruled_out_by == suspect[0].ruled_out_by &&
           suspect[diagnosis->alike].misfit < suspect[0].misfit + PD_ALIKE) {
        diagnosis->alike++;
    }
}

/* Among the readings not told that both show, the one that differs most between the first two. */
static void find_apart(struct pd_diagnosis *diagnosis, const struct pd_seen *seen)
{
    const struct pd_suspect *first = &diagnosis->suspect[0], *second = first + 1;

    diagnosis->apart_by = 0;
    diagnosis->apart = PD_SIGN_COUNT;
    for (int i = 0; i < PD_SIGN_COUNT; i++) {
        enum pd_sign sign = by_ease[i];
        double a = first->reading[sign], b = second->reading[sign];
        if (!isnan(seen->sign[sign]) || isnan(a) || isnan(b)) {
            continue;
        }
        double by = fmin(fabs(pd_sign_distance(sign, a, b)), no_doubt);
        if (by > diagnosis->apart_by) {
            diagnosis->apart_by = by;
            diagnosis->apart = sign;
        }
    }
}

/* By the gauges as seen, else as the leak that was fitted shows them. */
static double by_hand(const struct bench *bench, const struct pd_suspect *leak,
                      const struct pd_seen *seen)
{
    double low = seen->sign[PD_SIGN_START_GAUGE], high = seen->sign[PD_SIGN_STOP_GAUGE];
    double seconds = seen->sign[PD_SIGN_BETWEEN_STARTS];
    struct pd_tank tank = {
        .gas = PD_GAS_ISOTHERMAL,
        .volume = bench->designed.tank,
        .precharge = bench->designed.strategy.precharge + bench->atmosphere,
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
    bool stays_off = sign[PD_SIGN_BETWEEN_STARTS] >= PD_SIGN_NEVER;
    bool falls = sign[PD_SIGN_FALLS] > half_way || sign[PD_SIGN_FALLS_ISOLATED] > half_way;

    if (!isnan(sign[PD_SIGN_START_GAUGE]) || !isnan(sign[PD_SIGN_DRAWN]) ||
        sign[PD_SIGN_BETWEEN_STARTS] < PD_SIGN_NEVER) {
        return false;
    }
    if (sign[PD_SIGN_ON] <= 0 && designed->reading[PD_SIGN_ON] > 0) {
        return true;
    }
    return stays_off && ((falls && bench->supply < start - gauge_off) ||
                         sign[PD_SIGN_STOP_GAUGE] < start - gauge_off);
}

static bool fit_all(struct fitting *fitting, struct pd_diagnosis *diagnosis)
{
    for (int kind = 0; kind < PD_SUSPECT_COUNT; kind++) {
        fitting->kind = (enum pd_suspect_kind)kind;
        if (!fit_suspect(fitting, &diagnosis->suspect[kind])) {
            return false;
        }
    }
    diagnosis->leak_by_hand =
        by_hand(fitting->bench, &diagnosis->suspect[PD_SUSPECT_LEAK], fitting->seen);
    diagnosis->never_starts =
        never_starts(fitting->bench, &diagnosis->suspect[PD_SUSPECT_NONE], fitting->seen);
    rank(diagnosis);
    find_apart(diagnosis, fitting->seen);
    return true;
}

static bool told_something(struct fitting *fitting)
{
    bool any = false;

    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        fitting->wanted[sign] = !isnan(fitting->seen->sign[sign]);
        any = any || fitting->wanted[sign];
    }
    return any;
}

bool pd_diagnose(const struct pd_scenario *scenario, const struct pd_strategy_kind *kind,
                 const struct pd_seen *seen, const struct pd_day_options *day,
                 struct pd_diagnosis *diagnosis, struct pd_error *error)
{
    struct bench bench;
    struct fitting fitting = {.bench = &bench, .seen = seen, .error = error};

    memset(diagnosis, 0, sizeof *diagnosis);
    if (!told_something(&fitting)) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL, "no reading to compare with");
    }
    bool good = bench_make(&bench, scenario, kind, seen, day, error);
    if (good) {
        diagnosis->strategy = bench.designed.strategy;
        diagnosis->supply = bench.supply;
        diagnosis->draw = bench.draw;
        diagnosis->leak_pressure = scenario->value[PD_HOUSE_LEAK_PRESSURE];
        good = fit_all(&fitting, diagnosis);
    }
    bench_free(&bench);
    return good;
}
