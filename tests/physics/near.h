/* What the tests of the physics share: comparing numbers and differentiating by differences. */
#ifndef PUMPDAY_TESTS_NEAR_H
#define PUMPDAY_TESTS_NEAR_H

#include <math.h>
#include <stdbool.h>
#include <stdio.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

/* True if two numbers agree within a tolerance; says which when they do not. */
static inline bool within(double got, double want, double tolerance)
{
    if (fabs(got - want) <= tolerance) {
        return true;
    }
    printf("\n      got %.12g, want %.12g within %.3g ", got, want, tolerance);
    return false;
}

/* The same with the tolerance as a part of the wanted value. */
static inline bool near(double got, double want, double part)
{
    return within(got, want, fabs(want) * part);
}

/* A function of one number and whatever else it needs. */
typedef double (*function_of)(double x, const void *context);

/* Derivative by five points, error of the order step^4. */
static inline double difference(function_of f, const void *context, double x, double step)
{
    double inner = f(x + step, context) - f(x - step, context);
    double outer = f(x + 2 * step, context) - f(x - 2 * step, context);

    return (8 * inner - outer) / (12 * step);
}

#endif
