/* The verdict on each strategy in plain words.  What fails, and by how much, is taken from the
 * findings of its day; here they only get their words. */
#include "present/page_parts.h"

#include "output/html.h"
#include "present/days_table.h"

#include <math.h>
#include <string.h>

/* A fault as a client is told of it: what it is, what else the day shows of it, where to look. */
struct reason {
    const char *words;
    void (*tell)(FILE *stream, const struct page *page, const struct pd_report_day *day);
    const char *advice;
};

static void tell_broken_off(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    int minutes = (int)(day->result.end_time / 60);

    (void)page;
    html_format(
        stream,
        " The day was broken off at %02d:%02d, at %.0f starts an hour; all figures hold up to "
        "there only.",
        minutes / 60, minutes % 60, day->result.last_rate);
}

static bool stops_by_pressure(const struct pd_report_day *day)
{
    return isfinite(day->result.strategy.stop_pressure);
}

static void tell_longer_runs(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    (void)page;
    html_format(stream,
                " Frequent starts heat the motor and wear switch, pump and tank. Look at the "
                "precharge first, then at leaks, a larger tank, %s.",
                stops_by_pressure(day) ? "start and stop pressures further apart"
                                       : "a longer run-on");
}

static void tell_running_time(FILE *stream, const struct page *page,
                              const struct pd_report_day *day)
{
    (void)page;
    html_format(stream, " It runs for %.1f hours.", day->result.run_time / 3600);
}

static void tell_trips(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    char trips[PAGE_TEXT_MOST];

    (void)page;
    html_format(stream, " That happened %s.", page_times(trips, (size_t)day->result.suction_trips));
}

/* Dirt comes in where a main stands below the air around it. */
static void tell_drawn_down(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    if (page->scenario->value[PD_SUPPLY_KIND] != PD_SUPPLY_MAIN ||
        !(day->result.lowest_suction_pressure < 0)) {
        return;
    }
    (void)fputs(" That is below the pressure of the air, where a leak lets dirt in: ask the "
                "supplier of the main; look at a break tank.",
                stream);
}

static void tell_how_long(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    double below = day->result.time_below_tap_limit;
    double share = 100 * below / day->result.time_draw_open;

    (void)page;
    html_format(stream,
                share < 10 ? " It is that low for %.0f s, %.2g %% of the time with a tap open."
                           : " It is that low for %.0f s, %.0f %% of the time with a tap open.",
                below, share);
}

static const struct reason reasons[] = {
    [PD_FAULT_CHATTERS] = {"The pump starts and stops without end.", tell_broken_off,
                           "Look at the precharge, at start against stop settings, at a rest that "
                           "the controller keeps."},
    [PD_FAULT_SHORT_CYCLING] = {"The pump starts too often, or runs too briefly.", tell_longer_runs,
                                ""},
    [PD_FAULT_OVER_PRESSURE] = {"The pressure is higher than a house should have.", NULL,
                                "Look at the pump's size, the supply pressure, a reducing valve, "
                                "relief."},
    [PD_FAULT_TANK_RATING] = {"The tank can be put under more pressure than it is rated for.", NULL,
                              "It must not be used so: another tank, or less pressure."},
    [PD_FAULT_PRECHARGE] = {"The precharge is too high: the tank is empty before the pump starts.",
                            NULL, "Have gas let out, to a little under the start pressure."},
    [PD_FAULT_START_TOO_HIGH] = {"The pump hardly reaches the pressure at which it is to start.",
                                 NULL, "Look at the start setting and the pump's size."},
    [PD_FAULT_NEVER_STARTS] = {"The pump never starts, although the taps are short of pressure.",
                               NULL,
                               "Its start setting does not suit this supply, or the strategy does "
                               "not."},
    [PD_FAULT_NEVER_STOPS] = {"No controller stops the pump.", tell_running_time,
                              "Look for a stop pressure that the pump cannot reach, or a leak or "
                              "draw above the stop flow."},
    [PD_FAULT_MOVES_NO_WATER] = {"The pump ran without moving any water.", NULL,
                                 "Look at the supply, and whether the start pressure is above what "
                                 "the pump can reach."},
    [PD_FAULT_RUNS_DRY] = {"The pump runs without water, which ruins it.", NULL,
                           "Look at the supply; a guard against running dry must stop the pump."},
    [PD_FAULT_LOCKED_OUT] = {"The guard against running dry stopped the pump for the rest of the "
                             "day.",
                             NULL, "Look at the supply and at the time of that guard."},
    [PD_FAULT_SUCTION_TRIPS] = {"The guard against low suction stopped the pump.", tell_trips,
                                "Look at the supply and the pipe to the pump."},
    [PD_FAULT_POOR_SUCTION] = {"The suction is too low: it can harm the pump and the supply.",
                               tell_drawn_down,
                               "Look at the suction lift, a wider pipe to the pump, the strainer, "
                               "a smaller flow."},
    [PD_FAULT_WEAK_MAIN] = {"The main is weak already while nothing flows.", NULL,
                            "Ask its supplier before a pump draws from it."},
    [PD_FAULT_LOW_TAPS] = {"The taps are short of pressure.", tell_how_long,
                           "Look at the start pressure, the pump, the house pipe, the strategy."},
    [PD_FAULT_SHORT_RESTS] = {"The motor rests too briefly between its runs.", NULL,
                              "Look at a rest that the controller keeps, and at a larger tank."},
    [PD_FAULT_FAST_SUCTION] = {"The water runs too fast in the pipe to the pump.", NULL,
                               "A wider pipe is quieter and loses less."},
    [PD_FAULT_OFF_CURVE] = {"Much of the water is pumped at flows of which the pump's maker tells "
                            "nothing, so that these figures are a guess.",
                            NULL, "Ask for more of the pump's curve, or look at a larger pump."},
};
_Static_assert(sizeof reasons / sizeof reasons[0] == PD_FAULT_COUNT, "words for each fault");

/* "shortest run: 4.0 s (at least 5.0 s would pass)" */
static void write_figure(FILE *stream, const struct page *page, const struct pd_finding *line,
                         const char *passes)
{
    char found[PAGE_TEXT_MOST];
    char limit[PAGE_TEXT_MOST];

    html_format(stream, "%s: %s", line->what,
                line->words != NULL ? line->words
                                    : page_quantity(found, page, line->kind, line->found));
    if (line->sense != PD_SENSE_TELLS) {
        html_format(stream, " (%s %s would %s)",
                    line->sense == PD_SENSE_AT_MOST ? "at most" : "at least",
                    page_quantity(limit, page, line->kind, line->limit), passes);
    }
}

/* The figures of one fault; what is known in words alone says no more than the fault does. */
static void write_figures(FILE *stream, const struct page *page, const struct pd_findings *findings,
                          enum pd_fault fault)
{
    const char *before = " Found: ";

    for (size_t i = 0; i < findings->count; i++) {
        const struct pd_finding *line = &findings->list[i];
        if (line->level == PD_LEVEL_FAIL && line->fault == fault && line->words == NULL) {
            (void)fputs(before, stream);
            write_figure(stream, page, line, "pass");
            before = "; ";
        }
    }
    (void)fputs(before[0] == ';' ? "." : "", stream);
}

static bool has_fault(const struct pd_findings *findings, enum pd_fault fault)
{
    for (size_t i = 0; i < findings->count; i++) {
        if (findings->list[i].level == PD_LEVEL_FAIL && findings->list[i].fault == fault) {
            return true;
        }
    }
    return false;
}

/* On how many days of the household there was a fault; 0 where none have run. */
static long days_with(const struct page *page, const struct pd_report_day *day, enum pd_fault fault)
{
    size_t strategy = (size_t)(day - page->days);

    return page->many != NULL ? pd_days_failing(page->many, strategy, UINT32_C(1) << fault) : 0;
}

static void write_reason(FILE *stream, const struct page *page, const struct pd_report_day *day,
                         enum pd_fault fault)
{
    const struct reason *reason = &reasons[fault];
    bool here = has_fault(day->findings, fault);
    long days = days_with(page, day, fault);

    (void)fprintf(stream, "<li>%s", reason->words);
    if (days > 0) {
        html_format(stream, " On %ld of %ld days.", days, day->of);
    }
    if (here) {
        write_figures(stream, page, day->findings, fault);
    }
    if (here && reason->tell != NULL) {
        reason->tell(stream, page, day);
    }
    (void)fprintf(stream, " %s</li>\n", reason->advice);
}

static void write_reasons(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    (void)fputs("<ul>\n", stream);
    for (int i = PD_FAULT_NONE + 1; i < PD_FAULT_COUNT; i++) {
        enum pd_fault fault = (enum pd_fault)i;
        if (has_fault(day->findings, fault) || days_with(page, day, fault) > 0) {
            write_reason(stream, page, day, fault);
        }
    }
    (void)fputs("</ul>\n", stream);
}

/* What other days than the one shown bring. */
static void write_other_days(FILE *stream, const struct pd_report_day *day)
{
    char failing[PAGE_TEXT_MOST], share[PAGE_TEXT_MOST];

    if (day->of == 0) {
        return;
    }
    page_failing(failing, day);
    pd_days_interval_text(share, sizeof share, 0, day->of);
    (void)fputs("<p>", stream);
    if (day->failing > 0) {
        html_format(stream,
                    "Of the household's days it breaks a limit on %s. The figures here are "
                    "those of the one day that the charts show.",
                    failing);
    } else {
        html_format(stream,
                    "It kept within every limit on each of %ld days of the household (so "
                    "it breaks one on %s of all such days). The figures here are those of "
                    "the one day that the charts show.",
                    day->of, share);
    }
    (void)fputs("</p>\n", stream);
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
        html_format(stream, "The pump starts %s in the day and at most %s within an hour",
                    page_times(starts, (size_t)result->starts),
                    page_times(worst, (size_t)result->starts_in_worst_hour));
        if (isfinite(page->limits->starts_per_hour)) {
            html_format(stream, ", where %.4g would pass", page->limits->starts_per_hour);
        }
        (void)fputs(". ", stream);
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
    html_format(stream, "The pressure behind the pump stays at or below %s",
                page_quantity(high, page, PD_KIND_PRESSURE, result->highest_header_pressure));
    if (isfinite(page->limits->static_pressure)) {
        html_format(stream, ", where %s would pass",
                    page_quantity(most, page, PD_KIND_PRESSURE, page->limits->static_pressure));
    }
    (void)fputs(".</p>\n", stream);
}

/* A limit that is only wished for was missed, by the strategy or, without a name, by what is there
 * whatever the strategy. */
static bool is_doubt(const struct pd_finding *line, bool of_strategy)
{
    return line->level == PD_LEVEL_WARN && line->sense != PD_SENSE_TELLS &&
           (line->strategy != NULL) == of_strategy;
}

/* A figure a hair off its limit: told in the digits of a page there would be nothing to see. */
static bool reads_alike(const struct page *page, const struct pd_finding *line)
{
    char found[PAGE_TEXT_MOST];
    char limit[PAGE_TEXT_MOST];

    return line->words == NULL && strcmp(page_quantity(found, page, line->kind, line->found),
                                         page_quantity(limit, page, line->kind, line->limit)) == 0;
}

static void write_doubts(FILE *stream, const struct page *page, const struct pd_findings *findings,
                         bool of_strategy)
{
    const char *before = "<p>To be looked at, though it decides nothing here: ";

    for (size_t i = 0; i < findings->count; i++) {
        const struct pd_finding *line = &findings->list[i];
        if (is_doubt(line, of_strategy) && !reads_alike(page, line)) {
            (void)fputs(before, stream);
            write_figure(stream, page, line, "be better");
            before = "; ";
        }
    }
    (void)fputs(before[0] == ';' ? ".</p>\n" : "", stream);
}

/* How the pump is started and stopped, as it was run. */
static void write_control(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    const struct pd_strategy *strategy = &day->result.strategy;
    bool by_flow = isnan(strategy->start_pressure);
    char at[PAGE_TEXT_MOST];
    char run_on[PAGE_TEXT_MOST];

    (void)fputs("<p>", stream);
    html_format(stream, "The pump %s (%s), and stops ", strategy->kind->summary,
                by_flow ? page_quantity(at, page, PD_KIND_FLOW, strategy->start_flow)
                        : page_quantity(at, page, PD_KIND_PRESSURE, strategy->start_pressure));
    if (stops_by_pressure(day)) {
        html_format(stream, "when it has risen to %s.",
                    page_quantity(at, page, PD_KIND_PRESSURE, strategy->stop_pressure));
    } else {
        html_format(stream, "%s after the flow has fallen below %s.",
                    page_quantity(run_on, page, PD_KIND_TIME, strategy->run_on),
                    page_quantity(at, page, PD_KIND_FLOW, strategy->stop_flow));
    }
    (void)fputs("</p>\n", stream);
}

static void write_verdict(FILE *stream, const struct page *page, const struct pd_report_day *day)
{
    // a sign and words, so that nothing hangs on colour
    (void)fprintf(stream, "<section class=\"verdict %s\">\n<h3>",
                  page_fits(day) ? "fits" : "fails");
    html_text(stream, day->strategy);
    (void)fprintf(stream, ": <span class=\"mark\">%s", page_fits(day) ? "fits" : "does not fit");
    if (day->failing > 0) {
        char failing[PAGE_TEXT_MOST];
        page_failing(failing, day);
        html_format(stream, " (fails on %s)", failing);
    } else if (!page_fits(day)) {
        html_format(stream, " (%s)", day->verdict);
    }
    (void)fputs("</span></h3>\n", stream);
    write_control(stream, page, day);
    write_other_days(stream, day);
    if (page_fits(day)) {
        write_merits(stream, page, day);
    } else {
        write_reasons(stream, page, day);
    }
    write_doubts(stream, page, day->findings, true);
    (void)fputs("</section>\n", stream);
}

/* Nobody has told what the tank stands: a client must know that this is open. */
static void write_open_rating(FILE *stream, const struct page *page)
{
    const struct pd_findings *findings = page->days[0].findings;
    char pressure[PAGE_TEXT_MOST];

    for (size_t i = 0; i < findings->count; i++) {
        const struct pd_finding *line = &findings->list[i];
        if (line->fault == PD_FAULT_TANK_RATING && line->level == PD_LEVEL_WARN) {
            (void)fputs("<p>", stream);
            html_format(stream,
                        "What the tank is rated for is not known to this report: it can come "
                        "under %s, and its plate must tell no less.",
                        page_quantity(pressure, page, line->kind, line->found));
            (void)fputs("</p>\n", stream);
        }
    }
}

void page_verdicts(FILE *stream, const struct page *page)
{
    (void)fputs("<section>\n<h2>Verdict on each strategy</h2>\n", stream);
    for (size_t i = 0; i < page->count; i++) {
        write_verdict(stream, page, &page->days[i]);
    }
    write_open_rating(stream, page);
    write_doubts(stream, page, page->days[0].findings, false);
    (void)fputs("</section>\n", stream);
}
