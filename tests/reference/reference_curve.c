/* Monotone cubic after F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304,
 * with the end slopes of SciPy's PchipInterpolator, in its Hermite form. */
#include "reference_parts.h"
#include <math.h>

/* Three-point slope at an end: h0, d0 of the interval at the end, h1, d1 of the next. */
static double end_slope(double h0, double h1, double d0, double d1)
{
    double slope = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);

    if (slope * d0 <= 0) {
        return 0;
    }
    if (d0 * d1 <= 0 && fabs(slope) > 3 * fabs(d0)) {
        return 3 * d0;
    }
    return slope;
}

/* Weighted harmonic mean of the slopes on both sides; flat at a turn. */
static double inner_slope(double h0, double h1, double d0, double d1)
{
    if (d0 * d1 <= 0) {
        return 0;
    }
    double w0 = 2 * h1 + h0;
    double w1 = h1 + 2 * h0;
    return (w0 + w1) / (w0 / d0 + w1 / d1);
}

void ref_curve_build(struct ref_curve *curve, const double *x, const double *y, size_t count)
{
    double h[PD_PUMP_POINTS_MOST] = {0}, d[PD_PUMP_POINTS_MOST] = {0};

    curve->count = count;
    for (size_t i = 0; i < count; i++) {
        curve->x[i] = x[i];
        curve->y[i] = y[i];
    }
    for (size_t i = 0; i + 1 < count; i++) {
        h[i] = x[i + 1] - x[i];
        d[i] = (y[i + 1] - y[i]) / h[i];
    }
    for (size_t i = 1; i + 1 < count; i++) {
        curve->slope[i] = inner_slope(h[i - 1], h[i], d[i - 1], d[i]);
    }
    if (count == 2) {
        curve->slope[0] = curve->slope[1] = d[0];
        return;
    }
    curve->slope[0] = end_slope(h[0], h[1], d[0], d[1]);
    curve->slope[count - 1] = end_slope(h[count - 2], h[count - 3], d[count - 2], d[count - 3]);
}

double ref_curve_at(const struct ref_curve *curve, double x)
{
    size_t i = 0;

    while (i + 2 < curve->count && x > curve->x[i + 1]) {
        i++;
    }
    double h = curve->x[i + 1] - curve->x[i];
    double u = (x - curve->x[i]) / h;
    double v = 1 - u;
    return curve->y[i] * v * v * (1 + 2 * u) + curve->y[i + 1] * u * u * (1 + 2 * v) +
           h * u * v * (curve->slope[i] * v - curve->slope[i + 1] * u);
}
