/* The integrator: an explicit and an implicit method behind a few plain calls.
 *
 * It takes one step at a time, so that what watches the day sees every step; it finds the first
 * crossing of the surfaces within a step; and it stops exactly at a time it is told. */
#ifndef PUMPDAY_INTEGRATOR_H
#define PUMPDAY_INTEGRATOR_H

#include "run/motion.h"

#include <pumpday/error.h>

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

/* One step, or up to the first crossing: then crossed[i] tells which surfaces were met. */
enum step_outcome integrator_step(struct integrator *integrator, double *time,
                                  double state[STATE_COUNT], bool crossed[SURFACES_MOST]);

/* The state at a time within the last step. */
bool integrator_state_at(struct integrator *integrator, double time, double state[STATE_COUNT]);

/* Rates of one part of the state at the start and the end of the last step; false where they are
 * not known. */
bool integrator_slopes(const struct integrator *integrator, int place, double slope[2]);

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
