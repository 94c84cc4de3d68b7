/* What the files of this room share: the workspace of a day and the calls between them. */
#ifndef PUMPDAY_DAY_INSIDE_H
#define PUMPDAY_DAY_INSIDE_H

#include <pumpday/day.h>

#include "control/controller.h"
#include "day/draws.h"
#include "day/integrator.h"
#include "model/circuit.h"

/* Surfaces that the state may cross, in the order in which crossings of one instant are taken. */
enum surface {
    SURFACE_DRAW,    /* a draw by volume is full */
    SURFACE_CISTERN, /* the cistern is empty, or has recovered */
    SURFACE_VALVE,   /* the check valve opens or closes */
    SURFACE_TANK,    /* the tank has water, or has none */
    SURFACE_SUCTION, /* suction under its guard, or over it */
    SURFACE_DRY,     /* the pump runs dry, or no longer */
    SURFACE_CONTROL, /* off: start; on: the stop margin changes its sign */
    SURFACE_TAP,     /* the tap pressure passes its limit: watched, changes nothing */
    SURFACE_COUNT
};

/* The water pumped is sorted by its flow into this many bins; the last takes all beyond. */
enum { FLOW_BINS = 400 };

/* What is watched of the pump from step to step. */
struct watch {
    double time, flow;        /* s, m3/s: where the step at hand began */
    double dry_spell;         /* s on without flow and pressure, so far */
    double short_since;       /* s: the inlet has less head than it takes; NAN: it has not */
    double bin;               /* m3/s, width of one */
    double volume[FLOW_BINS]; /* m3 pumped */
};

/* What has been counted so far, beyond the result itself. */
struct ledger {
    bool counting;                /* midnight has passed */
    double accounted;             /* s, up to which open taps are accounted for */
    double midnight[STATE_COUNT]; /* the state then */
    double stored_at_midnight;    /* m3 */
    double hour_began[STATE_COUNT];
    int hours_done;
    double run_volume, run_energy; /* of the state at the start of the run */
    double before, middle;         /* header pressure one and two steps ago; NAN after an event */
    double before_time, middle_time;
    double inlet; /* suction pressure a step ago; NAN if no water flowed */
};

/* A moment that may become a row of the trace, and what had flowed by then. */
struct trace_point {
    struct pd_trace_row row;
    double supplied, delivered; /* m3 */
    double work;                /* J of the motor */
};

/* Slopes between which a line from the last row passes near all that lies between. */
struct trace_door {
    double least, most;
};

struct trace {
    double next;               /* s, the even time that is due */
    long even;                 /* which one that is */
    bool has_row;              /* at least one was given */
    double given;              /* s, the time of the last row */
    struct trace_point anchor; /* the last row */
    struct trace_point reached;
    struct trace_door pressure_door, flow_door;
};

enum { LATEST_MOST = 101 };

struct pd_day {
    struct integrator *integrator;
    const struct pd_plant *plant;
    const struct pd_strategy *strategy;
    const struct pd_day_options *options;
    struct circuit circuit;
    struct mode mode;
    struct controller controller;
    bool tap_low; /* tap pressure under its limit while a draw is open */
    size_t next_edge;
    double now;
    double state[STATE_COUNT];
    bool rates_changed; /* since the last restart */
    double minute;      /* s: events are counted per simulated minute from here */
    long minute_events;
    long steps;
    long steps_since_question;
    struct ledger ledger;
    struct watch watch;
    struct trace trace;
    struct pd_day_result result;
    struct open_draws draws;
    struct pd_run runs[PD_RUNS_MOST];
    size_t evening_count;
    double latest[LATEST_MOST]; /* s, the last starts, round and round */
    size_t latest_count;
    double evening[PD_RUNS_MOST]; /* s, under 0: starts in the last hour before midnight */
};

/* surfaces.c: distances to the surfaces, and what crossing one does. */
void surfaces_distances(const struct pd_day *day, double time, const double *state,
                        double *distance);
void surfaces_cross(struct pd_day *day, enum surface surface);
bool surfaces_settle(struct pd_day *day);
void demand_changed(struct pd_day *day);
void pump_stop(struct pd_day *day, enum pd_cause cause);

/* ledger.c: what is counted. */
void ledger_begin(struct pd_day *day);
void ledger_midnight(struct pd_day *day);
void ledger_account(struct pd_day *day);
bool ledger_step(struct pd_day *day, double to, const double *state);
void ledger_event(struct pd_day *day);
void ledger_run_begins(struct pd_day *day, enum pd_cause cause);
void ledger_run_ends(struct pd_day *day, enum pd_cause cause);
void ledger_end(struct pd_day *day);

/* trace.c: rows for who asked for them.  False if a row was not taken. */
void trace_begin(struct pd_day *day);
bool trace_step(struct pd_day *day, double to, const double *state);
bool trace_event(struct pd_day *day);

/* extremes.c: lowest and highest pressures. */
bool extremes_step(struct pd_day *day, double to, const double *state);
int extremes_hour(double time);                   /* of the day's hours, the one a time is in */
void extremes_lower(double *least, double value); /* NAN is over all */
void extremes_event(struct pd_day *day); /* the mode may be another: the pressure has a corner */

/* watch.c: how the pump is used. */
void watch_begin(struct pd_day *day);
void watch_from(struct pd_day *day); /* the state may have jumped: the next step begins here */
void watch_step(struct pd_day *day, double to, const double *state);
void watch_suction(struct pd_day *day, double time, const double *state, double suction);
void watch_end(struct pd_day *day);

/* worst_hour.c: any start; one before midnight; at the day's end, most starts in any 60 minutes and
 * the rate of the last ones [1/h]. */
void worst_hour_start(struct pd_day *day);
double worst_hour_last_rate(const struct pd_day *day);
void worst_hour_evening(struct pd_day *day);
int worst_hour(struct pd_day *day);

#endif
