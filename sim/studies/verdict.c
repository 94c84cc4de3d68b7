/* Single faults of a day that its result tells without a limit. */
#include "studies/verdict.h"

#include <pumpday/compare.h>

/* A pump that no controller stopped and that ran all but half an hour of the day will not stop. */
static const double endless_run_time = 23.5 * 3600;

/* A run that moved less than a thimble moved nothing. */
static const double nothing = 1e-6; /* m3 */

bool verdict_low_taps(const struct pd_day_result *day)
{
    return day->time_below_tap_limit > PD_LOW_TAP_SHARE * day->time_draw_open;
}

bool verdict_never_ran(const struct pd_day_result *day)
{
    return day->starts == 0 && !(day->run_time > 0);
}

bool verdict_never_stops(const struct pd_day_result *day)
{
    for (size_t i = 0; i < day->run_count; i++) {
        if (day->runs[i].stop_cause != PD_CAUSE_END_OF_DAY) {
            return false;
        }
    }
    return day->run_time >= endless_run_time;
}

/* A run that moved no water: the supply was dry, or the pump too weak to open the check valve. */
bool verdict_moves_no_water(const struct pd_day_result *day)
{
    for (size_t i = 0; i < day->run_count; i++) {
        const struct pd_run *run = &day->runs[i];
        bool whole =
            run->start_cause != PD_CAUSE_CARRIED_OVER && run->stop_cause != PD_CAUSE_END_OF_DAY;
        if (whole && run->volume < nothing) {
            return true;
        }
    }
    return false;
}
