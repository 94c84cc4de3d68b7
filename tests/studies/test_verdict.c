/* The verdict: each fault on its own, its limit from both sides, and several at once. */
#include <pumpday/compare.h>

#include "physics/near.h"
#include "report/sample_day.h"
#include "report/text_file.h"

#include <CUnit/CUnit.h>

void suite_verdict(void);

static const struct pd_limits limits = {
    .starts_per_hour = 15,
    .starts_per_day = 300,
    .shortest_run = 5,
    .static_pressure = 550e3,
    .tap_pressure = 100e3,
};

/* A day without a fault, whose parts a test spoils. */
static struct pd_day_result good_day(void)
{
    struct pd_day_result day = sample_result();

    day.lowest_npsh_margin = 3;
    return day;
}

static bool is_judged(const struct pd_day_result *day, const char *words)
{
    struct pd_plant plant = {.atmosphere = 100e3, .water = {.vapour_pressure = 1.4e3}};
    char text[PD_VERDICT_MOST];
    bool good = pd_verdict(day, &plant, &limits, text);

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

    day.highest_header_pressure = 550e3;
    CU_ASSERT(is_judged(&day, "ok"));
    day.highest_header_pressure = 551e3;
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
    CU_ASSERT(is_judged(&day, "poor suction"));
    // 100 kPa of atmosphere less 99 kPa is under the vapour pressure of 1.4 kPa
    day = good_day();
    day.lowest_npsh_margin = NAN;
    day.lowest_suction_pressure = -99e3;
    CU_ASSERT(is_judged(&day, "poor suction"));
    day.lowest_suction_pressure = -98e3;
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
    day.time_below_tap_limit = 900;
    CU_ASSERT(is_judged(&day, "chatters; short-cycling; over-pressure; locked out; suction trips; "
                              "poor suction; low taps"));
}

void suite_verdict(void)
{
    CU_pSuite suite = CU_add_suite("verdict", NULL, NULL);

    CU_ADD_TEST(suite, nothing_wrong);
    CU_ADD_TEST(suite, starts_at_the_limit_pass_and_one_more_fails);
    CU_ADD_TEST(suite, pressure_over_the_limit);
    CU_ADD_TEST(suite, taps_low_for_over_one_percent);
    CU_ADD_TEST(suite, suction_too_low);
    CU_ADD_TEST(suite, a_pump_that_does_not_run);
    CU_ADD_TEST(suite, a_pump_that_does_not_stop);
    CU_ADD_TEST(suite, endings_and_guards);
    CU_ADD_TEST(suite, a_run_that_moves_no_water);
    CU_ADD_TEST(suite, many_faults_at_once);
}
