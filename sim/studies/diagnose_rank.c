/* The ranking of suspects whose sizes are fitted, which of them are alike, and what would tell. */
#include "studies/diagnose_parts.h"

#include <math.h>
#include <string.h>

/* What is ruled out ranks behind all others, and before it two faults where one would do. */
static const double ruled_out = 1e8, needless = 1e6;

/* Each size that was free to be fitted counts so much: the simpler explanation is preferred. */
static const double size_cost = 1;

/* A fault, and a second one beside a first, is needed only where it explains so much more: about
 * what chance gives a size that is free once in a hundred times. */
static const double worth_a_fault = 6;

/* Sums of squares that differ by less are the same; then the order of the kinds decides. */
static const double same_sum = 0.5;

/* Two suspects so many units apart are told apart without doubt: the reading that is easiest to get
 * will do. */
static const double no_doubt = 6;

/* Up to this misfit a system as designed is told beside any fault. */
static const double explains_well = 1;

static const enum pd_sign by_ease[PD_SIGN_COUNT] = {
    PD_SIGN_PRECHARGE, PD_SIGN_START_GAUGE,    PD_SIGN_STOP_GAUGE,
    PD_SIGN_STOPS,     PD_SIGN_FALLS,          PD_SIGN_FALLS_ISOLATED,
    PD_SIGN_DRAWN,     PD_SIGN_BETWEEN_STARTS, PD_SIGN_ON,
    PD_SIGN_OFF,
};

/* Sum of squares, and what its sizes cost. */
static double score(const struct pd_diagnosis *diagnosis, const struct pd_suspect *suspect)
{
    return suspect->misfit * suspect->misfit * (double)diagnosis->told +
           size_cost * (double)suspect->parts;
}

/* Two faults count only where neither of them alone would do as well. */
static bool is_needless(const struct pd_diagnosis *diagnosis, const struct pd_suspect *pair)
{
    for (size_t i = 0; i < PD_SUSPECT_COUNT; i++) {
        const struct pd_suspect *single = &diagnosis->suspect[i];
        bool part = single->parts == 1 &&
                    (single->kind == pair->part[0].kind || single->kind == pair->part[1].kind);
        if (part && single->ruled_out_by == PD_SIGN_COUNT &&
            score(diagnosis, single) <= score(diagnosis, pair) + worth_a_fault) {
            return true;
        }
    }
    return false;
}

static double rank_of(const struct pd_diagnosis *diagnosis, const struct pd_suspect *suspect)
{
    double sum = score(diagnosis, suspect);

    return same_sum * round(sum / same_sum) + 1e-3 * suspect->kind +
           (suspect->needless ? needless : 0) +
           (suspect->ruled_out_by != PD_SIGN_COUNT ? ruled_out : 0);
}

static void sort_suspects(struct pd_diagnosis *diagnosis)
{
    struct pd_suspect *suspect = diagnosis->suspect;

    for (size_t i = 1; i < PD_SUSPECT_COUNT; i++) {
        for (size_t j = i;
             j > 0 && rank_of(diagnosis, &suspect[j]) < rank_of(diagnosis, &suspect[j - 1]); j--) {
            struct pd_suspect kept = suspect[j];
            suspect[j] = suspect[j - 1];
            suspect[j - 1] = kept;
        }
    }
}

static bool is_alike(const struct pd_diagnosis *diagnosis, const struct pd_suspect *suspect)
{
    return suspect->ruled_out_by == diagnosis->suspect[0].ruled_out_by &&
           score(diagnosis, suspect) < score(diagnosis, &diagnosis->suspect[0]) + PD_ALIKE;
}

/* One of a pair's parts is told already and alone does as well. */
static bool is_told_in_part(const struct pd_diagnosis *diagnosis, const struct pd_suspect *pair)
{
    for (size_t i = 0; i < diagnosis->alike; i++) {
        const struct pd_suspect *told = &diagnosis->suspect[i];
        bool part = told->kind == pair->part[0].kind || told->kind == pair->part[1].kind;
        if (part && (i == 0 || score(diagnosis, told) <= score(diagnosis, pair))) {
            return true;
        }
    }
    return false;
}

/* What is not to be passed over although it is not next: a pair that is needless beside its part
 * but not beside a third fault, and a system as designed that explains what was seen. */
static bool is_passed_over(const struct pd_diagnosis *diagnosis, const struct pd_suspect *suspect)
{
    bool out = suspect->ruled_out_by != diagnosis->suspect[0].ruled_out_by;

    if (suspect->kind == PD_SUSPECT_NONE) {
        return !out && suspect->misfit < explains_well;
    }
    return suspect->needless && is_alike(diagnosis, suspect) &&
           !is_told_in_part(diagnosis, suspect);
}

static void count_alike(struct pd_diagnosis *diagnosis)
{
    struct pd_suspect *suspect = diagnosis->suspect;

    diagnosis->alike = 1;
    while (diagnosis->alike < PD_SUSPECT_COUNT && !suspect[diagnosis->alike].needless &&
           is_alike(diagnosis, &suspect[diagnosis->alike])) {
        diagnosis->alike++;
    }
    for (size_t i = diagnosis->alike; i < PD_SUSPECT_COUNT; i++) {
        struct pd_suspect next = suspect[i];
        if (is_passed_over(diagnosis, &next)) {
            memmove(&suspect[diagnosis->alike + 1], &suspect[diagnosis->alike],
                    (i - diagnosis->alike) * sizeof *suspect);
            suspect[diagnosis->alike++] = next;
        }
    }
}

/* A pressure that no gauge would tell from the designed one is no fault by itself. */
static bool is_hair(const struct pd_suspect *suspect)
{
    const struct pd_part *part = &suspect->part[0];

    return suspect->parts == 1 && part->size_kind == PD_KIND_PRESSURE &&
           fabs(part->size - part->designed) < pd_sign_off(PD_SIGN_START_GAUGE, part->size, NAN);
}

static bool is_enough(const struct pd_diagnosis *diagnosis, const struct pd_suspect *none)
{
    const struct pd_suspect *first = &diagnosis->suspect[0];

    return none->ruled_out_by == first->ruled_out_by &&
           (score(diagnosis, none) < score(diagnosis, first) + worth_a_fault ||
            (none->misfit < PD_EXPLAINS && is_hair(first)));
}

/* A system as designed that explains what was seen about as well as any fault comes first. */
static void prefer_none(struct pd_diagnosis *diagnosis)
{
    struct pd_suspect *suspect = diagnosis->suspect;

    for (size_t i = 1; i < PD_SUSPECT_COUNT; i++) {
        if (suspect[i].kind == PD_SUSPECT_NONE && is_enough(diagnosis, &suspect[i])) {
            struct pd_suspect none = suspect[i];
            memmove(&suspect[1], &suspect[0], i * sizeof *suspect);
            suspect[0] = none;
            return;
        }
    }
}

void rank_suspects(struct pd_diagnosis *diagnosis)
{
    for (size_t i = 0; i < PD_SUSPECT_COUNT; i++) {
        struct pd_suspect *suspect = &diagnosis->suspect[i];
        suspect->needless = suspect->parts == PD_PARTS_MOST && is_needless(diagnosis, suspect);
    }
    sort_suspects(diagnosis);
    prefer_none(diagnosis);
    count_alike(diagnosis);
}

/* Among the readings not told that both show, the one that differs most between the first two. */
void find_apart(struct pd_diagnosis *diagnosis, const struct pd_seen *seen)
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
        double by = fmin(fabs(pd_sign_distance(sign, a, b, NAN)), no_doubt);
        if (by > diagnosis->apart_by) {
            diagnosis->apart_by = by;
            diagnosis->apart = sign;
        }
    }
}
