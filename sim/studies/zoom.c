/* Picks the run to be shown closely.  A long run hides its first and last seconds in a chart, and
 * the shortest of a day is often an odd one: taken is the run nearest to the geometric mean of the
 * shortest and the average. */
#include "studies/zoom.h"

#include <math.h>

/* Time shown on either side of the run: a share of it, and never less than some seconds. */
static const double side_share = 0.2, least_side = 8;

/* Rows across the window: about as many as a chart has room for. */
static const double rows_across = 800;

static const double least_every = 0.01;

static bool is_whole(const struct pd_run *run)
{
    return run->start_cause != PD_CAUSE_CARRIED_OVER && run->stop_cause != PD_CAUSE_END_OF_DAY;
}

/* Length of run to look for; NAN if no run is whole. */
static double wanted_length(const struct pd_day_result *day)
{
    double shortest = INFINITY;
    double sum = 0;
    double count = 0;

    for (size_t i = 0; i < day->run_count; i++) {
        if (is_whole(&day->runs[i])) {
            shortest = fmin(shortest, day->runs[i].run_time);
            sum += day->runs[i].run_time;
            count += 1;
        }
    }
    return count > 0 ? sqrt(shortest * sum / count) : (double)NAN;
}

static const struct pd_run *nearest_run(const struct pd_day_result *day, double length)
{
    const struct pd_run *nearest = NULL;

    for (size_t i = 0; i < day->run_count; i++) {
        const struct pd_run *run = &day->runs[i];
        bool nearer =
            nearest == NULL || fabs(run->run_time - length) < fabs(nearest->run_time - length);
        if (is_whole(run) && nearer) {
            nearest = run;
        }
    }
    return nearest;
}

bool zoom_window_for(const struct pd_day_result *day, struct zoom_window *window)
{
    const struct pd_run *run = nearest_run(day, wanted_length(day));

    if (run == NULL) {
        return false;
    }
    double side = fmax(side_share * run->run_time, least_side);
    window->from = fmax(run->start - side, 0);
    window->to = fmin(run->start + run->run_time + side, day->end_time);
    window->every = fmax((window->to - window->from) / rows_across, least_every);
    return true;
}
