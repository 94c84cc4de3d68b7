/* What gauges and watches should show when a booster is put into service: readings of a bench test,
 * simulated. */
#ifndef PUMPDAY_SHEET_H
#define PUMPDAY_SHEET_H

#include <pumpday/day.h>

/* Readings at one supply pressure, which stands still.  NAN: it does not happen, or between two
 * pressures has no steady value. */
struct pd_bench {
    double supply;       /* Pa gauge, the static gauge with the pump off and all taps shut */
    double rest;         /* Pa gauge, after the pump has run and stopped, just before a tap opens */
    double start;        /* Pa gauge, as the pump starts after one tap was opened */
    double seconds;      /* s from opening that tap to the start */
    double drawn;        /* m3 drawn in that time: the bucket */
    double one_tap;      /* Pa gauge, that tap open for minutes; NAN: the pump comes and goes */
    double one_tap_flow; /* m3/s out of it */
    double one_tap_power; /* W, standby included, while the pump runs if it does */
    double three_taps;    /* Pa gauge, three such taps open for minutes */
    double run_on;        /* s from shutting the tap to the stop */
    double shutoff;       /* Pa gauge, as the pump stops with all taps shut */
    double one_tap_cycle; /* s between starts with that tap open; NAN: it runs on, or never ran */
    double trickle_cycle; /* s between starts with a trickle open */
    bool runs_already;    /* the pump was on when the first tap was opened */
    bool runs_on;         /* the pump stays on with one tap open */
};

enum { PD_BENCHES_MOST = 3 };

/* A strategy's settings and the readings at the lowest, mean and highest supply of the day; one
 * reading where the supply stands still. */
struct pd_sheet {
    struct pd_strategy strategy;
    double temperature;  /* K, of tank and water */
    double tank;         /* m3 */
    double tap_flow;     /* m3/s at the reference pressure: the usual draw of the day */
    double trickle_flow; /* m3/s at the reference pressure, under the stop flow */
    size_t count;
    struct pd_bench bench[PD_BENCHES_MOST];
};

/* Simulates the bench test.  False and the error if a day cannot be simulated. */
bool pd_sheet_make(const struct pd_scenario *scenario, const struct pd_strategy_kind *kind,
                   const struct pd_day_options *day, struct pd_sheet *sheet,
                   struct pd_error *error);

#endif
