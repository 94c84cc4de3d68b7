/* A monotone cubic through points (PCHIP). */
#include <pumpday/pump.h>

#include <assert.h>
#include <math.h>

static int sign(double x)
{
    return (x > 0) - (x < 0);
}

/* Slope at an inner point from the steps and secants on its two sides: the weighted harmonic mean,
 * or flat where the secants turn. */
static double inner_slope(double h0, double h1, double m0, double m1)
{
    if (sign(m0) * sign(m1) <= 0) {
        return 0;
    }
    double w0 = 2 * h1 + h0;
    double w1 = h1 + 2 * h0;

    return (w0 + w1) / (w0 / m0 + w1 / m1);
}

/* Slope at an end from the step and secant next to it (h0, m0) and the ones after that: the
 * three-point formula, limited so that the curve keeps to the points' direction. */
static double end_slope(double h0, double h1, double m0, double m1)
{
    double slope = ((2 * h0 + h1) * m0 - h0 * m1) / (h0 + h1);

    if (sign(slope) != sign(m0)) {
        return 0;
    }
    if (sign(m0) != sign(m1) && fabs(slope) > 3 * fabs(m0)) {
        return 3 * m0;
    }
    return slope;
}

/* Slopes at all points into a[]. */
static void find_slopes(struct pd_curve *curve, const double *h, const double *m)
{
    size_t last = curve->count - 1;

    if (last == 1) {
        curve->a[0] = curve->a[1] = m[0];
        return;
    }
    curve->a[0] = end_slope(h[0], h[1], m[0], m[1]);
    for (size_t i = 1; i < last; i++) {
        curve->a[i] = inner_slope(h[i - 1], h[i], m[i - 1], m[i]);
    }
    curve->a[last] = end_slope(h[last - 1], h[last - 2], m[last - 1], m[last - 2]);
}

void pd_curve_build(struct pd_curve *curve, const double *x, const double *y, size_t count)
{
    double h[PD_PUMP_POINTS_MOST] = {0}, m[PD_PUMP_POINTS_MOST] = {0};

    assert(count >= 2 && count <= PD_PUMP_POINTS_MOST);
    *curve = (struct pd_curve){.count = count};
    for (size_t i = 0; i < count; i++) {
        curve->x[i] = x[i];
        curve->y[i] = y[i];
    }

    // steps and secants, and from them the slopes
    for (size_t i = 0; i + 1 < count; i++) {
        h[i] = x[i + 1] - x[i];
        m[i] = (y[i + 1] - y[i]) / h[i];
    }
    find_slopes(curve, h, m);

    // the cubic of each interval that has these values and slopes at its ends
    for (size_t i = 0; i + 1 < count; i++) {
        double from = curve->a[i], to = curve->a[i + 1];
        curve->b[i] = (3 * m[i] - 2 * from - to) / h[i];
        curve->c[i] = (from + to - 2 * m[i]) / (h[i] * h[i]);
    }
    curve->first_slope = curve->a[0];
    curve->last_slope = curve->a[count - 1];
}

double pd_curve_at(const struct pd_curve *curve, double x, double *slope)
{
    size_t low = 0, high = curve->count - 1;

    // halve down to the interval that holds x
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        if (x < curve->x[middle]) {
            high = middle;
        } else {
            low = middle;
        }
    }
    double u = x - curve->x[low];
    double a = curve->a[low], b = curve->b[low], c = curve->c[low];

    if (slope != NULL) {
        *slope = a + u * (2 * b + 3 * u * c);
    }
    return curve->y[low] + u * (a + u * (b + u * c));
}
