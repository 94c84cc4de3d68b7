/* The table for people. */
#include "report/table.h"

#include "report/sample_day.h"
#include "report/text_file.h"

#include <CUnit/CUnit.h>

void suite_table(void);

/* Three days: the first with faults, the second and third without. */
static const char *written(enum pd_unit_system units, bool colour, char text[TEXT_MOST])
{
    struct pd_report_day days[PD_STRATEGY_COUNT];
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    for (size_t i = 0; i < PD_STRATEGY_COUNT; i++) {
        struct pd_day_result result = sample_result();
        result.strategy.kind = pd_strategies[i];
        days[i] = pd_report_day_for(&result, 1e-7, 100e3, i > 0,
                                    i > 0 ? "ok" : "short-cycling; low taps");
    }
    pd_table_write(stream, days, PD_STRATEGY_COUNT, units, colour);
    (void)stream_text(stream, text);
    (void)fclose(stream);
    return text;
}

static bool has_line(const char *text, const char *line)
{
    if (strstr(text, line) != NULL) {
        return true;
    }
    (void)printf("\n      no \"%s\" in\n%s", line, text);
    return false;
}

static void figures_stand_under_their_strategies(void)
{
    char text[TEXT_MOST];

    (void)written(PD_UNITS_SI, false, text);
    CU_ASSERT(has_line(text, "       pressure-start           flow-start            peak-only\n"));
    CU_ASSERT(has_line(text, "  start pressure [kPa]                                 300"));
    CU_ASSERT(has_line(text, "  lowest tap pressure [kPa]                            125"));
    CU_ASSERT(has_line(text, "  energy [kWh]                                       1.000"));
    (void)written(PD_UNITS_US, false, text);
    CU_ASSERT(has_line(text, "  lowest tap pressure [psi]                           18.1"));
}

/* Neither a setting that no strategy has, nor a sign before what rounds to nothing. */
static void what_says_nothing_is_left_out(void)
{
    char text[TEXT_MOST];

    (void)written(PD_UNITS_SI, false, text);
    CU_ASSERT_PTR_NULL(strstr(text, "stop pressure"));
    CU_ASSERT_PTR_NULL(strstr(text, "-0.0000"));
    CU_ASSERT_PTR_NULL(strstr(text, "nan"));
}

static void faults_stand_one_a_line(void)
{
    char text[TEXT_MOST];

    (void)written(PD_UNITS_SI, false, text);
    CU_ASSERT(has_line(text, "        short-cycling                   ok                   ok\n"));
    CU_ASSERT(has_line(text, "             low taps                                          \n"));
}

static void no_line_is_over_100_columns(void)
{
    char text[TEXT_MOST];

    for (const char *at = written(PD_UNITS_US, false, text); *at != '\0';) {
        size_t length = strcspn(at, "\n");
        CU_ASSERT(length <= 100);
        at += length + 1;
    }
}

/* ECMA-48: 31 red, 32 green, 0 as before. */
static void colour_only_where_it_is_asked_for(void)
{
    char text[TEXT_MOST];

    CU_ASSERT_PTR_NULL(strchr(written(PD_UNITS_SI, false, text), '\x1b'));
    (void)written(PD_UNITS_SI, true, text);
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\x1b[31mshort-cycling\x1b[0m"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\x1b[32mok\x1b[0m"));
}

void suite_table(void)
{
    CU_pSuite suite = CU_add_suite("table", NULL, NULL);

    CU_ADD_TEST(suite, figures_stand_under_their_strategies);
    CU_ADD_TEST(suite, what_says_nothing_is_left_out);
    CU_ADD_TEST(suite, faults_stand_one_a_line);
    CU_ADD_TEST(suite, no_line_is_over_100_columns);
    CU_ADD_TEST(suite, colour_only_where_it_is_asked_for);
}
