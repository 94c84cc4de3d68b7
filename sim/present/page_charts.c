/* The charts as parts of the page, each with words for those who do not see it. */
#include "present/page_parts.h"

#include "output/html.h"
#include "output/svg.h"

#include <pumpday/life_cost.h>

#include <math.h>
#include <string.h>
#include <unistd.h>

enum { WORDS_MOST = 512, NAME_MOST = 64 };

/* A chart: one picture a strategy, or one for all of them. */
struct chart {
    const char *file; /* without its ending, and without the strategy's name */
    bool each;
    const char *title; /* with each the strategy's name follows */
    const char *caption;
    void (*describe)(char words[WORDS_MOST], const struct page *page,
                     const struct pd_report_day *day);
    bool (*wanted)(const struct page *page); /* NULL: always */
};

static void describe_day(char words[WORDS_MOST], const struct page *page,
                         const struct pd_report_day *day)
{
    const struct pd_day_result *result = &day->result;
    char high[PAGE_TEXT_MOST];
    char low[PAGE_TEXT_MOST];

    (void)snprintf(
        words, WORDS_MOST,
        "Two diagrams over 24 hours. Above, the pressures of header, taps and supply: the header "
        "reaches %s, and the lowest at an open tap is %s. Below, the flow to the taps and through "
        "the pump. The pump's runs are shaded: %zu of them, %.2f hours in all.",
        page_quantity(high, page, PD_KIND_PRESSURE, result->highest_header_pressure),
        page_quantity(low, page, PD_KIND_PRESSURE, result->lowest_tap_pressure), result->run_count,
        result->run_time / 3600);
}

/* Adds to the words what one strategy gives. */
static void add(char words[WORDS_MOST], const char *more)
{
    size_t length = strlen(words);

    (void)snprintf(words + length, WORDS_MOST - length, "%s", more);
}

static void describe_hours(char words[WORDS_MOST], const struct page *page,
                           const struct pd_report_day *day)
{
    char more[WORDS_MOST];

    (void)day;
    (void)snprintf(words, WORDS_MOST, "Bars of the pump's starts in each hour of the day.");
    for (size_t i = 0; i < page->count; i++) {
        (void)snprintf(more, sizeof more, " %s: %d in the day, at most %d within an hour.",
                       page->days[i].strategy, page->days[i].result.starts,
                       page->days[i].result.starts_in_worst_hour);
        add(words, more);
    }
}

static void describe_energy(char words[WORDS_MOST], const struct page *page,
                            const struct pd_report_day *day)
{
    char more[WORDS_MOST];
    char energy[PAGE_TEXT_MOST];
    char water[PAGE_TEXT_MOST];

    (void)day;
    (void)snprintf(words, WORDS_MOST,
                   "Bars of the day's energy, run time and water to the taps; those of a strategy "
                   "that does not fit are hatched.");
    for (size_t i = 0; i < page->count; i++) {
        const struct pd_day_result *result = &page->days[i].result;
        (void)snprintf(more, sizeof more, " %s%s: %s, %.2f hours, %s.", page->days[i].strategy,
                       page_fits(&page->days[i]) ? "" : " (does not fit)",
                       page_quantity(energy, page, PD_KIND_ENERGY, result->energy),
                       result->run_time / 3600,
                       page_quantity(water, page, PD_KIND_VOLUME, result->delivered));
        add(words, more);
    }
}

static void describe_cycle(char words[WORDS_MOST], const struct page *page,
                           const struct pd_report_day *day)
{
    char run_on[PAGE_TEXT_MOST];

    (void)snprintf(
        words, WORDS_MOST,
        "Diagrams around one run of the pump: pressures, flows, water in the tank, speed, and bars "
        "that tell when the motor is on and the check valve open. The pump runs up, fills the "
        "tank, and stops %s after the flow fell below its stop flow.",
        page_quantity(run_on, page, PD_KIND_TIME, day->result.strategy.run_on));
    if (isfinite(day->result.strategy.stop_pressure)) {
        (void)snprintf(words, WORDS_MOST,
                       "Diagrams around one run of the pump: pressures, flows, water in the tank, "
                       "speed, and bars that tell when the motor is on and the check valve open. "
                       "The pump runs up, fills the tank, and stops at its stop pressure.");
    }
}

static void describe_tank(char words[WORDS_MOST], const struct page *page,
                          const struct pd_report_day *day)
{
    char more[WORDS_MOST];
    char precharge[PAGE_TEXT_MOST];

    (void)day;
    (void)snprintf(words, WORDS_MOST,
                   "Water in the tank over the header pressure: nothing below the precharge, more "
                   "the higher the pressure.");
    for (size_t i = 0; i < page->count; i++) {
        double pressure = page->days[i].result.strategy.precharge;
        (void)snprintf(more, sizeof more, " %s: precharge %s.", page->days[i].strategy,
                       page_quantity(precharge, page, PD_KIND_PRESSURE, pressure));
        add(words, more);
    }
}

static void describe_many(char words[WORDS_MOST], const struct page *page,
                          const struct pd_report_day *day)
{
    char more[WORDS_MOST], failing[PAGE_TEXT_MOST];

    (void)day;
    (void)snprintf(words, WORDS_MOST,
                   "Curves of the share of days on which starts, shortest run and rest, lowest tap "
                   "pressure and energy are so much or less.");
    for (size_t i = 0; i < page->count; i++) {
        page_failing(failing, &page->days[i]);
        (void)snprintf(more, sizeof more, " %s fails on %s.", page->days[i].strategy, failing);
        add(words, more);
    }
}

static void describe_cost(char words[WORDS_MOST], const struct page *page,
                          const struct pd_report_day *day)
{
    char more[WORDS_MOST];

    (void)day;
    (void)snprintf(words, WORDS_MOST,
                   "Lines that rise over the years: the present value of purchase, energy, "
                   "maintenance and renewals up to each.");
    for (size_t i = 0; i < page->count; i++) {
        struct pd_range cost = pd_life_of_days(page->scenario, page->many, i);
        (void)snprintf(more, sizeof more, " %s: %.0f in %.0f years.", page->days[i].strategy,
                       cost.middle, page->scenario->value[PD_COST_YEARS]);
        add(words, more);
    }
}

/* Where no price but that of energy is told the years tell nothing more. */
static bool has_prices(const struct page *page)
{
    return page->many != NULL && pd_life_is_told(page->scenario);
}

static const struct chart charts[] = {
    {"days", false, "Many days",
     "The share of days on which a figure is so much or less, with the limits. The charts behind "
     "this one show one of the days.",
     describe_many, NULL},
    {"days-cost", false, "Cost over the years",
     "Present value of all that is paid up to the end of each year, at the mean of many days; "
     "bands "
     "tell what the days leave open of it.",
     describe_cost, has_prices},
    {"day", true, "The day under ",
     "Pressures and flows over the day. The pump runs where it is shaded; in the strip between "
     "them "
     "each run is drawn by itself.",
     describe_day, NULL},
    {"hours", false, "Pump cycles per hour", "Starts of the pump in each hour of the day.",
     describe_hours, NULL},
    {"energy", false, "Energy, run time and water",
     "Energy, standby included, run time and water to the taps of the day. What does not fit is "
     "hatched; what it saves is not to be had.",
     describe_energy, NULL},
    {"cycle", true, "One pump cycle under ",
     "One run of the pump closely: check valve, run-up, and what stops it.", describe_cycle, NULL},
    {"tank", false, "Water in the tank",
     "What the tank holds at each pressure of the day, filling and giving water; below its "
     "precharge "
     "it is empty and of no use.",
     describe_tank, NULL},
};

/* One picture; a strategy under which no run began and ended has none of a cycle. */
static bool write_chart(FILE *stream, const struct page *page, const struct chart *chart,
                        const struct pd_report_day *day, struct pd_error *error)
{
    const char *dash = chart->each ? "-" : "";
    const char *strategy = chart->each ? day->strategy : "";
    char name[NAME_MOST];
    char path[PD_PATH_MOST];
    char title[NAME_MOST];
    char words[WORDS_MOST];

    (void)snprintf(name, sizeof name, "%s%s%s", chart->file, dash, strategy);
    (void)snprintf(title, sizeof title, "%s%s", chart->title, strategy);
    int length = snprintf(path, sizeof path, "%s/%s.svg", page->pictures, name);
    if (length < 0 || (size_t)length >= sizeof path || access(path, R_OK) != 0) {
        return true;
    }
    chart->describe(words, page, day);
    // a keyboard too can reach and scroll it
    (void)fprintf(stream,
                  "<figure class=\"%s\">\n<p class=\"wide\">%s: wider than the screen, move it "
                  "sideways.</p>\n<div class=\"scroll\" tabindex=\"0\" "
                  "role=\"region\" aria-label=\"%s\">",
                  chart->file, title, title);
    // ids differ from scenario to scenario too
    char unique[NAME_MOST + NAME_MOST];
    (void)snprintf(unique, sizeof unique, page->number > 0 ? "%s-%zu" : "%s", name, page->number);
    bool good = svg_inline(stream, path, unique, title, words, error);
    (void)fprintf(stream, "</div>\n<figcaption>%s. %s</figcaption>\n</figure>\n", title,
                  chart->caption);
    return good;
}

static bool write_charts(FILE *stream, const struct page *page, struct pd_error *error)
{
    for (size_t i = 0; i < sizeof charts / sizeof charts[0]; i++) {
        bool wanted = charts[i].wanted == NULL || charts[i].wanted(page);
        size_t count = !wanted ? 0 : charts[i].each ? page->count : 1;
        for (size_t k = 0; k < count; k++) {
            if (!write_chart(stream, page, &charts[i], &page->days[k], error)) {
                return false;
            }
        }
    }
    return true;
}

bool page_charts(FILE *stream, const struct page *page, struct pd_error *error)
{
    bool good = true;

    (void)fputs("<section class=\"charts\">\n<h2>Charts</h2>\n", stream);
    if (page->pictures != NULL) {
        good = write_charts(stream, page, error);
    } else {
        (void)fputs("<p>There are no charts in this report: ", stream);
        html_text(stream, page->no_charts != NULL ? page->no_charts : "none were made");
        (void)fputs(".</p>\n", stream);
    }
    (void)fputs("</section>\n", stream);
    return good;
}
