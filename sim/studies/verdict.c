/* Single faults of a day that its result tells without a limit. */
#include "studies/verdict.h"

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

/* The starts that end with the last run, within less than an hour of its start. */
static size_t starts_in_last_hour(const struct pd_day_result *so_far)
{
    size_t last = so_far->run_count - 1;
    size_t first = last + 1;

    while (first > 0 && so_far->runs[first - 1].start_cause != PD_CAUSE_CARRIED_OVER &&
           so_far->runs[last].start - so_far->runs[first - 1].start < 3600) {
        first--;
    }
    return last + 1 - first;
}

bool verdict_is_lost(const struct pd_day_result *so_far, const struct pd_limits *limits)
{
    if (so_far->run_count == 0) {
        return false;
    }
    return so_far->starts > limits->starts_per_day || so_far->shortest_run < limits->shortest_run ||
           (double)starts_in_last_hour(so_far) > limits->starts_per_hour;
}
