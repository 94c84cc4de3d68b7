/* Coefficients and interpolant: Dormand and Prince, A family of embedded Runge-Kutta formulae, J.
 * Comp. Appl. Math. 6 (1980); Hairer, Norsett and Wanner, Solving Ordinary Differential Equations
 * I, II.4 to II.6, from where the step control is taken too.  Written down from memory; the tests
 * hold them to the order conditions. */
#include "run/explicit.h"

#include <math.h>
#include <string.h>

static const double nodes[EXPLICIT_STAGES] = {0.0, 1.0 / 5, 3.0 / 10, 4.0 / 5, 8.0 / 9, 1.0, 1.0};

/* Row by row up to the diagonal; the last is the solution of order 5. */
static const double matrix[EXPLICIT_STAGES][EXPLICIT_STAGES - 1] = {
    {0},
    {1.0 / 5},
    {3.0 / 40, 9.0 / 40},
    {44.0 / 45, -56.0 / 15, 32.0 / 9},
    {19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729},
    {9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176, -5103.0 / 18656},
    {35.0 / 384, 0.0, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84},
};

/* Order 5 less order 4. */
static const double difference[EXPLICIT_STAGES] = {
    71.0 / 57600, 0.0, -71.0 / 16695, 71.0 / 1920, -17253.0 / 339200, 22.0 / 525, -1.0 / 40};

/* Of the interpolant. */
static const double bend[EXPLICIT_STAGES] = {
    -12715105075.0 / 11282082432.0,  0.0,
    87487479700.0 / 32700410799.0,   -10690763975.0 / 1880347072.0,
    701980252875.0 / 199316789632.0, -1453857185.0 / 822651844.0,
    69997945.0 / 29380423.0};

/* The next step is this share of what would just pass, no less than a fifth and no more than ten
 * times the last; the error of the step before has a small say. */
static const double safety = 0.9, least_factor = 0.2, most_factor = 10.0;
static const double memory = 0.04, exponent = 0.2 - 0.75 * 0.04;

/* A trial that is not physical is tried again at this share. */
static const double retreat = 0.25;

/* Crossings are found to within this [s]. */
static const double crossing_width = 1.0e-9;

/* A dip is looked for where a surface is no farther away than so many times what its distance
 * changed by in this step and the last. */
static const double nearness = 4.0;

/* A state this far beyond a surface passed it unseen; whoever steps will cross it. */
static const double missed = -1.0e-6;

static bool rates(struct explicit_method *method, double time, const double *state, double *rate)
{
    method->counts.rhs_calls++;
    return method->motion.rates(method->motion.context, time, state, rate);
}

static void look(struct explicit_method *method, double time, const double *state,
                 double distance[SURFACES_MOST])
{
    method->counts.root_calls++;
    method->motion.surfaces(method->motion.context, time, state, distance);
}

/* A first step in which the state changes by a hundredth of what it is measured by; if that is
 * nothing, a second. */
static double first_step(const struct explicit_method *method)
{
    double weight[STATE_COUNT];

    motion_weights((struct closeness){1.0, 1.0}, method->state.at, weight);
    double size = motion_norm(method->stage[0].at, weight);
    return size > 0.01 ? 0.01 / size : 1.0;
}

bool explicit_begin(struct explicit_method *method, const struct motion *motion,
                    struct closeness closeness, double time, const double state[STATE_COUNT])
{
    method->motion = *motion;
    method->closeness = closeness;
    method->time = time;
    method->returned = time;
    method->span = 0.0;
    method->last_error = 1.0e-4;
    method->surfaces_moved = true;
    method->dense_known = false;
    for (int i = 0; i < SURFACES_MOST; i++) {
        method->last_change[i] = INFINITY;
    }
    memcpy(method->state.at, state, STATE_COUNT * sizeof *state);
    if (!rates(method, time, state, method->stage[0].at)) {
        return false;
    }
    method->step = first_step(method);
    return true;
}

/* sum = the stages up to a count, each with its factor */
static void add_up(const struct explicit_method *method, const double *factor, int count,
                   union explicit_vector *sum)
{
    for (int i = 0; i < EXPLICIT_PAIRS; i++) {
        explicit_pair part = {0.0, 0.0};
        for (int j = 0; j < count; j++) {
            part += factor[j] * method->stage[j].pair[i];
        }
        sum->pair[i] = part;
    }
}

/* All stages of a trial step; `next` is its end.  False where one is not physical. */
static bool try_stages(struct explicit_method *method, double step, union explicit_vector *next)
{
    for (int row = 1; row < EXPLICIT_STAGES; row++) {
        add_up(method, matrix[row], row, next);
        for (int i = 0; i < EXPLICIT_PAIRS; i++) {
            next->pair[i] = method->start.pair[i] + step * next->pair[i];
        }
        if (!rates(method, method->time + nodes[row] * step, next->at, method->stage[row].at)) {
            return false;
        }
    }
    return true;
}

/* Error of a trial as a share of what passes. */
static double error_of(const struct explicit_method *method, double step,
                       const union explicit_vector *next)
{
    union explicit_vector error;
    double weight[STATE_COUNT];

    add_up(method, difference, EXPLICIT_STAGES, &error);
    motion_weights(method->closeness, next->at, weight);
    return step * motion_norm(error.at, weight);
}

/* Takes the shortest of step and room that passes.  False if none does. */
static bool advance(struct explicit_method *method, double room, union explicit_vector *next)
{
    bool rejected = false;

    for (;;) {
        bool cut = method->step >= room;
        double step = cut ? room : method->step;
        if (!(method->time + step > method->time)) {
            return false;
        }
        bool physical = try_stages(method, step, next);
        double error = physical ? error_of(method, step, next) : (double)INFINITY;
        if (!isfinite(error)) {
            method->step = step * retreat;
            rejected = true;
            continue;
        }
        double factor = safety * pow(fmax(error, 1.0e-10), -exponent);
        if (error > 1.0) {
            method->step = step * fmax(factor, least_factor);
            rejected = true;
            continue;
        }
        factor *= pow(method->last_error, memory);
        factor = fmin(fmax(factor, least_factor), rejected ? 1.0 : most_factor);
        method->last_error = fmax(error, 1.0e-4);
        // a step that a stop cut short tells little of the next one
        method->step = cut ? fmax(method->step, step * factor) : step * factor;
        method->span = step;
        return true;
    }
}

/* The interpolant of the last step. */
static void make_dense(struct explicit_method *method)
{
    union explicit_vector *dense = method->dense;
    union explicit_vector sum;

    add_up(method, bend, EXPLICIT_STAGES, &sum);
    for (int i = 0; i < EXPLICIT_PAIRS; i++) {
        explicit_pair rise = method->state.pair[i] - method->start.pair[i];
        explicit_pair lead = method->span * method->stage[0].pair[i] - rise;
        explicit_pair trail = method->span * method->stage[EXPLICIT_STAGES - 1].pair[i];
        dense[0].pair[i] = method->start.pair[i];
        dense[1].pair[i] = rise;
        dense[2].pair[i] = lead;
        dense[3].pair[i] = rise - trail - lead;
        dense[4].pair[i] = method->span * sum.pair[i];
    }
    method->dense_known = true;
}

void explicit_state_at(struct explicit_method *method, double time, double state[STATE_COUNT])
{
    const union explicit_vector *dense = method->dense;

    if (time >= method->time || method->span <= 0.0) {
        memcpy(state, method->state.at, STATE_COUNT * sizeof *state);
        return;
    }
    if (!method->dense_known) {
        make_dense(method);
    }
    double part = 1.0 - (method->time - time) / method->span;
    double rest = 1.0 - part;
    for (int i = 0; i < STATE_COUNT; i++) {
        double inner = dense[3].at[i] + rest * dense[4].at[i];
        state[i] =
            dense[0].at[i] + part * (dense[1].at[i] + rest * (dense[2].at[i] + part * inner));
    }
}

static double distance_at(struct explicit_method *method, int surface, double time)
{
    double state[STATE_COUNT], distance[SURFACES_MOST];

    explicit_state_at(method, time, state);
    look(method, time, state, distance);
    return distance[surface];
}

/* When a surface is met between two times with its distances there, the first positive and the
 * second not: by the secant rule that halves an end which stays (Illinois).  The time given is on
 * the far side. */
static double crossing_of(struct explicit_method *method, int surface, double low, double high,
                          double at_low, double at_high)
{
    int side = 0;

    while (high - low > crossing_width && at_high < 0.0) {
        double middle = high - at_high * (high - low) / (at_high - at_low);
        // not so near to an end that it would be met again
        double edge = fmin(0.5 * crossing_width, 0.1 * (high - low));
        middle = fmin(fmax(middle, low + edge), high - edge);
        double distance = distance_at(method, surface, middle);
        if (distance > 0.0) {
            low = middle;
            at_low = distance;
            at_high *= side > 0 ? 0.5 : 1.0;
            side = 1;
        } else {
            high = middle;
            at_high = distance;
            at_low *= side < 0 ? 0.5 : 1.0;
            side = -1;
        }
    }
    return high;
}

/* Distances to all surfaces at the ends and quarters of what is looked at of a step. */
enum { QUARTERS = 5 };

/* A dip through a surface and back: below at a quarter, or at the lowest of a parabola through the
 * three nearest quarters.  A time beyond the surface; INFINITY if there is none. */
static double dip_of(struct explicit_method *method, int surface,
                     double looks[QUARTERS][SURFACES_MOST])
{
    double width = (method->time - method->returned) / (QUARTERS - 1);
    int least = 0;

    for (int i = 1; i < QUARTERS; i++) {
        least = looks[i][surface] < looks[least][surface] ? i : least;
    }
    double low = method->returned + least * width, lowest = looks[least][surface];
    if (least == 0 || least == QUARTERS - 1) {
        return INFINITY;
    }
    if (lowest > 0.0) {
        double left = looks[least - 1][surface] - lowest,
               right = looks[least + 1][surface] - lowest;
        low += 0.5 * width * (left - right) / (left + right);
        // the parabola falls by an eighth of these at most; twice that allows for its error
        lowest = lowest > 0.25 * (left + right) ? lowest : distance_at(method, surface, low);
    }
    return lowest < 0.0 ? low : (double)INFINITY;
}

/* Whether any surface, not crossed from end to end, is so near that a dip could reach it. */
static bool may_dip(struct explicit_method *method, const double before[SURFACES_MOST],
                    const double after[SURFACES_MOST])
{
    bool near = false;

    for (int i = 0; i < SURFACES_MOST; i++) {
        double change = fabs(after[i] - before[i]);
        double reach = nearness * (change + method->last_change[i]);
        near = near || (before[i] > 0.0 && after[i] >= 0.0 && fmin(before[i], after[i]) < reach);
        method->last_change[i] = change;
    }
    return near;
}

static double first_dip(struct explicit_method *method, const double before[SURFACES_MOST],
                        const double after[SURFACES_MOST])
{
    double looks[QUARTERS][SURFACES_MOST], state[STATE_COUNT], first = INFINITY;
    double width = (method->time - method->returned) / (QUARTERS - 1);

    memcpy(looks[0], before, sizeof looks[0]);
    memcpy(looks[QUARTERS - 1], after, sizeof looks[0]);
    for (int k = 1; k < QUARTERS - 1; k++) {
        explicit_state_at(method, method->returned + k * width, state);
        look(method, method->returned + k * width, state, looks[k]);
    }
    for (int i = 0; i < SURFACES_MOST; i++) {
        bool unmet = before[i] > 0.0 && after[i] >= 0.0;
        double beyond = unmet ? dip_of(method, i, looks) : (double)INFINITY;
        if (isfinite(beyond)) {
            double at = distance_at(method, i, beyond);
            first = fmin(first, crossing_of(method, i, method->returned, beyond, before[i], at));
        }
    }
    return first;
}

/* The first crossing after what was returned last, up to the end of the step; INFINITY if none. */
static double first_crossing(struct explicit_method *method, const double before[SURFACES_MOST],
                             const double after[SURFACES_MOST])
{
    double first =
        may_dip(method, before, after) ? first_dip(method, before, after) : (double)INFINITY;

    for (int i = 0; i < SURFACES_MOST; i++) {
        if (before[i] > 0.0 && after[i] < 0.0) {
            first = fmin(
                first, crossing_of(method, i, method->returned, method->time, before[i], after[i]));
        }
    }
    return first;
}

/* Gives back the end of the step, or the first crossing before it. */
static enum step_outcome give_back(struct explicit_method *method, double stop, double *time,
                                   double state[STATE_COUNT], bool crossed[SURFACES_MOST])
{
    double before[SURFACES_MOST], after[SURFACES_MOST];

    memcpy(before, method->distance, sizeof before);
    look(method, method->time, method->state.at, after);
    memcpy(method->distance, after, sizeof after);
    double first = first_crossing(method, before, after);
    if (isinf(first)) {
        // what is due at a stop, or passed a surface unseen, may turn surfaces round
        method->surfaces_moved = method->time >= stop;
        for (int i = 0; i < SURFACES_MOST; i++) {
            method->surfaces_moved = method->surfaces_moved || after[i] < missed;
        }
        *time = method->returned = method->time;
        memcpy(state, method->state.at, STATE_COUNT * sizeof *state);
        return STEP_DONE;
    }
    *time = method->returned = first;
    explicit_state_at(method, first, state);
    look(method, first, state, method->distance);
    for (int i = 0; i < SURFACES_MOST; i++) {
        crossed[i] = before[i] > 0.0 && method->distance[i] <= 0.0;
    }
    method->surfaces_moved = true;
    return STEP_CROSSED;
}

/* What is behind a crossing belongs to the step too. */
static bool take_step(struct explicit_method *method, double stop)
{
    union explicit_vector next;

    if (method->span > 0.0) {
        method->stage[0] = method->stage[EXPLICIT_STAGES - 1];
    }
    method->start = method->state;
    method->began = method->time;
    if (!advance(method, stop - method->time, &next)) {
        return false;
    }
    method->state = next;
    method->time = method->span >= stop - method->time ? stop : method->time + method->span;
    method->dense_known = false;
    method->counts.steps++;
    return true;
}

enum step_outcome explicit_step(struct explicit_method *method, double stop, double *time,
                                double state[STATE_COUNT], bool crossed[SURFACES_MOST])
{
    if (method->surfaces_moved) {
        double at[STATE_COUNT];
        explicit_state_at(method, method->returned, at);
        look(method, method->returned, at, method->distance);
        method->surfaces_moved = false;
    }
    if (method->returned >= method->time && !take_step(method, stop)) {
        return STEP_FAILED;
    }
    return give_back(method, stop, time, state, crossed);
}
