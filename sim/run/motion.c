#include "run/motion.h"

#include <math.h>

/* Error allowed in a step, times the relative tolerance: a share of the value itself and a
 * constant.
 *
 * The pressure has no share: it makes the pump start, a leak makes it start hundreds of times a
 * day, and each start passes its error on.  With a share of 1 the last start of a leaky day was 2 s
 * late, with this constant it is within 0.12 s, at no cost.  The volumes grow without end and a
 * level is measured from nowhere, so they have no share either; a flow that creeps for hours adds
 * up to more than its own noise lets one expect. */
static const struct {
    double share, constant;
} allowed[WATCHED_COUNT] = {
    [AT_FLOW] = {1.0, 2.0e-4},      /* m3/s; 12 L/min */
    [AT_PRESSURE] = {0.0, 3.0e4},   /* Pa */
    [AT_TEMPERATURE] = {1.0, 30.0}, /* K */
    [AT_LEVEL] = {0.0, 0.02},       /* m */
    [AT_SUPPLIED] = {0.0, 3.0e-3},  /* m3 */
    [AT_DELIVERED] = {0.0, 3.0e-3}, /* m3 */
};

/* A flow is not eased further than this: what is left of it must not turn round. */
static const double flow_ease_most = 1.0e3;

void motion_weights(struct closeness closeness, const double state[STATE_COUNT],
                    double weight[STATE_COUNT])
{
    double per_tolerance = 1.0 / (closeness.tolerance * closeness.ease);

    for (int i = 0; i < WATCHED_COUNT; i++) {
        weight[i] = per_tolerance / (allowed[i].share * fabs(state[i]) + allowed[i].constant);
    }
    weight[AT_LEVEL] *= closeness.ease;
    weight[AT_FLOW] *= fmax(1.0, closeness.ease / flow_ease_most);
    for (int i = WATCHED_COUNT; i < STATE_COUNT; i++) {
        weight[i] = 1.0;
    }
}

double motion_norm(const double *state, const double *weight)
{
    double sum = 0.0;

    for (int i = 0; i < WATCHED_COUNT; i++) {
        double part = state[i] * weight[i];
        sum += part * part;
    }
    return sqrt(sum / CORE_COUNT);
}
