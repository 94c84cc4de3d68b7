/* The page for a client: its markup, its words, and that nothing in it is fetched. */
#include "report/page.h"

#include "physics/near.h"
#include "report/folder.h"
#include "report/markup.h"
#include "report/sample_day.h"
#include "report/text_file.h"

#include <CUnit/CUnit.h>

void suite_page(void);

static struct pd_scenario scenario;
static struct pd_plant plant;
static struct pd_limits limits;
static char text[MARKUP_TEXT_MOST];
static double suction = 50e3; /* Pa gauge, the lowest of the three days */

static void begin(void)
{
    struct pd_faults faults = {.count = 0};
    struct pd_error error = {.code = PD_DONE};

    CU_ASSERT_FATAL(pd_scenario_read("scenarios/hillside-house", NULL, 0, &scenario, &faults));
    CU_ASSERT_FATAL(pd_plant_build(&scenario, &plant, &error));
    limits = pd_limits_for(&scenario);
}

static void end(void)
{
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
}

/* The page of three days whose first has a verdict of its own, with what a test changes in it. */
static const char *written(struct page page, const char *verdict)
{
    struct pd_report_day days[PD_STRATEGY_COUNT];
    struct pd_error error = {.code = PD_DONE};
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    for (size_t i = 0; i < PD_STRATEGY_COUNT; i++) {
        struct pd_day_result result = sample_result();
        result.strategy.kind = pd_strategies[i];
        result.lowest_suction_pressure = suction;
        days[i] = pd_report_day_for(&result, 1e-7, 100e3, i > 0, i > 0 ? "ok" : verdict);
    }
    page.scenario = &scenario;
    page.plant = &plant;
    page.limits = &limits;
    page.days = days;
    page.count = PD_STRATEGY_COUNT;
    CU_ASSERT(page_write(stream, &page, &error));
    rewind(stream);
    size_t length = fread(text, 1, sizeof text - 1, stream);
    text[length] = '\0';
    (void)fclose(stream);
    return text;
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
    CU_ASSERT(has(page, "starts once in the day (at most 300 pass)"));
    CU_ASSERT(has(page, "below 100 kPa for 3 s, 0.3 % of that time; the lowest is 125 kPa"));
    CU_ASSERT(has(page, "Within every limit: flow-start, peak-only."));
    CU_ASSERT(has(page, "<h2>Cautions</h2>"));
    CU_ASSERT(has(page, "<h2>Assumptions and limits</h2>"));
    CU_ASSERT_PTR_NULL(strstr(page, "nan"));
}

/* The words of pd_verdict: each gets a reason and where to look, not just its own words. */
static void every_verdict_has_its_reason(void)
{
    static const char *const words[] = {
        "chatters",   "short-cycling", "over-pressure", "never starts", "never stops",
        "locked out", "suction trips", "poor suction",  "low taps",     "moves no water"};
    char bare[64];

    for (size_t i = 0; i < COUNT(words); i++) {
        const char *page = written((struct page){.units = PD_UNITS_SI}, words[i]);
        (void)snprintf(bare, sizeof bare, "<li>%s</li>", words[i]);
        CU_ASSERT_PTR_NULL(strstr(page, bare));
        CU_ASSERT(markup_is_balanced(page));
    }
    // words it does not know stay as they are
    CU_ASSERT(has(written((struct page){.units = PD_UNITS_SI}, "melts & burns"),
                  "<li>melts &amp; burns</li>"));
}

/* A main drawn below the pressure of the air is told, though no limit asks for it. */
static void main_drawn_down_is_told(void)
{
    CU_ASSERT_PTR_NULL(strstr(written((struct page){.units = PD_UNITS_SI}, "ok"), "Mind the"));
    suction = -20e3;
    CU_ASSERT(strstr(written((struct page){.units = PD_UNITS_SI}, "ok"), "Mind the") != NULL);
    CU_ASSERT(has(text, "falls to -20 kPa, below that of the air"));
    CU_ASSERT(markup_is_balanced(text));
    // a cistern below the pump is sucked from, as it must be
    scenario.value[PD_SUPPLY_KIND] = PD_SUPPLY_CISTERN;
    CU_ASSERT_PTR_NULL(strstr(written((struct page){.units = PD_UNITS_SI}, "ok"), "Mind the"));
    scenario.value[PD_SUPPLY_KIND] = PD_SUPPLY_MAIN;
    suction = 50e3;
}

/* 125 kPa = 18.1 psi: 1 psi = 6.894757 kPa (NIST SP 811, appendix B). */
static void us_units_reach_the_words(void)
{
    const char *page = written((struct page){.units = PD_UNITS_US}, "low taps");

    CU_ASSERT(has(page, "the lowest is 18.1 psi"));
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
    CU_ASSERT(has(text, "title=&lt;i&gt;&amp;&quot;<br>tank.volume=8 L"));
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
    CU_ADD_TEST(suite, every_verdict_has_its_reason);
    CU_ADD_TEST(suite, main_drawn_down_is_told);
    CU_ADD_TEST(suite, us_units_reach_the_words);
    CU_ADD_TEST(suite, foreign_text_stays_text);
    CU_ADD_TEST(suite, charts_are_images_with_words);
}
