/* A run: one plant under one strategy, from rest before the warm-up to where it is told to end, as
 * observers watch it.  The time loop, what the state may cross, and the times known beforehand. */
#ifndef PUMPDAY_RUN_H
#define PUMPDAY_RUN_H

#include <pumpday/day.h>

#include <stddef.h>

#include "control/instant.h"
#include "model/circuit.h"
#include "run/draws.h"
#include "run/integrator.h"

/* Surfaces that the state may cross, in the order in which crossings of one instant are taken. */
enum surface {
    SURFACE_DRAW,    /* a draw by volume is full */
    SURFACE_CISTERN, /* the cistern is empty, or has recovered */
    SURFACE_VALVE,   /* the check valve opens or closes */
    SURFACE_TANK,    /* the tank has water, or has none */
    SURFACE_TAP,     /* the tap pressure passes its limit: watched, changes nothing */
    SURFACE_CONTROL, /* the first of the controller's own */
    SURFACE_COUNT = SURFACE_CONTROL + PD_CONTROL_SURFACES_MOST
};

struct run;

/* Who watches a run and never steers it.  A member that is NULL is not asked.  Steps and events are
 * told from midnight on, starts and stops from the warm-up on. */
struct observer {
    void *context;
    /* a step has been taken in one mode, up to a time and state */
    enum pd_answer (*step)(void *context, const struct run *run, double to, const double *state);
    /* an event is about to change what has held since the last */
    void (*before)(void *context, const struct run *run);
    /* an event is over: the mode may be another, and pressures have a corner here */
    enum pd_answer (*event)(void *context, const struct run *run);
    void (*midnight)(void *context, const struct run *run);
    void (*starts)(void *context, const struct run *run, enum pd_cause cause);
    void (*stops)(void *context, const struct run *run, enum pd_cause cause);
    void (*end)(void *context, const struct run *run);
};

enum { OBSERVERS_MOST = 8 };

struct run {
    /* what it is told: set before run_through, and not changed by it */
    struct integrator *integrator;
    const struct pd_plant *plant;
    const struct pd_strategy *strategy;
    const struct pd_day_options *options;
    struct observer observer[OBSERVERS_MOST];
    size_t observers;

    /* where it stands */
    struct circuit circuit;
    struct mode mode;
    bool tap_low;  /* tap pressure under its limit while a draw is open */
    bool counting; /* midnight has passed */
    double now;
    double state[STATE_COUNT];
    bool over; /* before its time */
    enum pd_ending ending;
    struct pd_effort effort;

    /* how it goes on */
    size_t next_edge;
    bool rates_changed; /* since the last restart */
    double minute;      /* s: events are counted per simulated minute from here */
    long minute_events;
    size_t runs_counted;
    long steps;
    long steps_since_question;
    const struct pd_controller_kind *controller;
    bool wants_suction;        /* as things are, its distances depend on the suction pressure */
    struct pd_command command; /* its last */
    max_align_t memory[PD_CONTROL_MEMORY_MOST / sizeof(max_align_t)]; /* its own */
    struct open_draws draws; /* last, since most of it is room */
};

/* Runs from rest to the end that the options name.  False and the error where the integration
 * cannot go on, where an observer failed, or where the caller stopped it. */
bool run_through(struct run *run, struct pd_error *error);

/* Goes on from where a run stands, with its rates as changed, to the end that the options name. */
bool run_on(struct run *run, struct pd_error *error);

/* surfaces.c: distances to the surfaces, and what crossing one does. */
void surfaces_distances(const struct run *run, double time, const double *state, double *distance);
void surfaces_cross(struct run *run, int surface);
bool surfaces_settle(struct run *run);
void demand_changed(struct run *run);
void control_remembers(struct run *run); /* its memory has changed */

/* observers.c: tells all observers, one after the other; the first answer that is not to go on ends
 * the asking. */
enum pd_answer observers_step(struct run *run, double to, const double *state);
enum pd_answer observers_event(struct run *run);
void observers_before(struct run *run);
void observers_midnight(struct run *run);
void observers_starts(struct run *run, enum pd_cause cause);
void observers_stops(struct run *run, enum pd_cause cause);
void observers_end(struct run *run);

#endif
