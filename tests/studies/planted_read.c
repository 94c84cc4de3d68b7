/* How a fitter and a logger read, by chance, and whether an answer blames what is sound. */
#include "studies/planted.h"

#include <math.h>

static const double psi = 6894.757, litre = 1e-3;

/* The middle of what is called yes and no. */
static const double clear_no = 0.4, clear_yes = 0.6;

double chance_uniform(struct chance *chance, double least, double most)
{
    chance->state = chance->state * 6364136223846793005U + 1442695040888963407U;
    return least + (most - least) * (double)(chance->state >> 11U) / 9007199254740992.0;
}

double chance_by_ratio(struct chance *chance, double least, double most)
{
    return least * pow(most / least, chance_uniform(chance, 0, 1));
}

/* By Box and Muller. */
double chance_normal(struct chance *chance, double deviation)
{
    double radius = sqrt(-2 * log(chance_uniform(chance, 1e-12, 1)));

    return deviation * radius * cos(6.283185307179586 * chance_uniform(chance, 0, 1));
}

static double to_step(double value, double step)
{
    return step * round(value / step);
}

void blur_seen(struct pd_seen *seen, struct chance *chance)
{
    seen->supply = to_step(seen->supply + chance_normal(chance, 0.8 * psi), psi);
    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        double *value = &seen->sign[sign];
        if (pd_signs[sign].kind == PD_KIND_TIME && *value > 0 && *value < PD_SIGN_NEVER) {
            *value = to_step(*value * (1 + chance_normal(chance, 0.03)), 1);
        } else if (pd_signs[sign].kind == PD_KIND_VOLUME) {
            *value = to_step(*value * (1 + chance_normal(chance, 0.05)), 0.1 * litre);
        } else if (pd_signs[sign].kind == PD_KIND_PRESSURE) {
            *value = to_step(*value + chance_normal(chance, 0.8 * psi), psi);
        } else if (pd_signs[sign].kind == PD_KIND_CHOICE) {
            *value = *value > clear_yes ? 1 : *value < clear_no ? 0 : (double)NAN;
        }
    }
}

void blur_log(struct pd_log *log, double noise, double step, struct chance *chance)
{
    for (size_t i = 0; i < log->count; i++) {
        log->pressure[i] = to_step(log->pressure[i] + chance_normal(chance, noise), step);
    }
}

bool shows(const struct pd_seen *faulty, const struct pd_seen *sound, double units)
{
    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        if (isnan(faulty->sign[sign])) {
            continue;
        }
        if (fabs(pd_sign_distance((enum pd_sign)sign, sound->sign[sign], faulty->sign[sign], NAN)) >
            units) {
            return true;
        }
    }
    return false;
}

/* Whether a fault is in what was planted, alone or as one of two; pairs are named by their parts.
 */
static bool is_planted(enum pd_suspect_kind planted, enum pd_suspect_kind part)
{
    bool leak =
        planted == PD_SUSPECT_LEAK_PRECHARGE_LOW || planted == PD_SUSPECT_LEAK_PRECHARGE_HIGH;
    bool valve =
        planted == PD_SUSPECT_VALVE_PRECHARGE_LOW || planted == PD_SUSPECT_VALVE_PRECHARGE_HIGH;
    bool low =
        planted == PD_SUSPECT_LEAK_PRECHARGE_LOW || planted == PD_SUSPECT_VALVE_PRECHARGE_LOW;

    return part == planted || (leak && part == PD_SUSPECT_LEAK) ||
           (valve && part == PD_SUSPECT_CHECK_VALVE) ||
           ((leak || valve) &&
            part == (low ? PD_SUSPECT_PRECHARGE_LOW : PD_SUSPECT_PRECHARGE_HIGH));
}

bool blames_a_sound_part(const struct pd_diagnosis *diagnosis, enum pd_suspect_kind planted)
{
    const struct pd_suspect *first = &diagnosis->suspect[0];
    bool sound = false;
    size_t place = 0;

    for (size_t i = 0; i < first->parts; i++) {
        sound = sound || !is_planted(planted, first->part[i].kind);
    }
    while (place + 1 < PD_SUSPECT_COUNT && diagnosis->suspect[place].kind != planted) {
        place++;
    }
    return sound && place >= diagnosis->alike && first->misfit < 1 &&
           diagnosis->suspect[place].misfit > first->misfit;
}
