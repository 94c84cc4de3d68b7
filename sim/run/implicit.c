/* Hides CVODE: its vectors, its nonlinear solver, its flags.
 * Written for SUNDIALS 6.4; the few names that 7.x changed stand at the top. */
#include "run/implicit.h"

#include "run/vector.h"

#include <cvode/cvode.h>
#include <sundials/sundials_config.h>
#include <sundials/sundials_nonlinearsolver.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#if SUNDIALS_VERSION_MAJOR >= 7
#define NO_COMMUNICATOR SUN_COMM_NULL
#else
#define NO_COMMUNICATOR NULL
#endif

struct implicit {
    SUNContext context;
    N_Vector state;
    void *cvode;
    SUNNonlinearSolver newton;
    double convergence; /* of Newton's method: how much smaller each correction is */
    struct motion motion;
    struct closeness closeness;
    double distances[SURFACES_MOST];
    double stop;
    double returned;             /* s: time last given back */
    struct method_counts counts; /* the steps are of the segments before this one */
    char complaint[128];
};

static int rates(sunrealtype time, N_Vector state, N_Vector rate, void *user)
{
    struct implicit *implicit = user;
    bool good = implicit->motion.rates(implicit->motion.context, time, vector_data(state),
                                       vector_data(rate));
    implicit->counts.rhs_calls++;
    return good ? 0 : 1;
}

static int surfaces(sunrealtype time, N_Vector state, sunrealtype *distance, void *user)
{
    struct implicit *implicit = user;

    implicit->motion.surfaces(implicit->motion.context, time, vector_data(state), distance);
    implicit->counts.root_calls++;
    for (int i = 0; i < SURFACES_MOST; i++) {
        implicit->distances[i] = distance[i];
        // a surface that is nowhere would hang the search for a crossing
        if (!isfinite(distance[i])) {
            return 1;
        }
    }
    return 0;
}

static int weights(N_Vector state, N_Vector weight, void *user)
{
    const struct implicit *implicit = user;

    motion_weights(implicit->closeness, vector_data(state), vector_data(weight));
    return 0;
}

/* The nonlinear solver: Newton's method with the exact Jacobian, on the bare numbers.  Each
 * iteration is one call of the motion.  The rate of convergence is remembered from step to step, so
 * that most steps need one iteration; the packaged solver forgets it and takes nearly two.
 * A day of hillside-house: 18.3 ms with the packaged solver over a linear solver of our own, 13.3
 * ms with this one.  A first step given at a restart gained nothing. */
static const int most_iterations = 4;
static const double remembered = 0.3; /* how fast the memory fades, as in CVODE's own test */
static const double diverging = 2.0;  /* a correction growing by this is not going to converge */

static SUNNonlinearSolver_Type newton_type(SUNNonlinearSolver newton)
{
    (void)newton;
    return SUNNONLINEARSOLVER_ROOTFIND;
}

static int newton_set_system(SUNNonlinearSolver newton, SUNNonlinSolSysFn system)
{
    (void)newton;
    (void)system;
    return 0;
}

static int newton_solve(SUNNonlinearSolver newton, N_Vector start, N_Vector correction,
                        N_Vector weight, sunrealtype tolerance, sunbooleantype setup, void *memory)
{
    struct implicit *implicit = newton->content;
    N_Vector predicted, state, rate, first;
    sunrealtype time, gamma, factor;
    double last = 0.0;
    void *user;

    (void)start;
    (void)setup;
    if (CVodeGetNonlinearSystemData(memory, &time, &predicted, &state, &rate, &gamma, &factor,
                                    &first, &user) != CV_SUCCESS) {
        return -1;
    }
    const double *zn0 = vector_data(predicted), *zn1 = vector_data(first);
    double *sum = vector_data(correction);
    memset(sum, 0, STATE_COUNT * sizeof *sum);
    for (int iteration = 0; iteration < most_iterations; iteration++) {
        double at[STATE_COUNT], known[STATE_COUNT], delta[STATE_COUNT];
        for (int i = 0; i < STATE_COUNT; i++) {
            at[i] = zn0[i] + sum[i];
            known[i] = factor * zn1[i] + sum[i];
        }
        implicit->counts.rhs_calls++;
        if (!implicit->motion.correct(implicit->motion.context, time, at, gamma, known, delta)) {
            return 1;
        }
        for (int i = 0; i < STATE_COUNT; i++) {
            sum[i] += delta[i];
        }
        double size = motion_norm(delta, vector_data(weight));
        if (iteration > 0) {
            implicit->convergence = fmax(remembered * implicit->convergence, size / last);
        }
        if (size * fmin(1.0, implicit->convergence) <= tolerance) {
            return 0;
        }
        // NaN counts as diverging
        if (iteration > 0 && !(size <= diverging * last)) {
            break;
        }
        last = size;
    }
    implicit->convergence = 1.0;
    return SUN_NLS_CONV_RECVR;
}

/* Errors come back as return values and are told by the program; CVODE itself stays silent. */
#if SUNDIALS_VERSION_MAJOR >= 7
static bool silence(struct implicit *implicit)
{
    return SUNContext_ClearErrHandlers(implicit->context) == 0;
}
#else
static void ignore(int code, const char *module, const char *function, char *message, void *user)
{
    (void)code;
    (void)module;
    (void)function;
    (void)message;
    (void)user;
}

static bool silence(struct implicit *implicit)
{
    return CVodeSetErrHandlerFn(implicit->cvode, ignore, NULL) == CV_SUCCESS;
}
#endif

static bool create_newton(struct implicit *implicit)
{
    implicit->newton = SUNNonlinSolNewEmpty(implicit->context);
    if (implicit->newton == NULL) {
        return false;
    }
    implicit->newton->content = implicit;
    implicit->newton->ops->gettype = newton_type;
    implicit->newton->ops->solve = newton_solve;
    implicit->newton->ops->setsysfn = newton_set_system;
    return CVodeSetNonlinearSolver(implicit->cvode, implicit->newton) == CV_SUCCESS;
}

static bool create_parts(struct implicit *implicit)
{
    int falling[SURFACES_MOST];
    void **cvode = &implicit->cvode;

    if (SUNContext_Create(NO_COMMUNICATOR, &implicit->context) != 0) {
        return false;
    }
    implicit->state = vector_create(implicit->context);
    *cvode = CVodeCreate(CV_BDF, implicit->context);
    if (implicit->state == NULL || *cvode == NULL || !silence(implicit)) {
        return false;
    }
    // a state belongs where all distances are positive, so only falling through 0 counts
    for (int i = 0; i < SURFACES_MOST; i++) {
        falling[i] = -1;
    }
    return CVodeInit(*cvode, rates, 0.0, implicit->state) == CV_SUCCESS &&
           CVodeSetUserData(*cvode, implicit) == CV_SUCCESS &&
           CVodeWFtolerances(*cvode, weights) == CV_SUCCESS && create_newton(implicit) &&
           CVodeRootInit(*cvode, SURFACES_MOST, surfaces) == CV_SUCCESS &&
           CVodeSetRootDirection(*cvode, falling) == CV_SUCCESS &&
           CVodeSetNoInactiveRootWarn(*cvode) == CV_SUCCESS;
}

struct implicit *implicit_create(void)
{
    struct implicit *implicit = calloc(1, sizeof *implicit);

    if (implicit != NULL && !create_parts(implicit)) {
        implicit_free(implicit);
        implicit = NULL;
    }
    return implicit;
}

void implicit_free(struct implicit *implicit)
{
    if (implicit == NULL) {
        return;
    }
    CVodeFree(&implicit->cvode);
    if (implicit->newton != NULL) {
        SUNNonlinSolFreeEmpty(implicit->newton);
    }
    if (implicit->state != NULL) {
        N_VDestroy(implicit->state);
    }
    if (implicit->context != NULL) {
        SUNContext_Free(&implicit->context);
    }
    free(implicit);
}

/* Steps of the present segment; CVODE counts them afresh in each. */
static long segment_steps(const struct implicit *implicit)
{
    long steps = 0;

    (void)CVodeGetNumSteps(implicit->cvode, &steps);
    return steps;
}

void implicit_bind(struct implicit *implicit, const struct motion *motion)
{
    implicit->motion = *motion;
    // what CVODE has counted so far is of another day
    implicit->counts = (struct method_counts){.steps = -segment_steps(implicit)};
    implicit->complaint[0] = '\0';
}

bool implicit_begin(struct implicit *implicit, struct closeness closeness, int order,
                    double first_step, double time, const double state[STATE_COUNT])
{
    implicit->counts.steps += segment_steps(implicit);
    implicit->closeness = closeness;
    implicit->returned = time;
    implicit->stop = INFINITY;
    implicit->convergence = 1.0;
    memcpy(vector_data(implicit->state), state, STATE_COUNT * sizeof(double));
    return CVodeReInit(implicit->cvode, time, implicit->state) == CV_SUCCESS &&
           CVodeSetInitStep(implicit->cvode, first_step) == CV_SUCCESS &&
           CVodeSetMaxOrd(implicit->cvode, order) == CV_SUCCESS;
}

static bool set_stop(struct implicit *implicit, double time)
{
    if (time == implicit->stop) {
        return true;
    }
    implicit->stop = time;
    return CVodeSetStopTime(implicit->cvode, time) == CV_SUCCESS;
}

static enum step_outcome failed(struct implicit *implicit, int flag)
{
    char *name = CVodeGetReturnFlagName(flag);

    (void)snprintf(implicit->complaint, sizeof implicit->complaint, "%s",
                   name != NULL ? name : "unknown failure");
    free(name);
    return STEP_FAILED;
}

enum step_outcome implicit_step(struct implicit *implicit, double stop, double *time,
                                double state[STATE_COUNT], bool crossed[SURFACES_MOST])
{
    sunrealtype reached = implicit->returned;
    int found[SURFACES_MOST];

    if (!set_stop(implicit, stop)) {
        return failed(implicit, CV_ILL_INPUT);
    }
    int flag = CVode(implicit->cvode, stop, implicit->state, &reached, CV_ONE_STEP);
    if (flag < 0) {
        return failed(implicit, flag);
    }
    *time = reached;
    implicit->returned = reached;
    memcpy(state, vector_data(implicit->state), STATE_COUNT * sizeof(double));
    if (flag == CV_TSTOP_RETURN) {
        // a stop that was reached is gone
        implicit->stop = INFINITY;
    }
    if (flag != CV_ROOT_RETURN) {
        return STEP_DONE;
    }
    if (CVodeGetRootInfo(implicit->cvode, found) != CV_SUCCESS) {
        return failed(implicit, CV_RTFUNC_FAIL);
    }
    for (int i = 0; i < SURFACES_MOST; i++) {
        crossed[i] = found[i] != 0;
    }
    return STEP_CROSSED;
}

bool implicit_state_at(struct implicit *implicit, double time, double state[STATE_COUNT])
{
    if (CVodeGetDky(implicit->cvode, time, 0, implicit->state) != CV_SUCCESS) {
        return false;
    }
    memcpy(state, vector_data(implicit->state), STATE_COUNT * sizeof(double));
    return true;
}

double implicit_reached(const struct implicit *implicit)
{
    sunrealtype time = implicit->returned;

    CVodeGetCurrentTime(implicit->cvode, &time);
    return time;
}

const double *implicit_distances(const struct implicit *implicit)
{
    return implicit->distances;
}

const char *implicit_complaint(const struct implicit *implicit)
{
    return implicit->complaint;
}

struct method_counts implicit_counts(const struct implicit *implicit)
{
    struct method_counts counts = implicit->counts;

    counts.steps += segment_steps(implicit);
    return counts;
}
