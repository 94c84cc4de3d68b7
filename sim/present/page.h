/* The page for a client: one HTML file that needs nothing else. */
#ifndef PUMPDAY_PRESENT_PAGE_H
#define PUMPDAY_PRESENT_PAGE_H

#include "output/results.h"

#include <pumpday/compare.h>
#include <pumpday/days.h>

/* All that a page tells. */
struct page {
    const struct pd_scenario *scenario;
    const struct pd_plant *plant;
    const struct pd_report_day *days; /* with their findings */
    size_t count;                     /* 1 to pd_strategy_count */
    const struct pd_limits *limits;
    double asked; /* m3, see pd_scenario_asked */
    enum pd_unit_system units;
    const struct pd_days *many; /* of the household, under the same strategies; NULL: none */
    const char *const *sets;    /* what was put in place of the scenario's own values */
    size_t set_count;
    size_t number;         /* its place among several, from 1; 0: it is alone */
    const char *pictures;  /* folder of the charts' SVG files; NULL: there are none */
    const char *no_charts; /* why there are none */
};

/* Writes the page.  False and PD_OUTPUT_FAILED if a picture cannot be read; errors of the stream
 * stay in the stream. */
bool page_write(FILE *stream, const struct page *page, struct pd_error *error);

/* Writes a page of several scenarios: all of them in one table, then what page_write tells of each.
 * The pages and the list have the same order. */
bool page_write_several(FILE *stream, const struct page *pages, const struct pd_compared *list,
                        size_t count, struct pd_error *error);

#endif
