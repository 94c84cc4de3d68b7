/* Steps that meet the tolerance.
 *
 * Two methods: Prince and Dormand's explicit pair of orders 8 and 7 as the GSL has it, and Radau
 * IIA for long stretches in which fast modes have died out (an empty tank leaves only the pipe's
 * compliance).  The explicit one takes every transient. */
#include "reference_parts.h"
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double least_step = 1e-12; // s
static const int explicit_for = 60;     // steps before stiffness is asked about
static const int implicit_for = 10;     // steps before the method has to have paid
static const double stiff_from = 300;   // fastest rate times the time left, to go implicit
static const double stiff_enough = 8;   // fastest rate times the step, to stay implicit
static const double explicit_order = 8; // of the error of a step
static const double implicit_order = 4;

// 1 L/s, 1 bar, 100 K, 1 m, then the integrals at a day's usual sizes
const double ref_scales[REF_STATES] = {1e-3, 1e5, 1e2, 1, 1e4, 1e5, 1e-1, 1e-1, 1e-1};

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

struct ref_stepper *ref_stepper_create(struct ref_day *day)
{
    struct ref_stepper *stepper = calloc(1, sizeof *stepper);

    if (stepper == NULL) {
        return NULL;
    }
    stepper->day = day;
    stepper->system = (gsl_odeiv2_system){rates_of, NULL, REF_STATES, day};
    stepper->explicit_step = gsl_odeiv2_step_alloc(gsl_odeiv2_step_rk8pd, REF_STATES);
    if (stepper->explicit_step == NULL) {
        free(stepper);
        return NULL;
    }
    return stepper;
}

void ref_stepper_free(struct ref_stepper *stepper)
{
    if (stepper != NULL) {
        gsl_odeiv2_step_free(stepper->explicit_step);
        free(stepper);
    }
}

/* One step of the chosen method, good or not. */
static bool try_step(struct ref_stepper *stepper, double h, double *y, double *error)
{
    stepper->day->result->steps++;
    if (stepper->implicit) {
        return ref_radau_step(stepper->day, stepper->begin, h, stepper->y0, y, error);
    }
    memcpy(y, stepper->y0, sizeof stepper->y0);
    return gsl_odeiv2_step_apply(stepper->explicit_step, stepper->begin, h, y, error,
                                 stepper->rates0, NULL, &stepper->system) == GSL_SUCCESS;
}

bool ref_state_after(struct ref_stepper *stepper, double length, double *y)
{
    double error[REF_STATES];

    return try_step(stepper, length, y, error);
}

/* Largest error of a step in units of the tolerance. */
static double error_size(const struct ref_stepper *stepper, const double *error)
{
    double size = 0;

    for (int i = 0; i < REF_STATES; i++) {
        size = fmax(size, fabs(error[i]) / (stepper->day->tolerance * ref_scales[i]));
    }
    return size;
}

/* An estimate of the fastest rate in the equations, 1/s. */
static double fastest_rate(const struct ref_stepper *stepper)
{
    double by[REF_FED_BACK][REF_FED_BACK];
    double most = 0;

    ref_jacobian(stepper->day, stepper->begin, stepper->y0, by);
    for (int i = 0; i < REF_FED_BACK; i++) {
        most = fmax(most, fabs(by[i][i]));
        for (int j = 0; j < i; j++) {
            most = fmax(most, sqrt(fabs(by[i][j] * by[j][i])));
        }
    }
    return most;
}

/* Goes implicit where explicit steps would have to be many, and back where that does not pay. */
static void choose_method(struct ref_stepper *stepper, double left)
{
    int due = stepper->implicit ? implicit_for : explicit_for;

    if (++stepper->since_choice < due) {
        return;
    }
    stepper->since_choice = 0;
    double rate = fastest_rate(stepper);
    stepper->implicit =
        stepper->implicit ? rate * stepper->next > stiff_enough : rate * left > stiff_from;
}

bool ref_take_step(struct ref_stepper *stepper, double most)
{
    double error[REF_STATES];
    double h = fmin(stepper->next, most);

    choose_method(stepper, most);
    ref_rates(stepper->day, stepper->begin, stepper->y0, stepper->rates0);
    while (h > least_step) {
        if (!try_step(stepper, h, stepper->y1, error)) {
            h /= 4;
            continue;
        }
        double order = stepper->implicit ? implicit_order : explicit_order;
        double size = error_size(stepper, error);
        double factor = fmin(0.9 * pow(size, -1 / order), 5);
        if (size <= 1) {
            // a step cut short by `most` says nothing against the length before
            stepper->next = fmax(h * fmax(factor, 0.5), h < stepper->next ? stepper->next : 0);
            stepper->h = h;
            ref_rates(stepper->day, stepper->begin + h, stepper->y1, stepper->rates1);
            return true;
        }
        h *= fmax(factor, 0.1);
        stepper->next = h;
    }
    (void)snprintf(stepper->day->why, stepper->day->why_size, "no step is short enough at %.6f s",
                   stepper->begin);
    return false;
}
