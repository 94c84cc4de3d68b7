/* The integrator: CVODE behind a few plain calls.  Nothing above this file sees SUNDIALS.
 *
 * It takes one step at a time, so that what watches the day sees every step; it finds the first
 * crossing of the surfaces within a step; and it stops exactly at a time it is told. */
#ifndef PUMPDAY_INTEGRATOR_H
#define PUMPDAY_INTEGRATOR_H

#include "plant/circuit.h"

enum { SURFACES_MOST = 8 };

/* What is integrated.  All three get `context`. */
struct motion {
    void *context;
    /* rates of change; false where the state is not physical */
    bool (*rates)(void *context, double time, const double *state, double *rate);
    /* solves (I - gamma J) x = gamma f - known, f the rates and J their Jacobian; false likewise */
    bool (*correct)(void *context, double time, const double *state, double gamma,
                    const double *known, double *correction);
    /* distance to each surface, positive on the side where the state belongs */
    void (*surfaces)(void *context, double time, const double *state, double *distance);
};

struct integrator;

/* NULL and the error if memory runs out. */
struct integrator *integrator_create(struct pd_error *error);
void integrator_free(struct integrator *integrator);

/* Sets what is integrated from now on and how closely; counters start at 0. */
void integrator_bind(struct integrator *integrator, const struct motion *motion,
                     double relative_tolerance);

/* Starts afresh from a time and state.  Needed after every change of the rates. */
bool integrator_restart(struct integrator *integrator, double time,
                        const double state[STATE_COUNT]);

/* Never steps beyond this time; it must not lie before integrator_reached. */
bool integrator_stop_at(struct integrator *integrator, double time);

enum step_outcome { STEP_DONE, STEP_CROSSED, STEP_FAILED };

/* One step, or up to the first crossing: then crossed[i] tells which surfaces were met. */
enum step_outcome integrator_step(struct integrator *integrator, double *time,
                                  double state[STATE_COUNT], bool crossed[SURFACES_MOST]);

/* The state at a time within the last step. */
bool integrator_state_at(struct integrator *integrator, double time, double state[STATE_COUNT]);

/* The time that the integrator itself has reached; ahead of a crossing that it returned. */
double integrator_reached(const struct integrator *integrator);

/* Distances to the surfaces as they were last looked at. */
const double *integrator_distances(const struct integrator *integrator);

/* Why the last step failed, for a message. */
const char *integrator_complaint(const struct integrator *integrator);

struct integrator_counts {
    long steps, rhs_calls, root_calls, restarts, retries;
};
struct integrator_counts integrator_counts(const struct integrator *integrator);

#endif
