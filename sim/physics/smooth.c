/* A power of the pressure with a gentle start, for openings that close to nothing. */
#include <pumpday/pipe.h>

#include <math.h>

/* The power itself; the exponents of nearly every call need no pow(). */
static double plain_power(double pressure, double exponent, double *slope)
{
    if (exponent == 0.5) {
        double root = sqrt(pressure);
        *slope = 0.5 / root;
        return root;
    }
    if (exponent == 1) {
        *slope = 1;
        return pressure;
    }
    if (exponent == 1.5) {
        double root = sqrt(pressure);
        *slope = 1.5 * root;
        return pressure * root;
    }
    double value = pow(pressure, exponent);
    *slope = exponent * value / pressure;
    return value;
}

double pd_smooth_power(double pressure, double exponent, double *slope)
{
    // written so that a pressure that is not a number comes back as one
    if (pressure <= 0) {
        *slope = 0;
        return 0;
    }
    if (!(pressure < PD_SMOOTH_PRESSURE)) {
        return plain_power(pressure, exponent, slope);
    }
    double unused;
    double end = plain_power(PD_SMOOTH_PRESSURE, exponent, &unused);
    double u = pressure * (1 / PD_SMOOTH_PRESSURE);
    double square = 3 - exponent;
    double cube = exponent - 2;

    *slope = end * (1 / PD_SMOOTH_PRESSURE) * u * (2 * square + 3 * cube * u);
    return end * u * u * (square + cube * u);
}
