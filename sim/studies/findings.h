/* The parts of a check: lines about the installation, and lines about a simulated day. */
#ifndef PUMPDAY_STUDIES_FINDINGS_H
#define PUMPDAY_STUDIES_FINDINGS_H

#include <pumpday/check.h>

#define FINDINGS_PSI 6894.757293168361 /* Pa; NIST SP 811 */

/* Least pressure in a public main at ground level, all points and conditions.
 * Source: 10 NYCRR 5-1.27. */
#define FINDINGS_LEAST_MAIN (20 * FINDINGS_PSI)

/* A pump on a main is to be cut off before its suction falls under this.
 * Source: Chicago municipal code 18-29. */
#define FINDINGS_LEAST_SUCTION (5 * FINDINGS_PSI)

/* Adds a line.  With a limit, and not decided, its level and note count only if that is not held; a
 * found value of NAN with neither words is left out, since there is nothing to tell. */
void findings_add(struct pd_findings *findings, const struct pd_finding *line);

/* Static pressure at the header with the pump at shutoff on the day's highest supply [Pa gauge]. */
double findings_shutoff_pressure(const struct pd_plant *plant);

/* Where the limit on static pressure comes from. */
const char *findings_static_source(const struct pd_scenario *scenario);

/* Lines that hold whatever the strategy. */
void findings_site(struct pd_findings *findings, const struct pd_plant *plant);

/* What was seen of a day beside its result. */
struct watched_day {
    const struct pd_day_result *result;
    double highest_flow; /* m3/s through the service pipe */
    double usual_flow;   /* m3/s: half of the water pumped went at less; NAN if none was */
    double npsh_flow;    /* m3/s at the least margin; NAN without npsh_required */
    double longest_dry;  /* s on in one spell without flow and under the dry pressure */
    double lowest_inlet; /* Pa gauge at the inlet with the pump on; NAN if it never was */
    double reach;        /* Pa gauge: the pump at shutoff on the day's lowest supply */
};

/* Simulates a day and watches it.  False and the error if it cannot be. */
bool watched_day_run(struct pd_day *day, const struct pd_plant *plant,
                     const struct pd_strategy *strategy, const struct pd_day_options *options,
                     struct pd_day_result *result, struct watched_day *seen,
                     struct pd_error *error);

/* Lines about a strategy's day. */
void findings_day(struct pd_findings *findings, const struct pd_plant *plant,
                  const struct watched_day *seen);

/* The line about the start pressure; none where it starts by flow. */
void findings_start(struct pd_findings *findings, const struct pd_plant *plant,
                    const struct pd_strategy *strategy);

/* The line about the precharge. */
void findings_precharge(struct pd_findings *findings, const struct pd_plant *plant,
                        const struct pd_strategy *strategy);

#endif
