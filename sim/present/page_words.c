/* What the parts of the page say alike: quantities, counts, and whether a day fits. */
#include "present/page_parts.h"

#include "output/amount.h"
#include "present/days_table.h"

#include <math.h>
#include <string.h>

const char *page_times(char text[PAGE_TEXT_MOST], size_t count)
{
    (void)snprintf(text, PAGE_TEXT_MOST, "once");
    if (count != 1) {
        (void)snprintf(text, PAGE_TEXT_MOST, "%zu times", count);
    }
    return text;
}

const char *page_quantity(char text[PAGE_TEXT_MOST], const struct page *page, enum pd_kind kind,
                          double si)
{
    char plain[PD_AMOUNT_MOST];

    pd_amount_text(plain, kind, page->units, si);
    (void)snprintf(text, PAGE_TEXT_MOST, "%s", isfinite(si) ? plain : "unknown");
    // degrees have a sign of their own
    char *degrees = strstr(text, "deg");
    if (degrees != NULL) {
        (void)snprintf(degrees, 4, "\xC2\xB0%c", page->units == PD_UNITS_US ? 'F' : 'C');
    }
    return text;
}

const char *page_currency(const struct page *page)
{
    const char *currency = page->scenario->currency;

    return currency[0] != '\0' ? currency : "in the currency of the price";
}

bool page_fits(const struct pd_report_day *day)
{
    return day->findings->fails == 0 && day->failing == 0;
}

void page_failing(char text[PAGE_TEXT_MOST], const struct pd_report_day *day)
{
    char share[PAGE_TEXT_MOST];

    pd_days_interval_text(share, sizeof share, day->failing, day->of);
    (void)snprintf(text, PAGE_TEXT_MOST, "%ld of %ld days (%.30s of all)", day->failing, day->of,
                   share);
}
