/* Hides the halving. */
#include "studies/halving.h"

bool first_that_passes(place_test test, void *context, size_t count, size_t *place)
{
    size_t low = 0;

    *place = count;
    while (low < *place) {
        size_t middle = low + (*place - low) / 2;
        bool passes = false;
        if (!test(context, middle, &passes)) {
            return false;
        }
        if (passes) {
            *place = middle;
        } else {
            low = middle + 1;
        }
    }
    return true;
}
