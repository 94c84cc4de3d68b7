/* An explicit one-step method for stretches that are not stiff: Dormand and Prince's pair of orders
 * 5 and 4, with its interpolant of order 4.  Unlike a multistep method it is at full order from its
 * first step on, and a day has hundreds of restarts. */
#ifndef PUMPDAY_EXPLICIT_H
#define PUMPDAY_EXPLICIT_H

#include "run/motion.h"

enum { EXPLICIT_STAGES = 7, EXPLICIT_DENSE = 5 };

/* A state as pairs of numbers, which are worked on two at a time; a last one without a partner gets
 * one that is never looked at. */
typedef double explicit_pair __attribute__((vector_size(16)));
enum { EXPLICIT_PAIRS = (STATE_COUNT + 1) / 2 };
union explicit_vector {
    double at[2 * EXPLICIT_PAIRS];
    explicit_pair pair[EXPLICIT_PAIRS];
};

/* Everything between two calls; to be begun before use.  Plain data, nothing to free. */
struct explicit_method {
    struct motion motion;
    struct closeness closeness;
    double time;         /* s: where the last step ended */
    double step;         /* s: length of the next one, unless a stop cuts it */
    double began, span;  /* s: when the last one began, and its length; 0 before the first */
    double returned;     /* s: time last given back; before `time` after a crossing */
    double last_error;   /* of the step before, as a share of what passes */
    bool surfaces_moved; /* the distances are to be looked at afresh */
    bool dense_known;    /* the interpolant of the last step is worked out */
    union explicit_vector start, state;           /* where the last step began and ended */
    union explicit_vector stage[EXPLICIT_STAGES]; /* its rates, from those at its start on */
    union explicit_vector dense[EXPLICIT_DENSE];
    double distance[SURFACES_MOST];    /* as last looked at */
    double last_change[SURFACES_MOST]; /* of the distances, over the step before */
    struct method_counts counts;
};

/* Begins a segment; the counts go on.  False if the state is not physical. */
bool explicit_begin(struct explicit_method *method, const struct motion *motion,
                    struct closeness closeness, double time, const double state[STATE_COUNT]);

/* One step that goes no further than `stop`, or up to the first crossing: then crossed[i] tells
 * which surfaces were met.  Fails where no step, however short, stays physical. */
enum step_outcome explicit_step(struct explicit_method *method, double stop, double *time,
                                double state[STATE_COUNT], bool crossed[SURFACES_MOST]);

/* The state at a time within the last step. */
void explicit_state_at(struct explicit_method *method, double time, double state[STATE_COUNT]);

#endif
