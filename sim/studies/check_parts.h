/* The parts of a check: lines about the installation, and lines about a simulated day. */
#ifndef PUMPDAY_CHECK_PARTS_H
#define PUMPDAY_CHECK_PARTS_H

#include <pumpday/check.h>

#define CHECK_PSI 6894.757293168361 /* Pa; NIST SP 811 */

/* Least pressure in a public main at ground level, all points and conditions.
 * Source: 10 NYCRR 5-1.27. */
#define CHECK_LEAST_MAIN (20 * CHECK_PSI)

/* A pump on a main is to be cut off before its suction falls under this.
 * Source: Chicago municipal code 18-29. */
#define CHECK_LEAST_SUCTION (5 * CHECK_PSI)

/* Adds a line.  With a limit, and not decided, its level and note count only if that is not held; a
 * found value of NAN with neither words is left out, since there is nothing to tell. */
void check_add(struct pd_check *check, const struct pd_check_line *line);

/* Static pressure at the header with the pump at shutoff on the day's highest supply [Pa gauge]. */
double check_shutoff_pressure(const struct pd_plant *plant);

/* Where the limit on static pressure comes from. */
const char *check_static_source(const struct pd_scenario *scenario);

/* Lines that hold whatever the strategy. */
void check_site(struct pd_check *check, const struct pd_plant *plant);

/* What was seen of a day beside its result. */
struct check_day {
    const struct pd_day_result *result;
    double highest_flow; /* m3/s through the service pipe */
    double usual_flow;   /* m3/s: half of the water pumped went at less; NAN if none was */
    double npsh_flow;    /* m3/s at the least margin; NAN without npsh_required */
    double longest_dry;  /* s on in one spell without flow and under the dry pressure */
    double lowest_inlet; /* Pa gauge at the inlet with the pump on; NAN if it never was */
    double reach;        /* Pa gauge: the pump at shutoff on the day's lowest supply */
};

/* Simulates a day and watches it.  False and the error if it cannot be. */
bool check_day_run(struct pd_day *day, const struct pd_plant *plant,
                   const struct pd_strategy *strategy, const struct pd_day_options *options,
                   struct pd_day_result *result, struct check_day *seen, struct pd_error *error);

/* Lines about a strategy's day. */
void check_day(struct pd_check *check, const struct pd_plant *plant, const struct check_day *seen);

/* The line about the start pressure; none where it starts by flow. */
void check_start(struct pd_check *check, const struct pd_plant *plant,
                 const struct pd_strategy *strategy);

/* The line about the precharge. */
void check_precharge(struct pd_check *check, const struct pd_plant *plant,
                     const struct pd_strategy *strategy);

#endif
