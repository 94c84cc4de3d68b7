/* The monotone cubic against SciPy's PchipInterpolator. */
#include <pumpday/pump.h>

#include "physics/near.h"
#include "physics/published.h"

#include <CUnit/CUnit.h>

void suite_curve(void);

static void compare(const double *x, const double *y, size_t count,
                    const struct curve_sample *samples, size_t sample_count)
{
    struct pd_curve curve;

    pd_curve_build(&curve, x, y, count);
    for (size_t i = 0; i < sample_count; i++) {
        double slope;
        CU_ASSERT(within(pd_curve_at(&curve, samples[i].x, &slope), samples[i].value, 2e-13));
        CU_ASSERT(within(pd_curve_at(&curve, samples[i].x, NULL), samples[i].value, 2e-13));
        CU_ASSERT(within(slope, samples[i].slope, 2e-13));
    }
    CU_ASSERT(within(curve.first_slope, samples[0].slope, 2e-13));
    CU_ASSERT(within(curve.last_slope, samples[sample_count - 1].slope, 2e-13));
}

/* All samples: scipy 1.10.1, scipy.interpolate.PchipInterpolator and its derivative(). */
static void falling_head_curve(void)
{
    compare(curve_x, curve_y, CURVE_POINTS, curve_samples, CURVE_SAMPLES);
}

/* Turning points and a level stretch, where the slope must be none. */
static void curve_with_turns(void)
{
    static const double x[] = {0, 1, 3, 4, 4.5, 7}, y[] = {0, 2, 2, 5, -1, 3};
    static const struct curve_sample samples[] = {
        {0, 0, 2.6666666666666665},
        {1, 2, 0},
        {2, 2, 0},
        {3, 2, 0},
        {4, 5, 0},
        {4.5, -1, 0},
        {5, -0.96799999999999997, 0.19199999999999987},
        {6, -0.13600000000000001, 1.7280000000000002},
        {7, 3.0000000000000004, 4.8000000000000016},
    };
    compare(x, y, COUNT(x), samples, COUNT(samples));
}

/* Three points: both ends and one inner slope; the first end comes out flat. */
static void curve_of_three_points(void)
{
    static const double x[] = {0, 1, 4}, y[] = {10, 9.5, 2};
    static const struct curve_sample samples[] = {
        {0, 10, 0},
        {0.5714285714285714, 9.8017492711370267, -0.61224489795918369},
        {1, 9.5, -0.75},
        {1.7142857142857142, 8.634272756721737, -1.6598639455782314},
        {2.8571428571428568, 5.9857466796242313, -2.9387755102040813},
        {4, 1.9999999999999991, -4},
    };
    compare(x, y, COUNT(x), samples, COUNT(samples));
}

/* A level last stretch, and a first slope that would point the wrong way. */
static void curve_with_flat_ends(void)
{
    static const double x[] = {0, 1, 2, 3}, y[] = {1, 1.1, 4, 4};
    static const struct curve_sample samples[] = {
        {0, 1, 0},
        {0.42857142857142855, 1.0190670553935861, 0.087755102040816407},
        {0.8571428571428571, 1.0741690962099126, 0.16816326530612258},
        {1, 1.1000000000000001, 0.1933333333333335},
        {1.2857142857142856, 1.7031098153547131, 3.5707482993197264},
        {1.7142857142857142, 3.436345966958211, 3.4878911564625827},
        {2.1428571428571428, 4, 0},
        {3, 4, 0},
    };
    compare(x, y, COUNT(x), samples, COUNT(samples));
}

/* A first slope that is limited to three times the secant. */
static void curve_with_a_limited_end(void)
{
    static const double x[] = {0, 1, 2}, y[] = {0, 1, -9};
    static const struct curve_sample samples[] = {
        {0, 0, 3},
        {0.2857142857142857, 0.63556851311953355, 1.5306122448979593},
        {0.8571428571428571, 0.99708454810495617, 0.061224489795918657},
        {1, 1, 0},
        {1.1428571428571428, 0.71720116618075824, -3.8673469387755084},
        {1.7142857142857142, -4.7580174927113692, -13.826530612244897},
        {2, -9, -15.5},
    };
    compare(x, y, COUNT(x), samples, COUNT(samples));
}

/* Two points: the straight line through them. */
static void curve_of_two_points(void)
{
    static const double x[] = {1, 3}, y[] = {5, 1};
    static const struct curve_sample samples[] = {{1, 5, -2}, {1.5, 4, -2}, {3, 1, -2}};

    compare(x, y, COUNT(x), samples, COUNT(samples));
}

static double curve_value(double x, const void *curve)
{
    return pd_curve_at(curve, x, NULL);
}

/* Falling points make a curve that never rises, is smooth at the points and gives its own slope. */
static void curve_is_monotone_and_smooth(void)
{
    static const double x[] = {0, 0.1, 2, 2.5, 2.6, 9}, y[] = {50, 49.9, 49.9, 30, 2, 1};
    struct pd_curve curve;
    double slope, left, right, previous = 51;

    pd_curve_build(&curve, x, y, COUNT(x));
    for (double at = 0; at < 9; at += 0.0043) {
        double value = pd_curve_at(&curve, at, &slope);
        CU_ASSERT(value <= previous + 1e-13 && slope <= 1e-12);
        previous = value;
    }
    for (size_t i = 1; i + 1 < COUNT(x); i++) {
        double below = pd_curve_at(&curve, x[i] - 1e-13, &left);
        CU_ASSERT(within(below, pd_curve_at(&curve, x[i], &right), 1e-10));
        CU_ASSERT(within(left, right, 1e-8));
    }
    for (size_t i = 0; i + 1 < COUNT(x); i++) {
        double step = (x[i + 1] - x[i]) / 100;
        for (double at = x[i] + 3 * step; at < x[i + 1] - 2 * step; at += 7 * step) {
            pd_curve_at(&curve, at, &slope);
            CU_ASSERT(within(slope, difference(curve_value, &curve, at, step), 1e-9));
        }
    }
}

void suite_curve(void)
{
    CU_pSuite suite = CU_add_suite("curve", NULL, NULL);

    CU_ADD_TEST(suite, falling_head_curve);
    CU_ADD_TEST(suite, curve_with_turns);
    CU_ADD_TEST(suite, curve_of_three_points);
    CU_ADD_TEST(suite, curve_with_flat_ends);
    CU_ADD_TEST(suite, curve_with_a_limited_end);
    CU_ADD_TEST(suite, curve_of_two_points);
    CU_ADD_TEST(suite, curve_is_monotone_and_smooth);
}
