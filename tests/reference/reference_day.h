/* A second opinion: one strategy through one day, worked out apart from the program.
 *
 * Same equations, other hands and another solver: nothing of the program's plant, strategies or
 * day is used here, only the scenario as read and the properties of water and air.  Plain rather
 * than fast: friction by Churchill's formula at every call, the GSL's one-step methods, state
 * events located by repeated steps. */
#ifndef REFERENCE_DAY_H
#define REFERENCE_DAY_H

#include <pumpday/scenario.h>

enum { REFERENCE_STARTS_MOST = 3000 };

struct reference_settings {
    double start_pressure; /* Pa gauge; NAN for flow-start */
    double start_flow;     /* m3/s; NAN for the others */
    double stop_flow;      /* m3/s */
    double stop_pressure;  /* Pa gauge; NAN unless it is a two-pressure switch */
    double run_on;         /* s */
    double precharge;      /* Pa gauge */
    double dry_pressure;   /* Pa gauge */
};

struct reference_result {
    struct reference_settings settings;
    int starts;                               /* from 00:00 to 24:00 */
    double start_time[REFERENCE_STARTS_MOST]; /* s after midnight */
    double run_time;                          /* s */
    double energy;                            /* J, standby included */
    double supplied, delivered, leaked;       /* m3 */
    double stored;                            /* m3 more in tank and pipes than at 00:00 */
    double lowest_tap;                        /* Pa gauge while a draw was open, else NAN */
    double highest_header;                    /* Pa gauge */
    double lowest_suction;                    /* Pa gauge while water flows, else NAN */
    double last_header, last_level;           /* Pa gauge and m at 24:00 */
    bool locked_out;
    int suction_trips;
    bool chattered; /* gave up: too many events or starts */
    double end_time;
    int events; /* instants at which something switched, warm-up included */
    long steps; /* integration steps, those tried while locating events included */
};

/* strategy_name: "pressure-start", "flow-start" or "peak-only".  tolerance: error of one step in
 * units of 1 bar, 1 L/s, 100 K, 1 m; 1e-8 serves.  False and the reason on failure. */
bool reference_day(const struct pd_scenario *scenario, const char *strategy_name, double tolerance,
                   struct reference_result *result, char *why, size_t why_size);

#endif
