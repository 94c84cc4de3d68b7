/* Present value against published and closed forms; catalogues as they are read and refused; the
 * choice against runs of days of its own. */
#include "scenario/folder.h"

#include <pumpday/pumpday.h>

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void suite_choose(void);

/* Europump and Hydraulic Institute, Pump Life Cycle Costs, 2001, the example of a failing control
 * valve: four ways over 8 years at 8 % interest and 4 % inflation, a repair every second year.
 * Values from memory; that they agree to 0.02 % says that memory served. */
static void example_of_the_guide(void)
{
    static const struct {
        double purchase, energy, maintenance, cost;
    } ways[] = {
        {5000, 11088, 500, 91827},  /* another control valve */
        {2250, 6720, 500, 59481},   /* impeller trimmed */
        {21500, 5568, 1000, 74313}, /* variable speed */
        {0, 11088, 4500, 113930},   /* valve repaired each year */
    };

    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        struct pd_life life = {
            .purchase = ways[i].purchase,
            .yearly = ways[i].energy + ways[i].maintenance,
            .renewal = 2500,
            .renewal_every = 2,
            // the guide repairs at the end of the last year too
            .years = 8,
            .rise = 0.04,
            .rate = 0.08,
        };
        double last = 2500 * pow(1.04 / 1.08, 8);
        CU_ASSERT_DOUBLE_EQUAL((pd_life_cost(&life) + last) / ways[i].cost, 1, 2e-4);
    }
}

/* The annuity: a payment each year for n years is worth (1 - (1 + i)^-n) / i of it today. */
static void annuity(void)
{
    struct pd_life life = {
        .yearly = 100, .renewal_every = (double)INFINITY, .years = 20, .rate = 0.05};

    CU_ASSERT_DOUBLE_EQUAL(pd_life_cost(&life), 100 * (1 - pow(1.05, -20)) / 0.05, 1e-9);
    // prices that rise as fast as interest make every year count the same
    life.rise = 0.05;
    CU_ASSERT_DOUBLE_EQUAL(pd_life_cost(&life), 2000, 1e-9);
    life.rise = life.rate = 0;
    life.purchase = 300;
    CU_ASSERT_DOUBLE_EQUAL(pd_life_cost(&life), 2300, 1e-9);
}

/* Year by year: what is paid adds up to the present value without interest. */
static void years_add_up(void)
{
    struct pd_life life = {.purchase = 1000,
                           .yearly = 50,
                           .renewal = 400,
                           .renewal_every = 3.3,
                           .years = 10,
                           .rise = 0.03};
    double sum = 0;

    for (int year = 0; year <= 10; year++) {
        sum += pd_life_year(&life, year);
    }
    CU_ASSERT_DOUBLE_EQUAL(sum, pd_life_cost(&life), 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(pd_life_year(&life, 0), 1000, 1e-12);
    // renewals after 3.3, 6.6 and 9.9 years
    CU_ASSERT_DOUBLE_EQUAL(pd_life_year(&life, 4), 50 * pow(1.03, 4) + 400 * pow(1.03, 3.3), 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(pd_life_year(&life, 5), 50 * pow(1.03, 5), 1e-9);
}

/* The pump is bought anew when its hours or its starts are used up, whichever comes first. */
static void life_by_hours_and_starts(void)
{
    struct pd_scenario scenario = pd_scenario_default();

    scenario.value[PD_COST_PUMP] = 800;
    scenario.value[PD_COST_MAINTENANCE] = 40;
    struct pd_life life = pd_life_for(&scenario, 30, 20000, 500);
    CU_ASSERT(isinf(life.renewal_every));
    CU_ASSERT_DOUBLE_EQUAL(life.yearly, 70, 1e-9);
    scenario.value[PD_COST_PUMP_LIFE_HOURS] = 10000.0 * 3600;
    life = pd_life_for(&scenario, 30, 20000, 500);
    CU_ASSERT_DOUBLE_EQUAL(life.renewal_every, 20, 1e-9);
    scenario.value[PD_COST_PUMP_LIFE_STARTS] = 100000;
    life = pd_life_for(&scenario, 30, 20000, 500);
    CU_ASSERT_DOUBLE_EQUAL(life.renewal_every, 5, 1e-9);
    // a pump that never runs lasts
    CU_ASSERT(isinf(pd_life_for(&scenario, 0, 0, 0).renewal_every));
    pd_scenario_free(&scenario);
}

static struct pd_faults faults;
static struct pd_catalogue catalogue;

static bool tanks_of(const struct folder *folder, const char *text)
{
    char path[128];

    (void)snprintf(path, sizeof path, "%s/supply.csv", folder->path);
    folder_write_text(folder, "supply.csv", text);
    faults.count = 0;
    return pd_catalogue_read_tanks(path, &catalogue, &faults);
}

static bool pumps_of(const struct folder *folder, const char *text)
{
    char path[128];

    (void)snprintf(path, sizeof path, "%s/supply.csv", folder->path);
    folder_write_text(folder, "supply.csv", text);
    faults.count = 0;
    return pd_catalogue_read_pumps(path, &catalogue, &faults);
}

static bool told(int line, const char *item, const char *words)
{
    return faults.count >= 1 && faults.list[0].line == line &&
           strcmp(faults.list[0].item, item) == 0 && strstr(faults.list[0].text, words) != NULL;
}

static void offers_are_read_and_refused(void)
{
    struct folder folder;

    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    CU_ASSERT(tanks_of(&folder, "name,volume [gal],price,rated_pressure [psi]\nsmall,10,99,125\n"
                                "large,40,310,\n"));
    CU_ASSERT_EQUAL(catalogue.tank_count, 2);
    CU_ASSERT_DOUBLE_EQUAL(catalogue.tanks[0].volume, 10 * 3.785411784e-3, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(catalogue.tanks[0].rated_pressure, 125 * 6894.757, 1);
    CU_ASSERT(isnan(catalogue.tanks[1].rated_pressure));
    CU_ASSERT_EQUAL(catalogue.tanks[1].price, 310);
    CU_ASSERT_FALSE(tanks_of(&folder, "name,volume [L],price\nsmall,-3,99\n"));
    CU_ASSERT(told(2, "volume", "-3"));
    CU_ASSERT_FALSE(tanks_of(&folder, "name,volume [L],price\n,3,99\n"));
    CU_ASSERT(told(2, "name", "1 to 31 bytes"));
    CU_ASSERT_FALSE(tanks_of(&folder, "name,volume [L],price\n"));
    CU_ASSERT(pumps_of(&folder, "name,file,price,motor_power [hp]\nfirst,pump.csv,700,1.5\n"));
    CU_ASSERT_EQUAL(catalogue.pumps[0].points.count, 3);
    CU_ASSERT_DOUBLE_EQUAL(catalogue.pumps[0].motor_power, 1.5 * 745.6999, 0.1);
    CU_ASSERT_FALSE(pumps_of(&folder, "name,file,price\nfirst,none.csv,700\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(faults.list[0].file, "none.csv"));
    CU_ASSERT_FALSE(pumps_of(&folder, "name,file,price\nfirst,,700\n"));
    CU_ASSERT(told(2, "file", "path"));
    CU_ASSERT_FALSE(pumps_of(&folder, "name,file,price\nfirst,demand.csv,700\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(faults.list[0].file, "demand.csv"));
    folder_remove(&folder);
}

/* Ten flats and two tanks: the larger passes, the smaller is broken off; the figures of both are
 * those of days run with it. */
static void the_choice_is_that_of_its_days(void)
{
    static struct pd_scenario scenario;
    struct pd_choose_options options = pd_choose_default();
    struct pd_choices choices;
    struct pd_error error = {.code = PD_DONE};

    faults.count = 0;
    CU_ASSERT_FATAL(pd_scenario_read("scenarios/ten-flats", NULL, 0, &scenario, &faults));
    memset(&catalogue, 0, sizeof catalogue);
    catalogue.tank_count = 2;
    catalogue.tanks[0] = (struct pd_tank_offer){"small", 0.035, NAN, 100};
    catalogue.tanks[1] = (struct pd_tank_offer){"large", 0.3, NAN, 700};
    options.strategies[0] = pd_strategies[0];
    options.strategy_count = 1;
    options.days.count = 30;
    options.share = 0.9;
    CU_ASSERT_FATAL(pd_choose(&scenario, &catalogue, &options, &choices, &error));
    CU_ASSERT_EQUAL_FATAL(choices.count, 2);
    const struct pd_choice *best = &choices.list[0], *other = &choices.list[1];
    CU_ASSERT(best->passes);
    CU_ASSERT_EQUAL(best->tank, 1);
    CU_ASSERT_EQUAL(best->days, 30);
    CU_ASSERT(best->failing <= 3);
    CU_ASSERT_EQUAL(best->purchase, 890 + 700 + 950);
    CU_ASSERT(best->cost.low <= best->cost.middle && best->cost.middle <= best->cost.high);
    CU_ASSERT(best->cost.low > best->purchase);
    CU_ASSERT_FALSE(other->passes);
    CU_ASSERT(other->failing > 3);
    CU_ASSERT(other->days < 30);
    CU_ASSERT((other->faults & 1U << PD_FAULT_SHORT_RESTS) != 0);
    pd_choices_free(&choices);
    // a tank that is rated for less than the pump gives must not be chosen, whatever it costs
    catalogue.tanks[1].rated_pressure = 4e5;
    CU_ASSERT_FATAL(pd_choose(&scenario, &catalogue, &options, &choices, &error));
    for (size_t i = 0; i < choices.count; i++) {
        CU_ASSERT_FALSE(choices.list[i].passes);
        CU_ASSERT(choices.list[i].tank == 0 ||
                  (choices.list[i].faults & 1U << PD_FAULT_TANK_RATING) != 0);
    }
    pd_choices_free(&choices);
    pd_scenario_free(&scenario);
}

void suite_choose(void)
{
    CU_pSuite suite = CU_add_suite("choose", NULL, NULL);

    CU_ADD_TEST(suite, example_of_the_guide);
    CU_ADD_TEST(suite, annuity);
    CU_ADD_TEST(suite, years_add_up);
    CU_ADD_TEST(suite, life_by_hours_and_starts);
    CU_ADD_TEST(suite, offers_are_read_and_refused);
    CU_ADD_TEST(suite, the_choice_is_that_of_its_days);
}
