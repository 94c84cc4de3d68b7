/* What the files of the page share.  Every part writes whole elements, so that parts follow each
 * other in any order. */
#ifndef PUMPDAY_PRESENT_PAGE_PARTS_H
#define PUMPDAY_PRESENT_PAGE_PARTS_H

#include "present/page.h"

enum { PAGE_TEXT_MOST = 64 };

/* The content of the style element. */
extern const char page_style[];

/* A quantity with its unit, in the units of the page: "328 kPa"; "unknown" for what is
 * not. */
const char *page_quantity(char text[PAGE_TEXT_MOST], const struct page *page, enum pd_kind kind,
                          double si);

/* A count in words: "once", "3 times". */
const char *page_times(char text[PAGE_TEXT_MOST], size_t count);

/* "EUR", or words that say whose currency it is. */
const char *page_currency(const struct page *page);

/* Whether a strategy may be called fit: by the findings of its day, and of the household's where it
 * has run, and by nothing else. */
bool page_fits(const struct pd_report_day *day);

/* "6 of 100 days (3 to 12 % of all)" */
void page_failing(char text[PAGE_TEXT_MOST], const struct pd_report_day *day);

/* The frame, whose parts follow each other in this order: up to the body's beginning; one scenario;
 * what is told once, with the limits of a page that stands alone (NULL: none does), and the end. */
void page_head(FILE *stream, const char *title);
bool page_body(FILE *stream, const struct page *page, struct pd_error *error);
void page_foot(FILE *stream, const struct page *alone);

/* The sections, each with its heading. */
void page_system(FILE *stream, const struct page *page);
void page_verdicts(FILE *stream, const struct page *page);
bool page_many(FILE *stream, const struct page *page, struct pd_error *error);
bool page_charts(FILE *stream, const struct page *page, struct pd_error *error);
void page_glossary(FILE *stream);
void page_limits(FILE *stream, const struct page *page);
void page_assumptions(FILE *stream);
void page_cautions(FILE *stream);

#endif
