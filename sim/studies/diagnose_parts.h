/* The parts of fault-finding: a bench on which systems with a fault are tried. */
#ifndef PUMPDAY_DIAGNOSE_PARTS_H
#define PUMPDAY_DIAGNOSE_PARTS_H

#include <pumpday/diagnose.h>
#include <pumpday/sheet.h>

#include "run/run.h"

/* What may differ between a system as designed and as found. */
struct trial {
    struct pd_strategy strategy;
    double leak;    /* m3/s at the leak's pressure */
    double leak_by; /* m3/s at 1 bar */
    double tank;    /* m3 */
};

/* What all trials share: a supply that stands still, and draws of the bench's own. */
struct bench {
    struct pd_scenario scenario; /* owns nothing */
    struct pd_draw draws[2];
    struct pd_sample steady;
    struct pd_plant plant;
    struct run *run;
    const struct pd_day_options *options;
    double supply;     /* Pa gauge */
    double supply_off; /* half of how far it goes up and down in a day; NAN for no main */
    double weight;     /* of water, N/m3 */
    double atmosphere; /* Pa absolute */
    double shutoff;    /* Pa that the pump adds at no flow */
    double tap, draw;  /* m3/s at the reference pressure */
    struct trial designed;
};

/* The scenario must outlive the bench.  draw: NAN for a trickle.  False and the error; free it in
 * either case. */
bool bench_make(struct bench *bench, const struct pd_scenario *scenario,
                const struct pd_strategy_kind *kind, const struct pd_seen *seen,
                const struct pd_day_options *options, struct pd_error *error);
void bench_free(struct bench *bench);

/* Another supply [Pa gauge] than the one the bench was made with; settings stay as they are. */
bool bench_set_supply(struct bench *bench, double supply, struct pd_error *error);

/* Simulates the wanted readings; the others are NAN. */
bool bench_read(struct bench *bench, const struct trial *trial, const bool wanted[PD_SIGN_COUNT],
                double reading[PD_SIGN_COUNT], struct pd_error *error);

/* Sum of the squared distances between what was seen and what a trial shows, in units of what
 * readings may be off; *told gets how many readings were told. */
double signs_apart(const struct pd_seen *seen, const double reading[PD_SIGN_COUNT], size_t *told);

/* A suspect with its sizes as designed, and the trial that its sizes make. */
struct pd_suspect suspect_as_designed(const struct bench *bench, enum pd_suspect_kind kind);
struct trial suspect_trial(const struct bench *bench, const struct pd_suspect *suspect);

/* Where the size of a part is looked for; false if there is no room for it. */
struct size_range {
    double least, most;
    bool by_ratio;
};
bool suspect_range(const struct bench *bench, const struct pd_part *part, struct size_range *range);

/* A size in its range, from 0 to 1. */
double size_in_range(const struct size_range *range, double at);

/* Puts the likeliest first, and counts those alike. */
void rank_suspects(struct pd_diagnosis *diagnosis);

/* Finds the reading not told that would tell the first two apart. */
void find_apart(struct pd_diagnosis *diagnosis, const struct pd_seen *seen);

/* A gauge while it is logged. */
struct gauge_log {
    double *time, *pressure, *power; /* room for `most`; power may be NULL */
    size_t count, most;
};

/* Logs the gauge of a trial with all taps shut from its first stop, a row each interval, until it
 * has started `starts` times, or `span` seconds are over or the log is full. */
bool bench_log(struct bench *bench, const struct trial *trial, double interval, size_t starts,
               double span, struct gauge_log *log, struct pd_error *error);

/* Least value of a function of 0 to 1 by a grid and a golden section.  False if it fails. */
typedef bool (*misfit_function)(void *context, double at, double *value);
bool least_between(misfit_function function, void *context, double *at, double *value);

/* Least value of a function of some numbers near a start, by Nelder and Mead's simplex. */
enum { SIMPLEX_MOST = 4 };
typedef bool (*misfit_of_some)(void *context, const double at[], double *value);
bool least_near(misfit_of_some function, void *context, size_t size, const double step[],
                double at[], double *value);

#endif
