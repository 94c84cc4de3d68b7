/* The quick check: cycles by the first law, the worst draw against brute force and the textbook,
 * the smallest tank by the design manual, the main with the pump drawing. */
#include <pumpday/quick.h>

#include "physics/near.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

void suite_quick(void);

static const double psi = 6894.757; /* Pa; NIST SP 811 */
static const double foot = 0.3048, gallon = 3.785411784e-3, litre = 1e-3;
static const double gpm = 3.785411784e-3 / 60;
static const double density = 999.1, gravity = 9.80665; /* water of 15 degC, IAPWS */

static struct pd_findings findings;
static struct pd_quick_found found;

static bool checks(const struct pd_quick *quick)
{
    struct pd_day_options day = pd_day_default();
    struct pd_error error = {.code = PD_DONE};
    bool good = pd_quick_check(quick, &day, &findings, &found, &error);

    if (!good) {
        pd_error_print(stdout, &error);
    }
    return good;
}

/* The line of these words; an empty one and a failed test if there is none. */
static const struct pd_finding *line_of(const char *what)
{
    static const struct pd_finding none = {.what = "", .source = "", .words = ""};

    for (size_t i = 0; i < findings.count; i++) {
        if (strcmp(findings.list[i].what, what) == 0) {
            return &findings.list[i];
        }
    }
    (void)printf("\n      no line \"%s\" ", what);
    CU_ASSERT(false);
    return &none;
}

static bool has_line(const char *what)
{
    bool has = false;

    for (size_t i = 0; i < findings.count; i++) {
        has = has || strcmp(findings.list[i].what, what) == 0;
    }
    return has;
}

/* A small booster that stops by flow. */
static struct pd_quick booster(void)
{
    struct pd_quick quick = pd_quick_default();

    quick.supply = 40 * psi;
    quick.shutoff = 90 * foot;
    quick.duty_flow = 10 * gpm;
    quick.duty_head = 75 * foot;
    quick.tank = 20 * gallon;
    return quick;
}

/* A pump that gives about 40 L/min whatever the pressure, on a two-pressure switch. */
static struct pd_quick steep(double start, double stop)
{
    struct pd_quick quick = pd_quick_default();

    quick.supply = 1e5;
    quick.shutoff = 200;
    quick.duty_flow = 40 * litre / 60;
    quick.duty_head = 30;
    quick.tank = 100 * litre;
    quick.start = start;
    quick.stop = stop;
    return quick;
}

/* Starts per hour with a draw open all day, counted up to where the day ends, or is broken off as
 * too busy. */
static double starts_at(struct pd_quick quick, double draw)
{
    struct pd_day_options options = pd_day_default();
    struct pd_error error = {.code = PD_DONE};
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct pd_day_result result;

    quick.draw = draw;
    CU_ASSERT_TRUE_FATAL(pd_quick_scenario(&quick, &scenario, &error));
    CU_ASSERT_TRUE_FATAL(pd_plant_build(&scenario, &plant, &error));
    struct pd_strategy strategy = pd_strategy_for(pd_strategy_find("pressure-start"), &plant);
    struct pd_day *day = pd_day_create(&error);
    CU_ASSERT_PTR_NOT_NULL_FATAL(day);
    CU_ASSERT_TRUE_FATAL(pd_day_run(day, &plant, &strategy, &options, &result, &error));
    double starts = 3600.0 * result.starts / result.end_time;
    pd_day_free(day);
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
    return starts;
}

/* Rest of the third cycle, by short straight steps: the pump gives what its head curve gives at the
 * gauge, the tap takes by the root of the gauge, and the tank's gas follows the first law,
 * dT = -0.4 T dV / V - (T - T_w) dt / 20 s, p V = T p_c V_t / T_w.  The pump stops 7 s after its
 * flow is under 0.8 US gallons a minute. */
static double rest_by_the_first_law(const struct pd_quick *quick, double k)
{
    const double air = 101325, wall = 288.15, weight = 999.1 * 9.80665, dt = 1e-3;
    double charge = (quick->precharge + air) * quick->tank / wall;
    double volume = charge * wall / (quick->start + air), warmth = wall;
    double stopped = NAN, low = 0, rest = NAN;
    bool on = true;

    for (int cycle = 0; cycle < 3;) {
        double gauge = charge * warmth / volume - air;
        double head = fmax(quick->supply / weight + quick->shutoff - gauge / weight, 0);
        double pump = on ? sqrt(head / k) : 0;
        double grown = (quick->draw * sqrt(gauge / quick->start) - pump) * dt;
        warmth -= 0.4 * warmth * grown / volume + (warmth - wall) * dt / 20;
        volume += grown;
        stopped += dt;
        low = on && pump < 0.8 * 3.785411784e-3 / 60 ? low + dt : 0;
        if (low > 7) {
            on = false;
            stopped = 0;
        } else if (!on && gauge <= quick->start) {
            on = true;
            rest = stopped;
            cycle++;
        }
    }
    return rest;
}

/* Shorter than by Boyle, with whom the tank gives dV = p_c V_t dp / p^2 (absolute) to a tap whose
 * flow goes by the root of the gauge pressure, from where the pump stops, its own head at that
 * flow, down to the start pressure. */
static void cycle_by_the_first_law(void)
{
    struct pd_quick quick = pd_quick_default();
    const double air = 101325, k = 6 / pow(40e-3 / 60, 2);

    quick.supply = 40 * psi;
    quick.shutoff = 30;
    quick.duty_flow = 40e-3 / 60;
    quick.duty_head = 24;
    quick.tank = 0.024;
    quick.draw = 1e-3 / 60;
    quick.precharge = 65 * psi;
    quick.start = 67 * psi;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    double top = 0;
    for (int i = 0; i < 20; i++) {
        double flow = quick.draw * sqrt(fmax(top, quick.start) / quick.start);
        top = quick.supply + density * gravity * (30 - k * flow * flow);
    }
    double rest = 0, step = (top - quick.start) / 1000;
    for (int i = 0; i < 1000; i++) {
        double p = quick.start + (i + 0.5) * step;
        double flow = quick.draw * sqrt(p / quick.start);
        rest += (quick.precharge + air) * quick.tank / pow(p + air, 2) * step / flow;
    }
    CU_ASSERT(near(found.told.rest_time, rest_by_the_first_law(&quick, k), 0.02));
    CU_ASSERT(found.told.rest_time < 0.9 * rest && found.told.rest_time > rest / 1.4);
    CU_ASSERT(near(found.told.starts_per_hour, 3600 / (found.told.run_time + found.told.rest_time),
                   1e-3));
    CU_ASSERT(near(found.told.starts_per_hour, starts_at(quick, quick.draw), 0.01));
    CU_ASSERT_FALSE(found.told.runs_on);
}

static void curve_and_faults(void)
{
    struct pd_quick quick = pd_quick_default();
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct pd_error error = {.code = PD_DONE};
    double by_flow, by_speed;

    quick.supply = 2e5;
    quick.shutoff = 38;
    quick.duty_flow = 40e-3 / 60;
    quick.duty_head = 33;
    quick.tank = 0.024;
    CU_ASSERT_TRUE_FATAL(pd_quick_scenario(&quick, &scenario, &error));
    CU_ASSERT_TRUE_FATAL(pd_plant_build(&scenario, &plant, &error));
    CU_ASSERT(near(plant.branch[0].pump.shutoff, 38 * density * gravity, 1e-3));
    CU_ASSERT(near(pd_pump_rise(&plant.branch[0].pump, quick.duty_flow, 1, &by_flow, &by_speed),
                   33 * density * gravity, 2e-3));
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
    // a switch needs both of its pressures
    quick.stop = 4e5;
    CU_ASSERT_FALSE(pd_quick_scenario(&quick, &scenario, &error));
    quick.start = 4e5;
    CU_ASSERT_FALSE(pd_quick_scenario(&quick, &scenario, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_USAGE);
    quick.stop = NAN;
    quick.duty_head = 38;
    CU_ASSERT_FALSE(pd_quick_scenario(&quick, &scenario, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_USAGE);
}

/* No draw of a row over all that can cycle, a day for each, starts the pump more often than the one
 * found, and that one does start it so often. */
static void the_worst_draw_by_brute_force(void)
{
    enum { TRIES = 10 };
    struct pd_quick cases[] = {booster(), booster(), steep(3e5, 4e5), steep(2e5, 4.5e5)};
    const double most[] = {0.8 * gpm, 0.8 * gpm, 42e-3 / 60, 42e-3 / 60};

    cases[1].tank = 2 * gallon;
    cases[1].precharge = 30 * psi;
    cases[3].shutoff = 60; // less even
    for (size_t i = 0; i < COUNT(cases); i++) {
        double worst = 0, at = 0;
        for (int j = 1; j <= TRIES; j++) {
            double draw = most[i] * j / TRIES, starts = starts_at(cases[i], draw);
            at = starts > worst ? draw : at;
            worst = fmax(worst, starts);
        }
        CU_ASSERT_TRUE_FATAL(checks(&cases[i]));
        CU_ASSERT(found.worst.starts_per_hour >= 0.995 * worst);
        CU_ASSERT(near(starts_at(cases[i], found.worst.draw), found.worst.starts_per_hour, 0.005));
        CU_ASSERT_DOUBLE_EQUAL(found.worst.draw, at, 0.1 * most[i]); // the peak is flat
    }
}

/* MIL-HDBK-1005/9A, equation 1-2: with a steady delivery Q and a store V the cycle V/q + V/(Q - q)
 * is shortest at q = Q/2, 4 V/Q.  A band of 0.2 bar is nearly linear. */
static void the_worst_draw_is_half_the_delivery(void)
{
    struct pd_quick quick = steep(3.0e5, 3.2e5);

    quick.gas = PD_GAS_ISOTHERMAL; // Boyle's law
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    // what was pumped in a run, over the run
    double delivery = found.worst.volume / found.worst.run_time;
    double store =
        found.worst.volume * found.worst.rest_time / (found.worst.run_time + found.worst.rest_time);
    CU_ASSERT(near(found.worst.draw, delivery / 2, 0.05));
    CU_ASSERT(near(found.worst.starts_per_hour, 3600 * delivery / (4 * store), 0.02));
    // and by the pump's curve: 1 bar and the head less 3.1 bar; the tank gives by Boyle's law
    double k = 170 / pow(40e-3 / 60, 2);
    double flow = sqrt((200 - 2.1e5 / (density * gravity)) / k);
    double gives = 100e-3 * (3.0e5 - 2 * psi + 101325) * (1 / 4.01325e5 - 1 / 4.21325e5);
    CU_ASSERT(near(delivery, flow, 0.03));
    CU_ASSERT(near(store, gives, 0.06));
    // a quarter of the delivery: 1 / (4 x (1 - x)) = 4/3 as long
    double shortest = 3600 / found.worst.starts_per_hour;
    quick.draw = delivery / 4;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    double cycle = store / quick.draw + store / (delivery - quick.draw);
    CU_ASSERT(near(cycle, shortest * 4 / 3, 0.02));
    CU_ASSERT(near(3600 / found.told.starts_per_hour, cycle, 0.03));
}

/* Washington State Department of Health, Water System Design Manual (2009), equation 11-2: a tank
 * of (P_off + 14.7) 15 Q_p / ((P_off - P_on) N_c) gallons for a precharge equal to P_on; 2 psi
 * under it the tank gives less by (P_on + 12.7) / (P_on + 14.7). */
static void the_smallest_tank_by_the_design_manual(void)
{
    struct pd_quick quick = steep(40 * psi, 60 * psi);
    double air = 101325;

    quick.gas = PD_GAS_ISOTHERMAL; // as the formula
    quick.tank = 8 * litre;
    quick.precharge = 10 * psi;
    quick.motor_power = 0.5 * 745.7;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    double k = 170 / pow(40e-3 / 60, 2);
    double flow = sqrt((200 - (50 * psi - 1e5) / (density * gravity)) / k);
    double starts = 15; // Water Systems Council, up to 3/4 hp
    double tank = (60 + 14.7) * 15 * (flow / gpm) / ((60 - 40) * starts) * gallon;
    tank *= (40 * psi + air) / (38 * psi + air);
    // of 8 12 18 24 35 50 60 80 100 150 200 300 L
    CU_ASSERT(tank > 155 * litre && tank < 195 * litre);
    CU_ASSERT(near(found.smallest_tank, 200 * litre, 1e-9));
    CU_ASSERT(near(line_of("smallest tank that passes")->found, 200 * litre, 1e-9));
    CU_ASSERT_EQUAL(line_of("starts per hour at the worst draw")->level, PD_LEVEL_FAIL);
    // of 2 4.5 8.5 14 20 26 32 44 52 62 86 119 gal
    CU_ASSERT(tank > 32 * gallon && tank < 44 * gallon);
    quick.units = PD_UNITS_US;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT(near(found.smallest_tank, 44 * gallon, 1e-9));
    // the tank of the formula starts so often, one a little smaller more often
    quick.precharge = NAN;
    quick.tank = tank;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT(near(found.worst.starts_per_hour, starts, 0.02));
    quick.tank = 0.97 * tank;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_EQUAL(line_of("starts per hour at the worst draw")->level, PD_LEVEL_FAIL);
    quick.tank = 1.03 * tank;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_EQUAL(line_of("starts per hour at the worst draw")->level, PD_LEVEL_OK);
}

/* With the draw told both are looked at. */
static void a_draw_told_stands_beside_the_worst(void)
{
    struct pd_quick quick = booster();

    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_FALSE(has_line("starts per hour at this draw"));
    double worst = found.worst.starts_per_hour;
    quick.draw = 0.3 * gpm;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT(near(line_of("starts per hour at the worst draw")->found, worst, 1e-6));
    CU_ASSERT(line_of("starts per hour at this draw")->found < 0.7 * worst);
    CU_ASSERT(near(found.told.draw, 0.3 * gpm, 1e-9));
    // over the stop flow it does not stop
    quick.draw = 3 * gpm;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_STRING_EQUAL(line_of("the pump at this draw")->words, "does not stop");
    CU_ASSERT(found.told.runs_on);
}

/* H = shutoff - k Q^2 through the duty point, solved for Q by hand: 90 ft, 75 ft at 10 gpm, and a
 * start 12.5 psi (28.84 ft of water of 999.1 kg/m3) under shutoff give 10 sqrt(28.9 / 15) gpm less
 * what the check valve takes to open (2 kPa), the assumed pipe of 5 m and 40 mm (smooth, Blasius)
 * and K = 7 in fittings and valve. */
static void a_draw_beyond_the_curve(void)
{
    struct pd_quick quick = booster();
    double area = 3.14159265 / 4 * 0.04 * 0.04, flow = 13 * gpm;

    for (int i = 0; i < 30; i++) {
        double speed = flow / area, reynolds = speed * 0.04 * density / 1.138e-3;
        double k = 7 + 0.3164 / pow(reynolds, 0.25) * 5 / 0.04;
        double lost = 2000 + k * density * speed * speed / 2;
        double head = (12.5 * psi - lost) / (density * gravity);
        flow = 10 * gpm * sqrt(head / (15 * foot));
    }
    quick.draw = 30 * gpm;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    const struct pd_finding *line = line_of("flow given at the start pressure");
    CU_ASSERT(near(line->found, flow, 2e-3));
    CU_ASSERT_EQUAL(line->level, PD_LEVEL_FAIL);
    quick.draw = 13 * gpm;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_EQUAL(line_of("flow given at the start pressure")->level, PD_LEVEL_OK);
}

/* The main at the pump's inlet while it gives all that it can at its start pressure: Blasius by
 * hand for a smooth pipe, K = 5 in its fittings and 2 in the check valve, which opens at 2 kPa. */
static void the_main_with_the_pump_drawing(void)
{
    struct pd_quick quick = booster();
    double bore = 0.020, length = 30, area = 3.14159265 / 4 * bore * bore, flow = 5 * gpm;
    double lost = 0;

    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_STRING_EQUAL(line_of("least pressure, pump drawing")->words, "unknown");
    CU_ASSERT_EQUAL(line_of("least pressure, pump drawing")->level, PD_LEVEL_WARN);
    quick.pipe_bore = bore;
    quick.pipe_length = length;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    for (int i = 0; i < 100; i++) {
        double speed = flow / area, reynolds = speed * bore * density / 1.138e-3;
        double k = 7 + 0.3164 / pow(reynolds, 0.25) * length / bore;
        lost = 2000 + k * density * speed * speed / 2;
        double head = fmax(12.5 * psi - lost, 0) / (density * gravity);
        flow = (flow + 10 * gpm * sqrt(head / (15 * foot))) / 2;
    }
    CU_ASSERT(near(found.drawing_flow, flow, 0.02));
    CU_ASSERT(near(40 * psi - line_of("least pressure, pump drawing")->found, lost, 0.04));
    CU_ASSERT(near(line_of("velocity in the pipe then")->found, flow / area, 0.02));
    CU_ASSERT_EQUAL(line_of("pressure of the main at rest")->level, PD_LEVEL_OK);
    // 10 NYCRR 5-1.27 asks for 20 psi, Chicago 18-29 for a cut-off at 5 psi
    quick.supply = 25 * psi;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_EQUAL(line_of("pressure of the main at rest")->level, PD_LEVEL_OK);
    CU_ASSERT_EQUAL(line_of("least pressure, pump drawing")->level, PD_LEVEL_WARN);
    quick.supply = 15 * psi;
    quick.start = 25 * psi;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_EQUAL(line_of("pressure of the main at rest")->level, PD_LEVEL_FAIL);
    CU_ASSERT_EQUAL(line_of("the same, against the cut-off")->level, PD_LEVEL_FAIL);
    // no water stands under its vapour pressure: 1.706 kPa at 15 degC, IAPWS
    quick.supply = -0.3e5;
    quick.start = 0.5e5;
    quick.pipe_bore = 0.010;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_DOUBLE_EQUAL(found.drawing_pressure, 1706 - 101325, 10);
}

/* Water Systems Council: 15 an hour up to 3/4 hp, 7.5 above; NEMA MG 10: 12.9 for 1.5 hp. */
static void the_motor_told(void)
{
    struct pd_quick quick = booster();

    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_EQUAL(line_of("rated power of the motor")->level, PD_LEVEL_WARN);
    CU_ASSERT_PTR_NOT_NULL(
        strstr(line_of("starts per hour at the worst draw")->source, "size estimated"));
    quick.motor_power = 1.5 * 745.7;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_FALSE(has_line("rated power of the motor"));
    CU_ASSERT_EQUAL(line_of("phases of the motor")->level, PD_LEVEL_WARN);
    CU_ASSERT(near(line_of("starts per hour at the worst draw")->limit, 7.5, 1e-9));
    double strict = found.smallest_tank;
    quick.phases = PD_PHASES_POLY;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_FALSE(has_line("phases of the motor"));
    CU_ASSERT(near(line_of("starts per hour at the worst draw")->limit, 12.9, 1e-9));
    CU_ASSERT(found.smallest_tank < strict);
}

/* Start and stop are judged where a switch has them: nothing stands over its stop but a failure. */
static void a_switch(void)
{
    struct pd_quick quick = steep(3e5, 4e5);

    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT(near(line_of("static pressure at the lowest fixture")->found, 4e5, 1e-9));
    CU_ASSERT(
        near(line_of("highest pressure at the tank")->found, 1e5 + 200 * density * gravity, 1e-3));
    CU_ASSERT(near(line_of("the same, by a pressure switch")->limit, 60, 1e-9));
    CU_ASSERT_EQUAL(line_of("stop pressure, under the pump's most")->level, PD_LEVEL_OK);
    quick.shutoff = 31;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_EQUAL(line_of("stop pressure, under the pump's most")->level, PD_LEVEL_FAIL);
    // 1 bar and 28 m of water are 3.74 bar: it stops at nothing, and starts at no 4 bar
    quick.shutoff = 28;
    quick.duty_head = 10;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_STRING_EQUAL(line_of("the pump at the worst draw")->words, "never stops");
    CU_ASSERT_EQUAL(line_of("the pump at the worst draw")->level, PD_LEVEL_FAIL);
    CU_ASSERT_FALSE(has_line("smallest tank that passes"));
    quick.start = 4e5;
    quick.stop = 5e5;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_STRING_EQUAL(line_of("the pump at the worst draw")->words, "cannot reach its start");
    CU_ASSERT_EQUAL(line_of("the pump at the worst draw")->level, PD_LEVEL_FAIL);
    CU_ASSERT_FALSE(has_line("smallest tank that passes"));
}

/* Without a draw the pump's whole reach is searched and nothing is found where it never starts. */
static void a_pump_that_is_not_needed(void)
{
    struct pd_quick quick = booster();

    quick.start = 20 * psi;
    CU_ASSERT_TRUE_FATAL(checks(&quick));
    CU_ASSERT_STRING_EQUAL(line_of("the pump at the worst draw")->words, "does not cycle");
    CU_ASSERT(near(found.worst.starts_per_hour + 1, 1, 1e-12));
    CU_ASSERT_FALSE(isfinite(found.shortest_run));
}

void suite_quick(void)
{
    CU_pSuite suite = CU_add_suite("quick", NULL, NULL);

    CU_ADD_TEST(suite, cycle_by_the_first_law);
    CU_ADD_TEST(suite, curve_and_faults);
    CU_ADD_TEST(suite, the_worst_draw_by_brute_force);
    CU_ADD_TEST(suite, the_worst_draw_is_half_the_delivery);
    CU_ADD_TEST(suite, the_smallest_tank_by_the_design_manual);
    CU_ADD_TEST(suite, a_draw_told_stands_beside_the_worst);
    CU_ADD_TEST(suite, a_draw_beyond_the_curve);
    CU_ADD_TEST(suite, the_main_with_the_pump_drawing);
    CU_ADD_TEST(suite, the_motor_told);
    CU_ADD_TEST(suite, a_switch);
    CU_ADD_TEST(suite, a_pump_that_is_not_needed);
}
