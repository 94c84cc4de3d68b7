/* A page for the client: one scenario compared, as an HTML file that needs nothing beside it. */
#ifndef PUMPDAY_REPORT_H
#define PUMPDAY_REPORT_H

#include <pumpday/compare.h>

struct pd_report_options {
    struct pd_compare_options compare; /* strategies, units, options of the day; not the folder */
    const char *scripts; /* folder of the gnuplot scripts; NULL: the page has no charts */
    long days; /* of the household, where the scenario has one: verdicts and the year are theirs; 0:
                  none */
    const char *const *sets; /* overrides told on the page, as given to pd_scenario_read */
    size_t set_count;
};

struct pd_report_options pd_report_default(void);

/* Compares the strategies and writes the page, whole or not at all.  Charts need gnuplot, which is
 * run as a program in a folder made for it and removed; where it is missing or fails, the page says
 * so and all else stands, and `no_charts` tells why ("" where there are charts).  False and the
 * error otherwise. */
bool pd_report_write(const struct pd_scenario *scenario, const struct pd_report_options *options,
                     const char *path, char no_charts[PD_TEXT_MOST], struct pd_error *error);

/* The same for several scenarios, 1 to PD_SCENARIOS_MOST: all in one table, then each by itself.
 * What the list holds of comparisons is not looked at. */
bool pd_report_write_several(const struct pd_compared *list, size_t count,
                             const struct pd_report_options *options, const char *path,
                             char no_charts[PD_TEXT_MOST], struct pd_error *error);

#endif
