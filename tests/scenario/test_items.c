/* The table of items holds together, and its defaults are those of the trade. */
#include <pumpday/scenario.h>

#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

void suite_items(void);

static void test_rows_are_whole(void)
{
    for (int i = 0; i < PD_ITEM_COUNT; i++) {
        const struct pd_item_row *row = &pd_items[i];
        CU_ASSERT_PTR_NOT_NULL_FATAL(row->name);
        CU_ASSERT_PTR_NOT_NULL_FATAL(row->unit);
        CU_ASSERT_PTR_NOT_NULL_FATAL(row->help);
        // each name once: the search finds this row and none before it
        CU_ASSERT_EQUAL(pd_item_find(row->name), i);
        CU_ASSERT_TRUE(!pd_kind_needs_unit(row->kind) || pd_unit_find(row->kind, row->unit));
        CU_ASSERT_EQUAL(row->kind == PD_KIND_CHOICE, row->choices != NULL);
        CU_ASSERT_TRUE(strlen(row->help) > 10 && row->help[strlen(row->help) - 1] == '.');
        // the template and the list put these texts in quotes
        CU_ASSERT_PTR_NULL(strchr(row->help, '"'));
        CU_ASSERT_TRUE(row->worked_out == NULL || strchr(row->worked_out, '"') == NULL);
    }
}

static void test_defaults_are_within_limits(void)
{
    for (int i = 0; i < PD_ITEM_COUNT; i++) {
        const struct pd_item_row *row = &pd_items[i];
        if (row->kind == PD_KIND_TEXT || row->kind == PD_KIND_CHOICE) {
            continue;
        }
        CU_ASSERT_TRUE(row->least < row->most);
        CU_ASSERT_TRUE(isnan(row->fallback) ||
                       (row->fallback >= row->least && row->fallback <= row->most));
        CU_ASSERT_TRUE(isnan(row->fallback) || row->worked_out == NULL);
    }
}

static void test_default_scenario(void)
{
    struct pd_scenario scenario = pd_scenario_default();
    CU_ASSERT_EQUAL(scenario.value[PD_SITE_ALTITUDE], 0);
    CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_WATER_TEMPERATURE], 288.15, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_DEMAND_REFERENCE_PRESSURE], 3e5, 1e-6);
    CU_ASSERT_EQUAL(scenario.value[PD_TANK_GAS], PD_GAS_THERMAL);
    // common practice, no source: 1 and 0.8 US gal/min, 7 s, 80 psi, 15 psi
    CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_FLOW_START_START_FLOW], 3.785411784e-3 / 60, 1e-15);
    CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_FLOW_START_STOP_FLOW], 0.8 * 3.785411784e-3 / 60,
                           1e-15);
    CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_PRESSURE_START_STOP_FLOW], 0.8 * 3.785411784e-3 / 60,
                           1e-15);
    CU_ASSERT_EQUAL(scenario.value[PD_PEAK_ONLY_RUN_ON], 7);
    CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_LIMIT_STATIC_PRESSURE], 80 * 6894.757, 0.1);
    CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_LIMIT_TAP_PRESSURE], 15 * 6894.757, 0.1);
    CU_ASSERT_EQUAL(scenario.value[PD_DAY_WARM_UP], 7200);
    // worked out later, or off
    CU_ASSERT_TRUE(isnan(scenario.value[PD_PRESSURE_START_START]));
    CU_ASSERT_TRUE(isnan(scenario.value[PD_PEAK_ONLY_STOP_FLOW]));
    CU_ASSERT_TRUE(isnan(scenario.value[PD_GUARD_LOW_SUCTION]));
    CU_ASSERT_TRUE(isnan(scenario.value[PD_SUPPLY_KIND]));
    CU_ASSERT_EQUAL(scenario.draw_count, 0);
    CU_ASSERT_PTR_NULL(scenario.draws);
}

static void test_nearest(void)
{
    CU_ASSERT_EQUAL(pd_item_find("nothing"), PD_ITEM_COUNT);
    CU_ASSERT_EQUAL(pd_item_find("Tank.Volume"), PD_TANK_VOLUME);
    CU_ASSERT_STRING_EQUAL(pd_item_nearest("tank.volum"), "tank.volume");
    CU_ASSERT_STRING_EQUAL(pd_item_nearest("tnak_volume"), "tank.volume");
    CU_ASSERT_STRING_EQUAL(pd_item_nearest("precharge"), "tank.precharge");
    CU_ASSERT_PTR_NULL(pd_item_nearest("xyzzy"));
    CU_ASSERT_PTR_NULL(pd_item_nearest(""));
}

/* What is bought or set is chosen; the house and the main are as they are found. */
static void test_choices(void)
{
    static const char *const chosen[] = {"tank.volume", "peak_only.run_on", "guard.delay",
                                         "limit.tap_pressure", "supply.reducing_valve"};
    static const char *const found[] = {"title",      "supply.offset", "tank.time_constant",
                                        "house.leak", "tank.sizes",    "demand.wanted_pressure",
                                        "day.warm_up"};

    for (size_t i = 0; i < sizeof chosen / sizeof *chosen; i++) {
        CU_ASSERT_TRUE(pd_item_is_chosen(pd_item_find(chosen[i])));
    }
    for (size_t i = 0; i < sizeof found / sizeof *found; i++) {
        CU_ASSERT_NOT_EQUAL(pd_item_find(found[i]), PD_ITEM_COUNT);
        CU_ASSERT_FALSE(pd_item_is_chosen(pd_item_find(found[i])));
    }
    CU_ASSERT_FALSE(pd_item_is_chosen(PD_ITEM_COUNT));
    // all that a strategy is set by, and nothing of the pump's traits
    for (int i = 0; i < PD_ITEM_COUNT; i++) {
        CU_ASSERT_TRUE(pd_items[i].name != strstr(pd_items[i].name, "pressure_start.") ||
                       pd_item_is_chosen((enum pd_item)i));
        CU_ASSERT_FALSE(pd_items[i].name == strstr(pd_items[i].name, "pump.") &&
                        pd_item_is_chosen((enum pd_item)i));
    }
}

void suite_items(void)
{
    CU_pSuite suite = CU_add_suite("items", NULL, NULL);
    CU_add_test(suite, "rows are whole", test_rows_are_whole);
    CU_add_test(suite, "defaults are within limits", test_defaults_are_within_limits);
    CU_add_test(suite, "the default scenario", test_default_scenario);
    CU_add_test(suite, "choices", test_choices);
    CU_add_test(suite, "the nearest name", test_nearest);
}
