/* Several scenarios: their totals against sums made here of each compared alone. */
#include <pumpday/compare.h>

#include "scenario/folder.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

void suite_compare_several(void);

enum { SCENARIOS = 2 };

static struct pd_scenario scenarios[SCENARIOS];
static struct pd_compared list[SCENARIOS];
static struct pd_comparison alone[SCENARIOS];

/* The smallest scenario as it is, and with a weaker supply at another price. */
static void begin(void)
{
    static const char *const sets[SCENARIOS][2] = {
        {"energy.price=0.3 EUR/kWh", "tank.volume=24 L"},
        {"energy.price=0.5 EUR/kWh", "supply.pressure=0.4 bar"},
    };
    struct pd_compare_options options = pd_compare_default();
    struct pd_error error = {.code = PD_DONE};
    struct pd_faults faults = {.count = 0};
    struct folder folder;

    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    for (size_t i = 0; i < SCENARIOS; i++) {
        CU_ASSERT_FATAL(pd_scenario_read(folder.path, sets[i], 2, &scenarios[i], &faults));
        CU_ASSERT_FATAL(pd_compare(&scenarios[i], &options, &alone[i], &error));
        list[i] = (struct pd_compared){.scenario = &scenarios[i],
                                       .name = i == 0 ? "week" : "sunday",
                                       .weight = i == 0 ? 5 : 2};
    }
    folder_remove(&folder);
    CU_ASSERT_FATAL(pd_compare_several(list, SCENARIOS, &options, &error));
}

static void end(void)
{
    for (size_t i = 0; i < SCENARIOS; i++) {
        pd_comparison_free(&list[i].comparison);
        pd_comparison_free(&alone[i]);
        pd_scenario_free(&scenarios[i]);
    }
}

/* Nothing of one day reaches another. */
static void each_is_as_it_is_alone(void)
{
    begin();
    for (size_t i = 0; i < SCENARIOS; i++) {
        CU_ASSERT_EQUAL_FATAL(list[i].comparison.count, alone[i].count);
        for (size_t k = 0; k < alone[i].count; k++) {
            const struct pd_day_result *a = &alone[i].row[k].result;
            const struct pd_day_result *b = &list[i].comparison.row[k].result;
            CU_ASSERT_EQUAL(a->starts, b->starts);
            CU_ASSERT_EQUAL(a->energy, b->energy);
            CU_ASSERT_STRING_EQUAL(alone[i].row[k].verdict, list[i].comparison.row[k].verdict);
        }
    }
    end();
}

static void totals_are_sums_of_so_many_days(void)
{
    begin();
    for (size_t k = 0; k < alone[0].count; k++) {
        const struct pd_comparison_row *a = &alone[0].row[k], *b = &alone[1].row[k];
        struct pd_total total = pd_compare_total(list, SCENARIOS, k);
        CU_ASSERT_EQUAL(total.days, 7);
        CU_ASSERT_EQUAL(total.failing, (a->good ? 0 : 5) + (b->good ? 0 : 2));
        CU_ASSERT_EQUAL(total.starts, 5 * a->result.starts + 2 * b->result.starts);
        CU_ASSERT_DOUBLE_EQUAL(total.energy, 5 * a->result.energy + 2 * b->result.energy,
                               1e-9 * total.energy);
        CU_ASSERT_DOUBLE_EQUAL(total.cost,
                               (5 * a->result.energy * 0.3 + 2 * b->result.energy * 0.5) / 3.6e6,
                               1e-9 * total.cost);
        CU_ASSERT_DOUBLE_EQUAL(total.delivered, 5 * a->result.delivered + 2 * b->result.delivered,
                               1e-12);
        CU_ASSERT_DOUBLE_EQUAL(total.run_time, 5 * a->result.run_time + 2 * b->result.run_time,
                               1e-6);
        CU_ASSERT_EQUAL(total.lowest_tap_pressure,
                        fmin(a->result.lowest_tap_pressure, b->result.lowest_tap_pressure));
        CU_ASSERT_EQUAL(total.highest_header_pressure,
                        fmax(a->result.highest_header_pressure, b->result.highest_header_pressure));
    }
    end();
}

/* Money of two kinds has no sum. */
static void two_currencies_have_no_sum(void)
{
    begin();
    CU_ASSERT(isfinite(pd_compare_total(list, SCENARIOS, 0).cost));
    (void)snprintf(scenarios[1].currency, sizeof scenarios[1].currency, "GBP");
    CU_ASSERT(isnan(pd_compare_total(list, SCENARIOS, 0).cost));
    CU_ASSERT(isfinite(pd_compare_total(list, SCENARIOS, 0).energy));
    end();
}

static void none_and_too_many_are_refused(void)
{
    struct pd_compare_options options = pd_compare_default();
    struct pd_error error = {.code = PD_DONE};

    CU_ASSERT_FALSE(pd_compare_several(list, 0, &options, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_USAGE);
    error.code = PD_DONE;
    CU_ASSERT_FALSE(pd_compare_several(list, PD_SCENARIOS_MOST + 1, &options, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_USAGE);
}

static bool deny(void *context)
{
    (void)context;
    return false;
}

/* What was compared before is freed: under the sanitizers a leak would be seen. */
static void an_interrupt_leaves_nothing(void)
{
    struct pd_compare_options options = pd_compare_default();
    struct pd_error error = {.code = PD_DONE};

    begin();
    struct pd_compared again[SCENARIOS] = {list[0], list[1]};
    options.day.go_on = deny;
    CU_ASSERT_FALSE(pd_compare_several(again, SCENARIOS, &options, &error));
    CU_ASSERT_EQUAL(error.code, PD_INTERRUPTED);
    end();
}

void suite_compare_several(void)
{
    CU_pSuite suite = CU_add_suite("compare_several", NULL, NULL);

    CU_ADD_TEST(suite, each_is_as_it_is_alone);
    CU_ADD_TEST(suite, totals_are_sums_of_so_many_days);
    CU_ADD_TEST(suite, two_currencies_have_no_sum);
    CU_ADD_TEST(suite, none_and_too_many_are_refused);
    CU_ADD_TEST(suite, an_interrupt_leaves_nothing);
}
