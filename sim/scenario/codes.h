/* Published limits, by whose they are (limit.codes).  Where a scenario gives a limit.* of its own,
 * that goes before them. */
#ifndef PD_SCENARIO_CODES_H
#define PD_SCENARIO_CODES_H

#include <pumpday/scenario.h>

/* SI.  INFINITY: no such limit. */
struct pd_codes {
    /* what stands in the items of the same names until they are given */
    double static_pressure, tap_pressure; /* Pa gauge */
    const char *static_source, *tap_source;
    const char *valve_source; /* of the need for a reducing valve */
    /* what no item holds */
    double least_main;    /* Pa gauge, in a public main at no flow */
    double least_suction; /* Pa gauge, at which a pump on a main is to be cut off at the latest */
    double greatest_velocity; /* m/s in the suction pipe */
    const char *main_source, *suction_source, *velocity_source;
    /* starts: by the tables of motors, or by these */
    bool by_motor_tables;
    double starts_per_hour;
    const char *starts_source;
    bool has_practice;   /* makers' tables and the trade's least runs and rests hold beside them */
    const char *nothing; /* where a limit would come from that they do not have */
};

/* Those that limit.codes chooses. */
const struct pd_codes *pd_codes_of(const struct pd_scenario *scenario);

/* Pressure that an open tap is to have [Pa gauge]: limit.tap_pressure, or demand.wanted_pressure
 * where that is more; and who says so. */
double pd_codes_tap_pressure(const struct pd_scenario *scenario);
const char *pd_codes_tap_source(const struct pd_scenario *scenario);

/* Puts the limits of the chosen codes into the items that are not given. */
void pd_codes_apply(struct pd_scenario *scenario);

#endif
