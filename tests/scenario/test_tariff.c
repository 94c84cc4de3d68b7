/* Prices by the hour: how tariff.csv is read and refused, and what a day costs by it. */
#include "scenario/folder.h"

#include <pumpday/compare.h>

#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <string.h>

void suite_tariff(void);

static const double kilowatt_hour = 3.6e6;

static struct folder folder;
static struct pd_faults faults;

static void begin(const char *tariff)
{
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    folder_write_text(&folder, "tariff.csv", tariff);
    faults.count = 0;
}

static bool read_with(const char *const *overrides, size_t count, struct pd_scenario *scenario)
{
    return pd_scenario_read(folder.path, overrides, count, scenario, &faults);
}

/* Night over midnight and a dear evening; what is between costs energy.price. */
static void hours_have_their_prices(void)
{
    static const char *const set[] = {"energy.price=0.3 EUR/kWh"};
    struct pd_scenario scenario;

    begin("# night and evening\nfrom,to,price [EUR/kWh]\n22:00,06:00,0.2\n17:00,20:00,0.45\n");
    CU_ASSERT_FATAL(read_with(set, 1, &scenario));
    for (int hour = 0; hour < PD_TARIFF_HOURS; hour++) {
        double price = hour < 6 || hour >= 22 ? 0.2 : hour >= 17 && hour < 20 ? 0.45 : 0.3;
        CU_ASSERT_DOUBLE_EQUAL(pd_scenario_price(&scenario, hour) * kilowatt_hour, price, 1e-12);
    }
    CU_ASSERT_STRING_EQUAL(scenario.currency, "EUR");
    pd_scenario_free(&scenario);
    folder_remove(&folder);
}

static void the_whole_day_may_be_one_row(void)
{
    struct pd_scenario scenario;

    begin("from,to,price [GBP/kWh]\n00:00,24:00,0.25\n");
    CU_ASSERT_FATAL(read_with(NULL, 0, &scenario));
    for (int hour = 0; hour < PD_TARIFF_HOURS; hour++) {
        CU_ASSERT_DOUBLE_EQUAL(pd_scenario_price(&scenario, hour) * kilowatt_hour, 0.25, 1e-12);
    }
    // a price that names no currency has the tariff's
    CU_ASSERT_STRING_EQUAL(scenario.currency, "GBP");
    pd_scenario_free(&scenario);
    folder_remove(&folder);
}

/* A file and the fault that it must bring. */
static const struct bad {
    const char *text;
    int line;
    const char *item, *piece;
} bad[] = {
    {"from,to,price [EUR/kWh]\n", 0, "", "no rows below the column heads"},
    {"from,to,price\n00:00,06:00,0.2\n", 1, "price", "no unit in the column head"},
    {"from,price [EUR/kWh]\n00:00,0.2\n", 1, "to", "missing"},
    {"from,to,price [EUR/kWh]\n00:30,06:00,0.2\n", 2, "from", "not on the hour, got \"00:30\""},
    {"from,to,price [EUR/kWh]\n00:00,06:15,0.2\n", 2, "to", "not on the hour, got \"06:15\""},
    {"from,to,price [EUR/kWh]\n06:00,06:00,0.2\n", 2, "to", "no hour lies between"},
    {"from,to,price [EUR/kWh]\n00:00,06:00,-1\n", 2, "price", "out of range"},
    {"from,to,price [EUR/kWh]\n22:00,06:00,0.2\n05:00,07:00,0.3\n", 3, "from",
     "hours that a row before this one prices too, got \"05:00\""},
    {"from,to,price [USD/kWh]\n22:00,06:00,0.2\n", 0, "price",
     "another currency, got \"USD\", expected EUR as in energy.price"},
};

static void faults_are_told_at_their_place(void)
{
    static const char *const set[] = {"energy.price=0.3 EUR/kWh"};
    struct pd_scenario scenario;

    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        begin(bad[i].text);
        CU_ASSERT_FALSE(read_with(set, 1, &scenario));
        CU_ASSERT_EQUAL_FATAL(faults.count, 1);
        CU_ASSERT_EQUAL(faults.list[0].line, bad[i].line);
        CU_ASSERT_STRING_EQUAL(faults.list[0].item, bad[i].item);
        CU_ASSERT_PTR_NOT_NULL(strstr(faults.list[0].text, bad[i].piece));
        CU_ASSERT_PTR_NOT_NULL(strstr(faults.list[0].file, "tariff.csv"));
        folder_remove(&folder);
    }
}

static double cost_of(const char *tariff, struct pd_day_result *result)
{
    static const char *const set[] = {"energy.price=0.3 EUR/kWh", "energy.standby=20 W"};
    struct pd_compare_options options = pd_compare_default();
    struct pd_comparison comparison;
    struct pd_error error = {.code = PD_DONE};
    struct pd_scenario scenario;

    begin(tariff);
    CU_ASSERT_FATAL(read_with(set, 2, &scenario));
    options.strategies[0] = pd_strategy_find("pressure-start");
    options.strategy_count = 1;
    CU_ASSERT_FATAL(pd_compare(&scenario, &options, &comparison, &error));
    *result = comparison.row[0].result;
    double cost = pd_day_cost(&scenario, result);
    pd_comparison_free(&comparison);
    pd_scenario_free(&scenario);
    folder_remove(&folder);
    return cost;
}

/* One price for all hours costs what energy.price alone does; twice the price in some hours adds
 * the energy of these once more.  Reckoned here from the hours. */
static void a_day_costs_its_hours(void)
{
    static const double price = 0.3 / 3.6e6;
    struct pd_day_result result;
    double night = 0, all = 0;
    double even = cost_of("from,to,price [EUR/kWh]\n00:00,24:00,0.3\n", &result);

    CU_ASSERT_DOUBLE_EQUAL(even, result.energy * price, 1e-9 * even);
    for (int hour = 0; hour < PD_HOURS; hour++) {
        all += result.hours[hour].energy;
        night += hour < 5 || hour >= 23 ? result.hours[hour].energy : 0;
    }
    CU_ASSERT_DOUBLE_EQUAL(all, result.energy, 1e-9 * all);
    CU_ASSERT(night > 0 && night < all);
    double dear = cost_of("from,to,price [EUR/kWh]\n23:00,05:00,0.6\n", &result);
    CU_ASSERT_DOUBLE_EQUAL(dear, even + night * price, 1e-9 * even);
}

void suite_tariff(void)
{
    CU_pSuite suite = CU_add_suite("tariff", NULL, NULL);

    CU_ADD_TEST(suite, hours_have_their_prices);
    CU_ADD_TEST(suite, the_whole_day_may_be_one_row);
    CU_ADD_TEST(suite, faults_are_told_at_their_place);
    CU_ADD_TEST(suite, a_day_costs_its_hours);
}
