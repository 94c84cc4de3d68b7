/* The parts of a judgement: lines about the installation, and lines about a simulated day. */
#ifndef PUMPDAY_STUDIES_FINDINGS_H
#define PUMPDAY_STUDIES_FINDINGS_H

#include <pumpday/check.h>

#define FINDINGS_PSI 6894.757293168361 /* Pa; NIST SP 811 */

/* Shares of the water pumped beyond the last point of the pump's curve, where head and power are
 * extrapolated, from which a warning and a failure are due.  By judgement, no source. */
#define FINDINGS_OFF_CURVE_WARN 0.02
#define FINDINGS_OFF_CURVE_FAIL 0.20

/* Adds a line.  With a limit, and not decided, its level and note count only if that is not held; a
 * found value of NAN with neither words is left out, since there is nothing to tell. */
void findings_add(struct pd_findings *findings, const struct pd_finding *line);

/* Static pressure at the header with the pump at shutoff on the day's highest supply [Pa gauge]. */
double findings_shutoff_pressure(const struct pd_plant *plant);

/* Where the limit on static pressure comes from. */
const char *findings_static_source(const struct pd_scenario *scenario);

/* Lines that hold whatever the strategy. */
void findings_site(struct pd_findings *findings, const struct pd_plant *plant);

/* Lines about a strategy and its day. */
void findings_day(struct pd_findings *findings, const struct pd_plant *plant,
                  const struct pd_day_result *result);

/* The parts of these: the pump's inlet and curve; pressures at no flow. */
void findings_suction(struct pd_findings *findings, const struct pd_plant *plant,
                      const struct pd_day_result *result);
void findings_static(struct pd_findings *findings, const struct pd_plant *plant,
                     const struct pd_day_result *result);

/* The line about the start pressure; none where it starts by flow. */
void findings_start(struct pd_findings *findings, const struct pd_plant *plant,
                    const struct pd_strategy *strategy);

/* The line about the precharge. */
void findings_precharge(struct pd_findings *findings, const struct pd_plant *plant,
                        const struct pd_strategy *strategy);

#endif
