/* The house in which the tests of fault-finding plant faults, and their noise. */
#ifndef PUMPDAY_TESTS_DIAGNOSE_HOUSE_H
#define PUMPDAY_TESTS_DIAGNOSE_HOUSE_H

#include <pumpday/scenario.h>

#include <stdbool.h>
#include <stdint.h>

/* The house as designed. */
#define DESIGN "pressure_start.start=4.8 bar", "pressure_start.precharge=4.6 bar"

/* Of the tank: by hand and by Boyle, a gas that keeps its temperature. */
extern const char *gas;

/* Uniform from -1 to 1, by the multiplier of Knuth's MMIX, from a seed. */
extern uint64_t seed;
double noise(void);

/* With a steady draw, or with a bucket filled.  A CUnit failure if it cannot be read. */
void read_house(const char *const *sets, size_t count, bool steady, struct pd_scenario *scenario);

#endif
