/* Sizes of faults and readings in words. */
#include "present/diagnose_parts.h"

#include "output/amount.h"

#include <math.h>
#include <string.h>

/* Under ten of these, flows and volumes are shown with another digit. */
static const double small_flow = 1e-3 / 60, small_volume = 1e-3;

/* A needle's width: a precharge less than this under nothing is nothing. */
static const double gauge_width = 10e3;

bool suspect_is_out(const struct pd_suspect *suspect)
{
    return suspect->ruled_out_by != PD_SIGN_COUNT;
}

void size_text(char text[CELL_MOST], enum pd_kind kind, enum pd_unit_system units, double si)
{
    char amount[PD_AMOUNT_MOST];

    if ((kind == PD_KIND_FLOW && si < 10 * small_flow) ||
        (kind == PD_KIND_VOLUME && si < 10 * small_volume)) {
        bool gpm = kind == PD_KIND_FLOW && units == PD_UNITS_US;
        (void)snprintf(text, CELL_MOST, "%.*f %s", gpm ? 3 : 2, pd_amount_number(kind, units, si),
                       pd_amount_unit(kind, units));
        return;
    }
    pd_amount_text(amount, kind, units, si);
    (void)snprintf(text, CELL_MOST, "%s", amount);
}

bool gas_is_lost(double gauge)
{
    return gauge < -gauge_width;
}

void precharge_text(char text[CELL_MOST], enum pd_unit_system units, double gauge)
{
    if (gas_is_lost(gauge)) {
        (void)snprintf(text, CELL_MOST, "lost: no gas left");
        return;
    }
    size_text(text, PD_KIND_PRESSURE, units, gauge < 0 ? 0 : gauge);
}

void part_text(char text[CELL_MOST], const struct pd_part *part, enum pd_unit_system units)
{
    if (part->kind == PD_SUSPECT_PRECHARGE_LOW) {
        precharge_text(text, units, part->size);
    } else {
        size_text(text, part->size_kind, units, part->size);
    }
}

/* A reading of yes or no. */
static const char *answer_text(enum pd_sign sign, double value)
{
    if (sign == PD_SIGN_STOPS) {
        return value > 0.5 ? "yes, stops" : "no, runs on";
    }
    return value > 0.75 ? "yes, falls" : value < 0.25 ? "no, stands" : "part of the way";
}

/* A time that is none; NULL if it is one. */
static const char *no_time_text(enum pd_sign sign, double value)
{
    if (value >= PD_SIGN_NEVER) {
        return sign == PD_SIGN_BETWEEN_STARTS ? "never" : "for good";
    }
    return value <= 0 ? "never" : NULL;
}

void reading_text(char text[CELL_MOST], enum pd_sign sign, enum pd_unit_system units, double value)
{
    enum pd_kind kind = pd_signs[sign].kind;
    const char *words = isnan(value)             ? "-"
                        : kind == PD_KIND_CHOICE ? answer_text(sign, value)
                        : kind == PD_KIND_TIME   ? no_time_text(sign, value)
                                                 : NULL;

    if (words != NULL) {
        (void)snprintf(text, CELL_MOST, "%s", words);
    } else {
        size_text(text, kind, units, value);
    }
}
