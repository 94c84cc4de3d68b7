/* Moves a day along: steps of the GSL's methods, error kept per step, events located within it.
 *
 * Two methods: Prince and Dormand's explicit pair of orders 8 and 7, and Bader and Deuflhard's
 * semi-implicit extrapolation for long stretches in which fast modes have died out (an empty tank
 * leaves only the pipe's compliance).  The explicit one takes every transient. */
#include "reference_parts.h"
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double first_step = 1e-3;     // s, after every event
static const double least_step = 1e-12;    // s
static const double time_of_events = 2e-9; // s, to which they are located
static const int explicit_at_first = 40;   // steps after an event before stiffness is asked about
static const double stiff_from = 300;      // fastest rate times the time left, to go implicit

// error scales: 1 L/s, 1 bar, 100 K, 1 m, then the integrals at a day's usual sizes
static const double scales[REF_STATES] = {1e-3, 1e5, 1e2, 1, 1e4, 1e5, 1e-1, 1e-1, 1e-1};

struct ref_stepper {
    struct ref_day *day;
    gsl_odeiv2_system system;
    gsl_odeiv2_step *explicit_step, *implicit_step, *step;
    gsl_odeiv2_control *control;
    // one step: from (begin, y0, rates0) over h to (y1, rates1)
    double begin, h;
    double y0[REF_STATES], rates0[REF_STATES], y1[REF_STATES], rates1[REF_STATES];
};

static int rates_of(double time, const double y[], double rates[], void *context)
{
    ref_rates(context, time, y, rates);
    for (int i = 0; i < REF_STATES; i++) {
        if (!isfinite(rates[i])) {
            return GSL_EFAILED;
        }
    }
    return GSL_SUCCESS;
}

/* Central differences; only the first states feed anything back. */
static int jacobian_of(double time, const double y[], double *by_y, double by_time[], void *context)
{
    double near[REF_STATES], up[REF_STATES], down[REF_STATES];

    memset(by_y, 0, sizeof *by_y * REF_STATES * REF_STATES);
    for (int j = 0; j < REF_FED_BACK; j++) {
        double reach = 1e-6 * scales[j];
        memcpy(near, y, sizeof near);
        near[j] = y[j] + reach;
        ref_rates(context, time, near, up);
        near[j] = y[j] - reach;
        ref_rates(context, time, near, down);
        for (int i = 0; i < REF_STATES; i++) {
            by_y[i * REF_STATES + j] = (up[i] - down[i]) / (2 * reach);
        }
    }
    ref_rates(context, time + 1e-4, y, up);
    ref_rates(context, time - 1e-4, y, down);
    for (int i = 0; i < REF_STATES; i++) {
        by_time[i] = (up[i] - down[i]) / 2e-4;
    }
    return GSL_SUCCESS;
}

struct ref_stepper *ref_stepper_create(struct ref_day *day)
{
    struct ref_stepper *stepper = calloc(1, sizeof *stepper);

    if (stepper == NULL) {
        return NULL;
    }
    stepper->day = day;
    stepper->system = (gsl_odeiv2_system){rates_of, jacobian_of, REF_STATES, day};
    stepper->explicit_step = gsl_odeiv2_step_alloc(gsl_odeiv2_step_rk8pd, REF_STATES);
    stepper->implicit_step = gsl_odeiv2_step_alloc(gsl_odeiv2_step_bsimp, REF_STATES);
    stepper->control = gsl_odeiv2_control_scaled_new(day->tolerance, 0, 1, 0, scales, REF_STATES);
    if (!stepper->explicit_step || !stepper->implicit_step || !stepper->control) {
        ref_stepper_free(stepper);
        return NULL;
    }
    return stepper;
}

void ref_stepper_free(struct ref_stepper *stepper)
{
    if (stepper != NULL) {
        gsl_odeiv2_step_free(stepper->explicit_step);
        gsl_odeiv2_step_free(stepper->implicit_step);
        gsl_odeiv2_control_free(stepper->control);
        free(stepper);
    }
}

/* The state a part of the way into the step, by a step of that length from its beginning. */
static bool state_after(struct ref_stepper *stepper, double length, double *y)
{
    double error[REF_STATES];
    double rates[REF_STATES];

    memcpy(y, stepper->y0, sizeof stepper->y0);
    stepper->day->result->steps++;
    return gsl_odeiv2_step_apply(stepper->step, stepper->begin, length, y, error, stepper->rates0,
                                 rates, &stepper->system) == GSL_SUCCESS;
}

/* Takes one step that meets the tolerance, no longer than `most`; *next gets the length to try
 * after it. */
static bool take_step(struct ref_stepper *stepper, double most, double *next)
{
    double error[REF_STATES];
    double h = fmin(*next, most);

    ref_rates(stepper->day, stepper->begin, stepper->y0, stepper->rates0);
    while (h > least_step) {
        memcpy(stepper->y1, stepper->y0, sizeof stepper->y1);
        stepper->day->result->steps++;
        int status = gsl_odeiv2_step_apply(stepper->step, stepper->begin, h, stepper->y1, error,
                                           stepper->rates0, stepper->rates1, &stepper->system);
        double tried = h;
        if (status != GSL_SUCCESS) {
            h /= 4;
        } else if (gsl_odeiv2_control_hadjust(stepper->control, stepper->step, stepper->y1, error,
                                              stepper->rates1, &h) != GSL_ODEIV_HADJ_DEC) {
            stepper->h = tried;
            *next = fmax(h, fmin(*next, 2 * tried));
            return true;
        }
    }
    snprintf(stepper->day->why, stepper->day->why_size, "no step is short enough at %.6f s",
             stepper->begin);
    return false;
}

/* Cubic through both ends of the step. */
static void state_between(const struct ref_stepper *stepper, double part, double *y)
{
    double rest = 1 - part;

    for (int i = 0; i < REF_STATES; i++) {
        y[i] = stepper->y0[i] * rest * rest * (1 + 2 * part) +
               stepper->y1[i] * part * part * (1 + 2 * rest) +
               stepper->h * part * rest * (stepper->rates0[i] * rest - stepper->rates1[i] * part);
    }
}

/* Shortens the step to the first moment at which an event has happened; at its end it has.
 * Regula falsi with halved weights (Illinois), now and then a bisection. */
static bool locate(struct ref_stepper *stepper, int event)
{
    double low = 0, high = stepper->h;
    double at_low = ref_event_margin(stepper->day, event, stepper->begin, stepper->y0);
    double at_high = ref_event_margin(stepper->day, event, stepper->begin + high, stepper->y1);
    double y[REF_STATES];

    for (int i = 0; high - low > time_of_events && i < 200; i++) {
        double at = low + (high - low) * (at_low < 0 ? at_low / (at_low - at_high) : 0.5);
        // a little to the far side, so that the bracket closes from both ends
        at += time_of_events / 4;
        if (i % 4 == 3 || at >= high) {
            at = (low + high) / 2;
        }
        if (!state_after(stepper, at, y)) {
            return false;
        }
        double margin = ref_event_margin(stepper->day, event, stepper->begin + at, y);
        if (margin > 0) {
            high = at;
            at_high = margin;
            at_low /= 2;
            memcpy(stepper->y1, y, sizeof y);
        } else {
            low = at;
            at_low = margin;
            at_high /= 2;
        }
    }
    stepper->h = high;
    ref_rates(stepper->day, stepper->begin + high, stepper->y1, stepper->rates1);
    return true;
}

/* A part of the step at which an event has happened though it has not at the end; 0 if none. */
static double hidden_event(struct ref_stepper *stepper, int event)
{
    double y[REF_STATES];

    for (int i = 1; i < 8; i++) {
        double length = stepper->h * i / 8;
        state_between(stepper, i / 8.0, y);
        bool seems = ref_event_margin(stepper->day, event, stepper->begin + length, y) > 0;
        // the cubic only hints: a step of that length decides
        if (seems && state_after(stepper, length, y) &&
            ref_event_margin(stepper->day, event, stepper->begin + length, y) > 0) {
            return length;
        }
    }
    return 0;
}

/* Cuts the step at its first event.  *found tells whether there is one. */
static bool cut_at_event(struct ref_stepper *stepper, bool *found)
{
    bool good = true;

    *found = false;
    for (int event = 0; event < REF_EVENTS && good; event++) {
        double end = stepper->begin + stepper->h;
        bool happened = ref_event_margin(stepper->day, event, end, stepper->y1) > 0;
        double hidden = happened ? 0 : hidden_event(stepper, event);
        if (hidden > 0) {
            stepper->h = hidden;
            good = state_after(stepper, hidden, stepper->y1);
        }
        if (happened || hidden > 0) {
            *found = true;
            good = good && locate(stepper, event);
        }
    }
    return good;
}

/* Notes lowest and highest pressures over the step. */
static void observe(const struct ref_stepper *stepper)
{
    const struct ref_day *day = stepper->day;
    struct reference_result *result = day->result;
    double y[REF_STATES];

    if (!day->counting) {
        return;
    }
    for (int i = 0; i <= 4; i++) {
        state_between(stepper, i / 4.0, y);
        if (day->draw_count > 0) {
            result->lowest_tap = fmin(result->lowest_tap, ref_tap_pressure(day, y));
        }
        result->highest_header = fmax(result->highest_header, y[REF_HEADER]);
    }
}

/* An upper bound of the fastest rate in the equations, 1/s. */
static double fastest_rate(const struct ref_stepper *stepper)
{
    double by_y[REF_STATES * REF_STATES], by_time[REF_STATES];
    double most = 0;

    jacobian_of(stepper->begin, stepper->y0, by_y, by_time, stepper->day);
    for (int i = 0; i < REF_FED_BACK; i++) {
        for (int j = i; j < REF_FED_BACK; j++) {
            double pair = i == j ? fabs(by_y[i * REF_STATES + i])
                                 : sqrt(fabs(by_y[i * REF_STATES + j] * by_y[j * REF_STATES + i]));
            most = fmax(most, pair);
        }
    }
    return most;
}

static void choose_method(struct ref_stepper *stepper, int steps, double left)
{
    gsl_odeiv2_step *before = stepper->step;

    if (steps == 0) {
        stepper->step = stepper->explicit_step;
    } else if (steps % explicit_at_first == 0) {
        bool stiff = fastest_rate(stepper) * left > stiff_from;
        stepper->step = stiff ? stepper->implicit_step : stepper->explicit_step;
    }
    if (stepper->step != before) {
        gsl_odeiv2_step_reset(stepper->step);
    }
}

bool ref_advance(struct ref_stepper *stepper, double until)
{
    struct ref_day *day = stepper->day;
    double next = first_step;
    bool found = false;

    for (int steps = 0; day->time < until && !found; steps++) {
        double left = until - day->time;
        stepper->begin = day->time;
        memcpy(stepper->y0, day->y, sizeof day->y);
        choose_method(stepper, steps, left);
        if (!take_step(stepper, left, &next) || !cut_at_event(stepper, &found)) {
            return false;
        }
        observe(stepper);
        memcpy(day->y, stepper->y1, sizeof day->y);
        // the end itself is met exactly
        day->time = stepper->h >= left ? until : day->time + stepper->h;
    }
    return true;
}
