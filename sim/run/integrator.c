/* Chooses the method of each segment.
 *
 * With water in the tank nothing is stiff: the water in the pipes rings, in periods of 5 to 27 s,
 * and accuracy sets the steps.  There the explicit method is the cheapest.  A segment that goes on
 * for long after its event has nothing left to follow but that ringing, which dies away and moves
 * nothing; the implicit method at order 2 damps it at any step and crosses the quiet in few.  An
 * empty tank leaves the header on the pipe's own give, with periods of a tenth of a second: that is
 * stiff from the start, and rings for longer than anything depends on it. */
#include "run/integrator.h"

#include "run/explicit.h"
#include "run/implicit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Steps after which an explicit segment only rings.  Fewer save a tenth of a day's time and double
 * the error of the starts; more gain nothing. */
static const long explicit_most = 200;

/* Steps after which an empty tank's header has done what moves the valve and the pump, and only
 * rings.  A day of high-precharge under peak-only takes 0.06 s in place of 0.12, its starts stay
 * where they were within 0.01 s; 60 steps move them by 0.02 s. */
static const long dry_most = 100;

/* What the error test lets pass, times the tolerance asked for.  The explicit method does better
 * than its test tells: a day's starts stay within 0.05 s of those at a thousandth of the tolerance.
 * Of ringing only what moves the water counts: by ten times in a wet tank (a hundred save 2 % of a
 * day and leave fills of half a minute 0.01 s off their closed form), and in an empty
 * one by so much that a day of high-precharge under peak-only takes 0.08 s in place of 0.6 and its
 * starts move by less than 0.2 s. */
static const double explicit_ease = 2.0, ringing_ease = 10.0;
static const double dry_ease = 200.0, dry_ringing_ease = 2.0e4;

/* The highest order of backward differentiation that damps at any step; and one for retries. */
static const int damping_order = 2, retry_order = 5;

/* First step after a failure [s]. */
static const double retry_step = 1.0e-9;

struct integrator {
    struct motion motion;
    double tolerance;
    struct explicit_method explicit_method;
    struct implicit *implicit;
    bool is_implicit;
    bool is_dry;        /* the segment began stiff, and does not only ring yet */
    long segment_steps; /* since it began */
    double stop;
    double before, returned; /* s: the last two times given back */
    long restarts, retries;
};

struct integrator *integrator_create(struct pd_error *error)
{
    struct integrator *integrator = calloc(1, sizeof *integrator);

    if (integrator != NULL) {
        integrator->implicit = implicit_create();
    }
    if (integrator == NULL || integrator->implicit == NULL) {
        integrator_free(integrator);
        pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "the integrator cannot be set up");
        return NULL;
    }
    return integrator;
}

void integrator_free(struct integrator *integrator)
{
    if (integrator != NULL) {
        implicit_free(integrator->implicit);
        free(integrator);
    }
}

void integrator_bind(struct integrator *integrator, const struct motion *motion,
                     double relative_tolerance)
{
    integrator->motion = *motion;
    integrator->tolerance = relative_tolerance;
    integrator->explicit_method.counts = (struct method_counts){0};
    implicit_bind(integrator->implicit, motion);
    integrator->restarts = 0;
    integrator->retries = 0;
}

static bool begin_implicit(struct integrator *integrator, int order, double ease, double first_step,
                           double time, const double state[STATE_COUNT])
{
    integrator->is_implicit = true;
    integrator->segment_steps = 0;
    integrator->returned = time;
    return implicit_begin(integrator->implicit, (struct closeness){integrator->tolerance, ease},
                          order, first_step, time, state);
}

static bool begin_explicit(struct integrator *integrator, double time,
                           const double state[STATE_COUNT])
{
    integrator->is_implicit = false;
    integrator->segment_steps = 0;
    integrator->returned = time;
    return explicit_begin(&integrator->explicit_method, &integrator->motion,
                          (struct closeness){integrator->tolerance, explicit_ease}, time, state);
}

bool integrator_restart(struct integrator *integrator, double time, const double state[STATE_COUNT])
{
    integrator->restarts++;
    integrator->stop = INFINITY;
    integrator->is_dry = integrator->motion.is_stiff(integrator->motion.context);
    return integrator->is_dry
               ? begin_implicit(integrator, damping_order, dry_ease, 0.0, time, state)
               : begin_explicit(integrator, time, state);
}

bool integrator_stop_at(struct integrator *integrator, double time)
{
    integrator->stop = time;
    return true;
}

/* Goes on implicitly from where the last step ended. */
static bool change_over(struct integrator *integrator, int order, double ease, double first_step)
{
    double state[STATE_COUNT];

    return integrator_state_at(integrator, integrator->returned, state) &&
           begin_implicit(integrator, order, ease, first_step, integrator->returned, state);
}

/* The segment is long, and the integrator stands where it was last seen. */
static bool is_over(const struct integrator *integrator, long most)
{
    return integrator->segment_steps >= most &&
           integrator_reached(integrator) <= integrator->returned;
}

/* Follows less closely what only rings. */
static bool ease_ringing(struct integrator *integrator)
{
    if (!integrator->is_implicit && is_over(integrator, explicit_most)) {
        return change_over(integrator, damping_order, ringing_ease, 0.0);
    }
    if (integrator->is_dry && is_over(integrator, dry_most)) {
        integrator->is_dry = false;
        return change_over(integrator, damping_order, dry_ringing_ease, 0.0);
    }
    return true;
}

static enum step_outcome step(struct integrator *integrator, double *time,
                              double state[STATE_COUNT], bool crossed[SURFACES_MOST])
{
    integrator->segment_steps++;
    return integrator->is_implicit
               ? implicit_step(integrator->implicit, integrator->stop, time, state, crossed)
               : explicit_step(&integrator->explicit_method, integrator->stop, time, state,
                               crossed);
}

enum step_outcome integrator_step(struct integrator *integrator, double *time,
                                  double state[STATE_COUNT], bool crossed[SURFACES_MOST])
{
    if (!ease_ringing(integrator)) {
        return STEP_FAILED;
    }
    enum step_outcome outcome = step(integrator, time, state, crossed);
    if (outcome == STEP_FAILED && change_over(integrator, retry_order, 1.0, retry_step)) {
        integrator->retries++;
        outcome = step(integrator, time, state, crossed);
    }
    if (outcome != STEP_FAILED) {
        integrator->before = integrator->returned;
        integrator->returned = *time;
    }
    return outcome;
}

bool integrator_state_at(struct integrator *integrator, double time, double state[STATE_COUNT])
{
    if (integrator->is_implicit) {
        return implicit_state_at(integrator->implicit, time, state);
    }
    explicit_state_at(&integrator->explicit_method, time, state);
    return true;
}

bool integrator_slopes(const struct integrator *integrator, int place, double slope[2])
{
    const struct explicit_method *method = &integrator->explicit_method;

    slope[0] = method->stage[0].at[place];
    slope[1] = method->stage[EXPLICIT_STAGES - 1].at[place];
    return !integrator->is_implicit && integrator->before == method->began &&
           integrator->returned == method->time;
}

double integrator_reached(const struct integrator *integrator)
{
    return integrator->is_implicit ? implicit_reached(integrator->implicit)
                                   : integrator->explicit_method.time;
}

const double *integrator_distances(const struct integrator *integrator)
{
    return integrator->is_implicit ? implicit_distances(integrator->implicit)
                                   : integrator->explicit_method.distance;
}

const char *integrator_complaint(const struct integrator *integrator)
{
    const char *complaint = implicit_complaint(integrator->implicit);

    return complaint[0] != '\0' ? complaint : "no step is short enough";
}

struct integrator_counts integrator_counts(const struct integrator *integrator)
{
    const struct method_counts *first = &integrator->explicit_method.counts;
    struct method_counts second = implicit_counts(integrator->implicit);

    return (struct integrator_counts){
        .steps = first->steps + second.steps,
        .rhs_calls = first->rhs_calls + second.rhs_calls,
        .root_calls = first->root_calls + second.root_calls,
        .restarts = integrator->restarts,
        .retries = integrator->retries,
    };
}
