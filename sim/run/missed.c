/* Goes back to a crossing that a step ran over, by halving what lies between. */
#include "run/missed.h"

#include <string.h>

/* Surfaces that a state stands beyond. */
static bool stands_beyond(const double distance[SURFACES_MOST], bool crossed[SURFACES_MOST])
{
    bool any = false;

    for (int i = 0; i < SURFACE_COUNT; i++) {
        crossed[i] = distance[i] < -1.0e-6;
        any = any || crossed[i];
    }
    return any;
}

bool missed_catch(struct run *run, double from, bool crossed[SURFACES_MOST])
{
    double low = from, distance[SURFACES_MOST], state[STATE_COUNT];
    bool beyond[SURFACES_MOST];

    if (!stands_beyond(integrator_distances(run->integrator), crossed)) {
        return true;
    }
    run->effort.caught++;
    while (run->now - low > INSTANT) {
        double middle = 0.5 * (low + run->now);
        if (!integrator_state_at(run->integrator, middle, state)) {
            return false;
        }
        surfaces_distances(run, middle, state, distance);
        if (stands_beyond(distance, beyond)) {
            run->now = middle;
            memcpy(run->state, state, sizeof state);
            memcpy(crossed, beyond, sizeof beyond);
        } else {
            low = middle;
        }
    }
    run->rates_changed = true;
    return true;
}
