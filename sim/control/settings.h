/* What the strategies share: their kinds, scales of their margins, common settings. */
#ifndef PUMPDAY_SETTINGS_H
#define PUMPDAY_SETTINGS_H

#include <pumpday/strategy.h>

#define PASCAL_PER_PSI 6894.757293168361 /* NIST SP 811 */
#define PRESSURE_SCALE 1.0e5             /* Pa: makes a margin about 1 in size */
#define FLOW_SCALE 1.0e-4                /* m3/s */

#define STRATEGY(name) extern const struct pd_strategy_kind strategy_##name;
#include "control/list.h"
#undef STRATEGY

/* Starts and stops by the margins of the strategy's kind; with guards (on_off.c). */
extern const struct pd_controller_kind controller_on_off;

/* A setting as given, or, if it is NAN, as worked out. */
double setting_or(double given, double worked_out);

/* The precharge that goes with a lowest working pressure [Pa gauge]; never below 0. */
double precharge_under(double pressure);

/* Header over the start pressure. */
double pressure_start_margin(const struct pd_strategy *strategy,
                             const struct pd_readings *readings);

/* Flow over the stop flow; for a two-pressure switch the header under the stop pressure. */
double flow_or_pressure_stop_margin(const struct pd_strategy *strategy,
                                    const struct pd_readings *readings);

#endif
