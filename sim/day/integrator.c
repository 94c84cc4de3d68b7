/* Hides CVODE: its vectors, its linear solver, its flags, and the retries when a step fails.
 * Written for SUNDIALS 6.4; the few names that 7.x changed stand at the top. */
#include "day/integrator.h"

#include "day/vector.h"

#include <cvode/cvode.h>
#include <sundials/sundials_config.h>
#include <sundials/sundials_linearsolver.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#if SUNDIALS_VERSION_MAJOR >= 7
#define NO_COMMUNICATOR SUN_COMM_NULL
#else
#define NO_COMMUNICATOR NULL
#endif

/* Noise level of each part of the core: errors under it are of no interest. */
static const double absolute_tolerance[CORE_COUNT] = {
    [AT_SPEED] = 1.0,        /* of full speed; times the relative tolerance */
    [AT_FLOW] = 2.0e-4,      /* m3/s, 12 L/min; times the relative tolerance */
    [AT_PRESSURE] = 1.0e5,   /* Pa; times the relative tolerance */
    [AT_TEMPERATURE] = 30.0, /* K; times the relative tolerance */
    [AT_LEVEL] = 0.1,        /* m; times the relative tolerance */
};

/* Steps that one call may take before it is taken to have failed: an idle day needs some hundred.
 */
static const long most_inner_steps = 20000;

struct integrator {
    SUNContext context;
    N_Vector state;
    void *cvode;
    SUNLinearSolver linear;
    struct motion motion;
    double relative_tolerance;
    double absolute[CORE_COUNT];
    double distances[SURFACES_MOST];
    double stop;
    double returned;                 /* time last given back */
    struct integrator_counts counts; /* of the segments before the last restart */
    char complaint[128];
};

static int rates(sunrealtype time, N_Vector state, N_Vector rate, void *user)
{
    struct integrator *integrator = user;
    bool good = integrator->motion.rates(integrator->motion.context, time, vector_data(state),
                                         vector_data(rate));
    integrator->counts.rhs_calls++;
    return good ? 0 : 1;
}

static int surfaces(sunrealtype time, N_Vector state, sunrealtype *distance, void *user)
{
    struct integrator *integrator = user;

    integrator->motion.surfaces(integrator->motion.context, time, vector_data(state), distance);
    integrator->counts.root_calls++;
    for (int i = 0; i < SURFACES_MOST; i++) {
        integrator->distances[i] = distance[i];
        // a surface that is nowhere would hang the search for a crossing
        if (!isfinite(distance[i])) {
            return 1;
        }
    }
    return 0;
}

static int weights(N_Vector state, N_Vector weight, void *user)
{
    const struct integrator *integrator = user;
    const double *y = vector_data(state);
    double *w = vector_data(weight);

    for (int i = 0; i < CORE_COUNT; i++) {
        w[i] = 1.0 / (integrator->relative_tolerance * fabs(y[i]) + integrator->absolute[i]);
    }
    for (int i = CORE_COUNT; i < STATE_COUNT; i++) {
        w[i] = 1.0;
    }
    return 0;
}

/* The linear solver: CVODE asks for (I - gamma J) x = b, the circuit knows the answer. */
static SUNLinearSolver_Type linear_type(SUNLinearSolver linear)
{
    (void)linear;
    return SUNLINEARSOLVER_MATRIX_EMBEDDED;
}

static int linear_solve(SUNLinearSolver linear, SUNMatrix matrix, N_Vector x, N_Vector b,
                        sunrealtype tolerance)
{
    struct integrator *integrator = linear->content;
    N_Vector predicted, state, rate, first;
    sunrealtype time, gamma, factor;
    void *user;

    (void)matrix;
    (void)tolerance;
    if (CVodeGetNonlinearSystemData(integrator->cvode, &time, &predicted, &state, &rate, &gamma,
                                    &factor, &first, &user) != CV_SUCCESS) {
        return -1;
    }
    memcpy(vector_data(x), vector_data(b), STATE_COUNT * sizeof(double));
    integrator->motion.solve(integrator->motion.context, time, vector_data(state), gamma,
                             vector_data(x));
    return 0;
}

/* Errors come back as return values and are told by the program; CVODE itself stays silent. */
#if SUNDIALS_VERSION_MAJOR >= 7
static bool silence(struct integrator *integrator)
{
    return SUNContext_ClearErrHandlers(integrator->context) == 0;
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

static bool silence(struct integrator *integrator)
{
    return CVodeSetErrHandlerFn(integrator->cvode, ignore, NULL) == CV_SUCCESS;
}
#endif

static bool create_linear_solver(struct integrator *integrator)
{
    integrator->linear = SUNLinSolNewEmpty(integrator->context);
    if (integrator->linear == NULL) {
        return false;
    }
    integrator->linear->content = integrator;
    integrator->linear->ops->gettype = linear_type;
    integrator->linear->ops->solve = linear_solve;
    return CVodeSetLinearSolver(integrator->cvode, integrator->linear, NULL) == CV_SUCCESS;
}

static bool create_parts(struct integrator *integrator)
{
    int falling[SURFACES_MOST];
    void **cvode = &integrator->cvode;

    if (SUNContext_Create(NO_COMMUNICATOR, &integrator->context) != 0) {
        return false;
    }
    integrator->state = vector_create(integrator->context);
    *cvode = CVodeCreate(CV_BDF, integrator->context);
    if (integrator->state == NULL || *cvode == NULL || !silence(integrator)) {
        return false;
    }
    // a state belongs where all distances are positive, so only falling through 0 counts
    for (int i = 0; i < SURFACES_MOST; i++) {
        falling[i] = -1;
    }
    return CVodeInit(*cvode, rates, 0.0, integrator->state) == CV_SUCCESS &&
           CVodeSetUserData(*cvode, integrator) == CV_SUCCESS &&
           CVodeWFtolerances(*cvode, weights) == CV_SUCCESS && create_linear_solver(integrator) &&
           CVodeRootInit(*cvode, SURFACES_MOST, surfaces) == CV_SUCCESS &&
           CVodeSetRootDirection(*cvode, falling) == CV_SUCCESS &&
           CVodeSetNoInactiveRootWarn(*cvode) == CV_SUCCESS &&
           CVodeSetMaxNumSteps(*cvode, most_inner_steps) == CV_SUCCESS;
}

struct integrator *integrator_create(struct pd_error *error)
{
    struct integrator *integrator = calloc(1, sizeof *integrator);

    if (integrator == NULL || !create_parts(integrator)) {
        integrator_free(integrator);
        pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "the integrator cannot be set up");
        return NULL;
    }
    return integrator;
}

void integrator_free(struct integrator *integrator)
{
    if (integrator == NULL) {
        return;
    }
    CVodeFree(&integrator->cvode);
    if (integrator->linear != NULL) {
        SUNLinSolFreeEmpty(integrator->linear);
    }
    if (integrator->state != NULL) {
        N_VDestroy(integrator->state);
    }
    if (integrator->context != NULL) {
        SUNContext_Free(&integrator->context);
    }
    free(integrator);
}

static void set_tolerance(struct integrator *integrator, double relative_tolerance)
{
    integrator->relative_tolerance = relative_tolerance;
    for (int i = 0; i < CORE_COUNT; i++) {
        integrator->absolute[i] = relative_tolerance * absolute_tolerance[i];
    }
}

void integrator_bind(struct integrator *integrator, const struct motion *motion,
                     double relative_tolerance)
{
    integrator->motion = *motion;
    integrator->counts = (struct integrator_counts){0};
    integrator->complaint[0] = '\0';
    set_tolerance(integrator, relative_tolerance);
}

/* Steps of the segment that a restart is about to end. */
static void keep_counts(struct integrator *integrator)
{
    long steps = 0;

    if (integrator->counts.restarts > 0 && CVodeGetNumSteps(integrator->cvode, &steps) == 0) {
        integrator->counts.steps += steps;
    }
}

bool integrator_restart(struct integrator *integrator, double time, const double state[STATE_COUNT])
{
    keep_counts(integrator);
    integrator->counts.restarts++;
    integrator->returned = time;
    integrator->stop = INFINITY;
    memcpy(vector_data(integrator->state), state, STATE_COUNT * sizeof(double));
    return CVodeReInit(integrator->cvode, time, integrator->state) == CV_SUCCESS;
}

bool integrator_stop_at(struct integrator *integrator, double time)
{
    if (time == integrator->stop) {
        return true;
    }
    integrator->stop = time;
    return CVodeSetStopTime(integrator->cvode, time) == CV_SUCCESS;
}

/* A step failed: begin again from where the last one ended, with a tiny first step. */
static int retry(struct integrator *integrator, sunrealtype *time)
{
    double state[STATE_COUNT];
    double stop = integrator->stop;

    integrator->counts.retries++;
    if (CVodeGetDky(integrator->cvode, integrator->returned, 0, integrator->state) != CV_SUCCESS) {
        return -1;
    }
    memcpy(state, vector_data(integrator->state), sizeof state);
    if (!integrator_restart(integrator, integrator->returned, state) ||
        !integrator_stop_at(integrator, stop) ||
        CVodeSetInitStep(integrator->cvode, 1.0e-9) != CV_SUCCESS) {
        return -1;
    }
    int flag = CVode(integrator->cvode, stop, integrator->state, time, CV_ONE_STEP);
    // the next restart estimates its own first step again
    CVodeSetInitStep(integrator->cvode, 0.0);
    return flag;
}

enum step_outcome integrator_step(struct integrator *integrator, double *time,
                                  double state[STATE_COUNT], bool crossed[SURFACES_MOST])
{
    sunrealtype reached = integrator->returned;
    int flag = CVode(integrator->cvode, integrator->stop, integrator->state, &reached, CV_ONE_STEP);

    if (flag < 0) {
        flag = retry(integrator, &reached);
    }
    if (flag < 0) {
        char *name = CVodeGetReturnFlagName(flag);
        snprintf(integrator->complaint, sizeof integrator->complaint, "%s after a retry",
                 name != NULL ? name : "unknown failure");
        free(name);
        return STEP_FAILED;
    }
    *time = reached;
    integrator->returned = reached;
    memcpy(state, vector_data(integrator->state), STATE_COUNT * sizeof(double));
    if (flag == CV_TSTOP_RETURN) {
        integrator->stop = INFINITY;
    }
    if (flag != CV_ROOT_RETURN) {
        return STEP_DONE;
    }
    int found[SURFACES_MOST];
    if (CVodeGetRootInfo(integrator->cvode, found) != CV_SUCCESS) {
        return STEP_FAILED;
    }
    for (int i = 0; i < SURFACES_MOST; i++) {
        crossed[i] = found[i] != 0;
    }
    return STEP_CROSSED;
}

bool integrator_state_at(struct integrator *integrator, double time, double state[STATE_COUNT])
{
    if (CVodeGetDky(integrator->cvode, time, 0, integrator->state) != CV_SUCCESS) {
        return false;
    }
    memcpy(state, vector_data(integrator->state), STATE_COUNT * sizeof(double));
    return true;
}

double integrator_reached(const struct integrator *integrator)
{
    sunrealtype time = integrator->returned;

    CVodeGetCurrentTime(integrator->cvode, &time);
    return time;
}

const double *integrator_distances(const struct integrator *integrator)
{
    return integrator->distances;
}

const char *integrator_complaint(const struct integrator *integrator)
{
    return integrator->complaint;
}

struct integrator_counts integrator_counts(const struct integrator *integrator)
{
    struct integrator_counts counts = integrator->counts;
    long steps = 0;

    if (counts.restarts > 0 && CVodeGetNumSteps(integrator->cvode, &steps) == 0) {
        counts.steps += steps;
    }
    return counts;
}
