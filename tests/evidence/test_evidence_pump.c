/* Affinity laws, the curve between points, hydraulic power, suction head. */
#include <pumpday/pump.h>
#include <pumpday/water.h>

#include "evidence/evidence.h"
#include "physics/published.h"

#include <CUnit/CUnit.h>
#include <math.h>

void suite_evidence_pump(void);

static const double foot = 0.3048, psi = 6894.757;

static const struct pd_pump_points points = {
    .count = 6,
    .flow = {0, 0.2e-3, 0.4e-3, 0.6e-3, 0.8e-3, 1.0e-3},
    .head = {42, 41.2, 39, 35.1, 26, 12},
    .power = {350, 420, 480, 540, 590, 610},
};

static int begin(void)
{
    evidence_part(EVIDENCE_PUMP);
    return 0;
}

/* 50 to 40 Hz moves each point to 0.8 of the flow, 0.64 of the head, 0.512 of hydraulic power. */
static void affinity_laws(void)
{
    static const struct evidence_source textbooks = {"affinity laws, any textbook of pumps",
                                                     EVIDENCE_FROM_MEMORY | EVIDENCE_COMPUTED};
    struct pd_pump pump;
    double q, s;

    pd_pump_build(&pump, &points, 998.2, 6e3);
    for (size_t i = 1; i < points.count; i += 2) {
        double flow = points.flow[i];
        double full = pd_pump_rise(&pump, flow, 1, &q, &s);
        double slow = pd_pump_rise(&pump, 0.8 * flow, 0.8, &q, &s);
        evidence_check(evidence_text("head at 40 over 50 Hz, 0.8 of %g L/s", 1e3 * flow),
                       &textbooks, 0.64, slow / full, "", 1e-12);
        evidence_check(evidence_text("hydraulic power at 40 over 50 Hz, 0.8 of %g L/s", 1e3 * flow),
                       &textbooks, 0.512,
                       pd_hydraulic_power(0.8 * flow, slow) / pd_hydraulic_power(flow, full), "",
                       1e-12);
    }
}

/* Head h = WH (a^2 + v^2) and torque b = WB (a^2 + v^2) at x = pi + atan(v / a), x in steps of
 * 2 pi / 88; here around the place where v > 0 brings no torque, and a pump that stands (x = 3 pi /
 * 2).  Three public copies of the table agree in these numbers. */
static const double characteristic_step = 3.14159265358979323846 / 44;
static const double no_torque_wh[] = {-0.168, -0.255}, no_torque_wb[] = {0.037, -0.053};
enum { NO_TORQUE = 61 };
static const double standing_wh = -0.556;

/* Loss over v^2, in heads of best efficiency, of a pump that the water turns. */
static double free_wheeling_loss(void)
{
    double part = no_torque_wb[0] / (no_torque_wb[0] - no_torque_wb[1]);
    double wh = no_torque_wh[0] + part * (no_torque_wh[1] - no_torque_wh[0]);
    double v = sin((NO_TORQUE + part) * characteristic_step);

    return -wh / (v * v);
}

/* What the stopped pump costs unless it is given: with an efficiency as q (0.9 - q), best at 0.45
 * L/s and between two points, and a head that falls in a line. */
static void stopped_pump(void)
{
    static const struct evidence_source suter = {"complete characteristics of a radial pump, "
                                                 "specific speed 35, in Suter's form: E. B. Wylie "
                                                 "and V. L. Streeter, Fluid Transients",
                                                 EVIDENCE_COMPUTED};
    struct pd_pump_points straight = {.count = 6};
    struct pd_pump pump;
    double best = 0.45e-3, q, s;

    for (size_t i = 0; i < straight.count; i++) {
        straight.flow[i] = 0.14e-3 * (double)i;
        straight.head[i] = 40 - 2e4 * straight.flow[i];
        straight.power[i] = 0.01 * straight.head[i] / (2 * best - straight.flow[i]);
    }
    pd_pump_build(&pump, &straight, 1000, (double)NAN);
    double head = 1000 * PD_GRAVITY * (40 - 2e4 * best);
    double loss = -pd_pump_rise(&pump, best, 0, &q, &s) / head;
    evidence_check("loss of the stopped pump at best efficiency, over the head there", &suter,
                   free_wheeling_loss(), loss, "", 1e-3);
    evidence_at_most("the same, against a rotor that is held", &suter, -standing_wh, loss, "");
}

static void curve_between_points(void)
{
    static const struct evidence_source scipy = {
        "SciPy 1.10.1, PchipInterpolator, run once on the same points", EVIDENCE_PRINTED};
    struct pd_curve curve;
    double slope;

    pd_curve_build(&curve, curve_x, curve_y, CURVE_POINTS);
    for (size_t i = 0; i < CURVE_SAMPLES; i++) {
        double x = curve_samples[i].x;
        evidence_check(evidence_text("head curve at %.7g L/min", x), &scipy, curve_samples[i].value,
                       pd_curve_at(&curve, x, &slope), "m", 2e-13);
        evidence_check(evidence_text("its slope at %.7g L/min", x), &scipy, curve_samples[i].slope,
                       slope, "m/(L/min)", 2e-13);
    }
}

static void hydraulic_power(void)
{
    static const struct evidence_source definition = {
        "P = Q dp, and the kilowatt-hour's definition", EVIDENCE_COMPUTED};

    evidence_check("1 L/s lifted 30 m, 1000 kg/m3", &definition, 294.20,
                   pd_hydraulic_power(1e-3, 1000 * PD_GRAVITY * 30), "W", 0.006);
    evidence_check("50 L/min through 3.5 bar", &definition, 291.67,
                   pd_hydraulic_power(50e-3 / 60, 3.5e5), "W", 0.006);
    evidence_check("1 kWh lifts by 1 m, 1000 kg/m3", &definition, 367.098,
                   3.6e6 / pd_hydraulic_power(1, 1000 * PD_GRAVITY), "m3", 6e-4);
    evidence_check("1 kWh lifts by 1 m, 998.2 kg/m3", &definition, 367.760,
                   3.6e6 / pd_hydraulic_power(1, 998.2 * PD_GRAVITY), "m3", 6e-4);
    evidence_check("1 m3 through 1 bar", &definition, 0.0277778, pd_hydraulic_power(1, 1e5) / 3.6e6,
                   "kWh", 6e-8);
}

/* L. Bachus and A. Custodio: 33.9 + 6.0 - 0.839 - 2.0 - 2.0 and 26.2 - 8.0 - 0.411 - 1 - 2.0 ft. */
static void suction_head_of_worked_examples(void)
{
    static const struct evidence_source bachus = {
        "L. Bachus and A. Custodio, Know and Understand Centrifugal Pumps, 2003", 0};
    static const struct evidence_source white = {"F. M. White, Fluid Mechanics, ch. 11",
                                                 EVIDENCE_FROM_MEMORY};
    const double weight = 1000 * PD_GRAVITY * foot;
    const double cold = 62.4 * 0.45359237 / (foot * foot * foot);

    evidence_check("NPSH available at sea level", &bachus, 35.061,
                   pd_npsh_available(2.0 * weight, 33.9 * weight, 0.839 * weight, 1000) / foot,
                   "ft", 1e-9);
    evidence_check("NPSH available at 7000 ft, lift", &bachus, 14.789,
                   pd_npsh_available(-11.0 * weight, 26.2 * weight, 0.411 * weight, 1000) / foot,
                   "ft", 1e-9);
    evidence_check("height of the inlet, NPSH 40 ft, 60 F", &white, -12.7,
                   pd_npsh_available(0, 14.7 * psi, 0.26 * psi, cold) / foot - 46, "ft", 0.05);
    evidence_check("height of the inlet, NPSH 40 ft, 200 F", &white, -38.4,
                   pd_npsh_available(0, 14.7 * psi, 11.52 * psi, 0.9635 * cold) / foot - 46, "ft",
                   0.05);
}

static void suction_head_over_altitude(void)
{
    static const struct evidence_source releases = {"ISO 2533:1975 and IAPWS R7-97(2012)",
                                                    EVIDENCE_COMPUTED};

    for (size_t i = 0; i < NPSH_ROWS; i++) {
        const struct npsh_row *row = &npsh_rows[i];
        evidence_check(evidence_text("NPSH available, 1 m flooded, 0.5 m loss, %g m, %g C",
                                     row->height, row->celsius),
                       &releases, row->npsh, published_npsh(row), "m", 6e-4);
    }
}

void suite_evidence_pump(void)
{
    CU_pSuite suite = CU_add_suite("evidence_pump", begin, NULL);

    CU_ADD_TEST(suite, affinity_laws);
    CU_ADD_TEST(suite, stopped_pump);
    CU_ADD_TEST(suite, curve_between_points);
    CU_ADD_TEST(suite, hydraulic_power);
    CU_ADD_TEST(suite, suction_head_of_worked_examples);
    CU_ADD_TEST(suite, suction_head_over_altitude);
}
