/* A day of a household put into a scenario, with the evening before. */
#ifndef PUMPDAY_STUDIES_DAYS_DRAW_H
#define PUMPDAY_STUDIES_DAYS_DRAW_H

#include <pumpday/scenario.h>

/* Lists that are used again from day to day; zero at first. */
struct days_draws {
    struct pd_draws day, before;
};

/* Draws a day, from 1, in place of the scenario's own draws.  evening: so many seconds before
 * midnight are those of the day before, which day 1 has not; 0: the day's own. */
bool days_draw(struct days_draws *draws, struct pd_scenario *scenario, uint64_t seed, long day,
               double evening, struct pd_error *error);

void days_draws_free(struct days_draws *draws);

#endif
