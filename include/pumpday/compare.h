/* The main job: one scenario, several strategies, side by side. */
#ifndef PUMPDAY_COMPARE_H
#define PUMPDAY_COMPARE_H

#include <pumpday/findings.h>

/* What a day is judged by, SI.  Worked out from the limit.* items and, for starts and runs, from
 * the motor where these do not tell; see pd_motor_rule_for. */
struct pd_limits {
    double starts_per_hour;
    double starts_per_day;
    double shortest_run;                                 /* s */
    double static_pressure;                              /* Pa gauge */
    double tap_pressure;                                 /* Pa gauge */
    const char *starts_source, *day_source, *run_source; /* where they come from, for a reader */
};

struct pd_limits pd_limits_for(const struct pd_scenario *scenario);

/* Most starts per hour of a polyphase motor.  power W (output), poles 2, 4 or 6; *source names the
 * origin. Source: NEMA MG 10, allowable number of starts (polyphase, 1 hp and up; the next larger
 * size of the table); smaller: Water Systems Council tank standard, 15 per hour up to 3/4 hp. */
double pd_motor_starts_per_hour(double power, int poles, const char **source);

/* Share of the time with a tap open that may pass under the tap limit: a moment's dip while the
 * pump runs up is no complaint. */
#define PD_LOW_TAP_SHARE 0.01

/* What the energy of a day costs, money: each hour's at its price, see pd_scenario_price. */
double pd_day_cost(const struct pd_scenario *scenario, const struct pd_day_result *result);

/* What is wrong with a day in a word or two each, from its findings; see pd_findings_verdict. */
bool pd_verdict(const struct pd_day_result *result, const struct pd_plant *plant,
                char text[PD_VERDICT_MOST]);

/* Totals of a day as summary.csv has them, kept after the workspace has moved on. */
struct pd_comparison_row {
    struct pd_day_result result; /* runs owned by the row */
    struct pd_findings findings;
    bool good; /* none of them fails */
    char verdict[PD_VERDICT_MOST];
};

struct pd_comparison {
    struct pd_limits limits;
    size_t count;
    struct pd_comparison_row row[PD_STRATEGIES_MOST];
};

struct pd_compare_options {
    const struct pd_strategy_kind *strategies[PD_STRATEGIES_MOST];
    size_t strategy_count;     /* 0: all three */
    enum pd_unit_system units; /* of the files written */
    const char *folder;        /* where the CSV files go; NULL: none are written */
    struct pd_day_options day; /* trace and trace_context are set by pd_compare */
};

struct pd_compare_options pd_compare_default(void);

/* Runs the strategies and, if asked, writes summary.csv, hours.csv, cycles.csv, trace.csv,
 * settings.csv and zoom.csv into the folder, all or none.  zoom.csv has rows close by each other
 * around one complete run of each strategy, a shorter one of its day.  False and the error
 * otherwise.  Free with pd_comparison_free. */
bool pd_compare(const struct pd_scenario *scenario, const struct pd_compare_options *options,
                struct pd_comparison *comparison, struct pd_error *error);

void pd_comparison_free(struct pd_comparison *comparison);

enum { PD_SCENARIOS_MOST = 16, PD_WEIGHT_MOST = 366 };

/* One of several scenarios that are looked at together: a weekday and a Sunday, a house today and
 * with its garden, two sites of one client. */
struct pd_compared {
    const struct pd_scenario *scenario; /* not owned */
    const char *name;                   /* a short one, not owned */
    int weight;                         /* of how many days, 1 to PD_WEIGHT_MOST, its day stands */
    struct pd_comparison comparison;    /* set by pd_compare_several */
};

/* A strategy over all of them: sums over the days that their weights make, the worst of any. */
struct pd_total {
    const struct pd_strategy_kind *strategy;
    long days, failing;                         /* the weights' sum; of those whose day fails */
    double starts, run_time, energy, delivered; /* sums: a number, s, J, m3 */
    double cost;                 /* sum, money; NAN where the scenarios have several currencies */
    double time_below_tap_limit; /* s, sum */
    int starts_in_worst_hour;    /* the most */
    double shortest_run, shortest_rest;                  /* s; NAN where there is none */
    double lowest_tap_pressure, highest_header_pressure; /* Pa gauge */
};

/* pd_compare for each scenario of the list, 1 to PD_SCENARIOS_MOST of them, without files.  False
 * and the error, which names the scenario's folder, otherwise; then there is nothing to free.
 * Otherwise free the comparison of each. */
bool pd_compare_several(struct pd_compared *list, size_t count,
                        const struct pd_compare_options *options, struct pd_error *error);

/* The currency of all scenarios of a list, "" where none names one; NULL where they have several.
 */
const char *pd_compared_currency(const struct pd_compared *list, size_t count);

/* Totals of a strategy, by its place in each comparison. */
struct pd_total pd_compare_total(const struct pd_compared *list, size_t count, size_t strategy);

#endif
