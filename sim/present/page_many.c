/* Many days of the household: how many fail, what they bring, what a year comes to. */
#include "present/page_parts.h"

#include "output/html.h"
#include "present/days_table.h"

#include <math.h>

/* so many of them are a year */
static const double days_in_year = 365;

enum { CELL_MOST = 128 };

static void begin_row(FILE *stream, const char *what, const char *unit)
{
    (void)fputs("<tr><th scope=\"row\">", stream);
    html_format(stream, unit[0] != '\0' ? "%s [%s]" : "%s%s", what, unit);
    (void)fputs("</th>", stream);
}

static void write_cell(FILE *stream, const char *text)
{
    (void)fputs("<td>", stream);
    html_text(stream, text);
    (void)fputs("</td>", stream);
}

static void write_failing(FILE *stream, const struct page *page)
{
    char text[CELL_MOST];

    begin_row(stream, "days that fail", "");
    for (size_t i = 0; i < page->count; i++) {
        (void)snprintf(text, sizeof text, "%ld of %ld", page->days[i].failing, page->days[i].of);
        write_cell(stream, text);
    }
    (void)fputs("</tr>\n", stream);
    begin_row(stream, "of all such days, 95 % sure", "");
    for (size_t i = 0; i < page->count; i++) {
        pd_days_interval_text(text, sizeof text, page->days[i].failing, page->days[i].of);
        write_cell(stream, text);
    }
    (void)fputs("</tr>\n", stream);
}

static bool write_figure(FILE *stream, const struct page *page, enum pd_figure figure,
                         struct pd_error *error)
{
    char text[CELL_MOST];

    begin_row(stream, pd_figures[figure].what, pd_days_unit(figure, page->units));
    for (size_t i = 0; i < page->count; i++) {
        if (!pd_days_cell_text(text, sizeof text, page->many, i, figure, page->units, error)) {
            return false;
        }
        write_cell(stream, text);
    }
    (void)fputs("</tr>\n", stream);
    return true;
}

/* The mean of the days, times a year of them; `each` turns the figure into what is told. */
static void write_year(FILE *stream, const struct page *page, const char *what, const char *unit,
                       enum pd_figure figure, double each)
{
    char text[CELL_MOST];

    begin_row(stream, what, unit);
    for (size_t i = 0; i < page->count; i++) {
        struct pd_range mean = pd_days_mean(page->many, i, figure);
        double year = days_in_year * each;
        (void)snprintf(text, sizeof text, isnan(mean.middle) ? "-" : "%.0f (%.0f to %.0f)",
                       year * mean.middle, year * mean.low, year * mean.high);
        write_cell(stream, text);
    }
    (void)fputs("</tr>\n", stream);
}

static bool write_rows(FILE *stream, const struct page *page, struct pd_error *error)
{
    static const enum pd_figure shown[] = {PD_FIGURE_STARTS,     PD_FIGURE_WORST_HOUR,
                                           PD_FIGURE_RUN_TIME,   PD_FIGURE_ENERGY,
                                           PD_FIGURE_LOWEST_TAP, PD_FIGURE_WATER};
    char unit[PAGE_TEXT_MOST];

    write_failing(stream, page);
    for (size_t i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        if (!write_figure(stream, page, shown[i], error)) {
            return false;
        }
    }
    write_year(stream, page, "energy of a year of them", "kWh", PD_FIGURE_ENERGY, 1 / 3.6e6);
    (void)snprintf(unit, sizeof unit, "%s", page_currency(page));
    write_year(stream, page, "cost of a year of them", unit, PD_FIGURE_COST, 1);
    return true;
}

bool page_many(FILE *stream, const struct page *page, struct pd_error *error)
{
    if (page->many == NULL) {
        return true;
    }
    (void)fputs("<section class=\"whole\">\n<h2>How sure is it? Many days</h2>\n<p>", stream);
    html_format(
        stream,
        "What is drawn on one day is chance. So %ld days were drawn from what the household "
        "uses water for, how often and when, and each was simulated under each strategy. "
        "Of each figure the table tells a day in the middle, and between what it is on nine "
        "days of ten; of a year, the mean, and between what it lies, 95 %% sure. Supply "
        "and settings are the same on all days.",
        page->many->count);
    (void)fputs("</p>\n<div class=\"scroll\" tabindex=\"0\" role=\"region\" "
                "aria-label=\"Many days\"><table class=\"figures\">\n"
                "<caption>Many days</caption>\n<thead><tr><th scope=\"col\">quantity</th>",
                stream);
    for (size_t i = 0; i < page->count; i++) {
        (void)fputs("<th scope=\"col\">", stream);
        html_text(stream, page->days[i].strategy);
        (void)fputs("</th>", stream);
    }
    (void)fputs("</tr></thead>\n<tbody>\n", stream);
    bool good = write_rows(stream, page, error);
    (void)fputs("</tbody>\n</table></div>\n</section>\n", stream);
    return good;
}
