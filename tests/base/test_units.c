/* Units against their published conversions. */
#include <pumpday/units.h>

#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

void suite_units(void);

/* One of `unit` in SI, and to how much of itself the published number is rounded. */
struct conversion {
    enum pd_kind kind;
    const char *unit;
    double value, si, rounding;
};

static const struct conversion conversions[] = {
    // NIST Special Publication 811 (2008), appendix B.8
    {PD_KIND_PRESSURE, "psi", 1, 6.894757e3, 1e-7},
    {PD_KIND_PRESSURE, "ft", 1, 2.989067e3, 1e-7}, // foot of water, conventional
    {PD_KIND_PRESSURE, "m", 1, 9.80665e3, 1e-12},  // metre of water, conventional
    {PD_KIND_PRESSURE, "bar", 1, 1e5, 1e-15},
    {PD_KIND_PRESSURE, "mbar", 1, 1e2, 1e-15},
    {PD_KIND_LENGTH, "in", 1, 2.54e-2, 1e-15},
    {PD_KIND_LENGTH, "ft", 1, 3.048e-1, 1e-15},
    {PD_KIND_AREA, "ft2", 1, 9.290304e-2, 1e-12},
    {PD_KIND_VOLUME, "gal", 1, 3.785411784e-3, 1e-12}, // US gallon, exact (appendix B.6 note)
    {PD_KIND_FLOW, "gpm", 1, 6.309020e-5, 1e-7},
    {PD_KIND_POWER, "hp", 1, 7.456999e2, 1e-7}, // 550 ft lbf/s
    {PD_KIND_ENERGY, "kWh", 1, 3.6e6, 1e-15},
    {PD_KIND_ENERGY, "Wh", 1, 3.6e3, 1e-15},
    {PD_KIND_TEMPERATURE, "degF", 68, 293.15, 1e-12},
    {PD_KIND_TEMPERATURE, "degC", 20, 293.15, 1e-12},
    // the SI's own prefixes, litre and hour
    {PD_KIND_PRESSURE, "kPa", 1, 1e3, 1e-15},
    {PD_KIND_PRESSURE, "MPa", 1, 1e6, 1e-15},
    {PD_KIND_PRESSURE, "GPa", 1, 1e9, 1e-15},
    {PD_KIND_PRESSURE, "Pa", 1, 1, 1e-15},
    {PD_KIND_FLOW, "L/min", 60, 1e-3, 1e-15},
    {PD_KIND_FLOW, "L/s", 1, 1e-3, 1e-15},
    {PD_KIND_FLOW, "L/h", 3600, 1e-3, 1e-15},
    {PD_KIND_FLOW, "m3/h", 3600, 1, 1e-15},
    {PD_KIND_FLOW, "m3/s", 1, 1, 1e-15},
    {PD_KIND_VOLUME, "L", 1, 1e-3, 1e-15},
    {PD_KIND_VOLUME, "mL", 1, 1e-6, 1e-15},
    {PD_KIND_LENGTH, "mm", 1, 1e-3, 1e-15},
    {PD_KIND_LENGTH, "cm", 1, 1e-2, 1e-15},
    {PD_KIND_POWER, "kW", 1, 1e3, 1e-15},
    {PD_KIND_TIME, "min", 1, 60, 1e-15},
    {PD_KIND_TIME, "h", 1, 3600, 1e-15},
    // put together from the above
    {PD_KIND_HEAD, "kPa", 9.80665, 1, 1e-12},
    {PD_KIND_HEAD, "psi", 1, 6.894757e3 / 9.80665e3, 1e-7},
    {PD_KIND_HEAD, "ft", 1, 0.3048, 1e-15},
    {PD_KIND_SPECIFIC_CAPACITY, "gpm/ft", 1, 6.309020e-5 / 0.3048, 1e-7},
    {PD_KIND_SPECIFIC_CAPACITY, "L/s/m", 1, 1e-3, 1e-15},
    {PD_KIND_SPECIFIC_CAPACITY, "L/min/m", 60, 1e-3, 1e-15},
    {PD_KIND_SPECIFIC_CAPACITY, "m3/h/m", 3600, 1, 1e-15},
    {PD_KIND_PRICE, "EUR/kWh", 1, 1 / 3.6e6, 1e-15},
    {PD_KIND_PRICE, "/kWh", 1, 1 / 3.6e6, 1e-15},
    {PD_KIND_SPECIFIC_ENERGY, "kWh/m3", 1, 3.6e6, 1e-15},
    {PD_KIND_SPECIFIC_ENERGY, "kWh/kgal", 1, 3.6e6 / 3.785411784, 1e-12},
    {PD_KIND_VELOCITY, "ft/s", 8, 2.4384, 1e-15},
};

static void test_published_conversions(void)
{
    for (size_t i = 0; i < sizeof conversions / sizeof conversions[0]; i++) {
        const struct conversion *one = &conversions[i];
        const struct pd_unit *unit = pd_unit_find(one->kind, one->unit);
        CU_ASSERT_PTR_NOT_NULL_FATAL(unit);
        double si = pd_unit_to_si(unit, one->value);
        // rounding of the published number, and a few last digits of ours
        CU_ASSERT_DOUBLE_EQUAL(si, one->si, (one->rounding + 1e-15) * fabs(one->si));
        CU_ASSERT_DOUBLE_EQUAL(pd_unit_from_si(unit, si), one->value, 1e-12 * fabs(one->value));
    }
}

static void test_case_is_forgiven_where_it_is_safe(void)
{
    CU_ASSERT_PTR_NOT_NULL(pd_unit_find(PD_KIND_PRESSURE, "PSI"));
    CU_ASSERT_PTR_NOT_NULL(pd_unit_find(PD_KIND_PRESSURE, "kpa"));
    CU_ASSERT_PTR_NOT_NULL(pd_unit_find(PD_KIND_FLOW, "l/MIN"));
    CU_ASSERT_PTR_NOT_NULL(pd_unit_find(PD_KIND_TIME, "Min"));
    CU_ASSERT_PTR_NOT_NULL(pd_unit_find(PD_KIND_VOLUME, "M3"));
    CU_ASSERT_PTR_NOT_NULL(pd_unit_find(PD_KIND_VOLUME, "ml"));
    CU_ASSERT_PTR_NOT_NULL(pd_unit_find(PD_KIND_PRESSURE, "MPA"));
    // milli and mega differ by case alone
    CU_ASSERT_PTR_NULL(pd_unit_find(PD_KIND_PRESSURE, "mPa"));
    CU_ASSERT_PTR_NULL(pd_unit_find(PD_KIND_PRESSURE, "Mbar"));
    CU_ASSERT_PTR_NULL(pd_unit_find(PD_KIND_VOLUME, "ML"));
    CU_ASSERT_PTR_NULL(pd_unit_find(PD_KIND_LENGTH, "Mm"));
}

static void test_kinds_keep_to_their_units(void)
{
    CU_ASSERT_PTR_NULL(pd_unit_find(PD_KIND_PRESSURE, "L"));
    CU_ASSERT_PTR_NULL(pd_unit_find(PD_KIND_NUMBER, "m"));
    CU_ASSERT_PTR_NULL(pd_unit_find(PD_KIND_TEXT, "m"));
    CU_ASSERT_PTR_NULL(pd_unit_find(PD_KIND_PRESSURE, ""));
    CU_ASSERT_TRUE(pd_unit_known("L"));
    CU_ASSERT_TRUE(pd_unit_known("USD/kWh"));
    CU_ASSERT_FALSE(pd_unit_known("furlong"));
    CU_ASSERT_FALSE(pd_unit_known("lengthycurrency/kWh"));
    CU_ASSERT_FALSE(pd_unit_known("12/kWh"));
    CU_ASSERT_FALSE(pd_unit_known(""));
}

static void test_every_kind_has_a_name_and_an_si_unit(void)
{
    for (int i = 0; i < PD_KIND_COUNT; i++) {
        enum pd_kind kind = (enum pd_kind)i;
        char list[200];
        CU_ASSERT_PTR_NOT_NULL_FATAL(pd_kind_name(kind));
        pd_unit_list(kind, list, sizeof list);
        CU_ASSERT_TRUE(!pd_kind_needs_unit(kind) || strlen(list) > 0);
    }
    CU_ASSERT_FALSE(pd_kind_needs_unit(PD_KIND_TEXT));
    CU_ASSERT_FALSE(pd_kind_needs_unit(PD_KIND_CHOICE));
    CU_ASSERT_FALSE(pd_kind_needs_unit(PD_KIND_NUMBER));
    CU_ASSERT_FALSE(pd_kind_needs_unit(PD_KIND_STARTS));
    CU_ASSERT_TRUE(pd_kind_needs_unit(PD_KIND_PRICE));
    CU_ASSERT_STRING_EQUAL(pd_kind_name(PD_KIND_SPECIFIC_CAPACITY), "specific capacity");
}

static void test_lists_are_cut_to_their_room(void)
{
    char list[64];
    pd_unit_list(PD_KIND_AREA, list, sizeof list);
    CU_ASSERT_STRING_EQUAL(list, "m2, ft2");
    pd_unit_list(PD_KIND_PRESSURE, list, 6);
    CU_ASSERT_STRING_EQUAL(list, "psi, ");
    pd_unit_list(PD_KIND_NUMBER, list, sizeof list);
    CU_ASSERT_STRING_EQUAL(list, "");
}

static void test_units_lean_to_their_system(void)
{
    CU_ASSERT_EQUAL(pd_unit_leaning(PD_KIND_PRESSURE, "PSI"), 1);
    CU_ASSERT_EQUAL(pd_unit_leaning(PD_KIND_PRESSURE, "mbar"), -1);
    CU_ASSERT_EQUAL(pd_unit_leaning(PD_KIND_TEMPERATURE, "degF"), 1);
    CU_ASSERT_EQUAL(pd_unit_leaning(PD_KIND_POWER, "hp"), 1);
    CU_ASSERT_EQUAL(pd_unit_leaning(PD_KIND_POWER, "kW"), 0);
    CU_ASSERT_EQUAL(pd_unit_leaning(PD_KIND_TIME, "min"), 0);
    CU_ASSERT_EQUAL(pd_unit_leaning(PD_KIND_SHARE, "%"), 0);
}

void suite_units(void)
{
    CU_pSuite suite = CU_add_suite("units", NULL, NULL);
    CU_add_test(suite, "published conversions", test_published_conversions);
    CU_add_test(suite, "case is forgiven where it is safe", test_case_is_forgiven_where_it_is_safe);
    CU_add_test(suite, "kinds keep to their units", test_kinds_keep_to_their_units);
    CU_add_test(suite, "every kind has a name", test_every_kind_has_a_name_and_an_si_unit);
    CU_add_test(suite, "units lean to their system", test_units_lean_to_their_system);
    CU_add_test(suite, "lists are cut to their room", test_lists_are_cut_to_their_room);
}
