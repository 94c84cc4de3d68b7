/* Which part of a day is worth a close look: one run of the pump that shows how its start, its
 * check valve and its stop go. */
#ifndef PUMPDAY_STUDIES_ZOOM_H
#define PUMPDAY_STUDIES_ZOOM_H

#include <pumpday/day.h>

/* s after midnight; `every` is the step that fills the window with rows enough for a chart. */
struct zoom_window {
    double from, to, every;
};

/* The window around a run that began and ended in the day, shorter than most; false if there is
 * none. */
bool zoom_window_for(const struct pd_day_result *day, struct zoom_window *window);

#endif
