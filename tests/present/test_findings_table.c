/* The table of a check fits its width, and its CSV holds what the lines hold. */
#include "output/amount.h"
#include "present/findings_table.h"
#include "present/limits_text.h"

#include "output/text_file.h"

#include <CUnit/CUnit.h>
#include <math.h>

void suite_findings_table(void);

static struct pd_findings sample(void)
{
    struct pd_findings findings = {.count = 3, .fails = 1, .warnings = 1};

    findings.list[0] = (struct pd_finding){
        .what = "static pressure at the lowest fixture",
        .kind = PD_KIND_PRESSURE,
        .found = 4e5,
        .sense = PD_SENSE_AT_MOST,
        .limit = 5.515806e5,
        .source = "UPC 608.2, IPC 604.8",
    };
    findings.list[1] = (struct pd_finding){
        .level = PD_LEVEL_WARN,
        .what = "suction cut-off",
        .kind = PD_KIND_PRESSURE,
        .found = NAN,
        .words = "none",
        .sense = PD_SENSE_AT_LEAST,
        .limit = 34.47379e3,
        .source = "a source of many words that has to go on in the line below it, and once more",
        .note = "words, more words",
    };
    findings.list[2] = (struct pd_finding){
        .level = PD_LEVEL_FAIL,
        .strategy = "flow-start",
        .what = "starts in the day",
        .kind = PD_KIND_STARTS,
        .found = 301,
        .sense = PD_SENSE_AT_MOST,
        .limit = 300,
        .source = "here",
        .note = "a note that is so long that it does not fit the width of the table and has to go "
                "on in a line of its own below",
    };
    return findings;
}

static size_t longest_line(const char *text)
{
    size_t longest = 0;

    for (const char *at = text; *at != '\0';) {
        size_t length = strcspn(at, "\n");
        longest = length > longest ? length : longest;
        at += length + (at[length] == '\n');
    }
    return longest;
}

static bool has(const char *text, const char *words)
{
    if (strstr(text, words) != NULL) {
        return true;
    }
    (void)printf("\n      no \"%s\" in\n%s", words, text);
    return false;
}

static void table_within_its_width(void)
{
    struct pd_findings findings = sample();
    char text[TEXT_MOST];
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_findings_write_table(stream, &findings, PD_UNITS_US, false);
    (void)stream_text(stream, text);
    (void)fclose(stream);
    CU_ASSERT(longest_line(text) <= 100);
    CU_ASSERT(has(text, "the installation\nok    static"));
    // 5.515806 bar are 80 psi, 34.47379 kPa are 5 psi
    CU_ASSERT(has(text, "58.0 psi    <= 80.0 psi"));
    CU_ASSERT(has(text, "none        >= 5.0 psi"));
    CU_ASSERT(has(text, "\n\nflow-start\nfail  starts in the day"));
    CU_ASSERT(has(text, "once more\n"));
    CU_ASSERT(has(text, "own below\n"));
    CU_ASSERT_PTR_NULL(strchr(text, '\x1b'));
}

/* A flow that fills its cell has a space behind it all the same. */
static void long_figures_stand_apart(void)
{
    struct pd_findings findings = {.count = 1};
    char text[TEXT_MOST];
    FILE *stream = tmpfile();

    findings.list[0] = (struct pd_finding){
        .what = "usual flow of the pump",
        .kind = PD_KIND_FLOW,
        .found = 9.9 / 60,
        .sense = PD_SENSE_AT_MOST,
        .limit = 10.0 / 60,
        .source = "last point of pump.csv",
    };
    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_findings_write_table(stream, &findings, PD_UNITS_SI, false);
    (void)stream_text(stream, text);
    (void)fclose(stream);
    CU_ASSERT(has(text, "9900.0 L/min <= 10000.0 L/min last point"));
}

static void colours_when_asked(void)
{
    struct pd_findings findings = sample();
    char text[TEXT_MOST];
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_findings_write_table(stream, &findings, PD_UNITS_SI, true);
    (void)stream_text(stream, text);
    (void)fclose(stream);
    CU_ASSERT(has(text, "\x1b[31mfail\x1b[0m  starts"));
}

static void csv_of_the_lines(void)
{
    struct pd_findings findings = sample();
    char text[TEXT_MOST];
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_findings_write_csv(stream, &findings, PD_UNITS_SI);
    (void)stream_text(stream, text);
    (void)fclose(stream);
    CU_ASSERT(has(text, "strategy,what,found,unit,sense,limit,source,level,note\n"));
    CU_ASSERT(has(text, "\n,static pressure at the lowest fixture,400,kPa,at most,551.581,"
                        "\"UPC 608.2, IPC 604.8\",ok,\n"));
    CU_ASSERT(has(text, ",none,kPa,at least,34.4738,"));
    CU_ASSERT(has(text, "flow-start,starts in the day,301,,at most,300,here,fail,"));
}

/* "at most inf starts" is no sentence. */
static void limits_that_nobody_sets(void)
{
    struct pd_limits limits = {
        .starts_per_hour = INFINITY,
        .starts_per_day = 300,
        .shortest_run = -INFINITY,
        .static_pressure = 5e5,
        .tap_pressure = 1e5,
        .starts_source = "nobody",
        .day_source = "somebody",
    };
    char text[TEXT_MOST];
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_limits_write(stream, "judged by", &limits, PD_UNITS_SI);
    (void)stream_text(stream, text);
    (void)fclose(stream);
    CU_ASSERT(same_text(text, "judged by: any number of starts in an hour (nobody),\n"
                              "  300 in the day (somebody),\n"
                              "  runs of any length, header up to 500 kPa,\n"
                              "  taps at least 100 kPa for 99 % of the time a tap is open\n"));
}

static void amounts(void)
{
    char text[PD_AMOUNT_MOST];

    pd_amount_text(text, PD_KIND_PRESSURE, PD_UNITS_SI, -300);
    CU_ASSERT(same_text(text, "0 kPa"));
    pd_amount_text(text, PD_KIND_PRESSURE, PD_UNITS_SI, 328e3);
    CU_ASSERT(same_text(text, "328 kPa"));
    // a bore is no length of pipe
    pd_amount_text(text, PD_KIND_BORE, PD_UNITS_US, 0.0254);
    CU_ASSERT(same_text(text, "1.00 in"));
    pd_amount_text(text, PD_KIND_LENGTH, PD_UNITS_US, 30.48);
    CU_ASSERT(same_text(text, "100 ft"));
    pd_amount_text(text, PD_KIND_VELOCITY, PD_UNITS_US, 2.4384);
    CU_ASSERT(same_text(text, "8.0 ft/s"));
    pd_amount_text(text, PD_KIND_TIME, PD_UNITS_SI, NAN);
    CU_ASSERT(same_text(text, "-"));
    pd_amount_text(text, PD_KIND_STARTS, PD_UNITS_SI, 10422);
    CU_ASSERT(same_text(text, "10422"));
    pd_amount_text(text, PD_KIND_STARTS, PD_UNITS_SI, 11.08333);
    CU_ASSERT(same_text(text, "11.08"));
    // every kind with a unit is shown in one that the program knows
    for (int kind = 0; kind < PD_KIND_COUNT; kind++) {
        for (int units = PD_UNITS_SI; units <= PD_UNITS_US; units++) {
            const char *unit = pd_amount_unit((enum pd_kind)kind, (enum pd_unit_system)units);
            CU_ASSERT(unit != NULL && (!pd_kind_needs_unit((enum pd_kind)kind) ||
                                       pd_unit_find((enum pd_kind)kind, unit) != NULL));
        }
    }
}

void suite_findings_table(void)
{
    CU_pSuite suite = CU_add_suite("check table", NULL, NULL);

    CU_ADD_TEST(suite, table_within_its_width);
    CU_ADD_TEST(suite, long_figures_stand_apart);
    CU_ADD_TEST(suite, colours_when_asked);
    CU_ADD_TEST(suite, csv_of_the_lines);
    CU_ADD_TEST(suite, limits_that_nobody_sets);
    CU_ADD_TEST(suite, amounts);
}
