/* A number that differs for scenarios that differ. */
#ifndef PUMPDAY_STUDIES_FINGERPRINT_H
#define PUMPDAY_STUDIES_FINGERPRINT_H

#include <pumpday/scenario.h>

#include <stdint.h>

/* Of all that the days of a scenario depend on: not its title, nor where it was read from. */
uint64_t scenario_fingerprint(const struct pd_scenario *scenario);

/* Of all that the days of its household depend on: its own draws have no say. */
uint64_t household_fingerprint(const struct pd_scenario *scenario);

/* Of numbers to their last bit; all that are none are alike. */
uint64_t numbers_fingerprint(const double *numbers, size_t count);

#endif
