/* What is judged before a booster is put into service, and what gauges and watches should show
 * then: readings of a bench test, simulated. */
#ifndef PUMPDAY_SHEET_H
#define PUMPDAY_SHEET_H

#include <pumpday/findings.h>

/* The pump has stopped and the gauge stood for so long [s] when a tap is opened for the bucket. */
#define PD_BENCH_STANDS 180.0

/* A water heater's water, cold and hot [K]. */
#define PD_HEATER_COLD (273.15 + 10)
#define PD_HEATER_HOT (273.15 + 60)

/* Readings at one supply pressure, which stands still.  NAN: it does not happen, or between two
 * pressures has no steady value. */
struct pd_bench {
    double supply;  /* Pa gauge, the static gauge with the pump off and all taps shut */
    double rest;    /* Pa gauge, PD_BENCH_STANDS after the pump stopped, just before a tap opens */
    double start;   /* Pa gauge, as the pump starts after one tap was opened */
    double seconds; /* s from opening that tap to the start */
    double drawn;   /* m3 out of that tap, from its opening to the start of the pump: the bucket */
    double one_tap; /* Pa gauge, that tap open for minutes; NAN: the pump comes and goes */
    double one_tap_flow;  /* m3/s out of it */
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

/* A leak test with the power off: the gauge is read twice, some time apart, first with the house
 * valve open, then with it shut.  The time follows from the tank by p V = const, since the gas
 * stays as warm as its tank while so little water leaves. */
struct pd_leak_test {
    double from;    /* Pa gauge: the gauge at rest, where the tank needs the most time */
    double fall;    /* Pa: the least fall that can be read */
    double settle;  /* s from the stop of the pump to the first look, for the gas to cool */
    double seconds; /* s between the two looks */
    double flow;    /* m3/s: the least leak that takes the gauge down by `fall` in that time */
    double worth;   /* m3/s: the least leak worth a search */
    double whole;   /* s that this one takes; more than `seconds` where that is too long to wait */
    bool lifted;    /* the pump lifts the gauge over the supply's, which feeds no leak then */
};

/* A strategy's settings and the readings at the lowest, mean and highest supply of the day; one
 * reading where the supply stands still. */
struct pd_sheet {
    struct pd_strategy strategy;
    double temperature; /* K, of tank and water */
    double tank;        /* m3 */
    double rated;       /* Pa gauge, of the tank by its plate; NAN: unknown */
    double highest;     /* Pa gauge: the pump at no flow on the day's highest supply */
    double standing;    /* Pa gauge: the most in use, the stop pressure of a two-pressure switch */
    double ceiling;     /* Pa gauge: the lower of rating and limit of the static pressure */
    double room;        /* m3 that the tank takes from `standing` to `ceiling` */
    double expansion;   /* share by which a water heater's water grows */
    enum pd_supply_kind supply;
    double lift; /* m from the lowest water up to the pump; 0 where it runs to the pump by itself */
    double tap_flow;     /* m3/s at the reference pressure: the usual draw of the day */
    double trickle_flow; /* m3/s at the reference pressure, under the stop flow */
    size_t count;
    struct pd_bench bench[PD_BENCHES_MOST];
    struct pd_leak_test leak_test;
    struct pd_findings findings; /* of the installation and the strategy's day */
};

struct pd_sheet_options {
    struct pd_day_options day;
    double gauge_step; /* Pa, > 0: the least difference that can be read */
};

/* A gauge read to 0.1 bar: half a division of the usual dial; common practice, no source. */
struct pd_sheet_options pd_sheet_default(void);

/* Judges the strategy's day as pd_check does, and simulates the bench test.  A sheet whose findings
 * fail is made all the same.  False and the error if a day cannot be simulated. */
bool pd_sheet_make(const struct pd_scenario *scenario, const struct pd_strategy_kind *kind,
                   const struct pd_sheet_options *options, struct pd_sheet *sheet,
                   struct pd_error *error);

#endif
