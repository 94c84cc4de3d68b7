/* What an integrator works on, and how closely. */
#ifndef PUMPDAY_MOTION_H
#define PUMPDAY_MOTION_H

#include "model/circuit.h"

enum { SURFACES_MOST = 8 };

/* What is integrated.  All get `context`. */
struct motion {
    void *context;
    /* rates of change; false where the state is not physical */
    bool (*rates)(void *context, double time, const double *state, double *rate);
    /* solves (I - gamma J) x = gamma f - known, f the rates and J their Jacobian; false likewise */
    bool (*correct)(void *context, double time, const double *state, double gamma,
                    const double *known, double *correction);
    /* whether the rates, as they are now, have parts much faster than the motion to be followed */
    bool (*is_stiff)(const void *context);
    /* distance to each surface, positive on the side where the state belongs */
    void (*surfaces)(void *context, double time, const double *state, double *distance);
};

/* What a method has cost. */
struct method_counts {
    long steps, rhs_calls, root_calls;
};

enum step_outcome { STEP_DONE, STEP_CROSSED, STEP_FAILED };

/* How closely a motion is followed. */
struct closeness {
    double tolerance; /* relative */
    double ease; /* times the error that passes of all that can ring: everything but the level */
};

/* Weights of an error in a state: an error of 1 in the norm just passes.  Of what is not watched
 * they are 1 and have no say. */
void motion_weights(struct closeness closeness, const double state[STATE_COUNT],
                    double weight[STATE_COUNT]);

/* Weighted norm of what is watched of a state: root of the sum of squares over CORE_COUNT. */
double motion_norm(const double *state, const double *weight);

#endif
