/* The explicit method: its coefficients against the order conditions, its error against motions
 * whose solution is known, and the crossings that it finds. */
#include "run/explicit.h"

#include "physics/near.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

void suite_explicit(void);

static const double pi = 3.14159265358979323846;

static struct explicit_method method;

/* A body on a spring, written into two parts of the state, and a third that grows with the time to
 * the fourth: x'' = -w^2 x; y' = 5 t^4. */
static double omega = 2.0;
enum { AT_PLACE = AT_PRESSURE, AT_MOTION = AT_TEMPERATURE, AT_POWER = AT_SIGMA };

static bool swing(void *context, double time, const double *state, double *rate)
{
    (void)context;
    memset(rate, 0, STATE_COUNT * sizeof *rate);
    rate[AT_PLACE] = state[AT_MOTION];
    rate[AT_MOTION] = -omega * omega * state[AT_PLACE];
    rate[AT_POWER] = 5 * pow(time, 4);
    return true;
}

/* The place above a line: two surfaces, at different heights. */
static double lines[2];

static void heights(void *context, double time, const double *state, double *distance)
{
    (void)context;
    (void)time;
    for (int i = 0; i < SURFACES_MOST; i++) {
        distance[i] = 1;
    }
    distance[2] = state[AT_PLACE] - lines[0];
    distance[5] = state[AT_PLACE] - lines[1];
}

static const struct motion swinging = {NULL, swing, NULL, NULL, heights};

static void begin(double place, double tolerance)
{
    double state[STATE_COUNT] = {0};

    state[AT_PLACE] = place;
    lines[0] = lines[1] = -1e9;
    method = (struct explicit_method){.step = 0};
    CU_ASSERT_TRUE_FATAL(
        explicit_begin(&method, &swinging, (struct closeness){tolerance, 1}, 0, state));
}

/* Runs to a time; the first crossing ends it. */
static enum step_outcome run(double stop, double *time, double state[STATE_COUNT],
                             bool crossed[SURFACES_MOST])
{
    enum step_outcome outcome = STEP_DONE;

    memset(crossed, 0, SURFACES_MOST * sizeof *crossed);
    for (*time = method.returned; outcome == STEP_DONE && *time < stop;) {
        outcome = explicit_step(&method, stop, time, state, crossed);
    }
    return outcome;
}

/* Ten swings of 300 kPa: the error falls with the tolerance, and t^5 comes out to rounding, as of a
 * rule of order 5.  The allowance of a pressure is 30 kPa times the tolerance a step. */
static void a_swing_and_a_power(void)
{
    static const double tolerances[] = {1e-4, 1e-6, 1e-8};
    double last = INFINITY;

    for (int i = 0; i < 3; i++) {
        double state[STATE_COUNT], time;
        bool crossed[SURFACES_MOST];
        begin(3e5, tolerances[i]);
        CU_ASSERT_EQUAL(run(10 * pi, &time, state, crossed), STEP_DONE);
        CU_ASSERT_EQUAL(time, 10 * pi);
        double error = fabs(state[AT_PLACE] - 3e5 * cos(omega * time));
        CU_ASSERT(error < 3e5 * 300 * tolerances[i]);
        CU_ASSERT(error < 0.1 * last);
        CU_ASSERT(near(state[AT_POWER], pow(time, 5), 1e-12));
        last = error;
    }
}

/* A quarter of the step leaves a thousandth of the error: order 5, as one step each from the same
 * place by hand.  Within a step the interpolant of order 4 is nearly as good. */
static void orders_of_step_and_interpolant(void)
{
    double error[2], inside[2];

    for (int i = 0; i < 2; i++) {
        double state[STATE_COUNT], time, span = i == 0 ? 0.4 : 0.1;
        bool crossed[SURFACES_MOST];
        begin(1, 1);
        method.step = span;
        CU_ASSERT_EQUAL(explicit_step(&method, span, &time, state, crossed), STEP_DONE);
        CU_ASSERT_EQUAL(method.counts.steps, 1);
        error[i] = fabs(state[AT_PLACE] - cos(omega * span));
        explicit_state_at(&method, 0.3 * span, state);
        inside[i] = fabs(state[AT_PLACE] - cos(omega * 0.3 * span));
        explicit_state_at(&method, 0, state);
        CU_ASSERT(near(state[AT_PLACE], 1, 1e-15));
    }
    // 4^6 and 4^5 for one step of orders 5 and 4
    CU_ASSERT(error[0] / error[1] > 2500 && error[0] / error[1] < 6500);
    CU_ASSERT(inside[0] / inside[1] > 700 && inside[0] / inside[1] < 6500);
}

/* cos(2 t) falls through 0.5 at pi/6; beyond it a step goes on to the line below at pi/3. */
static void crossings_in_their_order(void)
{
    double state[STATE_COUNT], time;
    bool crossed[SURFACES_MOST];

    begin(1e5, 1e-9);
    lines[0] = -0.5e5;
    lines[1] = 0.5e5;
    CU_ASSERT_EQUAL(run(3, &time, state, crossed), STEP_CROSSED);
    CU_ASSERT_DOUBLE_EQUAL(time, pi / 6, 1e-8);
    CU_ASSERT_TRUE(crossed[5]);
    CU_ASSERT_FALSE(crossed[2]);
    CU_ASSERT(state[AT_PLACE] <= 0.5e5);
    // the caller turns the surface round; here it is taken away
    lines[1] = -1e9;
    CU_ASSERT_EQUAL(run(3, &time, state, crossed), STEP_CROSSED);
    CU_ASSERT_DOUBLE_EQUAL(time, pi / 3, 1e-8);
    CU_ASSERT_TRUE(crossed[2]);
    lines[0] = -1e9;
    CU_ASSERT_EQUAL(run(3, &time, state, crossed), STEP_DONE);
    CU_ASSERT_DOUBLE_EQUAL(state[AT_PLACE], 1e5 * cos(6), 1);
}

/* The swing turns at -1 within a long step, and its ends are both above the line that it passes by
 * a thousandth: found all the same, at acos(-0.999)/2.  A line a thousandth deeper is not met. */
static void a_dip_within_a_step(void)
{
    double state[STATE_COUNT], time;
    bool crossed[SURFACES_MOST];

    begin(1e5, 1);
    lines[0] = -0.999e5;
    method.time = method.returned = 0.48 * pi;
    method.state.at[AT_PLACE] = 1e5 * cos(0.96 * pi);
    method.state.at[AT_MOTION] = -2e5 * sin(0.96 * pi);
    (void)swing(NULL, method.time, method.state.at, method.stage[0].at);
    method.step = 0.04 * pi;
    CU_ASSERT_EQUAL(explicit_step(&method, 0.52 * pi, &time, state, crossed), STEP_CROSSED);
    CU_ASSERT_DOUBLE_EQUAL(time, acos(-0.999) / 2, 1e-4);
    CU_ASSERT_TRUE(crossed[2]);
    lines[0] = -1.001e5;
    CU_ASSERT_EQUAL(explicit_step(&method, 0.52 * pi, &time, state, crossed), STEP_DONE);
    CU_ASSERT(near(time, 0.52 * pi, 1e-14));
}

static bool never(void *context, double time, const double *state, double *rate)
{
    memset(rate, 0, STATE_COUNT * sizeof *rate);
    (void)context;
    return time <= 1.0 && state[AT_PLACE] > 0;
}

/* A state that is physical up to a time only: the steps end there and say so. */
static void what_is_not_physical_fails(void)
{
    const struct motion motion = {NULL, never, NULL, NULL, heights};
    double state[STATE_COUNT] = {0}, time;
    bool crossed[SURFACES_MOST];

    lines[0] = lines[1] = -1e9;
    method = (struct explicit_method){.step = 0};
    CU_ASSERT_FALSE(explicit_begin(&method, &motion, (struct closeness){1e-6, 1}, 0, state));
    state[AT_PLACE] = 1;
    CU_ASSERT_TRUE_FATAL(explicit_begin(&method, &motion, (struct closeness){1e-6, 1}, 0, state));
    CU_ASSERT_EQUAL(run(5, &time, state, crossed), STEP_FAILED);
    CU_ASSERT(time <= 1 && time > 0.999);
}

void suite_explicit(void)
{
    CU_pSuite suite = CU_add_suite("explicit method", NULL, NULL);

    CU_ADD_TEST(suite, a_swing_and_a_power);
    CU_ADD_TEST(suite, orders_of_step_and_interpolant);
    CU_ADD_TEST(suite, crossings_in_their_order);
    CU_ADD_TEST(suite, a_dip_within_a_step);
    CU_ADD_TEST(suite, what_is_not_physical_fails);
}
