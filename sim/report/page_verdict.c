/* The verdict on each strategy in plain words, with the figures that are its reason. */
#include "report/page_parts.h"

#include "report/html.h"

#include <math.h>
#include <string.h>

/* One fault as the verdict names it: what was found, and where to look. */
struct reason {
    const char *words;
    void (*tell)(FILE *stream, const struct page *page, const struct pd_report_day *day);
    const char *advice;
};

static void tell_chatter(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    int minutes = (int)(day->result.end_time / 60);

    (void)page;
    html_format(stream,
                "The pump starts and stops without end. The day was broken off at %02d:%02d, and "
                "all figures hold up to there only.",
                minutes / 60, minutes % 60);
}

static void tell_short_cycling(FILE *stream, const struct page *page,
                               const struct pd_report_day *day)
{
    char run[PAGE_TEXT_MOST];
    char least[PAGE_TEXT_MOST];
    char starts[PAGE_TEXT_MOST];
    char worst[PAGE_TEXT_MOST];

    html_format(stream,
                "The pump starts %s in the day (at most %.4g pass) and %s within its "
                "worst hour (at most %.4g pass)",
                page_times(starts, (size_t)day->result.starts), page->limits->starts_per_day,
                page_times(worst, (size_t)day->result.starts_in_worst_hour),
                page->limits->starts_per_hour);
    if (isfinite(day->result.shortest_run)) {
        html_format(stream, "; its shortest run lasts %s (no less than %s passes)",
                    page_quantity(run, page, PD_KIND_TIME, day->result.shortest_run),
                    page_quantity(least, page, PD_KIND_TIME, page->limits->shortest_run));
    }
    (void)fputs(". Frequent starts heat the motor and wear switch, pump and tank.", stream);
}

static void tell_over_pressure(FILE *stream, const struct page *page,
                               const struct pd_report_day *day)
{
    char high[PAGE_TEXT_MOST];
    char limit[PAGE_TEXT_MOST];

    html_format(stream, "The pressure behind the pump reaches %s, where %s would pass.",
                page_quantity(high, page, PD_KIND_PRESSURE, day->result.highest_header_pressure),
                page_quantity(limit, page, PD_KIND_PRESSURE, page->limits->static_pressure));
}

static void tell_never_starts(FILE *stream, const struct page *page,
                              const struct pd_report_day *day)
{
    (void)page;
    (void)day;
    (void)fputs("The pump never starts, although the taps are short of pressure.", stream);
}

static void tell_never_stops(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    (void)page;
    html_format(stream, "The pump runs for %.1f hours: no controller stops it.",
                day->result.run_time / 3600);
}

static void tell_moves_no_water(FILE *stream, const struct page *page,
                                const struct pd_report_day *day)
{
    (void)page;
    (void)day;
    (void)fputs("The pump ran without moving any water.", stream);
}

static void tell_locked_out(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    (void)page;
    (void)day;
    (void)fputs("The guard against running dry stopped the pump for the rest of the day.", stream);
}

static void tell_suction_trips(FILE *stream, const struct page *page,
                               const struct pd_report_day *day)
{
    char trips[PAGE_TEXT_MOST];

    (void)page;
    html_format(stream, "The guard against low suction stopped the pump %s.",
                page_times(trips, (size_t)day->result.suction_trips));
}

static void tell_poor_suction(FILE *stream, const struct page *page,
                              const struct pd_report_day *day)
{
    char low[PAGE_TEXT_MOST];

    html_format(stream, "The pressure at the pump's inlet falls to %s",
                page_quantity(low, page, PD_KIND_PRESSURE, day->result.lowest_suction_pressure));
    if (isfinite(day->result.lowest_npsh_margin)) {
        char margin[PAGE_TEXT_MOST];
        html_format(stream, "; of the suction head that the pump requires %s are left over",
                    page_quantity(margin, page, PD_KIND_HEAD, day->result.lowest_npsh_margin));
    }
    (void)fputs(". The water may boil there, which harms the pump.", stream);
}

static void tell_low_taps(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    char limit[PAGE_TEXT_MOST];
    char low[PAGE_TEXT_MOST];
    double share = day->result.time_below_tap_limit / day->result.time_draw_open;

    html_format(stream,
                "With a tap open its pressure is below %s for %.0f s, %.2g %% of that time; the "
                "lowest is %s.",
                page_quantity(limit, page, PD_KIND_PRESSURE, page->limits->tap_pressure),
                day->result.time_below_tap_limit, 100 * share,
                page_quantity(low, page, PD_KIND_PRESSURE, day->result.lowest_tap_pressure));
}

static const struct reason reasons[] = {
    {"chatters", tell_chatter,
     "Look at the precharge, at start against stop settings, at the least rest."},
    {"short-cycling", tell_short_cycling,
     "Look at the precharge first, then at leaks, a larger tank, a longer run-on."},
    {"over-pressure", tell_over_pressure,
     "Look at the pump's size, the supply pressure, a reducing valve, relief."},
    {"never starts", tell_never_starts,
     "Its start setting does not suit this supply, or the strategy does not."},
    {"never stops", tell_never_stops,
     "Look for a stop pressure that the pump cannot reach, or a leak or draw above the stop flow."},
    {"moves no water", tell_moves_no_water,
     "Look at the supply, and whether the start pressure is above what the pump can reach."},
    {"locked out", tell_locked_out, "Look at the supply and at the time of that guard."},
    {"suction trips", tell_suction_trips, "Look at the supply and the pipe to the pump."},
    {"poor suction", tell_poor_suction,
     "Look at the suction lift, the size of the pipe, the strainer, a smaller flow."},
    {"low taps", tell_low_taps,
     "Look at the start pressure, the pump, the house pipe, the strategy."},
};

/* Every verdict's words that a part of the text begins with get their reason; unknown words stay
 * as they are. */
static void write_reason(FILE *stream, const struct page *page, const struct pd_report_day *day,
                         const char *part, size_t length)
{
    for (size_t i = 0; i < sizeof reasons / sizeof reasons[0]; i++) {
        const struct reason *reason = &reasons[i];
        if (strlen(reason->words) == length && strncmp(reason->words, part, length) == 0) {
            (void)fputs("<li>", stream);
            reason->tell(stream, page, day);
            (void)fprintf(stream, " %s</li>\n", reason->advice);
            return;
        }
    }
    (void)fputs("<li>", stream);
    html_format(stream, "%.*s", (int)length, part);
    (void)fputs("</li>\n", stream);
}

static void write_reasons(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    (void)fputs("<ul>\n", stream);
    for (const char *part = day->verdict; *part != '\0';) {
        size_t length = strcspn(part, ";");
        write_reason(stream, page, day, part, length);
        part += length;
        part += strspn(part, "; ");
    }
    (void)fputs("</ul>\n", stream);
}

/* What speaks for a day that meets its limits. */
static void write_merits(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    const struct pd_day_result *result = &day->result;
    char low[PAGE_TEXT_MOST];
    char limit[PAGE_TEXT_MOST];
    char high[PAGE_TEXT_MOST];
    char most[PAGE_TEXT_MOST];
    char starts[PAGE_TEXT_MOST];
    char worst[PAGE_TEXT_MOST];

    (void)fputs("<p>", stream);
    if (result->starts == 0 && !(result->run_time > 0)) {
        (void)fputs("The pump was not needed: it never ran. ", stream);
    } else {
        html_format(stream,
                    "The pump starts %s in the day and at most %s within an hour, "
                    "where %.4g would pass. ",
                    page_times(starts, (size_t)result->starts),
                    page_times(worst, (size_t)result->starts_in_worst_hour),
                    page->limits->starts_per_hour);
    }
    if (isfinite(result->lowest_tap_pressure)) {
        html_format(stream, "The lowest pressure at an open tap is %s, where %s are asked for",
                    page_quantity(low, page, PD_KIND_PRESSURE, result->lowest_tap_pressure),
                    page_quantity(limit, page, PD_KIND_PRESSURE, page->limits->tap_pressure));
        // a dip too short to count is told all the same
        if (result->time_below_tap_limit > 0) {
            html_format(stream, " (below it for %.1f s)", result->time_below_tap_limit);
        }
        (void)fputs(". ", stream);
    }
    html_format(stream, "The pressure behind the pump stays at or below %s, where %s would pass.",
                page_quantity(high, page, PD_KIND_PRESSURE, result->highest_header_pressure),
                page_quantity(most, page, PD_KIND_PRESSURE, page->limits->static_pressure));
    (void)fputs("</p>\n", stream);
}

/* A main that a pump draws below the pressure of the air is told, whatever the verdict. */
static void write_drawn_down(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    double low = day->result.lowest_suction_pressure;
    char text[PAGE_TEXT_MOST];

    if (page->scenario->value[PD_SUPPLY_KIND] != PD_SUPPLY_MAIN || !(low < 0)) {
        return;
    }
    (void)fputs("<p>", stream);
    html_format(stream, "Mind the suction: at the pump's inlet the pressure falls to %s, ",
                page_quantity(text, page, PD_KIND_PRESSURE, low));
    (void)fputs(
        "below that of the air, where a leak lets dirt in. Ask the supplier of the main; look "
        "at a wider pipe to the pump, or a break tank.</p>\n",
        stream);
}

static void write_verdict(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    // a sign and words, so that nothing hangs on colour
    (void)fprintf(stream, "<section class=\"verdict %s\">\n<h3>", day->good ? "fits" : "fails");
    html_text(stream, day->strategy);
    (void)fprintf(stream, ": <span class=\"mark\">%s", day->good ? "fits" : "does not fit");
    if (!day->good) {
        html_format(stream, " (%s)", day->verdict);
    }
    (void)fputs("</span></h3>\n<p>It ", stream);
    html_text(stream, day->result.strategy.kind->summary);
    (void)fputs(".</p>\n", stream);
    if (day->good) {
        write_merits(stream, page, day);
    } else {
        write_reasons(stream, page, day);
    }
    write_drawn_down(stream, page, day);
    (void)fputs("</section>\n", stream);
}

void page_verdicts(FILE *stream, const struct page *page)
{
    (void)fputs("<section>\n<h2>Verdict on each strategy</h2>\n", stream);
    for (size_t i = 0; i < page->count; i++) {
        write_verdict(stream, page, &page->days[i]);
    }
    (void)fputs("</section>\n", stream);
}
