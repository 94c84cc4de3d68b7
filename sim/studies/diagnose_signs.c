/* Readings: their names, how far they may be off, and how far two of them are apart. */
#include "studies/diagnose_parts.h"

#include <math.h>

/* What careful readings may be off; common practice, no source.  Times: a share, and a second of
 * the watch; volumes: a share, and what clings to the bucket; gauges: a needle's width; a fall is
 * called yes or no about half way. */
static const double time_share = 0.05, time_least = 1;
static const double volume_share = 0.1, volume_least = 0.2e-3;
static const double needle_off = 8.7e3, fall_off = 0.15;

/* A dial's step where none is told: 0.1 bar. */
static const double usual_dial = 10e3;

/* What is seen and does not happen in a simulation counts as this far away. */
static const double missing = 40;

const struct pd_sign_row pd_signs[PD_SIGN_COUNT] = {
    [PD_SIGN_PRECHARGE] = {"precharge", PD_KIND_PRESSURE,
                           "on the tank's air valve, pump off and the water side drained to zero"},
    [PD_SIGN_BETWEEN_STARTS] = {"between_starts", PD_KIND_TIME,
                                "from start to start with all taps shut; never: not in 4 hours"},
    [PD_SIGN_ON] = {"on", PD_KIND_TIME, "a run while a tap gives draw; never: it does not come on"},
    [PD_SIGN_OFF] = {"off", PD_KIND_TIME, "a rest while a tap gives draw; never: it runs on"},
    [PD_SIGN_DRAWN] =
        {"drawn", PD_KIND_VOLUME,
         "into a bucket, from a tap opened 3 minutes after the pump stopped until it starts"},
    [PD_SIGN_START_GAUGE] = {"start_gauge", PD_KIND_PRESSURE, "as the pump starts"},
    [PD_SIGN_STOP_GAUGE] = {"stop_gauge", PD_KIND_PRESSURE, "as it stops, all taps shut"},
    [PD_SIGN_STOPS] = {"stops", PD_KIND_CHOICE,
                       "all taps shut; yes: it stops by itself; no: it runs on"},
    [PD_SIGN_FALLS] = {"falls", PD_KIND_CHOICE,
                       "pump switched off, all taps shut; yes: the gauge falls to the supply's in "
                       "an hour; no: it stands"},
    [PD_SIGN_FALLS_ISOLATED] = {"falls_isolated", PD_KIND_CHOICE,
                                "pump switched off, stop valve to the house shut; yes: the gauge "
                                "falls all the same; no: it "
                                "stands"},
};

struct pd_seen pd_seen_nothing(void)
{
    struct pd_seen seen = {.draw = NAN, .supply = NAN};

    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        seen.sign[sign] = NAN;
        seen.step[sign] = NAN;
    }
    return seen;
}

/* What a time or a volume may be off however small it is. */
static double least_off(enum pd_sign sign, double step)
{
    double least = pd_signs[sign].kind == PD_KIND_TIME ? time_least : volume_least;

    return isnan(step) ? least : fmax(least, step / 2);
}

static double share_off(enum pd_sign sign)
{
    return pd_signs[sign].kind == PD_KIND_TIME ? time_share : volume_share;
}

double pd_sign_off(enum pd_sign sign, double size, double step)
{
    if (pd_signs[sign].kind == PD_KIND_CHOICE) {
        return fall_off;
    }
    if (pd_signs[sign].kind == PD_KIND_PRESSURE) {
        return hypot(needle_off, (isnan(step) ? usual_dial : step) / 2);
    }
    return share_off(sign) * size + least_off(sign, step);
}

double pd_sign_distance(enum pd_sign sign, double simulated, double seen, double step)
{
    if (isnan(simulated)) {
        return missing;
    }
    double off = pd_sign_off(sign, seen, step);
    if (pd_signs[sign].kind == PD_KIND_CHOICE || pd_signs[sign].kind == PD_KIND_PRESSURE) {
        return (simulated - seen) / off;
    }
    // in units of what may be off while small; by the ratio when large
    return log(pd_sign_off(sign, simulated, step) / off) / share_off(sign);
}

double signs_apart(const struct pd_seen *seen, const double reading[PD_SIGN_COUNT], size_t *told)
{
    double sum = 0;

    *told = 0;
    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        if (!isnan(seen->sign[sign])) {
            double distance = pd_sign_distance((enum pd_sign)sign, reading[sign], seen->sign[sign],
                                               seen->step[sign]);
            sum += distance * distance;
            ++*told;
        }
    }
    return sum;
}
