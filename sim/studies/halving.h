/* The first place of a row of sizes that passes, where all behind one that passes do too. */
#ifndef PUMPDAY_STUDIES_HALVING_H
#define PUMPDAY_STUDIES_HALVING_H

#include <stdbool.h>
#include <stddef.h>

/* Whether a place passes; false if it cannot be tried. */
typedef bool (*place_test)(void *context, size_t place, bool *passes);

/* *place gets the first of `count` places that passes, or `count` if none does.  False if one
 * cannot be tried. */
bool first_that_passes(place_test test, void *context, size_t count, size_t *place);

#endif
