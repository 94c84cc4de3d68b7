/* The main job: a two-pressure switch under a steady draw, whole days against closed forms. */
#include "evidence/evidence.h"
#include "evidence/scene.h"
#include "physics/near.h"

#include <CUnit/CUnit.h>
#include <math.h>

void suite_evidence_switch(void);

static const double low = 2.0e5, high = 3.5e5; // Pa gauge
static const double tank = 24e-3;              // m3

/* of the closed forms: the pump takes a millisecond to run up and the house pipe gives a little */
static const double share = 3e-4;

static const struct evidence_source constant_flow = {
    "T = V/d + V/(Q-d), of which MIL-HDBK-1005/9A eq. 1-2 is the least", EVIDENCE_COMPUTED};
static const struct evidence_source boyle = {"Boyle's law", EVIDENCE_COMPUTED};
static const struct evidence_source falling_flow = {
    "Boyle's law with Q = 60 - 8 p (L/min, bar), closed form", EVIDENCE_COMPUTED};
static const struct evidence_source orifice = {"Boyle's law with Q = k sqrt p, closed form",
                                               EVIDENCE_COMPUTED};

static int begin(void)
{
    evidence_part(EVIDENCE_SWITCH);
    return scene_begin();
}

/* Starts per hour with a constant-flow pump of 40 L/min, a tank, and a draw of a part of it. */
static double constant_rate(double volume, double part)
{
    const double flow = 40 * scene_litre / scene_minute;
    struct scene scene;

    scene_ideal(&scene, volume, low, low, high);
    scene_constant_pump(&scene, flow, (low + high) / 2);
    scene_steady_draw(&scene, part * flow, 2 * scene_hour);
    return scene_starts_per_hour(&scene, 2 * scene_hour);
}

/* 5 L of drawdown: 120 starts an hour at half flow, and 4 x (1 - x) of that at another. */
static void constant_flow_pump(void)
{
    static const struct {
        double part, rate;
    } rows[] = {{0.05, 22.8}, {0.1, 43.2}, {0.25, 90},  {0.5, 120},
                {0.75, 90},   {0.9, 43.2}, {0.95, 22.8}};
    const double volume = 5 * scene_litre / 0.332349;

    for (size_t i = 0; i < COUNT(rows); i++) {
        double rate = constant_rate(volume, rows[i].part);
        evidence_check(evidence_text("40 L/min, drawdown 5 L, draw %g of it", rows[i].part),
                       &constant_flow, rows[i].rate, rate, "starts/h", share * rows[i].rate);
    }
    evidence_check("40 L/min, tank 24 L at 2.0/3.5 bar, worst draw", &constant_flow, 75.2,
                   constant_rate(tank, 0.5), "starts/h", 0.05);
    evidence_check("40 L/min, tank 120.35 L at 2.0/3.5 bar, worst draw", &constant_flow, 15,
                   constant_rate(120.35 * scene_litre, 0.5), "starts/h", share * 15);
}

/* A share of the day equal to the draw's share of the pump's flow. */
static void duty_is_the_share_of_the_draw(void)
{
    const double flow = 40 * scene_litre / scene_minute;
    struct scene scene;

    for (double part = 0.25; part < 1; part += 0.25) {
        scene_ideal(&scene, tank, low, low, high);
        scene_constant_pump(&scene, flow, (low + high) / 2);
        scene_steady_draw(&scene, part * flow, 2 * scene_hour);
        const struct pd_day_result *day = scene_day(&scene.scenario, pd_strategies[0]);
        double cycle = day->runs[3].start - day->runs[2].start;
        evidence_check(evidence_text("part of the time on, draw %g of the flow", part),
                       &constant_flow, part, day->runs[2].run_time / cycle, "", 1e-3 * part);
    }
}

static void sloping_scene(struct scene *scene, double draw)
{
    const double litre_a_minute = scene_litre / scene_minute;

    scene_ideal(scene, tank, low, low, high);
    scene_line_pump(scene, 60 * litre_a_minute, 7.5 * scene_bar);
    scene_steady_draw(scene, draw * litre_a_minute, 2 * scene_hour);
}

static double sloping_rate(double draw)
{
    struct scene scene;

    sloping_scene(&scene, draw);
    return scene_starts_per_hour(&scene, 2 * scene_hour);
}

static void sloping_pump(void)
{
    static const struct {
        double draw, fill, rate;
    } rows[] = {{5, 0.238512, 32.7187},
                {10, 0.281095, 55.6201},
                {20, 0.440096, 71.5204},
                {30, 1.145593, 42.5087}};
    struct scene scene;

    for (size_t i = 0; i < COUNT(rows); i++) {
        sloping_scene(&scene, rows[i].draw);
        evidence_check(evidence_text("starts, draw %g L/min", rows[i].draw), &falling_flow,
                       rows[i].rate, sloping_rate(rows[i].draw), "1/h", share * rows[i].rate);
        const struct pd_day_result *day = scene_day(&scene.scenario, pd_strategies[0]);
        evidence_check(evidence_text("run, draw %g L/min", rows[i].draw), &falling_flow,
                       rows[i].fill, day->runs[2].run_time / scene_minute, "min",
                       share * rows[i].fill);
    }
    // without a draw the only run is the one that fills the empty tank
    sloping_scene(&scene, 0);
    const struct pd_day_result *day = scene_day(&scene.scenario, pd_strategies[0]);
    evidence_check("run, no draw", &falling_flow, 0.207229, day->runs[0].run_time / scene_minute,
                   "min", share * 0.207229);
}

static void worst_draw_of_a_sloping_pump(void)
{
    double worst = sloping_rate(18.92);

    evidence_check("most starts, at a draw of 18.92 L/min", &falling_flow, 71.766, worst, "1/h",
                   share * 71.766);
    evidence_at_most("starts at 17.92 L/min, no more than there", &falling_flow, worst,
                     sloping_rate(17.92), "1/h");
    evidence_at_most("starts at 19.92 L/min, no more than there", &falling_flow, worst,
                     sloping_rate(19.92), "1/h");
}

/* From the stop at 3.5 to the start at 2.0 bar the tank empties through a fixed opening. */
static void drain_through_an_opening(void)
{
    static const struct {
        double k, seconds;
    } rows[] = {{0.10, 49.4821}, {0.15, 32.9881}, {0.20, 24.7411}};
    struct scene scene;

    for (size_t i = 0; i < COUNT(rows); i++) {
        scene_ideal(&scene, tank, low, low, high);
        scene_constant_pump(&scene, scene_litre, (low + high) / 2);
        scene_opening(&scene, rows[i].k * scene_litre, scene_hour);
        const struct pd_day_result *day = scene_day(&scene.scenario, pd_strategies[0]);
        evidence_check(evidence_text("rest, opening of %g L/s at 1 bar", rows[i].k), &orifice,
                       rows[i].seconds, day->runs[2].rest_before, "s", share * rows[i].seconds);
    }
}

/* What a resting 24 L tank gives between stop and start, whatever its precharge. */
static void drawdown_over_precharge(void)
{
    static const struct {
        double precharge, drawdown;
    } rows[] = {{0, 2.682},   {0.5, 4.006}, {1.0, 5.329}, {1.5, 6.653}, {1.8, 7.447},
                {2.0, 7.977}, {2.2, 6.913}, {2.5, 5.318}, {3.0, 2.659}};
    const double draw = 10 * scene_litre / scene_minute;
    struct scene scene;

    for (size_t i = 0; i < COUNT(rows); i++) {
        scene_ideal(&scene, tank, rows[i].precharge * scene_bar, low, high);
        scene_constant_pump(&scene, 4 * draw, (low + high) / 2);
        scene_steady_draw(&scene, draw, scene_hour);
        const struct pd_day_result *day = scene_day(&scene.scenario, pd_strategies[0]);
        evidence_check(evidence_text("drawdown at rest, precharge %g bar", rows[i].precharge),
                       &boyle, rows[i].drawdown, day->runs[2].rest_before * draw / scene_litre, "L",
                       1.5e-3);
    }
}

void suite_evidence_switch(void)
{
    CU_pSuite suite = CU_add_suite("evidence_switch", begin, scene_end);

    CU_ADD_TEST(suite, constant_flow_pump);
    CU_ADD_TEST(suite, duty_is_the_share_of_the_draw);
    CU_ADD_TEST(suite, sloping_pump);
    CU_ADD_TEST(suite, worst_draw_of_a_sloping_pump);
    CU_ADD_TEST(suite, drain_through_an_opening);
    CU_ADD_TEST(suite, drawdown_over_precharge);
}
