/* The table for people. */
#include "present/table.h"

#include "output/sample_day.h"
#include "output/text_file.h"
#include "physics/near.h"

#include <CUnit/CUnit.h>

void suite_table(void);

/* Three days: the first with faults, the second and third without. */
static const char *written(enum pd_unit_system units, bool colour, char text[TEXT_MOST])
{
    struct pd_report_day days[PD_STRATEGIES_MOST];
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    for (size_t i = 0; i < pd_strategy_count; i++) {
        struct pd_day_result result = sample_result();
        result.strategy.kind = pd_strategies[i];
        days[i] = pd_report_day_for(&result, result.energy * 1e-7, 100e3, i > 0,
                                    i > 0 ? "ok" : "short-cycling; low taps");
    }
    pd_table_write(stream, days, pd_strategy_count, units, colour);
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

/* A two-pressure switch beside two others. */
static void what_does_not_count_is_not_shown(void)
{
    char text[TEXT_MOST];
    struct pd_report_day days[2];
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    for (size_t i = 0; i < 2; i++) {
        struct pd_day_result result = sample_result();
        result.strategy.stop_pressure = i == 0 ? 450e3 : (double)NAN;
        days[i] = pd_report_day_for(&result, result.energy * 1e-7, 100e3, true, "ok");
    }
    pd_table_write(stream, days, 2, PD_UNITS_SI, false);
    (void)stream_text(stream, text);
    (void)fclose(stream);
    CU_ASSERT(has_line(text, "  stop flow [L/min]                                      -"
                             "                 3.00\n"));
    CU_ASSERT(has_line(text, "  run-on [s]                                             -"
                             "                  7.0\n"));
    CU_ASSERT(has_line(text, "  stop pressure [kPa]                                  450"
                             "                    -\n"));
}

/* 0.36 of the scenario's money; a sign of three bytes takes one column. */
static void cost_has_its_currency(void)
{
    static const struct {
        const char *currency, *line;
    } table[] = {
        {NULL, "\n  cost                                                0.36\n"},
        {"", "\n  cost                                                0.36\n"},
        {"EUR", "\n  cost [EUR]                                          0.36\n"},
        {"\xE2\x82\xAC",
         "\n  cost [\xE2\x82\xAC]                                            0.36\n"},
    };
    char text[TEXT_MOST];

    for (size_t i = 0; i < COUNT(table); i++) {
        struct pd_day_result result = sample_result();
        struct pd_report_day day =
            pd_report_day_for(&result, result.energy * 1e-7, 100e3, true, "ok");
        FILE *stream = tmpfile();
        CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
        day.currency = table[i].currency;
        pd_table_write(stream, &day, 1, PD_UNITS_SI, false);
        CU_ASSERT(has_line(stream_text(stream, text), table[i].line));
        (void)fclose(stream);
    }
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
    CU_ADD_TEST(suite, what_does_not_count_is_not_shown);
    CU_ADD_TEST(suite, cost_has_its_currency);
    CU_ADD_TEST(suite, faults_stand_one_a_line);
    CU_ADD_TEST(suite, no_line_is_over_100_columns);
    CU_ADD_TEST(suite, colour_only_where_it_is_asked_for);
}
