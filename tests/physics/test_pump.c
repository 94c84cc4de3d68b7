/* The pump: its points, the affinity laws, what it becomes when it stops, power, suction head. */
#include <pumpday/pump.h>
#include <pumpday/water.h>

#include "physics/near.h"
#include "physics/published.h"

#include <CUnit/CUnit.h>

void suite_pump(void);

static const double density = 998.388, stopped_loss = 6e3;
static const double foot = 0.3048, psi = 6894.757;

static const struct pd_pump_points points = {
    .count = 6,
    .flow = {0, 0.2e-3, 0.4e-3, 0.6e-3, 0.8e-3, 1.0e-3},
    .head = {42, 41.2, 39, 35.1, 26, 12},
    .power = {350, 420, 480, 540, 590, 610},
};

static struct pd_pump build(void)
{
    struct pd_pump pump;

    pd_pump_build(&pump, &points, density, stopped_loss);
    return pump;
}

static void rise_and_power_at_the_points(void)
{
    struct pd_pump pump = build();
    double q, s;

    for (size_t i = 0; i < points.count; i++) {
        double rise = density * PD_GRAVITY * points.head[i];
        CU_ASSERT(near(pd_pump_rise(&pump, points.flow[i], 1, &q, &s), rise, 1e-13));
        CU_ASSERT(near(pd_pump_power(&pump, points.flow[i], NULL), points.power[i], 1e-13));
    }
    CU_ASSERT(near(pump.shutoff, density * PD_GRAVITY * 42, 1e-14));
    CU_ASSERT(pump.last_flow == 1.0e-3);
    CU_ASSERT(near(pump.stopped_coefficient, 6e9, 1e-13));
}

/* The affinity laws of any textbook: at 40 of 50 Hz flow 0.8, head 0.64, power 0.512; they hold in
 * the curve, before it and beyond it. */
static void affinity_laws(void)
{
    struct pd_pump pump = build();
    double q, s;

    for (double flow = -0.5e-3; flow < 2e-3; flow += 0.07e-3) {
        double full = pd_pump_rise(&pump, flow, 1, &q, &s);
        double slow = pd_pump_rise(&pump, 0.8 * flow, 0.8, &q, &s);
        CU_ASSERT(within(slow, 0.64 * full, 1e-6));
        CU_ASSERT(within(pd_hydraulic_power(0.8 * flow, slow),
                         0.512 * pd_hydraulic_power(flow, full), 1e-9));
    }
}

struct place {
    const struct pd_pump *pump;
    double other;
};

static double rise_over_flow(double flow, const void *context)
{
    const struct place *place = context;
    double q, s;

    return pd_pump_rise(place->pump, flow, place->other, &q, &s);
}

static double rise_over_speed(double speed, const void *context)
{
    const struct place *place = context;
    double q, s;

    return pd_pump_rise(place->pump, place->other, speed, &q, &s);
}

/* Both partial derivatives at places within the curve's pieces, before the first point and beyond
 * the last. */
static void derivatives_of_the_rise(void)
{
    static const double relative_flows[] = {-1e-3,   -0.1e-3, 0.05e-3, 0.11e-3, 0.33e-3,
                                            0.51e-3, 0.75e-3, 0.93e-3, 1.2e-3,  3e-3};
    struct pd_pump pump = build();

    for (double speed = 0.05; speed < 1.1; speed += 0.13) {
        for (size_t i = 0; i < COUNT(relative_flows); i++) {
            double flow = relative_flows[i] * speed;
            double by_flow, by_speed;
            pd_pump_rise(&pump, flow, speed, &by_flow, &by_speed);
            struct place at_speed = {&pump, speed}, at_flow = {&pump, flow};
            double q = difference(rise_over_flow, &at_speed, flow, 1e-6 * speed);
            double s = difference(rise_over_speed, &at_flow, speed, 1e-3 * speed);
            CU_ASSERT(within(by_flow, q, 1e-7 * 1e9 * speed));
            CU_ASSERT(within(by_speed, s, 1e-6 * 1e6 * speed));
        }
    }
}

/* Value and both slopes meet at no flow and at the end of the points. */
static void rise_has_no_steps(void)
{
    struct pd_pump pump = build();

    for (double speed = 0.1; speed < 1.1; speed += 0.3) {
        for (int end = 0; end < 2; end++) {
            double at = end * pump.last_flow * speed;
            double q0, s0, q1, s1;
            double left = pd_pump_rise(&pump, at - 1e-15, speed, &q0, &s0);
            double right = pd_pump_rise(&pump, at + 1e-15, speed, &q1, &s1);
            CU_ASSERT(within(left, right, 1e-5));
            CU_ASSERT(within(q0, q1, 2.0));
            CU_ASSERT(within(s0, s1, 1e-4));
        }
    }
}

/* As the speed falls to nothing the rise becomes the loss of the stopped pump, evenly. */
static void stopping_pump(void)
{
    struct pd_pump pump = build();
    double q, s;

    for (double flow = 0.1e-3; flow < 2e-3; flow += 0.3e-3) {
        double loss = -stopped_loss * flow * flow / 1e-6;
        double still = pd_pump_rise(&pump, flow, 0, &q, &s);
        CU_ASSERT(near(still, loss, 1e-13));
        CU_ASSERT(near(q, 2 * loss / flow, 1e-13));
        // approached in a straight line
        double rate = s;
        double nearly = pd_pump_rise(&pump, flow, 1e-6, &q, &s);
        CU_ASSERT(within(nearly, still + 1e-6 * rate, 1e-5));
    }
    CU_ASSERT(pd_pump_rise(&pump, 0, 0, &q, &s) == 0 && q == 0 && s == 0);
    CU_ASSERT(pd_pump_rise(&pump, -1e-4, 0, &q, &s) == 0);
}

/* Stopped loss at a flow where it is not given. */
static double own_loss(const struct pd_pump_points *of, double flow)
{
    struct pd_pump pump;
    double q, s;

    pd_pump_build(&pump, of, density, NAN);
    return -pd_pump_rise(&pump, flow, 0, &q, &s);
}

/* Unless given it is 0.227 of the head at best efficiency, at that flow, and goes with its square.
 * By hand: Q H / P of the points over that of the fourth is 0, 0.503, 0.833, 1, 0.904, 0.504; the
 * parabola through the best and its neighbours has its vertex at 0.627 L/s. */
static void stopped_loss_by_best_efficiency(void)
{
    struct pd_pump pump;
    double slope;

    pd_pump_build(&pump, &points, density, NAN);
    double head = pd_curve_at(&pump.rise, 0.6269e-3, &slope);
    CU_ASSERT(near(own_loss(&points, 0.6269e-3), 0.227 * head, 2e-4));
    CU_ASSERT(near(own_loss(&points, 1e-3), own_loss(&points, 0.5e-3) * 4, 1e-12));
    CU_ASSERT(near(pump.stopped_coefficient, own_loss(&points, 1e-3) * 1e6, 1e-12));
}

/* Curves that do not show their best: it lies beyond the last point, or there is no power, or the
 * head is gone at the first flow. */
static void stopped_loss_without_a_best_point(void)
{
    struct pd_pump_points rising = points, without = points, headless = points;
    double at_last = density * PD_GRAVITY * 35.1;

    rising.count = 4;
    CU_ASSERT(near(own_loss(&rising, 0.6e-3), 0.227 * at_last, 1e-12));
    for (size_t i = 0; i < points.count; i++) {
        without.power[i] = 0;
        headless.head[i] = i == 0 ? 42 : 0;
    }
    CU_ASSERT(near(own_loss(&without, 1e-3), 30e3, 1e-12));
    CU_ASSERT(near(own_loss(&headless, 1e-3), 30e3, 1e-12));
}

/* The rise falls as the flow grows, at every speed and without end. */
static void rise_falls_with_flow(void)
{
    struct pd_pump pump = build();
    double q, s;

    for (double speed = 0; speed <= 1; speed += 0.25) {
        double previous = INFINITY;
        for (double flow = 1e-5; flow < 5e-3; flow += 1e-5) {
            double rise = pd_pump_rise(&pump, flow, speed, &q, &s);
            CU_ASSERT(rise < previous && q <= 0);
            previous = rise;
        }
    }
}

static double power_at(double flow, const void *pump)
{
    return pd_pump_power(pump, flow, NULL);
}

static void power_is_held_at_its_ends(void)
{
    struct pd_pump pump = build();
    double slope;

    CU_ASSERT(pd_pump_power(&pump, -1e-4, &slope) == 350 && slope == 0);
    CU_ASSERT(pd_pump_power(&pump, 1.5e-3, &slope) == 610 && slope == 0);
    for (double flow = 0.05e-3; flow < 1e-3; flow += 0.1e-3) {
        pd_pump_power(&pump, flow, &slope);
        CU_ASSERT(within(slope, difference(power_at, &pump, flow, 1e-6), 1e-4));
    }
}

/* P = rho g Q H = Q dp, computed from it at 1000 kg/m3; and 1 kWh lifts 367.098 m3 by 1 m, from
 * the definition of the kilowatt-hour and g = 9.80665 m/s2. */
static void hydraulic_power(void)
{
    CU_ASSERT(within(pd_hydraulic_power(1e-3, 1000 * PD_GRAVITY * 30), 294.20, 0.006));
    CU_ASSERT(within(pd_hydraulic_power(50e-3 / 60, 3.5e5), 291.67, 0.006));
    double in_an_hour = pd_hydraulic_power(367.0978 / 3600, 1000 * PD_GRAVITY);
    CU_ASSERT(near(in_an_hour, 1000, 1e-7));
}

/* L. Bachus and A. Custodio, Know and Understand Centrifugal Pumps, 2003, in feet of water: at sea
 * level 33.9 + 6.0 - 0.839 - 2.0 - 2.0 = 35.061; at 7000 ft 26.2 - 8.0 - 0.411 - 1 - 2.0. */
static void npsh_of_bachus_and_custodio(void)
{
    double weight = 1000 * PD_GRAVITY * foot;

    CU_ASSERT(within(
        pd_npsh_available((6.0 - 2.0 - 2.0) * weight, 33.9 * weight, 0.839 * weight, 1000) / foot,
        35.061, 1e-9));
    CU_ASSERT(within(
        pd_npsh_available((-8.0 - 1 - 2.0) * weight, 26.2 * weight, 0.411 * weight, 1000) / foot,
        14.789, 1e-9));
}

/* F. M. White, Fluid Mechanics, ch. 11, the height of a pump's inlet (value from memory): required
 * 40 ft, loss 6 ft, 14.7 psia; water of 60 F (0.26 psia) -12.7 ft; of 200 F (11.52 psia, specific
 * gravity 0.9635) -38.4 ft. */
static void npsh_of_white(void)
{
    const double cold = 62.4 * 0.45359237 / (foot * foot * foot);
    double at_60 = pd_npsh_available(0, 14.7 * psi, 0.26 * psi, cold) / foot - 6 - 40;
    double at_200 = pd_npsh_available(0, 14.7 * psi, 11.52 * psi, 0.9635 * cold) / foot - 6 - 40;

    CU_ASSERT(within(at_60, -12.7, 0.05));
    CU_ASSERT(within(at_200, -38.4, 0.05));
}

/* 1 m flooded with 0.5 m of loss, computed from ISO 2533 and IAPWS at atmospheric pressure. */
static void npsh_over_altitude_and_temperature(void)
{
    for (size_t i = 0; i < NPSH_ROWS; i++) {
        CU_ASSERT(within(published_npsh(&npsh_rows[i]), npsh_rows[i].npsh, 0.0006));
    }
}

void suite_pump(void)
{
    CU_pSuite suite = CU_add_suite("pump", NULL, NULL);

    CU_ADD_TEST(suite, rise_and_power_at_the_points);
    CU_ADD_TEST(suite, affinity_laws);
    CU_ADD_TEST(suite, derivatives_of_the_rise);
    CU_ADD_TEST(suite, rise_has_no_steps);
    CU_ADD_TEST(suite, stopping_pump);
    CU_ADD_TEST(suite, stopped_loss_by_best_efficiency);
    CU_ADD_TEST(suite, stopped_loss_without_a_best_point);
    CU_ADD_TEST(suite, rise_falls_with_flow);
    CU_ADD_TEST(suite, power_is_held_at_its_ends);
    CU_ADD_TEST(suite, hydraulic_power);
    CU_ADD_TEST(suite, npsh_of_bachus_and_custodio);
    CU_ADD_TEST(suite, npsh_of_white);
    CU_ADD_TEST(suite, npsh_over_altitude_and_temperature);
}
