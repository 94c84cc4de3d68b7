/* The page for a client: its markup, its words, and that nothing in it is fetched. */
#include "present/page.h"

#include "output/folder.h"
#include "output/sample_day.h"
#include "output/text_file.h"
#include "physics/near.h"
#include "present/markup.h"

#include <CUnit/CUnit.h>

void suite_page(void);

static struct pd_scenario scenario;
static struct pd_plant plant;
static struct pd_limits limits;
static char text[MARKUP_TEXT_MOST];
static struct pd_strategy control; /* of the three days, but for its kind */
static double suction = 50e3;      /* Pa gauge, the lowest of the three days */

static void begin(void)
{
    struct pd_faults faults = {.count = 0};
    struct pd_error error = {.code = PD_DONE};

    CU_ASSERT_FATAL(pd_scenario_read("scenarios/hillside-house", NULL, 0, &scenario, &faults));
    CU_ASSERT_FATAL(pd_plant_build(&scenario, &plant, &error));
    limits = pd_limits_for(&scenario);
    control = sample_result().strategy;
}

static void end(void)
{
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
}

/* A line that fails: so much found of what may at most be half of it. */
static struct pd_finding failing(enum pd_fault fault)
{
    return (struct pd_finding){
        .level = PD_LEVEL_FAIL,
        .fault = fault,
        .strategy = "pressure-start",
        .what = "the figure",
        .kind = PD_KIND_PRESSURE,
        .found = 200e3,
        .sense = PD_SENSE_AT_MOST,
        .limit = 100e3,
        .source = "the test",
    };
}

/* The faults whose names are in a text, a line for each. */
static struct pd_findings findings_of(const char *verdict)
{
    struct pd_findings findings = {.count = 0};

    for (int fault = PD_FAULT_NONE + 1; fault < PD_FAULT_COUNT; fault++) {
        if (strstr(verdict, pd_fault_name((enum pd_fault)fault)) != NULL) {
            findings.list[findings.count++] = failing((enum pd_fault)fault);
            findings.fails++;
        }
    }
    return findings;
}

/* The page of three days of which the first has findings of its own, with what a test changes in
 * it. */
static const char *written_of(struct page page, const struct pd_findings *findings,
                              const char *verdict)
{
    struct pd_findings none = {.count = 0};
    struct pd_report_day days[PD_STRATEGIES_MOST];
    struct pd_error error = {.code = PD_DONE};
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    for (size_t i = 0; i < pd_strategy_count; i++) {
        struct pd_day_result result = sample_result();
        result.strategy = control;
        result.strategy.kind = pd_strategies[i];
        result.lowest_suction_pressure = suction;
        days[i] =
            pd_report_day_for(&result, result.energy * 1e-7, 100e3, i > 0, i > 0 ? "ok" : verdict);
        days[i].findings = i > 0 ? &none : findings;
    }
    page.scenario = &scenario;
    page.plant = &plant;
    page.limits = &limits;
    page.days = days;
    page.count = pd_strategy_count;
    CU_ASSERT(page_write(stream, &page, &error));
    rewind(stream);
    size_t length = fread(text, 1, sizeof text - 1, stream);
    text[length] = '\0';
    (void)fclose(stream);
    return text;
}

static const char *written(struct page page, const char *verdict)
{
    struct pd_findings findings = findings_of(verdict);

    return written_of(page, &findings, verdict);
}

static bool has(const char *page, const char *words)
{
    return strstr(page, words) != NULL || same_text("page without", words);
}

static void markup_is_sound(void)
{
    const char *page = written((struct page){.units = PD_UNITS_SI}, "short-cycling; low taps");

    CU_ASSERT(markup_is_balanced(page));
    CU_ASSERT(markup_headings_in_order(page));
    CU_ASSERT(markup_ids_are_unique(page));
    CU_ASSERT(has(page, "<html lang=\"en\">"));
    CU_ASSERT(has(page, "<meta charset=\"utf-8\">"));
    CU_ASSERT(has(page, "name=\"viewport\""));
    // every head of a table tells what it is the head of
    CU_ASSERT_EQUAL(markup_count(page, "<th"),
                    markup_count(page, "<th scope=") + markup_count(page, "<thead"));
    CU_ASSERT_EQUAL(markup_count(page, "<table"), 3);
    CU_ASSERT_EQUAL(markup_count(page, "<caption"), 3);
}

static void nothing_is_fetched(void)
{
    const char *page = written((struct page){.units = PD_UNITS_SI}, "low taps");

    CU_ASSERT_PTR_NULL(strstr(page, "http"));
    CU_ASSERT_PTR_NULL(strstr(page, "src="));
    CU_ASSERT_PTR_NULL(strstr(page, "<script"));
    CU_ASSERT_PTR_NULL(strstr(page, "@import"));
    CU_ASSERT_EQUAL(markup_count(page, "href="), markup_count(page, "href=\"data:,\""));
}

/* 3.6 MJ = 1 kWh a day, 365 kWh a year; at 0.36 a kWh (1e-7 per J) 131.40 a year. */
static void figures_and_reasons_are_there(void)
{
    const char *page = written((struct page){.units = PD_UNITS_SI}, "short-cycling; low taps");

    CU_ASSERT(has(page, "<td>1.000</td>"));
    CU_ASSERT(has(page, "<td>365</td>"));
    CU_ASSERT(has(page, "<td>131.40</td>"));
    CU_ASSERT(has(page, "does not fit (short-cycling; low taps)"));
    CU_ASSERT(has(page, "Found: the figure: 200 kPa (at most 100 kPa would pass)."));
    CU_ASSERT(has(page, "for 3 s, 0.3 % of the time with a tap open"));
    CU_ASSERT(has(page, "starts once in the day"));
    CU_ASSERT(has(page, "Within every limit: flow-start, peak-only."));
    CU_ASSERT(has(page, "<h2>Cautions</h2>"));
    CU_ASSERT(has(page, "<h2>Assumptions and limits</h2>"));
    CU_ASSERT_PTR_NULL(strstr(page, "nan"));
}

/* Each fault there is gets one entry with a sentence of its own, its figure and where to look. */
static void every_fault_has_its_reason(void)
{
    for (int i = PD_FAULT_NONE + 1; i < PD_FAULT_COUNT; i++) {
        struct pd_findings findings = {.count = 1, .fails = 1};
        findings.list[0] = failing((enum pd_fault)i);
        const char *page = written_of((struct page){.units = PD_UNITS_SI}, &findings,
                                      pd_fault_name((enum pd_fault)i));
        const char *entry = strstr(strstr(page, "class=\"verdict fails\""), "<li>");
        CU_ASSERT_PTR_NOT_NULL_FATAL(entry);
        size_t figure = (size_t)(strstr(entry, " Found: the figure: 200 kPa") - entry);
        size_t end_of_entry = (size_t)(strstr(entry, "</li>") - entry);
        CU_ASSERT(figure > 20 && figure + 70 < end_of_entry);
        CU_ASSERT_PTR_NULL(strstr(page, "(null)"));
        CU_ASSERT(markup_is_balanced(page));
    }
}

/* Whatever else a day is said to be: over a finding that fails no page calls it fit. */
static void fit_is_what_the_findings_say(void)
{
    struct pd_findings findings = {.count = 1, .fails = 1};

    findings.list[0] = failing(PD_FAULT_TANK_RATING);
    const char *page = written_of((struct page){.units = PD_UNITS_SI}, &findings, "ok");
    CU_ASSERT(has(page, "Within every limit: flow-start, peak-only."));
    CU_ASSERT(has(page, "<td>does not fit</td><td>fits</td><td>fits</td>"));
    CU_ASSERT_PTR_NULL(strstr(page, "pressure-start: <span class=\"mark\">fits"));
}

/* What is missed but decides nothing stands with the strategy; a hair's miss would read as none. */
static void warnings_are_told(void)
{
    struct pd_findings findings = {.count = 3, .warnings = 3};

    findings.list[0] = failing(PD_FAULT_SHORT_RESTS);
    findings.list[0].level = PD_LEVEL_WARN;
    findings.list[1] = findings.list[0];
    findings.list[1].what = "a hair's miss";
    findings.list[1].found = 100.01e3;
    findings.list[2] = findings.list[0];
    findings.list[2].strategy = NULL;
    findings.list[2].fault = PD_FAULT_TANK_RATING;
    findings.list[2].sense = PD_SENSE_TELLS;
    const char *page = written_of((struct page){.units = PD_UNITS_SI}, &findings, "ok");
    CU_ASSERT(has(page, "decides nothing here: the figure: 200 kPa (at most 100 kPa would be "
                        "better).</p>"));
    CU_ASSERT_PTR_NULL(strstr(page, "a hair"));
    CU_ASSERT(has(page, "rated for is not known to this report: it can come under 200 kPa"));
}

/* A switch of two pressures stops by neither flow nor time: no word of them. */
static void the_control_that_was_run_is_told(void)
{
    const char *page = written((struct page){.units = PD_UNITS_SI}, "short-cycling");

    CU_ASSERT(has(page, "set value (300 kPa), and stops 7.0 s after the flow has fallen below "
                        "3.0 L/min."));
    CU_ASSERT(has(page, "a larger tank, a longer run-on."));
    control.stop_pressure = 480e3;
    page = written((struct page){.units = PD_UNITS_SI}, "short-cycling");
    CU_ASSERT(has(page, "set value (300 kPa), and stops when it has risen to 480 kPa."));
    CU_ASSERT(has(page, "start and stop pressures further apart."));
    CU_ASSERT_PTR_NULL(strstr(page, "a longer run-on"));
    CU_ASSERT_PTR_NULL(strstr(page, "stop flow"));
    control.stop_pressure = NAN;
}

/* The client's page: this day so many times is no year; five words explained; nothing about how the
 * integration went. */
static void words_are_those_of_a_client(void)
{
    static const char *const sets[] = {"tank.volume=8 L", "pressure_start.run_on=9 s"};
    struct page page = {.units = PD_UNITS_SI, .asked = 0.75, .sets = sets, .set_count = 2};

    (void)written(page, "low taps");
    CU_ASSERT(has(text, "1.000 kWh a day; 365 such days make 365 kWh"));
    CU_ASSERT_PTR_NULL(strstr(text, "in a year"));
    CU_ASSERT_PTR_NULL(strstr(text, "balance"));
    CU_ASSERT_EQUAL(markup_count(text, "<dt>"), 5);
    CU_ASSERT(has(text, "tank volume: 8 L<br>pressure start run on: 9 s"));
    // 750 L asked for, 500 L given
    CU_ASSERT(has(text, "<td>250.0 L</td><td>250.0 L</td><td>250.0 L</td>"));
    page.asked = 0.4;
    CU_ASSERT(has(written(page, "low taps"), "<td>none</td>"));
}

/* A limit of the client's own comes from no book. */
static void own_limits_have_no_item_name(void)
{
    limits.starts_source = "limit.starts_per_hour";
    const char *page = written((struct page){.units = PD_UNITS_SI}, "low taps");
    CU_ASSERT(has(page, "within any hour (asked for here)"));
    CU_ASSERT_PTR_NULL(strstr(page, "limit."));
    limits = pd_limits_for(&scenario);
}

/* A main drawn below the pressure of the air lets dirt in. */
static void main_drawn_down_is_told(void)
{
    static const char told[] = "below the pressure of the air, where a leak lets dirt in";

    CU_ASSERT_PTR_NULL(strstr(written((struct page){.units = PD_UNITS_SI}, "poor suction"), told));
    suction = -20e3;
    CU_ASSERT(has(written((struct page){.units = PD_UNITS_SI}, "poor suction"), told));
    CU_ASSERT(markup_is_balanced(text));
    // a cistern below the pump is sucked from, as it must be
    scenario.value[PD_SUPPLY_KIND] = PD_SUPPLY_CISTERN;
    CU_ASSERT_PTR_NULL(strstr(written((struct page){.units = PD_UNITS_SI}, "poor suction"), told));
    scenario.value[PD_SUPPLY_KIND] = PD_SUPPLY_MAIN;
    suction = 50e3;
}

/* 125 kPa = 18.1 psi: 1 psi = 6.894757 kPa (NIST SP 811, appendix B). */
static void us_units_reach_the_words(void)
{
    const char *page = written((struct page){.units = PD_UNITS_US}, "low taps");

    // 200 kPa are 29.0 psi
    CU_ASSERT(has(page, "Found: the figure: 29.0 psi (at most 14.5 psi would pass)"));
    CU_ASSERT(has(page, "<td>18.1</td>"));
    CU_ASSERT_PTR_NULL(strstr(page, "kPa"));
    CU_ASSERT_PTR_NULL(strstr(page, "L/min"));
}

static void foreign_text_stays_text(void)
{
    static const char *const sets[] = {"title=<i>&\"", "tank.volume=8 L"};
    struct page page = {
        .units = PD_UNITS_SI, .sets = sets, .set_count = 2, .no_charts = "no <gnuplot> & \"co\""};

    (void)snprintf(scenario.title, sizeof scenario.title, "</title><script>alert('x')</script>");
    (void)snprintf(scenario.currency, sizeof scenario.currency, "<b>");
    (void)written(page, "low taps");
    CU_ASSERT(markup_is_balanced(text));
    CU_ASSERT_PTR_NULL(strstr(text, "<script"));
    CU_ASSERT_PTR_NULL(strstr(text, "<b>"));
    CU_ASSERT_PTR_NULL(strstr(text, "<i>"));
    CU_ASSERT(has(text, "title: &lt;i&gt;&amp;&quot;<br>tank volume: 8 L"));
    CU_ASSERT(has(text, "There are no charts in this report: no &lt;gnuplot&gt; &amp;"));
}

static const char picture[] = "<svg viewBox=\"0 0 9 9\">\n<title>Gnuplot</title>\n<desc>x</desc>"
                              "<g id=\"canvas\"><text>a &lt; b</text></g></svg>\n";

/* A chart for each strategy and one for all; those that are not there are passed over. */
static void charts_are_images_with_words(void)
{
    static const char *const names[] = {"day-pressure-start.svg", "day-flow-start.svg",
                                        "hours.svg"};
    char folder[FOLDER_MOST], path[FOLDER_MOST];

    folder_make(folder);
    for (size_t i = 0; i < COUNT(names); i++) {
        FILE *file = fopen(folder_path(folder, names[i], path), "w");
        CU_ASSERT_PTR_NOT_NULL_FATAL(file);
        (void)fputs(picture, file);
        (void)fclose(file);
    }
    const char *page = written((struct page){.units = PD_UNITS_SI, .pictures = folder}, "low taps");
    CU_ASSERT(markup_is_balanced(page));
    CU_ASSERT(markup_ids_are_unique(page));
    CU_ASSERT_EQUAL(markup_count(page, "<figure"), 3);
    CU_ASSERT_EQUAL(markup_count(page, "role=\"img\""), 3);
    CU_ASSERT(has(page, "<title id=\"hours-title\">Pump cycles per hour</title>"));
    CU_ASSERT(has(page, "aria-labelledby=\"day-flow-start-title day-flow-start-description\""));
    CU_ASSERT_PTR_NULL(strstr(page, "There are no charts"));
    folder_remove(folder);
}

void suite_page(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("page", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, markup_is_sound);
    CU_ADD_TEST(suite, nothing_is_fetched);
    CU_ADD_TEST(suite, figures_and_reasons_are_there);
    CU_ADD_TEST(suite, every_fault_has_its_reason);
    CU_ADD_TEST(suite, fit_is_what_the_findings_say);
    CU_ADD_TEST(suite, warnings_are_told);
    CU_ADD_TEST(suite, the_control_that_was_run_is_told);
    CU_ADD_TEST(suite, words_are_those_of_a_client);
    CU_ADD_TEST(suite, own_limits_have_no_item_name);
    CU_ADD_TEST(suite, main_drawn_down_is_told);
    CU_ADD_TEST(suite, us_units_reach_the_words);
    CU_ADD_TEST(suite, foreign_text_stays_text);
    CU_ADD_TEST(suite, charts_are_images_with_words);
}
