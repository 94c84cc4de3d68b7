/* One strategy through one day. */
#ifndef PUMPDAY_DAY_H
#define PUMPDAY_DAY_H

#include <pumpday/strategy.h>

/* More runs than a motor makes in a month are no day's: one that would have more chatters. */
enum { PD_HOURS = 24, PD_RUNS_MOST = 3000 };

/* One run of the pump.  A run that goes on over either midnight is cut there. */
struct pd_run {
    double start;       /* s after midnight */
    double run_time;    /* s */
    double rest_before; /* s since the stop before; NAN if the pump had not run before */
    double volume;      /* m3 through the pump */
    double energy;      /* J, without standby */
    enum pd_cause start_cause, stop_cause;
};

struct pd_hour {
    int starts;
    double run_time;            /* s */
    double energy;              /* J, standby included */
    double volume;              /* m3 delivered to the taps */
    double lowest_tap_pressure; /* Pa gauge while a draw was open; NAN if none was */
};

/* How the day ended. */
enum pd_ending {
    PD_ENDING_MIDNIGHT,
    PD_ENDING_TOLD,   /* where the options, or who took its trace, told it to; the figures hold up
                       * to `end_time` */
    PD_ENDING_CHATTER /* too many events, starts or steps; the figures hold up to `end_time` */
};

/* What the integration cost. */
struct pd_effort {
    long steps, rhs_calls, root_calls, restarts, events, caught, retries;
};

/* Result of a day.  `runs` belongs to the caller's workspace (see pd_day). */
struct pd_day_result {
    struct pd_strategy strategy;
    enum pd_ending ending;
    double end_time;             /* s, 86400 unless it ended early */
    int starts;                  /* without a run carried over */
    int starts_in_worst_hour;    /* most starts in any 60 minutes, the evening before included */
    double last_rate;            /* starts an hour of the last hundred starts, those of the
                                  * warm-up included; 0 with fewer than two */
    double run_time;             /* s */
    double energy;               /* J, standby included */
    double supplied;             /* m3 in from the supply, less leak-by */
    double delivered;            /* m3 out of the taps */
    double leaked;               /* m3 */
    double stored;               /* m3 more in tank and pipes at the end than at the start */
    double last_level;           /* m over the pump, of a cistern whose level moves, at the end */
    double balance_error;        /* m3 = supplied - delivered - leaked - stored */
    double shortest_run;         /* s, of runs begun and ended in the day; NAN if none */
    double shortest_rest;        /* s; NAN if none */
    double lowest_tap_pressure;  /* Pa gauge while a draw was open; NAN if none was */
    double time_draw_open;       /* s */
    double time_below_tap_limit; /* s while a draw was open */
    double highest_header_pressure; /* Pa gauge */
    double lowest_suction_pressure; /* Pa gauge at the pump inlet while water flows; not under that
                                     * at which water boils; NAN if none flowed */
    double lowest_npsh_margin;      /* m, available less required; NAN without npsh_required */
    double npsh_flow;               /* m3/s at that margin; NAN likewise */
    double
        lowest_inlet_pressure; /* Pa gauge at the inlet with the pump on and water flowing; NAN */
    double longest_short_suction; /* s on in one spell with less head at the inlet than
                                     npsh_required, or, where that is not known, boiling */
    double highest_flow;          /* m3/s through the service pipe */
    double usual_flow; /* m3/s: half of the water pumped went at less, by bins of 1/200 of the last
                          flow of pump.csv; NAN if none was pumped */
    double time_beyond_curve;   /* s on with more flow than the last point of pump.csv */
    double pumped;              /* m3 through the pump while on */
    double pumped_beyond_curve; /* m3 of it beyond that point, where head and power are guessed */
    double longest_dry;         /* s on in one spell without flow and under the dry pressure */
    bool locked_out;            /* the guard against running dry locked the pump out */
    int suction_trips;
    int draws_unfilled; /* draws by volume that began over an hour before the end and still run */
    struct pd_hour hours[PD_HOURS];
    const struct pd_run *runs;
    size_t run_count;
    struct pd_effort effort;
};

/* One row of the trace. */
struct pd_trace_row {
    double time;                                                             /* s after midnight */
    double header_pressure, supply_pressure, suction_pressure, tap_pressure; /* Pa gauge */
    double pump_flow, demand_flow;                                           /* m3/s */
    double tank_water;                                                       /* m3 */
    double speed;                                                            /* relative */
    double power;                                                            /* W */
    bool pump_on, valve_open;
};

/* What whoever watches a day answers: it goes on; it has shown enough and ends here, its figures up
 * to now; or it ends with an error, since what was shown could not be taken. */
enum pd_answer { PD_GO_ON, PD_ENOUGH, PD_FAILED };

struct pd_day_options {
    double relative_tolerance; /* 1e-9 to 1e-3 */
    long most_steps;    /* of the integrator, >= 1; a day that needs more ends as chattering */
    double until;       /* s after midnight, 0 to 86400: the day ends there; 0: at midnight */
    double level;       /* m, of a cistern whose level moves, at midnight; NAN: full before the
                         * warm-up, which then draws from it */
    double trace_every; /* s, 0.001 to 86400; rows at these times and at events; 0: no trace */
    double trace_from;  /* s after midnight, 0 to 86400; no rows before */
    double trace_to;    /* s after midnight, >= trace_from, no rows after; 0: to the end */
    enum pd_answer (*trace)(void *context, const struct pd_trace_row *row);
    void *trace_context;
    /* told after each run of the pump that ended in the day, with the figures up to then (runs,
     * starts, run time, shortest run and rest, lows and highs; no totals); may be NULL */
    enum pd_answer (*after_run)(void *context, const struct pd_day_result *so_far);
    void *after_run_context;
    bool marks;                   /* remembers where the day stood each hour, for pd_day_show */
    bool (*go_on)(void *context); /* asked now and then; false ends the day; may be NULL */
    void *go_on_context;
};

struct pd_day_options pd_day_default(void);

/* False and PD_BAD_USAGE, with the option's name as the item, if one is outside of its limits or no
 * number.  Whatever runs a day asks this first. */
bool pd_day_options_check(const struct pd_day_options *options, struct pd_error *error);

/* A workspace: the integrator, its vectors and the list of runs.  Made once per thread, used for
 * any number of days one after the other; a day allocates nothing. */
struct pd_day;
struct pd_day *pd_day_create(struct pd_error *error); /* NULL on failure */
void pd_day_free(struct pd_day *day);

/* Simulates a day.  The result's list of runs holds until the next day in this workspace.
 * False and PD_SOLVER_FAILED (time, strategy and mode in the text) if the integration cannot go on,
 * PD_BAD_USAGE if an option is outside of its limits, PD_INTERRUPTED if go_on said no,
 * PD_OUTPUT_FAILED if a row of the trace could not be taken. */
bool pd_day_run(struct pd_day *day, const struct pd_plant *plant,
                const struct pd_strategy *strategy, const struct pd_day_options *options,
                struct pd_day_result *result, struct pd_error *error);

/* Shows a stretch of the last day of a workspace again, by the trace of other options and as far as
 * their `until`: the day itself if that was run with marks, without what came hours before, and to
 * the last digit.  Its plant and strategy must still be there.  False and the error as pd_day_run.
 */
bool pd_day_show(struct pd_day *day, const struct pd_day_options *options, struct pd_error *error);

#endif
