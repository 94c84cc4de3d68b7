/* A day with a figure of its own in every place, for the tests of what is written from it. */
#ifndef PUMPDAY_TESTS_SAMPLE_DAY_H
#define PUMPDAY_TESTS_SAMPLE_DAY_H

#include <pumpday/day.h>

#include <math.h>

/* Two runs; the first carried over from the day before. */
static const struct pd_run sample_runs[] = {
    {0, 30, (double)NAN, 0.02, 7200, PD_CAUSE_CARRIED_OVER, PD_CAUSE_LOW_FLOW},
    {3600.5, 12.25, 3570.5, 0.004, 3600, PD_CAUSE_PRESSURE, PD_CAUSE_STOP_PRESSURE},
};

static inline struct pd_day_result sample_result(void)
{
    struct pd_day_result result = {
        .strategy = {.kind = pd_strategy_find("pressure-start"),
                     .start_pressure = 300e3,
                     .start_flow = NAN,
                     .stop_flow = 5e-5,
                     .stop_pressure = NAN,
                     .run_on = 7,
                     .precharge = 280e3},
        .ending = PD_ENDING_MIDNIGHT,
        .end_time = 86400,
        .starts = 1,
        .starts_in_worst_hour = 1,
        .run_time = 42.25,
        .energy = 3.6e6,
        .delivered = 0.5,
        .balance_error = -2e-9,
        .shortest_run = 12.25,
        .shortest_rest = 3570.5,
        .lowest_tap_pressure = 125e3,
        .time_draw_open = 1000,
        .time_below_tap_limit = 3,
        .highest_header_pressure = 412e3,
        .lowest_suction_pressure = 150e3,
        .lowest_npsh_margin = NAN,
        .runs = sample_runs,
        .run_count = 2,
    };

    for (int hour = 0; hour < PD_HOURS; hour++) {
        result.hours[hour].lowest_tap_pressure = NAN;
    }
    result.hours[1] = (struct pd_hour){1, 12.25, 3600, 0.1, 125e3};
    return result;
}

#endif
