/* Which of the strategies that pass is the best, and why. */
#include "studies/settings_parts.h"

#include <math.h>

/* Costs and starts within this share of each other count as the same. */
static const double about_same = 0.05;

/* Pressures at the taps nearer than this count as the same. */
static const double same_pressure = 0.1e5; /* Pa */

static bool is_about(double a, double b)
{
    return fabs(a - b) <= about_same * fmax(fabs(a), fabs(b));
}

/* What a day is worth saving: its cost, or where nothing has a price its energy. */
static double expense(const struct pd_outcome *day)
{
    return day->cost > 0 ? day->cost : day->energy;
}

/* What makes a better than b; NONE_PASSES if nothing does. */
static enum pd_reason better(const struct pd_setting *a, const struct pd_setting *b)
{
    if (!b->found) {
        return PD_REASON_ALONE;
    }
    if (a->draws_main_down != b->draws_main_down) {
        return b->draws_main_down ? PD_REASON_SUCTION : PD_REASON_NONE_PASSES;
    }
    if (a->stands != b->stands) {
        return a->stands > b->stands ? PD_REASON_STANDS : PD_REASON_NONE_PASSES;
    }
    if (!is_about(expense(&a->day), expense(&b->day))) {
        return expense(&a->day) < expense(&b->day) ? PD_REASON_COST : PD_REASON_NONE_PASSES;
    }
    if (!is_about(a->day.starts, b->day.starts)) {
        return a->day.starts < b->day.starts ? PD_REASON_STARTS : PD_REASON_NONE_PASSES;
    }
    return a->day.lowest_tap_pressure > b->day.lowest_tap_pressure + same_pressure
               ? PD_REASON_TAP_PRESSURE
               : PD_REASON_NONE_PASSES;
}

/* The best one that was found; the count if none was. */
static size_t best_of(const struct pd_settings *settings)
{
    size_t best = settings->count;

    for (size_t i = 0; i < settings->count; i++) {
        const struct pd_setting *setting = &settings->setting[i];
        if (setting->found &&
            (best == settings->count ||
             better(setting, &settings->setting[best]) != PD_REASON_NONE_PASSES)) {
            best = i;
        }
    }
    return best;
}

/* A pump that never ran on a day that passes is not needed, whatever else may pass. */
static bool supply_alone_will_do(const struct pd_settings *settings)
{
    for (size_t i = 0; i < settings->count; i++) {
        if (settings->setting[i].found && !settings->setting[i].day.ran) {
            return true;
        }
    }
    return false;
}

/* The best one, and what sets it apart from the next best: the finest of the differences. */
void settings_prefer(struct pd_settings *settings)
{
    size_t best = best_of(settings);

    settings->preferred = best;
    if (supply_alone_will_do(settings)) {
        settings->preferred = settings->count;
        settings->reason = PD_REASON_NOT_NEEDED;
        return;
    }
    settings->reason = best < settings->count ? PD_REASON_ALONE : PD_REASON_NONE_PASSES;
    for (size_t i = 0; best < settings->count && i < settings->count; i++) {
        if (i == best || !settings->setting[i].found) {
            continue;
        }
        enum pd_reason reason = better(&settings->setting[best], &settings->setting[i]);
        reason = reason == PD_REASON_NONE_PASSES ? PD_REASON_LIKE_OTHERS : reason;
        settings->reason = reason > settings->reason ? reason : settings->reason;
    }
}
