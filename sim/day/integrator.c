/* Hides CVODE: its vectors, its linear solver, its flags, and the retries when a step fails.
 * Written for SUNDIALS 6.4; the few names that 7.x changed stand at the top. */
#include "day/integrator.h"

#include "day/vector.h"

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

/* Error allowed in a step, times the relative tolerance: a share of the value itself and a
 * constant.
 *
 * The pressure has no share: it makes the pump start, a leak makes it start hundreds of times a
 * day, and each start passes its error on.  With a share of 1 the last start of a leaky day was 2 s
 * late, with this constant it is within 0.12 s, at no cost.  The volumes grow without end, so they
 * have no share either; a flow that creeps for hours adds up to more than its own noise lets one
 * expect. */
static const struct {
    double share, constant;
} allowed[WATCHED_COUNT] = {
    [AT_SPEED] = {1.0, 1.0},        /* of full speed */
    [AT_FLOW] = {1.0, 2.0e-4},      /* m3/s; 12 L/min */
    [AT_PRESSURE] = {0.0, 3.0e4},   /* Pa */
    [AT_TEMPERATURE] = {1.0, 30.0}, /* K */
    [AT_LEVEL] = {1.0, 0.1},        /* m */
    [AT_SUPPLIED] = {0.0, 3.0e-3},  /* m3 */
    [AT_DELIVERED] = {0.0, 3.0e-3}, /* m3 */
};

/* An open valve with little flow lets the service pipe and the header ring with hardly any damping,
 * and the orders above 2 cannot follow that with long steps.  A segment that takes this many steps
 * rings, and is gone on with at an order that damps at any step.  A day of high-precharge under
 * flow-start at a tolerance of 1e-7: 10.1 s without, 0.45 s with.  CVODE's own detection of the
 * stability limit cost every day 18 % and left that one at 10 s. */
static const long steps_before_damping = 400;
static const int damping_order = 2;
static const int usual_order = 5;

/* First step after a failure [s]. */
static const double retry_step = 1.0e-9;

struct integrator {
    SUNContext context;
    N_Vector state;
    void *cvode;
    SUNNonlinearSolver newton;
    double convergence; /* of Newton's method: how much smaller each correction is */
    struct motion motion;
    double relative_tolerance;
    double distances[SURFACES_MOST];
    double stop;
    int order;                       /* most that the segment may use */
    long segment_steps;              /* since it began */
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
    double per_tolerance = 1.0 / integrator->relative_tolerance;

    for (int i = 0; i < WATCHED_COUNT; i++) {
        w[i] = per_tolerance / (allowed[i].share * fabs(y[i]) + allowed[i].constant);
    }
    for (int i = WATCHED_COUNT; i < STATE_COUNT; i++) {
        w[i] = 1.0;
    }
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
    struct integrator *integrator = newton->content;
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
        integrator->counts.rhs_calls++;
        if (!integrator->motion.correct(integrator->motion.context, time, at, gamma, known,
                                        delta)) {
            return 1;
        }
        for (int i = 0; i < STATE_COUNT; i++) {
            sum[i] += delta[i];
        }
        double size = watched_norm(delta, vector_data(weight));
        if (iteration > 0) {
            integrator->convergence = fmax(remembered * integrator->convergence, size / last);
        }
        if (size * fmin(1.0, integrator->convergence) <= tolerance) {
            return 0;
        }
        // NaN counts as diverging
        if (iteration > 0 && !(size <= diverging * last)) {
            break;
        }
        last = size;
    }
    integrator->convergence = 1.0;
    return SUN_NLS_CONV_RECVR;
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

static bool create_newton(struct integrator *integrator)
{
    integrator->newton = SUNNonlinSolNewEmpty(integrator->context);
    if (integrator->newton == NULL) {
        return false;
    }
    integrator->newton->content = integrator;
    integrator->newton->ops->gettype = newton_type;
    integrator->newton->ops->solve = newton_solve;
    integrator->newton->ops->setsysfn = newton_set_system;
    return CVodeSetNonlinearSolver(integrator->cvode, integrator->newton) == CV_SUCCESS;
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
           CVodeWFtolerances(*cvode, weights) == CV_SUCCESS && create_newton(integrator) &&
           CVodeRootInit(*cvode, SURFACES_MOST, surfaces) == CV_SUCCESS &&
           CVodeSetRootDirection(*cvode, falling) == CV_SUCCESS &&
           CVodeSetNoInactiveRootWarn(*cvode) == CV_SUCCESS;
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
    if (integrator->newton != NULL) {
        SUNNonlinSolFreeEmpty(integrator->newton);
    }
    if (integrator->state != NULL) {
        N_VDestroy(integrator->state);
    }
    if (integrator->context != NULL) {
        SUNContext_Free(&integrator->context);
    }
    free(integrator);
}

void integrator_bind(struct integrator *integrator, const struct motion *motion,
                     double relative_tolerance)
{
    integrator->motion = *motion;
    integrator->counts = (struct integrator_counts){0};
    integrator->complaint[0] = '\0';
    integrator->relative_tolerance = relative_tolerance;
}

/* Steps of the segment that a restart is about to end. */
static void keep_counts(struct integrator *integrator)
{
    long steps = 0;

    if (integrator->counts.restarts > 0 && CVodeGetNumSteps(integrator->cvode, &steps) == 0) {
        integrator->counts.steps += steps;
    }
}

/* Begins a segment; a first step of 0 is left to CVODE to estimate. */
static bool begin(struct integrator *integrator, double time, const double state[STATE_COUNT],
                  int order, double first_step)
{
    keep_counts(integrator);
    integrator->counts.restarts++;
    integrator->returned = time;
    integrator->stop = INFINITY;
    integrator->convergence = 1.0;
    integrator->order = order;
    integrator->segment_steps = 0;
    memcpy(vector_data(integrator->state), state, STATE_COUNT * sizeof(double));
    return CVodeReInit(integrator->cvode, time, integrator->state) == CV_SUCCESS &&
           CVodeSetInitStep(integrator->cvode, first_step) == CV_SUCCESS &&
           CVodeSetMaxOrd(integrator->cvode, order) == CV_SUCCESS;
}

bool integrator_restart(struct integrator *integrator, double time, const double state[STATE_COUNT])
{
    return begin(integrator, time, state, usual_order, 0.0);
}

bool integrator_stop_at(struct integrator *integrator, double time)
{
    if (time == integrator->stop) {
        return true;
    }
    integrator->stop = time;
    return CVodeSetStopTime(integrator->cvode, time) == CV_SUCCESS;
}

/* Begins again from where the last step ended. */
static bool begin_again(struct integrator *integrator, int order, double first_step)
{
    double state[STATE_COUNT];
    double stop = integrator->stop;

    return integrator_state_at(integrator, integrator->returned, state) &&
           begin(integrator, integrator->returned, state, order, first_step) &&
           integrator_stop_at(integrator, stop);
}

static int step(struct integrator *integrator, sunrealtype *time)
{
    integrator->segment_steps++;
    return CVode(integrator->cvode, integrator->stop, integrator->state, time, CV_ONE_STEP);
}

/* The segment rings, and the integrator stands where it was last seen. */
static bool rings(const struct integrator *integrator)
{
    return integrator->segment_steps >= steps_before_damping && integrator->order > damping_order &&
           integrator_reached(integrator) <= integrator->returned;
}

enum step_outcome integrator_step(struct integrator *integrator, double *time,
                                  double state[STATE_COUNT], bool crossed[SURFACES_MOST])
{
    sunrealtype reached = integrator->returned;
    int flag;

    if (rings(integrator) && !begin_again(integrator, damping_order, 0.0)) {
        return STEP_FAILED;
    }
    flag = step(integrator, &reached);
    if (flag < 0 && begin_again(integrator, usual_order, retry_step)) {
        integrator->counts.retries++;
        flag = step(integrator, &reached);
    }
    if (flag < 0) {
        char *name = CVodeGetReturnFlagName(flag);
        (void)snprintf(integrator->complaint, sizeof integrator->complaint, "%s after a retry",
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
