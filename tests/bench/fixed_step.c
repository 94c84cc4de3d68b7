/* The calls of the integrator, done by the classical fourth-order Runge-Kutta scheme at a fixed
 * step: a measure beside CVODE, with the same equations, surfaces and bookkeeping around it.
 *
 * A step in which a surface is crossed is taken again up to the crossing, found by the secant rule.
 */
#include "run/integrator.h"

#include "bench/fixed_step.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

double fixed_step = 0.01;

struct integrator {
    struct motion motion;
    double time, stop;
    double state[STATE_COUNT];
    double from_time;
    double from[STATE_COUNT], from_rate[STATE_COUNT], rate[STATE_COUNT];
    double distances[SURFACES_MOST];
    struct integrator_counts counts;
};

struct integrator *integrator_create(struct pd_error *error)
{
    (void)error;
    return calloc(1, sizeof(struct integrator));
}

void integrator_free(struct integrator *integrator)
{
    free(integrator);
}

void integrator_bind(struct integrator *integrator, const struct motion *motion,
                     double relative_tolerance)
{
    (void)relative_tolerance;
    memset(integrator, 0, sizeof *integrator);
    integrator->motion = *motion;
}

static void rates(struct integrator *integrator, double time, const double *state, double *rate)
{
    integrator->motion.rates(integrator->motion.context, time, state, rate);
    integrator->counts.rhs_calls++;
}

static void look(struct integrator *integrator, double time, const double *state)
{
    integrator->motion.surfaces(integrator->motion.context, time, state, integrator->distances);
    integrator->counts.root_calls++;
}

bool integrator_restart(struct integrator *integrator, double time, const double state[STATE_COUNT])
{
    integrator->counts.restarts++;
    integrator->time = time;
    memcpy(integrator->state, state, sizeof integrator->state);
    rates(integrator, time, state, integrator->rate);
    return true;
}

bool integrator_stop_at(struct integrator *integrator, double time)
{
    integrator->stop = time;
    return true;
}

static void add(const double *state, double h, const double *rate, double *sum)
{
    for (int i = 0; i < STATE_COUNT; i++) {
        sum[i] = state[i] + h * rate[i];
    }
}

static void take(struct integrator *integrator, double h, double *next)
{
    double k[4][STATE_COUNT], at[STATE_COUNT];
    double time = integrator->from_time;

    memcpy(k[0], integrator->from_rate, sizeof k[0]);
    add(integrator->from, 0.5 * h, k[0], at);
    rates(integrator, time + 0.5 * h, at, k[1]);
    add(integrator->from, 0.5 * h, k[1], at);
    rates(integrator, time + 0.5 * h, at, k[2]);
    add(integrator->from, h, k[2], at);
    rates(integrator, time + h, at, k[3]);
    for (int i = 0; i < STATE_COUNT; i++) {
        next[i] =
            integrator->from[i] + h / 6.0 * (k[0][i] + 2.0 * k[1][i] + 2.0 * k[2][i] + k[3][i]);
    }
}

/* The part of the step at which the first surface is crossed; 1 if none is. */
static double first_crossing(const double *before, const double *after)
{
    double first = 1.0;

    for (int i = 0; i < SURFACES_MOST; i++) {
        if (before[i] > 0.0 && after[i] <= 0.0) {
            first = fmin(first, before[i] / (before[i] - after[i]));
        }
    }
    return first;
}

enum step_outcome integrator_step(struct integrator *integrator, double *time,
                                  double state[STATE_COUNT], bool crossed[SURFACES_MOST])
{
    double h = fmin(fixed_step, integrator->stop - integrator->time);
    bool stops = h < fixed_step;
    double before[SURFACES_MOST], next[STATE_COUNT];

    integrator->counts.steps++;
    integrator->from_time = integrator->time;
    memcpy(integrator->from, integrator->state, sizeof integrator->from);
    memcpy(integrator->from_rate, integrator->rate, sizeof integrator->rate);
    look(integrator, integrator->from_time, integrator->from);
    memcpy(before, integrator->distances, sizeof before);
    take(integrator, h, next);
    look(integrator, integrator->from_time + h, next);
    double part = first_crossing(before, integrator->distances);
    if (part < 1.0) {
        h *= part;
        stops = false;
        for (int i = 0; i < SURFACES_MOST; i++) {
            crossed[i] = before[i] > 0.0 && integrator->distances[i] <= 0.0 &&
                         before[i] / (before[i] - integrator->distances[i]) <= part;
        }
        take(integrator, h, next);
    }
    integrator->time = stops ? integrator->stop : integrator->from_time + h;
    memcpy(integrator->state, next, sizeof next);
    memcpy(state, next, sizeof next);
    rates(integrator, integrator->time, next, integrator->rate);
    *time = integrator->time;
    return part < 1.0 ? STEP_CROSSED : STEP_DONE;
}

bool integrator_state_at(struct integrator *integrator, double time, double state[STATE_COUNT])
{
    double h = integrator->time - integrator->from_time;
    double u = h > 0.0 ? (time - integrator->from_time) / h : 1.0;

    for (int i = 0; i < STATE_COUNT; i++) {
        double a = integrator->from[i], b = integrator->state[i];
        double da = h * integrator->from_rate[i], db = h * integrator->rate[i];
        state[i] =
            a + u * (da + u * (3.0 * (b - a) - 2.0 * da - db + u * (2.0 * (a - b) + da + db)));
    }
    return true;
}

bool integrator_slopes(const struct integrator *integrator, int place, double slope[2])
{
    slope[0] = integrator->from_rate[place];
    slope[1] = integrator->rate[place];
    return true;
}

double integrator_reached(const struct integrator *integrator)
{
    return integrator->time;
}

const double *integrator_distances(const struct integrator *integrator)
{
    return integrator->distances;
}

const char *integrator_complaint(const struct integrator *integrator)
{
    (void)integrator;
    return "";
}

struct integrator_counts integrator_counts(const struct integrator *integrator)
{
    return integrator->counts;
}
