/* What the files of the reference share: the plant as numbers, and the state of a day. */
#ifndef REFERENCE_PARTS_H
#define REFERENCE_PARTS_H

#include "reference_day.h"
#include <gsl/gsl_odeiv2.h>

/* Places in the vector of states. */
enum {
    REF_FLOW,   /* m3/s, in the branch */
    REF_HEADER, /* Pa gauge */
    REF_GAS,    /* K */
    REF_LEVEL,  /* m */
    REF_FED_BACK,
    REF_SIGMA = REF_FED_BACK, /* Pa^0.5 s */
    REF_ENERGY,               /* J */
    REF_SUPPLIED,             /* m3 */
    REF_DELIVERED,
    REF_LEAKED,
    REF_STATES
};

/* A monotone cubic through points, kept as values and slopes. */
struct ref_curve {
    size_t count;
    double x[PD_PUMP_POINTS_MOST], y[PD_PUMP_POINTS_MOST], slope[PD_PUMP_POINTS_MOST];
};

void ref_curve_build(struct ref_curve *curve, const double *x, const double *y, size_t count);
double ref_curve_at(const struct ref_curve *curve, double x); /* first <= x <= last */

struct ref_plant {
    const struct pd_scenario *scenario;
    double density, viscosity, bulk_modulus, atmosphere, weight; /* weight: Pa/m */
    double boiling;                                              /* Pa gauge */
    enum pd_supply_kind supply_kind;
    bool level_moves;
    double steady_supply; /* Pa gauge without a series */
    double valve;         /* Pa gauge behind a reducing valve; infinite without */
    double offset;        /* of a series: Pa gauge, or m of its levels */
    double full, area, refill, empty, recovered;
    double drawdown, well_k; /* Pa s/m3, Pa s2/m6 */
    struct ref_pipe {
        double length, diameter, roughness, loss_k, inertance;
    } service, rising;  /* before and behind the pump; without a length there is none */
    double pump_column; /* Pa, of water from the gauge up to the pump's inlet */
    double opening, valve_k, leak_by;
    struct ref_curve rise, power; /* Pa and W over m3/s */
    double stopped_k;
    double speed_lag;
    double standby;
    double pipe_compliance, elevation, house_k, leak, leak_exponent, reference_root;
    enum pd_tank_gas gas;
    double tank_volume, exponent, gas_lag, wall;
    double low_suction, delay, retry, dry_time, least_rest, warm_up;
    double lowest_supply, mean_supply;
};

void ref_plant_build(const struct pd_scenario *scenario, struct ref_plant *plant);
double ref_pipe_loss(const struct ref_plant *plant, const struct ref_pipe *pipe, double flow);
double ref_pump_rise(const struct ref_plant *plant, double flow, double speed);
double ref_pump_power(const struct ref_plant *plant, double flow);
double ref_smooth_power(double pressure, double exponent);

/* Supply at no flow with the pump at rest, carried through the branch: Pa gauge. */
double ref_unboosted(const struct ref_plant *plant, double supply, double flow);

/* False if there is no strategy of that name. */
bool ref_settings_for(const struct ref_plant *plant, const char *name,
                      struct reference_settings *settings);

struct ref_open_draw {
    double coefficient;  /* m3/s per Pa^0.5 */
    double closes_at;    /* s, or INFINITY */
    double closes_sigma; /* or INFINITY */
};

enum ref_edge_kind { REF_EDGE_SUPPLY, REF_EDGE_PROFILE, REF_EDGE_DRAW };
struct ref_edge {
    double time;
    enum ref_edge_kind kind;
    size_t index;
};

/* A day under way. */
struct ref_day {
    struct ref_plant plant;
    struct reference_settings set;
    bool by_flow; /* flow-start */
    double tolerance;
    double time, y[REF_STATES];
    double gas_constant; /* m R of the thermal gas, J/K */
    /* what is switched */
    bool on, valve_open, tank_empty, air, locked;
    double switched_at, speed_then; /* of the last switching of the motor */
    double supply_from, supply_value, supply_slope;
    double profile_coefficient, coefficient; /* of the profile; of all */
    struct ref_open_draw *draws;
    size_t draw_count;
    struct ref_edge *edges;
    size_t edge_count, edge_next;
    /* conditions watched, and the times at which they have lasted long enough */
    bool flow_low, suction_low, dry;
    double run_on_ends, suction_ends, dry_ends; /* INFINITY while not running */
    double dry_spent;                           /* s run dry in the runs before, without a break */
    double rest_ends, hold_ends;                /* no start before */
    double on_since, stored_at_midnight;
    bool counting;
    struct reference_result *result;
    char *why;
    size_t why_size;
};

/* physics of a moment */
double ref_speed(const struct ref_day *day, double time);
double ref_supply(const struct ref_day *day, double time, const double *y);
double ref_suction(const struct ref_day *day, double time, const double *y);
double ref_opening_margin(const struct ref_day *day, double time, const double *y);
double ref_tap_pressure(const struct ref_day *day, const double *y);
double ref_empty_pressure(const struct ref_day *day, const double *y); /* Pa absolute */
double ref_stored(const struct ref_day *day, const double *y);
void ref_rates(const struct ref_day *day, double time, const double *y, double *rates);

/* timetable */
bool ref_timetable_build(struct ref_day *day);
void ref_timetable_start(struct ref_day *day);
void ref_take_edges(struct ref_day *day);
void ref_close_draws(struct ref_day *day);

/* conditions: event k has happened where its margin is > 0 */
enum {
    REF_EVENT_AIR,
    REF_EVENT_VALVE,
    REF_EVENT_TANK,
    REF_EVENT_STOP,
    REF_EVENT_START,
    REF_EVENT_FLOW_LOW,
    REF_EVENT_SUCTION,
    REF_EVENT_DRY,
    REF_EVENT_DRAW,
    REF_EVENTS
};
double ref_event_margin(const struct ref_day *day, int event, double time, const double *y);
double ref_next_time(const struct ref_day *day);
bool ref_take_instant(struct ref_day *day); /* false: nothing comes to rest, it chatters */

/* stepping: one step from (begin, y0, rates0) over h to (y1, rates1) */
struct ref_stepper {
    struct ref_day *day;
    gsl_odeiv2_system system;
    gsl_odeiv2_step *explicit_step;
    bool implicit;
    int since_choice;      /* steps since the method was chosen */
    double begin, h, next; /* next: length to try */
    double y0[REF_STATES], rates0[REF_STATES], y1[REF_STATES], rates1[REF_STATES];
};

extern const double ref_scales[REF_STATES]; /* an error of 1 in each state, times the tolerance */

struct ref_stepper *ref_stepper_create(struct ref_day *day);
void ref_stepper_free(struct ref_stepper *stepper);
/* The state a part of the way into the step, by a step of that length from its beginning. */
bool ref_state_after(struct ref_stepper *stepper, double length, double *y);
/* Takes one step that meets the tolerance, no longer than `most`; false with day->why filled. */
bool ref_take_step(struct ref_stepper *stepper, double most);
/* Moves the day to `until` or to the first event before; false with day->why filled. */
bool ref_advance(struct ref_stepper *stepper, double until);

/* Radau IIA, order 5, one step; error of order 3.  False if its iteration does not converge. */
bool ref_radau_step(const struct ref_day *day, double time, double h, const double *y0, double *y1,
                    double *error);
/* Partial derivatives of the rates of the first states, in units of ref_scales, 1/s. */
void ref_jacobian(const struct ref_day *day, double time, const double *y,
                  double by[REF_FED_BACK][REF_FED_BACK]);

#endif
