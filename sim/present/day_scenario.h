/* One of a household's days as a scenario of its own. */
#ifndef PUMPDAY_PRESENT_DAY_SCENARIO_H
#define PUMPDAY_PRESENT_DAY_SCENARIO_H

#include <pumpday/scenario.h>

/* Writes into a folder the files of the scenario, but for its household, profile and draws, and a
 * demand.csv with the draws that it holds: all or none.  False and the error otherwise. */
bool pd_day_write_scenario(const char *folder, const struct pd_scenario *scenario, uint64_t seed,
                           long day, struct pd_error *error);

#endif
