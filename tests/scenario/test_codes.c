/* Whose published limits hold, and that a scenario's own go before them. */
#include "scenario/codes.h"

#include <CUnit/CUnit.h>
#include <math.h>

void suite_codes(void);

static const double psi = 6894.757; /* Pa; NIST SP 811 */

static struct pd_scenario with(const char *const *sets, size_t count)
{
    struct pd_scenario scenario = pd_scenario_default();
    struct pd_faults faults = {0};

    for (size_t i = 0; i < count; i++) {
        CU_ASSERT_TRUE(pd_scenario_set(&scenario, sets[i], &faults));
    }
    return scenario;
}

static double limit_with(enum pd_item item, const char *first, const char *second)
{
    const char *const sets[] = {first, second};

    return with(sets, second != NULL ? 2 : 1).value[item];
}

/* UPC 608.2 and IPC 604.8: 80 psi; EN 806-2: 500 kPa at rest, EN 806-3: 100 kPa under draw, both
 * from memory. */
static void each_has_its_limits(void)
{
    CU_ASSERT_DOUBLE_EQUAL(limit_with(PD_LIMIT_STATIC_PRESSURE, "limit.codes=us", NULL), 80 * psi,
                           0.1);
    CU_ASSERT_DOUBLE_EQUAL(limit_with(PD_LIMIT_TAP_PRESSURE, "limit.codes=us", NULL), 15 * psi,
                           0.1);
    CU_ASSERT_EQUAL(limit_with(PD_LIMIT_STATIC_PRESSURE, "limit.codes=european", NULL), 5e5);
    CU_ASSERT_EQUAL(limit_with(PD_LIMIT_TAP_PRESSURE, "limit.codes=european", NULL), 1e5);
    CU_ASSERT_EQUAL(limit_with(PD_LIMIT_STATIC_PRESSURE, "limit.codes=none", NULL),
                    (double)INFINITY);
    CU_ASSERT_EQUAL(limit_with(PD_LIMIT_TAP_PRESSURE, "limit.codes=none", NULL), 0);
}

static void an_own_limit_goes_before_them_whatever_the_order(void)
{
    CU_ASSERT_EQUAL(
        limit_with(PD_LIMIT_STATIC_PRESSURE, "limit.static_pressure=6 bar", "limit.codes=european"),
        6e5);
    CU_ASSERT_EQUAL(
        limit_with(PD_LIMIT_STATIC_PRESSURE, "limit.codes=european", "limit.static_pressure=6 bar"),
        6e5);
    CU_ASSERT_EQUAL(
        limit_with(PD_LIMIT_TAP_PRESSURE, "limit.codes=european", "limit.tap_pressure=none"), 1e5);
}

/* What is wanted is asked for where it is more than the limit, and is told as the reason. */
static void the_pressure_wanted_goes_before_a_lower_limit(void)
{
    const char *const more[] = {"demand.wanted_pressure=2 bar", "limit.tap_pressure=1.5 bar"};
    const char *const less[] = {"demand.wanted_pressure=1 bar", "limit.tap_pressure=1.5 bar"};
    const char *const unsaid[] = {"limit.codes=european"};
    struct pd_scenario scenario = with(more, 2);

    CU_ASSERT_EQUAL(pd_codes_tap_pressure(&scenario), 2e5);
    CU_ASSERT_STRING_EQUAL(pd_codes_tap_source(&scenario), "demand.wanted_pressure");
    scenario = with(less, 2);
    CU_ASSERT_EQUAL(pd_codes_tap_pressure(&scenario), 1.5e5);
    CU_ASSERT_STRING_EQUAL(pd_codes_tap_source(&scenario), "limit.tap_pressure");
    scenario = with(unsaid, 1);
    CU_ASSERT_EQUAL(pd_codes_tap_pressure(&scenario), 1e5);
    CU_ASSERT_STRING_EQUAL(pd_codes_tap_source(&scenario), "EN 806-3; from memory");
}

/* `none` is a choice here; an empty value alone brings the default back. */
static void none_is_nobody(void)
{
    const char *const none[] = {"limit.codes=none"};
    const char *const empty[] = {"limit.codes=none", "limit.codes="};

    CU_ASSERT_EQUAL(with(none, 1).value[PD_LIMIT_CODES], PD_CODES_NONE);
    CU_ASSERT_TRUE(with(none, 1).given[PD_LIMIT_CODES]);
    CU_ASSERT_EQUAL(with(empty, 2).value[PD_LIMIT_CODES], PD_CODES_US);
    CU_ASSERT_DOUBLE_EQUAL(with(empty, 2).value[PD_LIMIT_STATIC_PRESSURE], 80 * psi, 0.1);
}

void suite_codes(void)
{
    CU_pSuite suite = CU_add_suite("codes", NULL, NULL);

    CU_ADD_TEST(suite, each_has_its_limits);
    CU_ADD_TEST(suite, an_own_limit_goes_before_them_whatever_the_order);
    CU_ADD_TEST(suite, the_pressure_wanted_goes_before_a_lower_limit);
    CU_ADD_TEST(suite, none_is_nobody);
}
