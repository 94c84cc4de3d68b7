/* The verdict: each fault on its own, its limit from both sides, and several at once. */
#include <pumpday/compare.h>

#include "model/plant_scenario.h"
#include "output/sample_day.h"
#include "output/text_file.h"
#include "physics/near.h"

#include "studies/verdict.h"

#include <CUnit/CUnit.h>

void suite_verdict(void);

static struct pd_scenario scenario;

/* A plant on which nothing is wrong, with the limits that the days below go by: 15 starts in an
 * hour, 300 in the day, 5 s, 550 kPa, 100 kPa. */
static struct pd_plant good_plant(void)
{
    scenario = plant_scenario();
    scenario.value[PD_SUPPLY_PRESSURE] = 1.5e5;
    scenario.pump.has_npsh = true;
    for (size_t i = 0; i < scenario.pump.count; i++) {
        scenario.pump.npsh_required[i] = 1 + 0.5 * (double)i;
    }
    scenario.value[PD_TANK_RATED_PRESSURE] = 10e5;
    scenario.value[PD_GUARD_LOW_SUCTION] = 0.4e5;
    scenario.value[PD_LIMIT_STARTS_PER_HOUR] = 15;
    scenario.value[PD_LIMIT_STARTS_PER_DAY] = 300;
    scenario.value[PD_LIMIT_SHORTEST_RUN] = 5;
    // 42 m over 1.5 bar are 561 kPa at shutoff
    scenario.value[PD_LIMIT_STATIC_PRESSURE] = 570e3;
    scenario.value[PD_LIMIT_TAP_PRESSURE] = 100e3;
    return plant_of(&scenario);
}

/* A day without a fault, whose parts a test spoils. */
static struct pd_day_result good_day(void)
{
    struct pd_day_result day = sample_result();

    day.lowest_npsh_margin = 3;
    day.npsh_flow = 3e-4;
    day.lowest_inlet_pressure = day.lowest_suction_pressure;
    day.highest_flow = 5e-4;
    day.usual_flow = 3e-4;
    day.pumped = 0.5;
    return day;
}

static bool is_judged(const struct pd_day_result *day, const char *words)
{
    struct pd_plant plant = good_plant();
    char text[PD_VERDICT_MOST];
    bool good = pd_verdict(day, &plant, text);

    pd_plant_free(&plant);
    return same_text(text, words) && good == (strncmp(words, "ok", 2) == 0);
}

static void nothing_wrong(void)
{
    struct pd_day_result day = good_day();

    CU_ASSERT(is_judged(&day, "ok"));
    // figures that are not known are no fault
    day.lowest_npsh_margin = NAN;
    day.shortest_run = NAN;
    day.shortest_rest = NAN;
    day.lowest_tap_pressure = NAN;
    day.lowest_suction_pressure = INFINITY;
    CU_ASSERT(is_judged(&day, "ok"));
}

static void starts_at_the_limit_pass_and_one_more_fails(void)
{
    struct pd_day_result day = good_day();

    day.starts_in_worst_hour = 15;
    day.starts = 300;
    day.shortest_run = 5;
    CU_ASSERT(is_judged(&day, "ok"));
    day.starts_in_worst_hour = 16;
    CU_ASSERT(is_judged(&day, "short-cycling"));
    day = good_day();
    day.starts = 301;
    CU_ASSERT(is_judged(&day, "short-cycling"));
    day = good_day();
    day.shortest_run = 4.9;
    CU_ASSERT(is_judged(&day, "short-cycling"));
}

static void pressure_over_the_limit(void)
{
    struct pd_day_result day = good_day();

    day.highest_header_pressure = 569e3;
    CU_ASSERT(is_judged(&day, "ok"));
    day.highest_header_pressure = 571e3;
    CU_ASSERT(is_judged(&day, "over-pressure"));
}

/* 1000 s with a tap open: 10 s under the limit are 1 %. */
static void taps_low_for_over_one_percent(void)
{
    struct pd_day_result day = good_day();

    day.time_below_tap_limit = 10;
    CU_ASSERT(is_judged(&day, "ok"));
    day.time_below_tap_limit = 11;
    CU_ASSERT(is_judged(&day, "low taps"));
}

static void suction_too_low(void)
{
    struct pd_day_result day = good_day();

    day.lowest_npsh_margin = -0.1;
    day.longest_short_suction = 2.1;
    CU_ASSERT(is_judged(&day, "poor suction"));
    // no longer than a start takes: told by check, and not condemned
    day.longest_short_suction = 1.9;
    CU_ASSERT(is_judged(&day, "ok"));
    // Chicago 18-29: a main's suction never under 5 psi, 34.47 kPa
    day = good_day();
    day.lowest_suction_pressure = 34.4e3;
    CU_ASSERT(is_judged(&day, "poor suction"));
    day.lowest_suction_pressure = 34.6e3;
    CU_ASSERT(is_judged(&day, "ok"));
}

static void a_pump_that_does_not_run(void)
{
    struct pd_day_result day = good_day();

    day.starts = 0;
    day.starts_in_worst_hour = 0;
    day.run_time = 0;
    day.run_count = 0;
    CU_ASSERT(is_judged(&day, "ok; pump not needed"));
    day.time_below_tap_limit = 500;
    CU_ASSERT(is_judged(&day, "never starts; low taps"));
    // one carried over midnight did run
    day.run_time = 60;
    CU_ASSERT(is_judged(&day, "low taps"));
}

static void a_pump_that_does_not_stop(void)
{
    struct pd_run run = {.start = 0,
                         .run_time = 86400,
                         .rest_before = NAN,
                         .start_cause = PD_CAUSE_CARRIED_OVER,
                         .stop_cause = PD_CAUSE_END_OF_DAY};
    struct pd_day_result day = good_day();

    day.starts = 0;
    day.starts_in_worst_hour = 0;
    day.shortest_run = NAN;
    day.run_time = 86400;
    day.runs = &run;
    day.run_count = 1;
    CU_ASSERT(is_judged(&day, "never stops"));
    // stopped at the end after all
    run.stop_cause = PD_CAUSE_LOW_FLOW;
    CU_ASSERT(is_judged(&day, "ok"));
    // started at noon and still on at midnight: half a day does not show that it never stops
    run.stop_cause = PD_CAUSE_END_OF_DAY;
    day.run_time = 43200;
    CU_ASSERT(is_judged(&day, "ok"));
}

static void endings_and_guards(void)
{
    struct pd_day_result day = good_day();

    day.ending = PD_ENDING_CHATTER;
    CU_ASSERT(is_judged(&day, "chatters"));
    day = good_day();
    day.locked_out = true;
    CU_ASSERT(is_judged(&day, "locked out"));
    day = good_day();
    day.suction_trips = 1;
    CU_ASSERT(is_judged(&day, "suction trips"));
}

/* A run that began and ended in the day and moved nothing; one cut by midnight tells nothing. */
static void a_run_that_moves_no_water(void)
{
    struct pd_day_result day = good_day();
    struct pd_run run = {.start = 3600,
                         .run_time = 8,
                         .volume = 1e-9,
                         .start_cause = PD_CAUSE_PRESSURE,
                         .stop_cause = PD_CAUSE_LOW_FLOW};

    day.runs = &run;
    day.run_count = 1;
    CU_ASSERT(is_judged(&day, "moves no water"));
    run.volume = 1e-3;
    CU_ASSERT(is_judged(&day, "ok"));
    run.volume = 0;
    run.stop_cause = PD_CAUSE_END_OF_DAY;
    CU_ASSERT(is_judged(&day, "ok"));
}

/* All that can be at once fits the text, none cut in half. */
static void many_faults_at_once(void)
{
    struct pd_day_result day = good_day();

    day.ending = PD_ENDING_CHATTER;
    day.starts = 5000;
    day.highest_header_pressure = 900e3;
    day.locked_out = true;
    day.suction_trips = 3;
    day.lowest_npsh_margin = -1;
    day.longest_short_suction = 60;
    day.time_below_tap_limit = 900;
    CU_ASSERT(is_judged(&day, "chatters; short-cycling; over-pressure; locked out; suction trips; "
                              "poor suction; low taps"));
    // settings and the pump's use besides
    day.strategy.precharge = 350e3;
    day.strategy.start_pressure = 545e3;
    day.pumped_beyond_curve = 0.3 * day.pumped;
    day.highest_flow = 2e-3;
    CU_ASSERT(is_judged(&day,
                        "chatters; short-cycling; over-pressure; start too high; locked out; "
                        "suction trips; poor suction; low taps; fast suction; off the curve"));
}

/* The installation's own faults are faults of every strategy's day. */
static void faults_of_the_installation(void)
{
    static const struct {
        enum pd_item item;
        double value;
        const char *words;
    } cases[] = {
        // 42 m over 1.5 bar are 561 kPa at shutoff: the tank's plate must say no less
        {PD_TANK_RATED_PRESSURE, 5.5e5, "over the tank's rating"},
        // a charge of 280 kPa in a tank for 250
        {PD_TANK_RATED_PRESSURE, 2.5e5, "over the tank's rating"},
        // 20 psi of 10 NYCRR 5-1.27 are 137.9 kPa
        {PD_SUPPLY_PRESSURE, 1.37e5, "weak main"},
        {PD_GUARD_LOW_SUCTION, 0.3e5, "poor suction"},
        {PD_HOUSE_LOWEST_FIXTURE, -3, "over-pressure"},
    };

    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct pd_plant plant = good_plant();
        struct pd_day_result day = good_day();
        char text[PD_VERDICT_MOST];
        pd_plant_free(&plant);
        scenario.value[cases[i].item] = cases[i].value;
        plant = plant_of(&scenario);
        CU_ASSERT_FALSE(pd_verdict(&day, &plant, text));
        CU_ASSERT(same_text(text, cases[i].words));
        pd_plant_free(&plant);
    }
}

/* Water through the pump with more flow than pump.csv tells: a word from a fiftieth on, a fault
 * from a fifth on. */
static void off_the_data_sheet(void)
{
    struct pd_day_result day = good_day();
    struct pd_plant plant = good_plant();
    struct pd_findings findings;

    day.pumped_beyond_curve = 0.19 * day.pumped;
    pd_findings_judge(&plant, &day, &findings);
    CU_ASSERT_EQUAL(findings.fails, 0);
    size_t warnings = findings.warnings;
    day.pumped_beyond_curve = 0.019 * day.pumped;
    pd_findings_judge(&plant, &day, &findings);
    CU_ASSERT_EQUAL(findings.warnings, warnings - 1);
    day.pumped_beyond_curve = 0.21 * day.pumped;
    CU_ASSERT(is_judged(&day, "off the curve"));
    pd_plant_free(&plant);
}

/* A switch that stops by pressure never lets the fixtures see the shutoff, the tank may. */
static void a_two_pressure_switch_is_judged_at_its_stop(void)
{
    struct pd_day_result day = good_day();
    struct pd_plant plant = good_plant();

    pd_plant_free(&plant);
    scenario.value[PD_LIMIT_STATIC_PRESSURE] = 500e3;
    plant = plant_of(&scenario);
    char text[PD_VERDICT_MOST];
    CU_ASSERT_FALSE(pd_verdict(&day, &plant, text));
    CU_ASSERT(same_text(text, "over-pressure"));
    day.strategy.stop_pressure = 450e3;
    CU_ASSERT_TRUE(pd_verdict(&day, &plant, text));
    day.strategy.stop_pressure = 501e3;
    CU_ASSERT_FALSE(pd_verdict(&day, &plant, text));
    // the switch may fail, and then the tank sees the shutoff
    day.strategy.stop_pressure = 450e3;
    scenario.value[PD_TANK_RATED_PRESSURE] = 550e3;
    CU_ASSERT_FALSE(pd_verdict(&day, &plant, text));
    CU_ASSERT(same_text(text, "over the tank's rating"));
    pd_plant_free(&plant);
}

static bool is_lost(const struct pd_day_result *so_far)
{
    struct pd_plant plant = good_plant();
    struct pd_limits limits = pd_limits_for(plant.scenario);

    pd_plant_free(&plant);
    return verdict_is_lost(so_far, &limits);
}

/* A start every 240 s: the 15 limit allows fifteen within less than an hour, and the sixteenth
 * comes 3600 s after the first; every 239 s it comes within. */
static void a_day_is_lost_with_the_start_that_breaks_the_hour(void)
{
    struct pd_day_result so_far = good_day();
    struct pd_run runs[20];

    so_far.runs = runs;
    for (int every = 239; every <= 240; every++) {
        for (size_t i = 0; i < COUNT(runs); i++) {
            runs[i] = (struct pd_run){.start = every * (double)i,
                                      .run_time = 60,
                                      .start_cause = PD_CAUSE_PRESSURE,
                                      .stop_cause = PD_CAUSE_LOW_FLOW};
        }
        so_far.run_count = 15;
        so_far.starts = 15;
        CU_ASSERT_FALSE(is_lost(&so_far));
        so_far.run_count = 16;
        so_far.starts = 16;
        CU_ASSERT_EQUAL(is_lost(&so_far), every == 239);
    }
    // a run carried over midnight is no start of this day
    runs[0].start_cause = PD_CAUSE_CARRIED_OVER;
    for (size_t i = 0; i < COUNT(runs); i++) {
        runs[i].start = 239 * (double)i;
    }
    so_far.starts = 15;
    CU_ASSERT_FALSE(is_lost(&so_far));
}

static void a_day_is_lost_with_a_short_run_or_a_start_too_many(void)
{
    struct pd_day_result so_far = good_day();

    so_far.starts = 300;
    so_far.shortest_run = 5;
    CU_ASSERT_FALSE(is_lost(&so_far));
    so_far.starts = 301;
    CU_ASSERT_TRUE(is_lost(&so_far));
    so_far.starts = 300;
    so_far.shortest_run = 4.9;
    CU_ASSERT_TRUE(is_lost(&so_far));
    // before the first run nothing is
    so_far.run_count = 0;
    CU_ASSERT_FALSE(is_lost(&so_far));
}

/* The README explains each word that a verdict may have. */
static void every_word_is_explained(void)
{
    FILE *readme = fopen("README.md", "r");
    char line[2048];
    bool told[PD_FAULT_COUNT] = {false};

    CU_ASSERT_PTR_NOT_NULL_FATAL(readme);
    while (fgets(line, sizeof line, readme) != NULL) {
        for (int i = PD_FAULT_NONE + 1; i < PD_FAULT_COUNT; i++) {
            char cell[64];
            (void)snprintf(cell, sizeof cell, "| %s |", pd_fault_name((enum pd_fault)i));
            told[i] = told[i] || strncmp(line, cell, strlen(cell)) == 0;
        }
    }
    (void)fclose(readme);
    for (int i = PD_FAULT_NONE + 1; i < PD_FAULT_COUNT; i++) {
        CU_ASSERT_TRUE(told[i]);
    }
}

void suite_verdict(void)
{
    CU_pSuite suite = CU_add_suite("verdict", NULL, NULL);

    CU_ADD_TEST(suite, nothing_wrong);
    CU_ADD_TEST(suite, every_word_is_explained);
    CU_ADD_TEST(suite, starts_at_the_limit_pass_and_one_more_fails);
    CU_ADD_TEST(suite, pressure_over_the_limit);
    CU_ADD_TEST(suite, taps_low_for_over_one_percent);
    CU_ADD_TEST(suite, suction_too_low);
    CU_ADD_TEST(suite, a_pump_that_does_not_run);
    CU_ADD_TEST(suite, a_pump_that_does_not_stop);
    CU_ADD_TEST(suite, endings_and_guards);
    CU_ADD_TEST(suite, a_run_that_moves_no_water);
    CU_ADD_TEST(suite, many_faults_at_once);
    CU_ADD_TEST(suite, faults_of_the_installation);
    CU_ADD_TEST(suite, off_the_data_sheet);
    CU_ADD_TEST(suite, a_two_pressure_switch_is_judged_at_its_stop);
    CU_ADD_TEST(suite, a_day_is_lost_with_the_start_that_breaks_the_hour);
    CU_ADD_TEST(suite, a_day_is_lost_with_a_short_run_or_a_start_too_many);
}
