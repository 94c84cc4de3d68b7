/* The implicit method for stiff and for ringing stretches: CVODE's backward differentiation behind
 * a few plain calls.  Nothing above this file sees SUNDIALS. */
#ifndef PUMPDAY_IMPLICIT_H
#define PUMPDAY_IMPLICIT_H

#include "run/motion.h"

struct implicit;

/* NULL if memory runs out. */
struct implicit *implicit_create(void);
void implicit_free(struct implicit *implicit);

/* Sets what is integrated from now on; counters start at 0. */
void implicit_bind(struct implicit *implicit, const struct motion *motion);

/* Begins a segment, with orders up to `order`; a first step of 0 is left to CVODE to estimate. */
bool implicit_begin(struct implicit *implicit, struct closeness closeness, int order,
                    double first_step, double time, const double state[STATE_COUNT]);

/* One step that goes no further than `stop`, or up to the first crossing: then crossed[i] tells
 * which surfaces were met. */
enum step_outcome implicit_step(struct implicit *implicit, double stop, double *time,
                                double state[STATE_COUNT], bool crossed[SURFACES_MOST]);

/* The state at a time within the last step. */
bool implicit_state_at(struct implicit *implicit, double time, double state[STATE_COUNT]);

/* The time that CVODE itself has reached; ahead of a crossing that was returned. */
double implicit_reached(const struct implicit *implicit);

/* Distances to the surfaces as they were last looked at. */
const double *implicit_distances(const struct implicit *implicit);

/* Why the last step failed, for a message. */
const char *implicit_complaint(const struct implicit *implicit);

struct method_counts implicit_counts(const struct implicit *implicit);

#endif
