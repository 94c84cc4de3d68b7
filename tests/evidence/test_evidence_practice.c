/* Facts of the trade on the demonstration house: the rules of thumb make it quiet, and breaking
 * each gives the fault that practice predicts.  Common practice, no source, throughout. */
#include <pumpday/compare.h>

#include "evidence/evidence.h"
#include "evidence/scene.h"

#include <CUnit/CUnit.h>
#include <math.h>

void suite_evidence_practice(void);

static const struct evidence_source practice = {"rule of thumb", EVIDENCE_UNSOURCED};

static int begin(void)
{
    evidence_part(EVIDENCE_PRACTICE);
    return scene_begin();
}

enum { PRESSURE_START, FLOW_START, PEAK_ONLY };

/* The house by one strategy with one item changed, or none (NULL).  What is asked for is copied. */
struct house_day {
    struct pd_day_result day; /* its runs are not kept */
    struct pd_limits limits;
    struct pd_strategy strategy;
    double lowest_supply, mean_supply, shutoff; /* Pa */
    int night_starts;                           /* from 23:30 to 02:00, when nothing is drawn */
};

static int starts_between(const struct pd_day_result *day, double from, double to)
{
    int starts = 0;

    for (size_t i = 0; i < day->run_count; i++) {
        double start = day->runs[i].start;
        starts += start >= from && start < to;
    }
    return starts;
}

static struct house_day house(int strategy, const char *change)
{
    static struct pd_faults faults;
    struct pd_error error = {.code = PD_DONE};
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct house_day house;

    faults.count = 0;
    CU_ASSERT_FATAL(
        pd_scenario_read("scenarios/hillside-house", &change, change != NULL, &scenario, &faults));
    CU_ASSERT_FATAL(pd_plant_build(&scenario, &plant, &error));
    house.day = *scene_day(&scenario, pd_strategies[strategy]);
    house.limits = pd_limits_for(&scenario);
    house.strategy = pd_strategy_for(pd_strategies[strategy], &plant);
    house.lowest_supply = plant.lowest_supply;
    house.mean_supply = plant.mean_supply;
    house.shutoff = plant.branch[0].pump.shutoff;
    house.night_starts = starts_between(&house.day, 23.5 * scene_hour, 24 * scene_hour) +
                         starts_between(&house.day, 0, 2 * scene_hour);
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
    return house;
}

/* The settings that are worked out where none are given. */
static void settings_are_the_rules_of_thumb(void)
{
    struct house_day pressure = house(PRESSURE_START, NULL);
    struct house_day flow = house(FLOW_START, NULL);
    struct house_day peak = house(PEAK_ONLY, NULL);
    double under_boosted =
        (pressure.lowest_supply + pressure.shutoff - pressure.strategy.start_pressure) / scene_psi;
    double under_incoming = (peak.mean_supply - peak.strategy.start_pressure) / scene_psi;

    evidence_check("pressure-start: 10 to 15 psi under the boosted pressure", &practice, 12.5,
                   under_boosted, "psi", 2.5);
    evidence_check("peak-only: 5 to 10 psi under the incoming pressure", &practice, 7.5,
                   under_incoming, "psi", 2.5);
    evidence_check("flow-start: about 1 gal/min", &practice, 1,
                   flow.strategy.start_flow / scene_gallon * scene_minute, "gal/min", 0.05);
    evidence_check("the pump runs on for about 7 s", &practice, 7, pressure.strategy.run_on, "s",
                   0.5);
    evidence_check("precharge 2 psi under the start pressure", &practice, 2,
                   (pressure.strategy.start_pressure - pressure.strategy.precharge) / scene_psi,
                   "psi", 0.01);
}

static void rules_of_thumb_are_quiet(void)
{
    for (size_t i = 0; i < pd_strategy_count; i++) {
        struct house_day quiet = house((int)i, NULL);
        const char *name = pd_strategies[i]->name;
        evidence_at_most(evidence_text("%s: starts in the worst hour", name), &practice,
                         quiet.limits.starts_per_hour, quiet.day.starts_in_worst_hour, "");
        evidence_at_most(evidence_text("%s: starts in the day", name), &practice,
                         quiet.limits.starts_per_day, quiet.day.starts, "");
        evidence_at_least(evidence_text("%s: shortest run", name), &practice,
                          quiet.limits.shortest_run, quiet.day.shortest_run, "s");
        evidence_at_most(evidence_text("%s: highest header pressure", name), &practice,
                         quiet.limits.static_pressure / scene_bar,
                         quiet.day.highest_header_pressure / scene_bar, "bar");
        evidence_check(evidence_text("%s: starts at night, nothing drawn", name), &practice, 0,
                       quiet.night_starts, "", 0);
    }
    struct house_day steady = house(PRESSURE_START, NULL);
    evidence_at_least("pressure-start: lowest tap pressure, the limit", &practice,
                      steady.limits.tap_pressure / scene_bar,
                      steady.day.lowest_tap_pressure / scene_bar, "bar");
}

/* Over the start pressure the tank is empty when the pump is called: the header falls through the
 * start pressure with nothing to hold it, and the taps with it. */
static void precharge_over_the_start(void)
{
    struct house_day right = house(PRESSURE_START, NULL);
    struct house_day wrong = house(PRESSURE_START, "tank.precharge=4.2 bar");

    evidence_at_most("precharge 4.2 over start 3.3 bar: lowest tap pressure, a third of it",
                     &practice, right.day.lowest_tap_pressure / 3 / scene_bar,
                     wrong.day.lowest_tap_pressure / scene_bar, "bar");
    evidence_at_least("the same: starts, half as many again", &practice, 1.5 * right.day.starts,
                      wrong.day.starts, "");
}

static void precharge_too_low(void)
{
    struct house_day right = house(PRESSURE_START, NULL);
    struct house_day low = house(PRESSURE_START, "tank.precharge=1.5 bar");
    struct house_day none = house(PRESSURE_START, "tank.precharge=0 bar");

    evidence_at_least("precharge 1.5 bar: more starts", &practice, right.day.starts + 1,
                      low.day.starts, "");
    evidence_at_least("precharge 0 bar: more again", &practice, low.day.starts + 1, none.day.starts,
                      "");
    evidence_at_most("precharge 0 bar: shorter runs", &practice, low.day.shortest_run - 1,
                     none.day.shortest_run, "s");
    evidence_at_least("precharge 0 bar: the taps do not stutter", &practice,
                      0.9 * right.day.lowest_tap_pressure / scene_bar,
                      none.day.lowest_tap_pressure / scene_bar, "bar");
}

/* A leak far under the start flow. */
static void leak_at_night(void)
{
    static const char leak[] = "house.leak=0.5 L/min";
    struct house_day tight = house(PRESSURE_START, NULL);
    struct house_day leaky = house(PRESSURE_START, leak);
    struct house_day asleep = house(FLOW_START, leak);

    evidence_at_least("pressure-start, leak 0.5 L/min: starts at night, one an hour", &practice,
                      2.5, leaky.night_starts, "");
    evidence_at_least("pressure-start, leak 0.5 L/min: starts in the day, twice as many", &practice,
                      2 * tight.day.starts, leaky.day.starts, "");
    evidence_check("flow-start, leak 0.5 L/min: starts at night", &practice, 0, asleep.night_starts,
                   "", 0);
}

static void peak_only_saves_energy(void)
{
    double pressure = house(PRESSURE_START, NULL).day.energy / 3.6e6;
    double flow = house(FLOW_START, NULL).day.energy / 3.6e6;
    double peak = house(PEAK_ONLY, NULL).day.energy / 3.6e6;

    evidence_at_most("peak-only: energy, 0.6 of flow-start's", &practice, 0.6 * flow, peak, "kWh");
    evidence_at_most("peak-only: energy, 0.6 of pressure-start's", &practice, 0.6 * pressure, peak,
                     "kWh");
}

/* The tank stands for the pump at small draws: the more it gives, the fewer the starts. */
static void larger_tank_starts_less(void)
{
    struct house_day usual = house(PRESSURE_START, NULL);
    struct house_day large = house(PRESSURE_START, "tank.volume=100 L");
    struct house_day small = house(PRESSURE_START, "tank.volume=5 L");

    evidence_at_most("tank of 100 L: fewer starts than with 24 L", &practice, usual.day.starts - 1,
                     large.day.starts, "");
    evidence_at_least("tank of 5 L: more starts than with 24 L", &practice, usual.day.starts + 1,
                      small.day.starts, "");
}

void suite_evidence_practice(void)
{
    CU_pSuite suite = CU_add_suite("evidence_practice", begin, scene_end);

    CU_ADD_TEST(suite, settings_are_the_rules_of_thumb);
    CU_ADD_TEST(suite, rules_of_thumb_are_quiet);
    CU_ADD_TEST(suite, precharge_over_the_start);
    CU_ADD_TEST(suite, precharge_too_low);
    CU_ADD_TEST(suite, leak_at_night);
    CU_ADD_TEST(suite, peak_only_saves_energy);
    CU_ADD_TEST(suite, larger_tank_starts_less);
}
