/* Options of a day outside of their limits are told at its door. */
#include "day/small_plant.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

void suite_day_options(void);

static enum pd_answer no_row(void *context, const struct pd_trace_row *row)
{
    (void)context;
    (void)row;
    return PD_GO_ON;
}

/* Runs the small plant's day; true if it is refused for the option of a name, and nothing ran. */
static bool is_refused(const struct pd_day_options *options, const char *name)
{
    struct small_plant small;
    struct pd_error error = {.code = PD_DONE}, asked = {.code = PD_DONE};
    struct pd_day_result result = {.starts = -7};

    small_begin(&small);
    CU_ASSERT(pd_plant_build(&small.scenario, &small.plant, &error));
    small.strategy = pd_strategy_for(pd_strategy_find("pressure-start"), &small.plant);
    bool ran = pd_day_run(small.day, &small.plant, &small.strategy, options, &result, &error);
    small_end(&small);
    CU_ASSERT_EQUAL(pd_day_options_check(options, &asked), ran);
    if (!ran) {
        CU_ASSERT_EQUAL(error.code, PD_BAD_USAGE);
        CU_ASSERT_EQUAL(result.starts, -7);
        CU_ASSERT_STRING_EQUAL(asked.text, error.text);
        CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "expected"));
    }
    return !ran && strcmp(error.item, name) == 0;
}

/* An option, a value, and whether it is outside. */
static const struct {
    const char *name;
    size_t offset;
    double value;
    bool outside;
} table[] = {
#define OPTION(name, value, outside)                                                               \
    {                                                                                              \
#name, offsetof(struct pd_day_options, name), value, outside                               \
    }
    OPTION(relative_tolerance, -1, true),
    OPTION(relative_tolerance, 0, true),
    OPTION(relative_tolerance, NAN, true),
    OPTION(relative_tolerance, INFINITY, true),
    OPTION(relative_tolerance, 9e-10, true),
    OPTION(relative_tolerance, 1.1e-3, true),
    OPTION(relative_tolerance, 1e-3, false),
    OPTION(until, -1, true),
    OPTION(until, NAN, true),
    OPTION(until, 86401, true),
    OPTION(until, 0, false),
    OPTION(until, 3600, false),
    OPTION(trace_every, -10, true),
    OPTION(trace_every, NAN, true),
    OPTION(trace_every, INFINITY, true),
    OPTION(trace_every, 1e-9, true),
    OPTION(trace_every, 86401, true),
    OPTION(trace_every, 0, false),
    OPTION(trace_every, 3600, false),
    OPTION(trace_from, -1, true),
    OPTION(trace_from, NAN, true),
    OPTION(trace_from, INFINITY, true),
    OPTION(trace_from, 3600, false),
    OPTION(trace_to, -1, true),
    OPTION(trace_to, NAN, true),
    OPTION(trace_to, INFINITY, true),
    OPTION(trace_to, 0, false),
    OPTION(trace_to, 3600, false),
};

static void outside_is_refused(void)
{
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        struct pd_day_options options = pd_day_default();
        options.trace = no_row;
        memcpy((char *)&options + table[i].offset, &table[i].value, sizeof table[i].value);
        CU_ASSERT_EQUAL(is_refused(&options, table[i].name), table[i].outside);
    }
}

static void windows_and_steps_are_refused(void)
{
    struct pd_day_options options = pd_day_default();

    options.trace_from = 7200;
    options.trace_to = 3600;
    CU_ASSERT(is_refused(&options, "trace_to"));
    options = pd_day_default();
    options.most_steps = 0;
    CU_ASSERT(is_refused(&options, "most_steps"));
    options.most_steps = -5;
    CU_ASSERT(is_refused(&options, "most_steps"));
}

void suite_day_options(void)
{
    CU_pSuite suite = CU_add_suite("day_options", NULL, NULL);

    CU_ADD_TEST(suite, outside_is_refused);
    CU_ADD_TEST(suite, windows_and_steps_are_refused);
}
