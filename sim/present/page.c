/* The outline of the page, its summary and its tables of figures. */
#include "present/page.h"

#include "output/amount.h"
#include "output/html.h"
#include "present/page_parts.h"
#include "present/table.h"

#include <pumpday/pumpday.h>

#include <math.h>
#include <string.h>

/* What is told of a year is so many times this day, and is called so. */
static const double days_in_year = 365;

static const char *title_of(const struct page *page)
{
    return page->scenario->title[0] != '\0' ? page->scenario->title : "Water pressure booster";
}

void page_head(FILE *stream, const char *title)
{
    (void)fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>",
                stream);
    html_text(stream, title);
    (void)fputs(": a day of the pressure booster</title>\n", stream);
    // nothing is fetched, not even a picture for the tab
    (void)fprintf(stream,
                  "<meta name=\"generator\" content=\"pumpday %s\">\n"
                  "<link rel=\"icon\" href=\"data:,\">\n<style>\n%s</style>\n</head>\n<body>\n",
                  PD_VERSION, page_style);
}

/* What is to be saved: energy, and where its price goes by the hour its cost. */
static double expense(const struct page *page, const struct pd_report_day *day)
{
    return page->scenario->has_tariff ? day->cost : day->result.energy;
}

static const char *expense_name(const struct page *page)
{
    return page->scenario->has_tariff ? "cost" : "energy";
}

/* The first of the days that meet their limits on the least expense; NULL if none does. */
static const struct pd_report_day *thriftiest(const struct page *page)
{
    const struct pd_report_day *best = NULL;

    for (size_t i = 0; i < page->count; i++) {
        const struct pd_report_day *day = &page->days[i];
        if (page_fits(day) && (best == NULL || expense(page, day) < expense(page, best))) {
            best = day;
        }
    }
    return best;
}

static void write_names_of_good(FILE *stream, const struct page *page)
{
    const char *between = "";

    for (size_t i = 0; i < page->count; i++) {
        if (page_fits(&page->days[i])) {
            html_format(stream, "%s%s", between, page->days[i].strategy);
            between = ", ";
        }
    }
}

/* Where each strategy fails on some day: which on the fewest. */
static void write_fewest(FILE *stream, const struct page *page)
{
    const struct pd_report_day *best = NULL;
    char failing[PAGE_TEXT_MOST];

    for (size_t i = 0; i < page->count; i++) {
        if (best == NULL || page->days[i].failing < best->failing) {
            best = &page->days[i];
        }
    }
    if (best == NULL) {
        return;
    }
    page_failing(failing, best);
    html_format(stream,
                "None of the strategies simulated meets every limit on every day of the household; "
                "%s fails on the fewest, %s. The verdicts below tell why and where to look.",
                best->strategy, failing);
}

static void write_best_of_many(FILE *stream, const struct page *page,
                               const struct pd_report_day *best)
{
    size_t strategy = (size_t)(best - page->days);
    struct pd_range energy = pd_days_mean(page->many, strategy, PD_FIGURE_ENERGY);
    struct pd_range cost = pd_days_mean(page->many, strategy, PD_FIGURE_COST);

    html_format(stream,
                "Within every limit on each of %ld days of the household: ", page->many->count);
    write_names_of_good(stream, page);
    html_format(stream, ". Least %s among them: %s. ", expense_name(page), best->strategy);
    html_format(stream, "A year of such days takes about %.0f kWh and costs %.0f %s.",
                energy.middle * days_in_year / 3.6e6, cost.middle * days_in_year,
                page_currency(page));
}

static void write_summary(FILE *stream, const struct page *page)
{
    const struct pd_report_day *best = thriftiest(page);
    char energy[PAGE_TEXT_MOST];

    (void)fputs("<section>\n<h2>In short</h2>\n<p>", stream);
    if (best == NULL && page->many != NULL) {
        write_fewest(stream, page);
    } else if (best == NULL) {
        (void)fputs("None of the strategies simulated meets every limit; the verdicts below tell "
                    "why and where to look.",
                    stream);
    } else if (page->many != NULL) {
        write_best_of_many(stream, page, best);
    } else {
        (void)fputs("Within every limit: ", stream);
        write_names_of_good(stream, page);
        html_format(stream, ". Of %zu simulated, least %s among those that fit: %s, with %s ",
                    page->count, expense_name(page), best->strategy,
                    page_quantity(energy, page, PD_KIND_ENERGY, best->result.energy));
        html_format(stream, "a day; %.0f such days make %.0f kWh and %.2f %s.", days_in_year,
                    best->result.energy * days_in_year / 3.6e6, best->cost * days_in_year,
                    page_currency(page));
    }
    (void)fputs("</p>\n</section>\n", stream);
}

/* The head of a table: a corner, and a column for each strategy. */
static void write_table_head(FILE *stream, const struct page *page, const char *caption,
                             const char *corner)
{
    (void)fprintf(stream,
                  "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"%s\">"
                  "<table class=\"figures\">\n<caption>%s</caption>\n"
                  "<thead><tr><th scope=\"col\">%s</th>",
                  caption, caption, corner);
    for (size_t i = 0; i < page->count; i++) {
        (void)fputs("<th scope=\"col\">", stream);
        html_text(stream, page->days[i].strategy);
        (void)fputs("</th>", stream);
    }
    (void)fputs("</tr></thead>\n", stream);
}

static void write_group(FILE *stream, const struct page *page, const char *head,
                        const struct pd_table_row *rows, size_t count)
{
    (void)fprintf(stream, "<tbody>\n<tr><th scope=\"rowgroup\" colspan=\"%zu\">%s</th></tr>\n",
                  page->count + 1, head);
    for (size_t i = 0; i < count; i++) {
        (void)fputs("<tr><th scope=\"row\">", stream);
        html_text(stream, rows[i].label);
        (void)fputs("</th>", stream);
        for (size_t day = 0; day < page->count; day++) {
            (void)fputs("<td>", stream);
            html_text(stream, rows[i].cell[day]);
            (void)fputs("</td>", stream);
        }
        (void)fputs("</tr>\n", stream);
    }
    (void)fputs("</tbody>\n", stream);
}

static void write_verdict_row(FILE *stream, const struct page *page)
{
    (void)fputs("<tbody>\n<tr><th scope=\"row\">", stream);
    (void)fputs(page->many != NULL ? "verdict of this day alone</th>" : "verdict</th>", stream);
    for (size_t i = 0; i < page->count; i++) {
        (void)fputs("<td>", stream);
        html_text(stream, page->days[i].verdict);
        (void)fputs("</td>", stream);
    }
    (void)fputs("</tr>\n</tbody>\n", stream);
}

/* Under figures that could be read as a choice: which of them may be chosen. */
static void write_fit_row(FILE *stream, const struct page *page)
{
    (void)fputs("<tr><th scope=\"row\">verdict</th>", stream);
    for (size_t i = 0; i < page->count; i++) {
        (void)fprintf(stream, "<td>%s</td>", page_fits(&page->days[i]) ? "fits" : "does not fit");
    }
    (void)fputs("</tr>\n", stream);
}

static void write_comparison(FILE *stream, const struct page *page)
{
    struct pd_table_row rows[PD_TABLE_ROWS_MOST];
    size_t settings;
    size_t all = pd_table_rows(page->days, page->count, page->units, rows, &settings);

    (void)fputs("<section class=\"whole\">\n<h2>The strategies side by side</h2>\n", stream);
    write_table_head(stream, page, "Settings and figures of the day", "quantity");
    write_group(stream, page, "Settings", rows, settings);
    write_group(stream, page, "The day", rows + settings, all - settings);
    write_verdict_row(stream, page);
    (void)fputs("</table></div>\n</section>\n", stream);
}

/* One row of money or energy: a day's figure of each strategy, times so many days. */
static void write_costs(FILE *stream, const struct page *page, const char *head, bool money,
                        double days)
{
    (void)fputs("<tr><th scope=\"row\">", stream);
    html_text(stream, head);
    (void)fputs("</th>", stream);
    for (size_t i = 0; i < page->count; i++) {
        const struct pd_report_day *day = &page->days[i];
        double value = money ? day->cost : day->result.energy / 3.6e6;
        (void)fprintf(stream, "<td>%.*f</td>", days > 1 ? (money ? 2 : 0) : (money ? 2 : 3),
                      value * days);
    }
    (void)fputs("</tr>\n", stream);
}

/* What of the water asked for did not come; more than asked for comes at more pressure. */
static void write_water(FILE *stream, const struct page *page)
{
    char short_of[PAGE_TEXT_MOST];

    (void)fputs("<tr><th scope=\"row\">water short of what is asked for</th>", stream);
    for (size_t i = 0; i < page->count; i++) {
        double missing = page->asked - page->days[i].result.delivered;
        (void)fprintf(stream, "<td>%s</td>",
                      missing > 0 ? page_quantity(short_of, page, PD_KIND_VOLUME, missing)
                                  : "none");
    }
    (void)fputs("</tr>\n", stream);
}

/* "Electricity at 0.3 EUR a kWh. " */
static void write_price(FILE *stream, const struct page *page)
{
    double low = pd_scenario_price(page->scenario, 0), high = low;

    for (int hour = 1; hour < PD_TARIFF_HOURS; hour++) {
        low = fmin(low, pd_scenario_price(page->scenario, hour));
        high = fmax(high, pd_scenario_price(page->scenario, hour));
    }
    html_format(stream, low < high ? "Electricity at %.4g to " : "Electricity at ", low * 3.6e6);
    html_format(stream, "%.4g %s a kWh%s. ", high * 3.6e6, page_currency(page),
                low < high ? ", by the hour" : "");
}

static void write_energy(FILE *stream, const struct page *page)
{
    char head[PAGE_TEXT_MOST];
    char asked[PAGE_TEXT_MOST];

    (void)fputs("<section class=\"whole\">\n<h2>Energy and cost</h2>\n", stream);
    write_table_head(stream, page, "Electricity of pump and controller", "quantity");
    (void)fputs("<tbody>\n", stream);
    write_costs(stream, page, "energy a day [kWh]", false, 1);
    (void)snprintf(head, sizeof head, "cost a day [%s]", page_currency(page));
    write_costs(stream, page, head, true, 1);
    // a year of the household's days stands with these
    if (page->many == NULL) {
        write_costs(stream, page, "energy of 365 such days [kWh]", false, days_in_year);
        (void)snprintf(head, sizeof head, "cost of 365 such days [%s]", page_currency(page));
        write_costs(stream, page, head, true, days_in_year);
    }
    write_water(stream, page);
    write_fit_row(stream, page);
    (void)fputs("</tbody>\n</table></div>\n<p class=\"note\">", stream);
    write_price(stream, page);
    (void)fputs("A year of other days costs other sums. ", stream);
    html_format(stream,
                "Asked for are %s: every draw at its rated flow. A strategy that gives less also "
                "needs less energy.",
                page_quantity(asked, page, PD_KIND_VOLUME, page->asked));
    (void)fputs("</p>\n</section>\n", stream);
}

bool page_body(FILE *stream, const struct page *page, struct pd_error *error)
{
    write_summary(stream, page);
    page_system(stream, page);
    page_verdicts(stream, page);
    bool good = page_many(stream, page, error);
    write_comparison(stream, page);
    write_energy(stream, page);
    return page_charts(stream, page, error) && good;
}

void page_foot(FILE *stream, const struct page *alone)
{
    page_glossary(stream);
    if (alone != NULL) {
        page_limits(stream, alone);
    }
    page_assumptions(stream);
    page_cautions(stream);
    (void)fprintf(stream,
                  "</main>\n<footer><p>Made by pumpday %s. A simulation replaces neither "
                  "measurement nor judgement.</p></footer>\n</body>\n</html>\n",
                  PD_VERSION);
}

bool page_write(FILE *stream, const struct page *page, struct pd_error *error)
{
    page_head(stream, title_of(page));
    (void)fputs("<header>\n<h1>", stream);
    html_text(stream, title_of(page));
    (void)fprintf(stream,
                  "</h1>\n<p class=\"lead\">The water pressure booster through one day, simulated "
                  "under %zu strateg%s</p>\n</header>\n<main>\n",
                  page->count, page->count == 1 ? "y" : "ies");
    bool good = page_body(stream, page, error);
    page_foot(stream, page);
    return good;
}
