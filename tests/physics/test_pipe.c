/* Friction against Colebrook and White and against worked examples of textbooks; the table of the
 * loss against the loss; openings, leaks and the give of a pipe's wall. */
#include <pumpday/pipe.h>
#include <pumpday/water.h>

#include "physics/near.h"
#include "physics/published.h"

#include <CUnit/CUnit.h>

void suite_pipe(void);

static const double pi = 3.14159265358979323846;

/* Churchill's formula as printed, all powers by pow(). */
static double churchill(double reynolds, double roughness)
{
    double a = pow(2.457 * log(1 / (pow(7 / reynolds, 0.9) + 0.27 * roughness)), 16);
    double b = pow(37530 / reynolds, 16);

    return 8 * pow(pow(8 / reynolds, 12) + pow(a + b, -1.5), 1.0 / 12);
}

/* Colebrook-White and Churchill computed from their formulae (C. F. Colebrook, J. Inst. Civ. Eng.
 * 11 (1939) 133-156; S. W. Churchill, Chem. Eng., 7 Nov 1977, 91-92).  At these points
 * the two differ by up to 1.8 % near the onset of turbulence and 0.8 % from Re = 1e4 on. */
static void turbulent_friction(void)
{
    for (size_t i = 0; i < FRICTION_ROWS; i++) {
        double reynolds = friction_rows[i].reynolds, roughness = friction_rows[i].roughness;
        double factor = pd_friction_factor(reynolds, roughness);
        CU_ASSERT(
            within(published_colebrook(reynolds, roughness), friction_rows[i].colebrook, 6e-8));
        CU_ASSERT(within(factor, friction_rows[i].churchill, 6e-7));
        CU_ASSERT(
            near(factor, published_colebrook(reynolds, roughness), reynolds < 1e4 ? 0.018 : 0.008));
    }
}

/* The same two over all of turbulence, Re 4000 to 1e8 and roughness to 0.05: up to 3.2 % apart,
 * from Re 1e4 on 2.2 %, from 2e4 on 1.6 %; most at a roughness of 0.01 to 0.02. */
static void spread_of_turbulent_friction(void)
{
    static const double roughness[] = {0, 1e-5, 1e-4, 1e-3, 5e-3, 0.01, 0.02, 0.05};

    for (size_t i = 0; i < COUNT(roughness); i++) {
        for (double reynolds = 4000; reynolds < 1e8; reynolds *= 1.05) {
            double spread = reynolds < 1e4 ? 0.032 : reynolds < 2e4 ? 0.022 : 0.016;
            CU_ASSERT(near(pd_friction_factor(reynolds, roughness[i]),
                           published_colebrook(reynolds, roughness[i]), spread));
        }
    }
}

/* Hagen and Poiseuille: 64 / Re.  Churchill's blend leaves it as the passage comes near: 0.032043
 * at Re 2000, 0.030840 at 2300, computed from his formula. */
static void laminar_friction(void)
{
    CU_ASSERT(near(pd_friction_factor(1e-3, 0), 64000, 1e-14));
    CU_ASSERT(near(pd_friction_factor(100, 0.05), 0.64, 1e-14));
    CU_ASSERT(near(pd_friction_factor(1000, 0.001), 0.064, 1e-7));
    CU_ASSERT(within(pd_friction_factor(2000, 0), 0.032043, 6e-7));
    CU_ASSERT(within(pd_friction_factor(2300, 0), 0.030840, 6e-7));
}

/* Equal to the formula as printed at every Reynolds number, on both sides of where the laminar
 * shortcut ends. */
static void friction_is_the_printed_formula(void)
{
    static const double roughness[] = {0, 1e-5, 1e-3, 0.05};

    for (size_t i = 0; i < COUNT(roughness); i++) {
        for (double reynolds = 10; reynolds < 1e8; reynolds *= 1.07) {
            CU_ASSERT(near(pd_friction_factor(reynolds, roughness[i]),
                           churchill(reynolds, roughness[i]), 1e-13));
        }
        CU_ASSERT(near(pd_friction_factor(499.9999999, roughness[i]),
                       pd_friction_factor(500.0000001, roughness[i]), 1e-9));
    }
}

/* F. M. White, Fluid Mechanics, Example 6.6: 200 ft of 6 in asphalted cast iron (e = 0.0008), water
 * at 6 ft/s, Re 2.7e5 (data: value from memory): f 0.02, 4.5 ft, 280 lbf/ft2.  The answer is read
 * off a chart and rounded to two figures. */
static void loss_of_white_6_6(void)
{
    struct white_6_6 example = white_6_6();

    CU_ASSERT(within(example.factor, 0.02, 0.0005));
    CU_ASSERT(within(example.head, 4.5, 0.06));
    CU_ASSERT(within(example.loss, 280, 3.5));
}

/* F. M. White, Fluid Mechanics, Example 6.7: oil of 900 kg/m3 and 1e-5 m2/s, 0.2 m3/s down 500 m of
 * 200 mm cast iron (0.26 mm) falling by 10 degrees: 117 m, 265 kPa (both: value from memory).
 * The book takes Colebrook-White's factor and subtracts whole metres, 117 - 87, which is 1 m or
 * 8.8 kPa of rounding; the loss itself differs by Churchill's spread, 0.81 % here. */
static void loss_of_white_6_7(void)
{
    struct white_6_7 example = white_6_7();

    CU_ASSERT(within(example.head, 117, 0.5));
    CU_ASSERT(within(example.difference, 265e3, 8.8e3));
    CU_ASSERT(near(example.loss, example.as_book, 0.0082));
}

/* B. R. Munson, D. F. Young and T. H. Okiishi, Fundamentals of Fluid Mechanics, the house plumbing
 * of Example 8.8 (4th to 6th edition; value from memory): 12.0 gal/min of water at 60 F through
 * 60 ft of 3/4 in drawn tube, 20 ft up, four threaded elbows, open globe valve, faucet of 1/2 in:
 * 10.7 psi without loss, 21.3 psi with the pipe's friction, 30.5 psi with all.  A 1 % of friction
 * is 0.1 psi; the printed values are rounded to 0.1 psi. */
static void loss_of_munson_8_8(void)
{
    struct munson_8_8 example = munson_8_8();

    CU_ASSERT(within(example.velocity, 8.70, 0.02));
    CU_ASSERT(within(example.none, 10.7, 0.06));
    CU_ASSERT(within(example.friction, 21.3, 0.15));
    CU_ASSERT(within(example.all_parts, 30.5, 0.15));
}

/* Computed from Darcy-Weisbach with Colebrook-White and IAPWS water at 10 C: 0.3 L/s in a bore of
 * 20 mm, roughness 0.0015 mm: 0.06539 m/m.  Churchill's spread is 0.5 % there. */
static void loss_of_a_small_tube(void)
{
    struct pd_water water = pd_water_at(283.15, 101325);
    struct pd_pipe pipe = {1, 0.02, 0.0015e-3, 0};
    double loss = pd_pipe_loss(&pipe, water.density, water.viscosity, 0.3e-3);

    CU_ASSERT(near(loss / (water.density * PD_GRAVITY), 0.06539, 0.005));
}

/* Local losses alone: K times the velocity head, and a pipe of no length has no other. */
static void local_loss_is_on_the_velocity_head(void)
{
    struct pd_pipe pipe = {0, 0.025, 1e-5, 7.5};
    double velocity = 1e-3 / (pi / 4 * 0.025 * 0.025);

    CU_ASSERT(near(pd_pipe_loss(&pipe, 1000, 1e-3, 1e-3), 7.5 * 500 * velocity * velocity, 1e-13));
    CU_ASSERT(pd_pipe_loss(&pipe, 1000, 1e-3, 0) == 0);
}

/* Inertance from Newton's law: pressure * area = density * length * area * dV/dt. */
static void inertance_of_a_pipe(void)
{
    struct pd_pipe pipe = {30, 0.02, 0, 0};
    double area = pi * 1e-4;

    CU_ASSERT(near(pd_pipe_inertance(&pipe, 998), 998 * 30 / area, 1e-13));
}

/* One table at a time, too large for a small stack. */
static struct pd_loss_table table;
static const double density = 998.388, viscosity = 1.0014e-3;

/* Builds the table of a 25 mm pipe up to a Reynolds number and gives its range. */
static double build(double reynolds, double roughness, double loss_k)
{
    struct pd_pipe pipe = {20, 0.025, roughness * 0.025, loss_k};
    double range = reynolds * pi / 4 * pipe.diameter * viscosity / density;

    pd_loss_table_build(&table, &pipe, density, viscosity, range);
    return range;
}

/* Within 1e-7 of the loss itself at places between the nodes, as the header promises. */
static void table_is_the_loss(void)
{
    static const double ends[] = {300, 1300, 3000, 1e4, 6e4, 3e5, 1e6};
    static const double roughness[] = {0, 1e-3, 0.05};

    for (size_t i = 0; i < 3 * COUNT(ends); i++) {
        double end = ends[i / 3];
        double worst = 0;
        double range = build(end, roughness[i % 3], i % 2 ? 5.0 : 0);
        for (int k = 1; k < 20000; k++) {
            double slope, flow = range * k / 20000.0;
            double loss = pd_pipe_loss(&table.pipe, density, viscosity, flow);
            worst = fmax(worst, fabs(pd_loss_table_at(&table, flow, &slope) / loss - 1));
        }
        CU_ASSERT(within(worst, 0, end > 3e5 ? 1e-7 : 4e-9));
    }
}

/* The nodes, even or fine, hold the loss itself; so do the flow of zero and flows beyond the
 * range. */
static void table_is_exact_at_nodes_and_beyond(void)
{
    double range = build(6e4, 1e-4, 3);
    double slope;

    for (int k = 0; k <= 2 * PD_LOSS_CELLS; k++) {
        double place = k;
        if (place > table.fine_from && place < table.fine_to) {
            place = table.fine_from +
                    floor((place - table.fine_from) * table.fine_per_cell) / table.fine_per_cell;
        }
        double flow = place * range / PD_LOSS_CELLS;
        double loss = pd_pipe_loss(&table.pipe, density, viscosity, flow);
        CU_ASSERT(near(pd_loss_table_at(&table, flow, &slope), loss, 1e-13));
    }
    CU_ASSERT(table.fine_from > 0 && table.fine_to < PD_LOSS_CELLS);
    CU_ASSERT(pd_loss_table_at(&table, 0, &slope) == 0);
    CU_ASSERT(near(slope, 128 * viscosity * 20 / (pi * pow(0.025, 4)), 1e-9));
    CU_ASSERT(isnan(pd_loss_table_at(&table, NAN, &slope)));
}

static double table_loss(double flow, const void *unused)
{
    double slope;

    (void)unused;
    return pd_loss_table_at(&table, flow, &slope);
}

static double true_loss(double flow, const void *unused)
{
    (void)unused;
    return pd_pipe_loss(&table.pipe, density, viscosity, flow);
}

/* The slope is that of the table's own cubic within each cell, and close to the loss's own. */
static void table_slope_is_the_derivative(void)
{
    double range = build(6e4, 1e-4, 3);

    for (double part = 0.0000537; part < 1.5; part *= 1.03) {
        double slope, flow = part * range;
        pd_loss_table_at(&table, flow, &slope);
        CU_ASSERT(near(slope, difference(true_loss, NULL, flow, flow * 1e-4), 3e-6));
        CU_ASSERT(near(slope, difference(table_loss, NULL, flow, flow * 1e-6), 3e-6));
    }
}

/* Value and slope meet at every join of cells, fine and even, and at the end of the range. */
static void table_has_no_steps(void)
{
    double range = build(6e4, 0, 2);

    for (int k = 1; k <= PD_LOSS_CELLS; k++) {
        double node = k * range / PD_LOSS_CELLS;
        double left, right;
        double below = pd_loss_table_at(&table, node * (1 - 1e-12), &left);
        double above = pd_loss_table_at(&table, node * (1 + 1e-12), &right);
        CU_ASSERT(near(below, above, 1e-11));
        CU_ASSERT(near(left, right, 1e-9));
    }
}

static void loss_is_odd(void)
{
    double range = build(6e4, 1e-3, 4);

    for (double part = 1e-4; part < 2; part *= 1.3) {
        double ahead, back, flow = part * range;
        double loss = pd_loss_table_at(&table, flow, &ahead);
        CU_ASSERT(pd_loss_table_at(&table, -flow, &back) == -loss);
        CU_ASSERT(back == ahead && loss > 0 && ahead > 0);
        CU_ASSERT(pd_pipe_loss(&table.pipe, density, viscosity, -flow) ==
                  -pd_pipe_loss(&table.pipe, density, viscosity, flow));
    }
}

static double power_at(double pressure, const void *exponent)
{
    double slope;

    return pd_smooth_power(pressure, *(const double *)exponent, &slope);
}

static const double exponents[] = {0.3, 0.5, 0.5000001, 0.9, 1, 1.3, 1.5, 2, 2.5};

/* The power itself from 500 Pa on; none and flat from zero down. */
static void smooth_power_is_the_power(void)
{
    for (size_t i = 0; i < COUNT(exponents); i++) {
        double e = exponents[i];
        double slope;
        for (double p = 500; p < 2e6; p *= 1.7) {
            CU_ASSERT(near(pd_smooth_power(p, e, &slope), pow(p, e), 1e-14));
            CU_ASSERT(near(slope, e * pow(p, e - 1), 1e-14));
        }
        CU_ASSERT(pd_smooth_power(0, e, &slope) == 0 && slope == 0);
        CU_ASSERT(pd_smooth_power(-1e5, e, &slope) == 0 && slope == 0);
        CU_ASSERT(isnan(pd_smooth_power(NAN, e, &slope)));
    }
}

/* Below 500 Pa: meets value and slope at both ends, rises all the way, gives its own slope. */
static void smooth_power_joins(void)
{
    for (size_t i = 0; i < COUNT(exponents); i++) {
        double e = exponents[i];
        double left, right, slope, previous = 0;
        double below = pd_smooth_power(500 * (1 - 1e-13), e, &left);
        CU_ASSERT(near(below, pd_smooth_power(500, e, &right), 1e-12));
        CU_ASSERT(near(left, right, 1e-11));
        for (double p = 5; p < 495; p += 7) {
            double value = pd_smooth_power(p, e, &slope);
            CU_ASSERT(value > previous);
            CU_ASSERT(near(slope, difference(power_at, &e, p, 0.5), 1e-9));
            previous = value;
        }
        CU_ASSERT(within(pd_smooth_power(1e-9, e, &slope), 0, 1e-9));
        CU_ASSERT(within(slope, 0, 1e-6));
    }
}

/* Q = Cd A sqrt(2 dp / rho), the orifice law of J. E. van Zyl and R. Malde, J. Water Supply AQUA
 * 66 (2017) 287; Cd 0.61, 3 bar, 1000 kg/m3; the flows are computed from it. */
static void leak_of_a_round_hole(void)
{
    for (size_t i = 0; i < HOLE_ROWS; i++) {
        double flow = published_hole_flow(hole_rows[i].diameter);
        CU_ASSERT(near(flow * 3.6e6, hole_rows[i].litres_per_hour, 4e-4));
    }
}

/* B. Greyvenstein and J. E. van Zyl, J. Water Supply AQUA 56 (2007): half the pressure cuts a leak
 * of exponent 0.5, 1.0, 2.5 by 29, 50, 82 %.  From 3 to 2 bar: computed from the power law. */
static void leak_by_its_exponent(void)
{
    double slope;

    for (size_t i = 0; i < LEAK_ROWS; i++) {
        double e = leak_halves[i].exponent;
        double left = pd_smooth_power(2e5, e, &slope) / pd_smooth_power(4e5, e, &slope);
        CU_ASSERT(within(100 * (1 - left), leak_halves[i].cut, 0.5));
        e = leak_thirds[i].exponent;
        left = pd_smooth_power(2e5, e, &slope) / pd_smooth_power(3e5, e, &slope);
        CU_ASSERT(within(left, leak_thirds[i].left, 6e-5));
    }
}

/* Speed of a pressure wave, and effective modulus and storage, computed from Korteweg's formula
 * (E. B. Wylie and V. L. Streeter, Fluid Transients in Systems, 1993; formula and wall moduli:
 * value from memory), K 2.18 GPa, 998.2 kg/m3. */
static void give_of_pipe_walls(void)
{
    for (size_t i = 0; i < WALL_ROWS; i++) {
        double give = published_give(&wall_rows[i]);
        CU_ASSERT(within(sqrt(1 / (998.2 * give)), wall_rows[i].wave_speed, 0.06));
        CU_ASSERT(within(1 / give, wall_rows[i].effective_modulus, 0.06e6));
        // millilitres per litre of pipe and bar
        CU_ASSERT(within(give * 1e5 * 1e3, wall_rows[i].storage, 0.0006));
    }
}

/* The same formula: steel of 200 GPa, K 2.2 GPa, 1000 kg/m3; and 50 m of house pipe. */
static void give_of_more_pipes(void)
{
    double volume = pi / 4;

    CU_ASSERT(within(sqrt(volume / 1000 / pd_pipe_compliance(1, 1, 1.0 / 50, 200e9, 2.2e9)), 1191.4,
                     0.06));
    CU_ASSERT(within(sqrt(volume / 1000 / pd_pipe_compliance(1, 1, 1.0 / 100, 200e9, 2.2e9)),
                     1023.5, 0.06));
    CU_ASSERT(within(1e11 * pd_pipe_compliance(50, 16e-3, 2e-3, 0.8e9, 2.18e9), 10.5, 0.06));
    CU_ASSERT(within(1e11 * pd_pipe_compliance(50, 20e-3, 1e-3, 120e9, 2.18e9), 0.99, 0.01));
}

/* A wall of which nothing is known does not give: the water's own 0.046 mL/L per bar is left. */
static void rigid_pipe(void)
{
    static const double walls[][2] = {{0, 2e9},        {1e-3, 0},        {0, 0},
                                      {INFINITY, 2e9}, {1e-3, INFINITY}, {0, INFINITY}};
    double volume = 5 * pi / 4 * 0.02 * 0.02;

    for (size_t i = 0; i < COUNT(walls); i++) {
        double give = pd_pipe_compliance(5, 0.02, walls[i][0], walls[i][1], 2.18e9);
        CU_ASSERT(near(give, volume / 2.18e9, 1e-14));
    }
    CU_ASSERT(within(1e8 / 2.18e9, 0.046, 0.0005));
}

static void add_friction(CU_pSuite suite)
{
    CU_ADD_TEST(suite, turbulent_friction);
    CU_ADD_TEST(suite, spread_of_turbulent_friction);
    CU_ADD_TEST(suite, laminar_friction);
    CU_ADD_TEST(suite, friction_is_the_printed_formula);
    CU_ADD_TEST(suite, loss_of_white_6_6);
    CU_ADD_TEST(suite, loss_of_white_6_7);
    CU_ADD_TEST(suite, loss_of_munson_8_8);
    CU_ADD_TEST(suite, loss_of_a_small_tube);
    CU_ADD_TEST(suite, local_loss_is_on_the_velocity_head);
    CU_ADD_TEST(suite, inertance_of_a_pipe);
}

void suite_pipe(void)
{
    CU_pSuite suite = CU_add_suite("pipe", NULL, NULL);

    add_friction(suite);
    CU_ADD_TEST(suite, table_is_the_loss);
    CU_ADD_TEST(suite, table_is_exact_at_nodes_and_beyond);
    CU_ADD_TEST(suite, table_slope_is_the_derivative);
    CU_ADD_TEST(suite, table_has_no_steps);
    CU_ADD_TEST(suite, loss_is_odd);
    CU_ADD_TEST(suite, smooth_power_is_the_power);
    CU_ADD_TEST(suite, smooth_power_joins);
    CU_ADD_TEST(suite, leak_of_a_round_hole);
    CU_ADD_TEST(suite, leak_by_its_exponent);
    CU_ADD_TEST(suite, give_of_pipe_walls);
    CU_ADD_TEST(suite, give_of_more_pipes);
    CU_ADD_TEST(suite, rigid_pipe);
}
