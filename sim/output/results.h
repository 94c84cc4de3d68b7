/* The files of a comparison: summary.csv, hours.csv, cycles.csv, trace.csv, and two that charts
 * need beside them: settings.csv, what each strategy was set to and judged by, with the scenario's
 * title; zoom.csv, the rows of the trace close by each other around one run of each strategy. */
#ifndef PUMPDAY_OUTPUT_RESULTS_H
#define PUMPDAY_OUTPUT_RESULTS_H

#include "output/columns.h"
#include "output/outputs.h"

#include <pumpday/findings.h>

/* A day as a reader is shown it. */
struct pd_report_day {
    const char *strategy;
    struct pd_day_result result;           /* runs not owned */
    double cost;                           /* money */
    const char *currency;                  /* of the cost; NULL or "": not known */
    double specific_energy;                /* J per m3 delivered; NAN if nothing was */
    double run_off_curve, water_off_curve; /* share of run time and of water pumped beyond the last
 point of pump.csv; NAN if it never ran */
    double tap_limit;                      /* Pa gauge */
    bool good;
    const char *verdict;
    long failing, of; /* of so many days of the household; of 0: nothing is known of other days */
    const struct pd_findings *findings; /* not owned; NULL but for a page, which tells them */
};

/* A strategy as readers are shown it: a two-pressure switch has no use for stop flow and run-on,
 * which are NAN then. */
struct pd_strategy pd_strategy_shown(const struct pd_strategy *strategy);

/* Works out what follows from a result; cost in money.  The verdict is not copied. */
struct pd_report_day pd_report_day_for(const struct pd_day_result *result, double cost,
                                       double tap_limit, bool good, const char *verdict);

/* The title as a line of UTF-8, whatever the file or the folder's name holds: pictures that carry
 * it must be well-formed, and a row must stay one line. */
void pd_report_title(const struct pd_scenario *scenario, char title[PD_PATH_MOST]);

/* The columns of summary.csv, over a struct pd_report_day. */
const struct pd_column *pd_summary_columns(size_t *count);

/* What a strategy was set to and judged by, for settings.csv. */
struct pd_report_settings {
    struct pd_strategy strategy;
    double tap_limit, static_limit; /* Pa gauge */
    double starts_limit;            /* in an hour */
    double asked;                   /* m3, see pd_scenario_asked */
    const char *title;
};

/* The files while they are being written. */
struct pd_results {
    struct pd_outputs outputs;
    enum pd_unit_system units;
    struct pd_csv_rows trace_rows; /* of trace.csv and zoom.csv */
};

/* Opens all six aside and writes their heads. */
bool pd_results_open(struct pd_results *results, const char *folder, enum pd_unit_system units,
                     struct pd_error *error);

/* Adds a row to trace.csv; false once the file takes no more. */
bool pd_results_trace(struct pd_results *results, const char *strategy,
                      const struct pd_trace_row *row);

/* The same for zoom.csv. */
bool pd_results_zoom(struct pd_results *results, const char *strategy,
                     const struct pd_trace_row *row);

/* Adds a row to settings.csv. */
void pd_results_settings(struct pd_results *results, const struct pd_report_settings *settings);

/* Adds a day to the other three. */
void pd_results_day(struct pd_results *results, const struct pd_report_day *day);

/* The tables of hours.csv and cycles.csv for several scenarios: with a first column `scenario`. */
void pd_results_heads_of_several(FILE *hours, FILE *cycles, enum pd_unit_system units);
void pd_results_rows_of_several(FILE *hours, FILE *cycles, enum pd_unit_system units,
                                const char *scenario, const struct pd_report_day *day);

/* All to their places, or nothing; see pd_outputs_commit and pd_outputs_discard. */
bool pd_results_commit(struct pd_results *results, struct pd_error *error);
void pd_results_discard(struct pd_results *results);

#endif
