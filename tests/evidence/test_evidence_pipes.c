/* Friction, textbook pipes, loss coefficients, leaks and the give of pipe walls. */
#include <pumpday/pipe.h>
#include <pumpday/scenario.h>
#include <pumpday/water.h>

#include "evidence/evidence.h"
#include "physics/near.h"
#include "physics/published.h"

#include <CUnit/CUnit.h>

void suite_evidence_pipes(void);

static const double pi = 3.14159265358979323846;

static const struct evidence_source colebrook = {
    "C. F. Colebrook, J. Inst. Civ. Eng. 11 (1939) 133-156", EVIDENCE_COMPUTED};
static const struct evidence_source churchill = {"S. W. Churchill, Chem. Eng., 7 Nov 1977, 91-92",
                                                 EVIDENCE_COMPUTED};

static int begin_pipes(void)
{
    evidence_part(EVIDENCE_PIPES);
    return 0;
}

static int begin_leaks(void)
{
    evidence_part(EVIDENCE_LEAKS);
    return 0;
}

/* The program uses Churchill's formula: equal to it, and within a stated spread of Colebrook. */
static void friction_factors(void)
{
    for (size_t i = 0; i < FRICTION_ROWS; i++) {
        const struct friction_row *row = &friction_rows[i];
        double ours = pd_friction_factor(row->reynolds, row->roughness);
        double spread = row->reynolds < 1e4 ? 0.018 : 0.008;
        evidence_check(evidence_text("f, Re %g, e %g", row->reynolds, row->roughness), &churchill,
                       row->churchill, ours, "", 6e-7);
        evidence_check(evidence_text("f, Re %g, e %g, spread %g %%", row->reynolds, row->roughness,
                                     100 * spread),
                       &colebrook, row->colebrook, ours, "", spread * row->colebrook);
        // the solution in this test is the published one
        CU_ASSERT(within(published_colebrook(row->reynolds, row->roughness), row->colebrook, 6e-8));
    }
}

/* Largest part by which the program's factor leaves Colebrook's over a range. */
static double largest_spread(double from, double to)
{
    static const double roughness[] = {0, 1e-5, 1e-4, 1e-3, 5e-3, 0.01, 0.02, 0.05};
    double worst = 0;

    for (size_t i = 0; i < COUNT(roughness); i++) {
        for (double reynolds = from; reynolds < to; reynolds *= 1.02) {
            double ratio = pd_friction_factor(reynolds, roughness[i]) /
                           published_colebrook(reynolds, roughness[i]);
            worst = fmax(worst, fabs(ratio - 1));
        }
    }
    return worst;
}

static void spread_and_laminar_limit(void)
{
    static const struct evidence_source poiseuille = {"Hagen-Poiseuille, 64/Re", EVIDENCE_COMPUTED};

    evidence_at_most("largest spread, Re 4e3 to 1e4, e 0 to 0.05", &colebrook, 3.2,
                     100 * largest_spread(4e3, 1e4), "%");
    evidence_at_most("largest spread, Re 1e4 to 2e4, e 0 to 0.05", &colebrook, 2.2,
                     100 * largest_spread(1e4, 2e4), "%");
    evidence_at_most("largest spread, Re 2e4 to 1e8, e 0 to 0.05", &colebrook, 1.6,
                     100 * largest_spread(2e4, 1e8), "%");
    evidence_check("f, laminar, Re 100", &poiseuille, 0.64, pd_friction_factor(100, 0), "", 1e-9);
    evidence_check("f, laminar, Re 1000", &poiseuille, 0.064, pd_friction_factor(1000, 0), "",
                   1e-8);
    evidence_check("f, Re 2000, where the blend leaves 64/Re", &churchill, 0.032043,
                   pd_friction_factor(2000, 0), "", 6e-7);
    evidence_check("f, Re 2300", &churchill, 0.030840, pd_friction_factor(2300, 0), "", 6e-7);
}

static void pipes_of_white(void)
{
    static const struct evidence_source example_6_6 = {
        "F. M. White, Fluid Mechanics, Ex. 6.6 (chart, two figures; data from memory)", 0};
    static const struct evidence_source example_6_7 = {"F. M. White, Fluid Mechanics, Ex. 6.7",
                                                       EVIDENCE_FROM_MEMORY};
    struct white_6_6 iron = white_6_6();
    struct white_6_7 oil = white_6_7();

    evidence_check("cast iron pipe: friction factor", &example_6_6, 0.02, iron.factor, "", 5e-4);
    evidence_check("cast iron pipe: head loss", &example_6_6, 4.5, iron.head, "ft", 0.06);
    evidence_check("cast iron pipe: pressure loss", &example_6_6, 280, iron.loss, "lbf/ft2", 3.5);
    // the book has Colebrook's factor and subtracts whole metres, 117 - 87
    evidence_check("falling oil pipe: head loss, Colebrook's factor", &example_6_7, 117, oil.head,
                   "m", 0.5);
    evidence_check("falling oil pipe: pressure difference, same", &example_6_7, 265,
                   1e-3 * oil.difference, "kPa", 8.8);
    evidence_check("falling oil pipe: the program's loss over that with Colebrook's factor",
                   &colebrook, 1, oil.loss / oil.as_book, "", 0.0082);
}

static void house_plumbing_of_munson(void)
{
    static const struct evidence_source example = {
        "Munson, Young, Okiishi, Fundamentals of Fluid Mechanics, Ex. 8.8", EVIDENCE_FROM_MEMORY};
    struct munson_8_8 house = munson_8_8();

    evidence_check("house plumbing: velocity", &example, 8.70, house.velocity, "ft/s", 0.02);
    evidence_check("house plumbing: pressure, no loss", &example, 10.7, house.none, "psi", 0.06);
    evidence_check("house plumbing: with pipe friction", &example, 21.3, house.friction, "psi",
                   0.15);
    evidence_check("house plumbing: with all losses", &example, 30.5, house.all_parts, "psi", 0.15);
}

static void loss_of_a_small_tube(void)
{
    struct pd_water water = pd_water_at(283.15, 101325);
    struct pd_pipe pipe = {1, 0.02, 0.0015e-3, 0};
    double loss = pd_pipe_loss(&pipe, water.density, water.viscosity, 0.3e-3);

    evidence_check("0.3 L/s in 20 mm, 0.0015 mm, 10 C, spread 0.5 %", &colebrook, 0.06539,
                   loss / (water.density * PD_GRAVITY), "m/m", 0.005 * 0.06539);
}

/* A part's K is what its loss has of velocity heads. */
static void loss_coefficients(void)
{
    static const struct evidence_source munson = {
        "Munson, Young, Okiishi, Fundamentals of Fluid Mechanics, Table 8.2", EVIDENCE_FROM_MEMORY};
    static const struct {
        const char *part;
        double k;
    } parts[] = {{"90 degree elbow, threaded", 1.5}, {"45 degree elbow, threaded", 0.4},
                 {"tee, branch, threaded", 2.0},     {"globe valve, open", 10},
                 {"angle valve, open", 2},           {"gate valve, open", 0.15},
                 {"ball valve, open", 0.05}};
    double velocity = 5e-4 / (pi / 4 * 0.025 * 0.025);

    for (size_t i = 0; i < COUNT(parts); i++) {
        struct pd_pipe pipe = {0, 0.025, 0, parts[i].k};
        double heads = pd_pipe_loss(&pipe, 998, 1e-3, 5e-4) / (998 * velocity * velocity / 2);
        evidence_check(evidence_text("%s: velocity heads lost", parts[i].part), &munson, parts[i].k,
                       heads, "", 1e-12);
    }
    evidence_check("swing check valve: the default check_valve.loss_k", &munson, 2,
                   pd_items[PD_CHECK_VALVE_LOSS_K].fallback, "", 0);
}

static void leaks(void)
{
    static const struct evidence_source orifice = {
        "J. E. van Zyl and R. Malde, J. Water Supply AQUA 66 (2017) 287", EVIDENCE_COMPUTED};
    static const struct evidence_source power = {
        "B. Greyvenstein and J. E. van Zyl, J. Water Supply AQUA 56 (2007)", 0};
    static const struct evidence_source power_law = {
        "B. Greyvenstein and J. E. van Zyl, J. Water Supply AQUA 56 (2007)", EVIDENCE_COMPUTED};
    double slope;

    for (size_t i = 0; i < HOLE_ROWS; i++) {
        evidence_check(evidence_text("hole of %g mm at 3 bar", 1e3 * hole_rows[i].diameter),
                       &orifice, hole_rows[i].litres_per_hour,
                       3.6e6 * published_hole_flow(hole_rows[i].diameter), "L/h",
                       4e-4 * hole_rows[i].litres_per_hour);
    }
    for (size_t i = 0; i < LEAK_ROWS; i++) {
        double e = leak_halves[i].exponent;
        double left = pd_smooth_power(2e5, e, &slope) / pd_smooth_power(4e5, e, &slope);
        evidence_check(evidence_text("leak of exponent %g, half the pressure: cut", e), &power,
                       leak_halves[i].cut, 100 * (1 - left), "%", 0.5);
        e = leak_thirds[i].exponent;
        left = pd_smooth_power(2e5, e, &slope) / pd_smooth_power(3e5, e, &slope);
        evidence_check(evidence_text("leak of exponent %g, 3 to 2 bar: left", e), &power_law,
                       leak_thirds[i].left, left, "", 6e-5);
    }
}

static void pipe_walls(void)
{
    static const struct evidence_source korteweg = {
        "D. J. Korteweg 1878, in Wylie and Streeter, Fluid Transients in Systems, 1993",
        EVIDENCE_FROM_MEMORY | EVIDENCE_COMPUTED};

    for (size_t i = 0; i < WALL_ROWS; i++) {
        const struct wall_row *row = &wall_rows[i];
        double give = published_give(row);
        evidence_check(evidence_text("%s: speed of a pressure wave", row->pipe), &korteweg,
                       row->wave_speed, sqrt(1 / (998.2 * give)), "m/s", 0.06);
        evidence_check(evidence_text("%s: effective modulus", row->pipe), &korteweg,
                       1e-6 * row->effective_modulus, 1e-6 / give, "MPa", 0.06);
        evidence_check(evidence_text("%s: storage", row->pipe), &korteweg, row->storage, 1e8 * give,
                       "mL/L/bar", 6e-4);
    }
    evidence_check("steel, D/e 50, K 2.2 GPa: speed of a pressure wave", &korteweg, 1191.4,
                   sqrt(pi / 4000 / pd_pipe_compliance(1, 1, 1.0 / 50, 200e9, 2.2e9)), "m/s", 0.06);
    evidence_check("steel, D/e 100, K 2.2 GPa: speed of a pressure wave", &korteweg, 1023.5,
                   sqrt(pi / 4000 / pd_pipe_compliance(1, 1, 1.0 / 100, 200e9, 2.2e9)), "m/s",
                   0.06);
    evidence_check("50 m of PEX 20x2: storage", &korteweg, 10.5,
                   1e11 * pd_pipe_compliance(50, 16e-3, 2e-3, 0.8e9, 2.18e9), "mL/bar", 0.06);
    evidence_check("50 m of copper 22x1: storage", &korteweg, 0.99,
                   1e11 * pd_pipe_compliance(50, 20e-3, 1e-3, 120e9, 2.18e9), "mL/bar", 0.01);
}

void suite_evidence_pipes(void)
{
    CU_pSuite suite = CU_add_suite("evidence_pipes", begin_pipes, NULL);

    CU_ADD_TEST(suite, friction_factors);
    CU_ADD_TEST(suite, spread_and_laminar_limit);
    CU_ADD_TEST(suite, pipes_of_white);
    CU_ADD_TEST(suite, house_plumbing_of_munson);
    CU_ADD_TEST(suite, loss_of_a_small_tube);
    CU_ADD_TEST(suite, loss_coefficients);
    suite = CU_add_suite("evidence_leaks", begin_leaks, NULL);
    CU_ADD_TEST(suite, leaks);
    CU_ADD_TEST(suite, pipe_walls);
}
