/* Suspects: of which faults they are made, what their sizes are and where these are looked for. */
#include "studies/diagnose_parts.h"

#include <math.h>

/* Where sizes are looked for: leaks and flows on a scale of ratios. */
static const double leak_least = 0.005e-3 / 60, leak_most = 30e-3 / 60;
static const double tank_least_share = 0.02;
static const double vacuum_share = 0.9; /* least precharge, of the atmosphere: hardly any gas */
static const double over_boosted = 1.2; /* highest precharge, of the boosted static pressure */
static const double flow_off_most = 20; /* start flow, times or parts of the designed */

struct suspect_row {
    const char *name;
    size_t parts;
    enum pd_suspect_kind part[PD_PARTS_MOST];
};

static const struct suspect_row rows[] = {
    [PD_SUSPECT_NONE] = {"all as designed", 0, {0}},
    [PD_SUSPECT_LEAK] = {"leak in the house", 1, {PD_SUSPECT_LEAK}},
    [PD_SUSPECT_CHECK_VALVE] = {"check valve passes", 1, {PD_SUSPECT_CHECK_VALVE}},
    [PD_SUSPECT_PRECHARGE_LOW] = {"precharge low or lost", 1, {PD_SUSPECT_PRECHARGE_LOW}},
    [PD_SUSPECT_PRECHARGE_HIGH] = {"precharge too high", 1, {PD_SUSPECT_PRECHARGE_HIGH}},
    [PD_SUSPECT_START_OFF] = {"start setting off", 1, {PD_SUSPECT_START_OFF}},
    [PD_SUSPECT_TANK_SMALL] = {"tank too small", 1, {PD_SUSPECT_TANK_SMALL}},
    [PD_SUSPECT_LEAK_PRECHARGE_LOW] = {"leak + precharge low",
                                       2,
                                       {PD_SUSPECT_LEAK, PD_SUSPECT_PRECHARGE_LOW}},
    [PD_SUSPECT_LEAK_PRECHARGE_HIGH] = {"leak + precharge high",
                                        2,
                                        {PD_SUSPECT_LEAK, PD_SUSPECT_PRECHARGE_HIGH}},
    [PD_SUSPECT_VALVE_PRECHARGE_LOW] = {"valve + precharge low",
                                        2,
                                        {PD_SUSPECT_CHECK_VALVE, PD_SUSPECT_PRECHARGE_LOW}},
    [PD_SUSPECT_VALVE_PRECHARGE_HIGH] = {"valve + precharge high",
                                         2,
                                         {PD_SUSPECT_CHECK_VALVE, PD_SUSPECT_PRECHARGE_HIGH}},
};
_Static_assert(sizeof rows / sizeof rows[0] == PD_SUSPECT_COUNT, "a row for each suspect");

const char *pd_suspect_name(enum pd_suspect_kind kind)
{
    return rows[kind].name;
}

static bool starts_by_flow(const struct bench *bench)
{
    return isnan(bench->designed.strategy.start_pressure);
}

/* The place of a single fault's size in a trial. */
static double *place_of(const struct bench *bench, enum pd_suspect_kind kind, struct trial *trial)
{
    switch ((int)kind) {
    case PD_SUSPECT_LEAK:
        return &trial->leak;
    case PD_SUSPECT_CHECK_VALVE:
        return &trial->leak_by;
    case PD_SUSPECT_START_OFF:
        return starts_by_flow(bench) ? &trial->strategy.start_flow
                                     : &trial->strategy.start_pressure;
    case PD_SUSPECT_TANK_SMALL:
        return &trial->tank;
    default:
        return &trial->strategy.precharge;
    }
}

static enum pd_kind size_kind(const struct bench *bench, enum pd_suspect_kind kind)
{
    switch ((int)kind) {
    case PD_SUSPECT_LEAK:
    case PD_SUSPECT_CHECK_VALVE:
        return PD_KIND_FLOW;
    case PD_SUSPECT_START_OFF:
        return starts_by_flow(bench) ? PD_KIND_FLOW : PD_KIND_PRESSURE;
    case PD_SUSPECT_TANK_SMALL:
        return PD_KIND_VOLUME;
    default:
        return PD_KIND_PRESSURE;
    }
}

struct pd_suspect suspect_as_designed(const struct bench *bench, enum pd_suspect_kind kind)
{
    struct trial designed = bench->designed;
    struct pd_suspect suspect = {.kind = kind, .parts = rows[kind].parts};

    for (size_t i = 0; i < PD_PARTS_MOST && i < rows[kind].parts; i++) {
        enum pd_suspect_kind part = rows[kind].part[i];
        double size = *place_of(bench, part, &designed);
        suspect.part[i] = (struct pd_part){part, size_kind(bench, part), size, size};
    }
    return suspect;
}

struct trial suspect_trial(const struct bench *bench, const struct pd_suspect *suspect)
{
    struct trial trial = bench->designed;

    for (size_t i = 0; i < suspect->parts; i++) {
        *place_of(bench, suspect->part[i].kind, &trial) = suspect->part[i].size;
    }
    return trial;
}

bool suspect_range(const struct bench *bench, const struct pd_part *part, struct size_range *range)
{
    double boosted = bench->supply + bench->shutoff, designed = part->designed;

    range->by_ratio = part->size_kind != PD_KIND_PRESSURE;
    switch ((int)part->kind) {
    case PD_SUSPECT_LEAK:
    case PD_SUSPECT_CHECK_VALVE:
        // a leak that was designed only gets larger
        *range = (struct size_range){fmax(leak_least, designed), leak_most, true};
        break;
    case PD_SUSPECT_PRECHARGE_LOW:
        *range = (struct size_range){-vacuum_share * bench->atmosphere, designed, false};
        break;
    case PD_SUSPECT_PRECHARGE_HIGH:
        *range = (struct size_range){designed, over_boosted * boosted, false};
        break;
    case PD_SUSPECT_START_OFF:
        range->least = starts_by_flow(bench) ? designed / flow_off_most : fmin(bench->supply, 0);
        range->most = starts_by_flow(bench) ? designed * flow_off_most : boosted;
        break;
    default:
        *range = (struct size_range){tank_least_share * designed, designed, true};
        break;
    }
    return range->most > range->least;
}

double size_in_range(const struct size_range *range, double at)
{
    at = fmin(fmax(at, 0), 1);
    if (range->by_ratio) {
        return range->least * pow(range->most / range->least, at);
    }
    return range->least + at * (range->most - range->least);
}
