/* The parts of the fit of a logged gauge. */
#ifndef PUMPDAY_LOG_PARTS_H
#define PUMPDAY_LOG_PARTS_H

#include "studies/diagnose_parts.h"

/* How the rows of a log are read. */
struct log_rows {
    double window; /* s to average gauges over */
    double apart;  /* s between rows that are too far apart to follow a run; 0: they are not */
};

/* Traits of a log.  Returns how many whole cycles there were. */
size_t log_traits(const struct gauge_log *log, const struct log_rows *rows,
                  double trait[PD_TRAIT_COUNT]);

/* What is fitted: the water lost [m3/s] by its logarithm, the start pressure in Pa, and the
 * precharge by precharge_at, and the supply in Pa.  A precharge that was gauged and a supply that
 * was told are not fitted, and no supply but a main's. */
enum log_size { LOG_LEAK, LOG_START, LOG_PRECHARGE, LOG_SUPPLY, LOG_SIZES };

/* A precharge [Pa absolute] and its place in the fit: of low ones each pascal counts alike, of high
 * ones each per cent. */
double precharge_at(double place);
double place_of_precharge(double precharge);

/* Places from which the fit sets out. */
enum { VALLEYS = 5 };

/* A fit while it runs. */
struct log_fitting {
    struct bench *bench;
    struct pd_log_fit *fit;
    struct log_rows rows;
    double logged_rise;            /* s; of rows far apart it tells only of a beat */
    double at[LOG_SIZES];          /* where those stand that are not fitted */
    enum log_size free[LOG_SIZES]; /* those that are */
    size_t free_count;
    double supply, supply_off; /* Pa gauge: the day's, and how far it may be off */
    double least;              /* of what is made least */
    size_t valleys;
    double valley[VALLEYS][LOG_SIZES], depth[VALLEYS]; /* where they ended, and how well */
    struct gauge_log simulated, thinned;
    struct pd_error *error;
};

/* All sizes from those that are fitted. */
void all_sizes(const struct log_fitting *fitting, const double free[], double at[LOG_SIZES]);

/* Room for the rows that are simulated; log_trial_end frees it, in either case. */
bool log_trial_begin(struct log_fitting *fitting, bool with_power);
void log_trial_end(struct log_fitting *fitting);

/* What the log of a trial shows. */
bool log_trial(struct log_fitting *fitting, const double at[LOG_SIZES],
               double simulated[PD_TRAIT_COUNT]);

/* How far a trait is from the one logged, in units of what it may be off. */
double trait_distance(const struct pd_log_fit *fit, enum pd_trait trait, double simulated);

/* What the traits logged may be off. */
void set_trait_off(struct pd_log_fit *fit);

/* How far the fitted sizes may be off, by how much the traits change with them. */
bool find_sizes_off(struct log_fitting *fitting, const double at[LOG_SIZES]);

#endif
