/* Good scenarios: what files may look like, and what comes of them in SI. */
#include "scenario/folder.h"
#include "scenario/read.h"

#include <pumpday/scenario.h>

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void suite_read_scenario(void);

static struct pd_scenario scenario;
static struct pd_faults faults;

// reads a folder that must be good; what is wrong is printed
static bool read_good(const struct folder *folder, const char *const *overrides, size_t count)
{
    faults.count = 0;
    bool good = pd_scenario_read(folder->path, overrides, count, &scenario, &faults);
    CU_ASSERT(good);
    CU_ASSERT_EQUAL(faults.count, 0);
    if (!good) {
        pd_faults_print(stdout, &faults);
    }
    return good;
}

static void test_smallest(void)
{
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    if (read_good(&folder, NULL, 0)) {
        CU_ASSERT_EQUAL(scenario.value[PD_SUPPLY_KIND], PD_SUPPLY_MAIN);
        CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_TANK_VOLUME], 0.024, 1e-15);
        CU_ASSERT_TRUE(scenario.given[PD_TANK_VOLUME]);
        CU_ASSERT_FALSE(scenario.given[PD_TANK_GAS]);
        CU_ASSERT_EQUAL(scenario.line[PD_TANK_VOLUME], FOLDER_SITE_LINES);
        CU_ASSERT_EQUAL(scenario.pump.count, 3);
        CU_ASSERT_FALSE(scenario.pump.has_npsh);
        CU_ASSERT_DOUBLE_EQUAL(scenario.pump.flow[1], 40e-3 / 60, 1e-15);
        CU_ASSERT_EQUAL(scenario.pump.head[1], 33);
        CU_ASSERT_EQUAL(scenario.pump.power[2], 760);
        CU_ASSERT_EQUAL(scenario.draw_count, 2);
        CU_ASSERT_EQUAL(scenario.draws[0].time, 23400);
        CU_ASSERT_EQUAL(scenario.draws[0].duration, 60);
        CU_ASSERT_TRUE(isnan(scenario.draws[0].volume));
        CU_ASSERT_TRUE(isnan(scenario.draws[1].duration));
        CU_ASSERT_DOUBLE_EQUAL(scenario.draws[1].volume, 6e-3, 1e-15);
        CU_ASSERT_STRING_EQUAL(scenario.draws[1].fixture, "cistern");
        CU_ASSERT_EQUAL(scenario.profile_count, 0);
        // without a title it goes by its folder
        CU_ASSERT_STRING_EQUAL(scenario.title, strrchr(folder.path, '/') + 1);
        CU_ASSERT_STRING_EQUAL(scenario.folder, folder.path);
        pd_scenario_free(&scenario);
        CU_ASSERT_PTR_NULL(scenario.draws);
    }
    folder_remove(&folder);
}

static void test_as_spreadsheets_write(void)
{
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    // byte order mark, CR LF, quotes, empty columns and rows, quoted comments, other column order
    folder_write_text(&folder, "site.csv",
                      "\xEF\xBB\xBFNote,Unit,Value,Item,,\r\n"
                      "\"a \"\"big\"\", round one\nof two lines\",\"gal\", 20 ,tank.volume,,\r\n"
                      ",,,,,\r\n"
                      "\"# a comment, quoted\",,,,,\r\n"
                      "\r\n"
                      "   # another \"comment\r\n"
                      ",PSI,30,supply.pressure\r\n"
                      ",ft,60,service.length\r\n"
                      ",in,1,service.diameter\r\n"
                      ",,Main,Supply.Kind\r\n"
                      ",,2.5 kPa,check_valve.opening_pressure\r\n"
                      ",,none,pump.poles\r\n"
                      ",,\"Maison \xC3\xA9t\xC3\xA9\",title");
    folder_write_text(&folder, "pump.csv",
                      "power [hp],head [psi],flow [gpm],npsh_required [ft]\n"
                      "1,50,0,3\n1,40,10,4\n1,30,20,5\n");
    folder_write_text(&folder, "demand.csv",
                      "flow [gpm],volume [gal],time [h]\n2,1,6.5\n2,3,6.5\n");
    if (read_good(&folder, NULL, 0)) {
        CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_TANK_VOLUME], 20 * 3.785411784e-3, 1e-12);
        CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_SUPPLY_PRESSURE], 30 * 6894.757, 0.01);
        CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_SERVICE_LENGTH], 18.288, 1e-12);
        CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_CHECK_VALVE_OPENING_PRESSURE], 2500, 1e-9);
        CU_ASSERT_EQUAL(scenario.value[PD_PUMP_POLES], 2);
        CU_ASSERT_FALSE(scenario.given[PD_PUMP_POLES]);
        CU_ASSERT_EQUAL(scenario.line[PD_TANK_VOLUME], 2);
        CU_ASSERT_EQUAL(scenario.line[PD_SUPPLY_PRESSURE], 8);
        CU_ASSERT_STRING_EQUAL(scenario.title, "Maison \xC3\xA9t\xC3\xA9");
        CU_ASSERT_TRUE(scenario.pump.has_npsh);
        CU_ASSERT_DOUBLE_EQUAL(scenario.pump.npsh_required[2], 1.524, 1e-12);
        CU_ASSERT_DOUBLE_EQUAL(scenario.pump.head[0], 50 * 6894.757 / 9806.65, 1e-5);
        CU_ASSERT_DOUBLE_EQUAL(scenario.pump.power[0], 745.6999, 1e-4);
        CU_ASSERT_EQUAL(scenario.draw_count, 2);
        CU_ASSERT_EQUAL(scenario.draws[0].time, 23400);
        // rows of one time keep their order
        CU_ASSERT_DOUBLE_EQUAL(scenario.draws[1].volume, 3 * 3.785411784e-3, 1e-12);
        pd_scenario_free(&scenario);
    }
    folder_remove(&folder);
}

static void test_profile_in_place_of_draws(void)
{
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_write_text(&folder, "site.csv", folder_site);
    folder_write_text(&folder, "pump.csv", folder_pump);
    folder_write_text(&folder, "profile.csv", "time,flow [m3/h]\n00:00,0\n6:00,3.6\n24:00,0\n");
    if (read_good(&folder, NULL, 0)) {
        CU_ASSERT_EQUAL(scenario.draw_count, 0);
        CU_ASSERT_EQUAL(scenario.profile_count, 3);
        CU_ASSERT_DOUBLE_EQUAL(scenario.profile[1].value, 1e-3, 1e-15);
        CU_ASSERT_EQUAL(scenario.profile[2].time, 86400);
        pd_scenario_free(&scenario);
    }
    folder_remove(&folder);
}

static void test_supply_series(void)
{
    static const char bare[] = "item,value,unit\nservice.length,20,m\nservice.diameter,25,mm\n"
                               "tank.volume,24,L\n";
    const char *const main_kind[] = {"supply.kind=main"};
    const char *const well_kind[] = {"supply.kind=well", "supply.specific_capacity=30 L/min/m"};
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    folder_write_text(&folder, "site.csv", bare);
    folder_write_text(&folder, "supply.csv", "time,pressure [bar]\n00:00,2\n12:00,3\n");
    if (read_good(&folder, main_kind, 1)) {
        CU_ASSERT_FALSE(scenario.supply_is_level);
        CU_ASSERT_EQUAL(scenario.supply_count, 2);
        CU_ASSERT_DOUBLE_EQUAL(scenario.supply[1].value, 3e5, 1e-9);
        CU_ASSERT_EQUAL(scenario.supply[1].time, 43200);
        pd_scenario_free(&scenario);
    }
    folder_write_text(&folder, "supply.csv", "time,level [ft]\n00:00,-10\n");
    if (read_good(&folder, well_kind, 2)) {
        CU_ASSERT_TRUE(scenario.supply_is_level);
        CU_ASSERT_DOUBLE_EQUAL(scenario.supply[0].value, -3.048, 1e-12);
        pd_scenario_free(&scenario);
    }
    folder_remove(&folder);
}

// an offset may not push what supply.csv holds beyond the limits of a pressure or level
static void test_supply_offset(void)
{
    const char *const good[] = {"supply.offset=-7 psi"}, *const bad[] = {"supply.offset=-3 bar"};
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    folder_write_text(&folder, "site.csv",
                      "item,value,unit\nsupply.kind,main,\nservice.length,20,m\n"
                      "service.diameter,25,mm\ntank.volume,24,L\n");
    folder_write_text(&folder, "supply.csv", "time,pressure [bar]\n00:00,2\n12:00,3\n");
    if (read_good(&folder, good, 1)) {
        CU_ASSERT_DOUBLE_EQUAL(pd_scenario_supply(&scenario, 1), 3e5 - 7 * 6894.757, 0.1);
        CU_ASSERT_DOUBLE_EQUAL(scenario.supply[1].value, 3e5, 1e-9);
        pd_scenario_free(&scenario);
    }
    faults.count = 0;
    CU_ASSERT_FALSE(pd_scenario_read(folder.path, bad, 1, &scenario, &faults));
    CU_ASSERT_EQUAL(faults.count, 1);
    CU_ASSERT_STRING_EQUAL(faults.list[0].item, "supply.offset");
    CU_ASSERT_PTR_NOT_NULL(strstr(faults.list[0].text, "makes -1 bar of a value of supply.csv"));
    folder_remove(&folder);
}

static void test_cistern(void)
{
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    folder_write_text(&folder, "site.csv",
                      "item,value,unit\nservice.length,20,m\nservice.diameter,25,mm\n"
                      "tank.volume,24,L\nsupply.kind,cistern,\nsupply.level,1,m\n"
                      "supply.area,2,m2\nsupply.empty_level,-1,m\n");
    if (read_good(&folder, NULL, 0)) {
        CU_ASSERT_EQUAL(scenario.value[PD_SUPPLY_AREA], 2);
        CU_ASSERT_EQUAL(scenario.value[PD_SUPPLY_REFILL], 0);
        CU_ASSERT_EQUAL(scenario.value[PD_SUPPLY_EMPTY_LEVEL], -1);
        pd_scenario_free(&scenario);
    }
    folder_remove(&folder);
}

/* Sizes of the trade are fractions: 3/4 in is 19.05 mm. */
static void test_fractions(void)
{
    static const struct {
        const char *override;
        double wanted;
    } table[] = {
        {"service.diameter=3/4 in", 0.01905},
        {"service.diameter=3/4in", 0.01905},
        {"service.diameter=1 1/4 in", 0.03175},
        {"service.diameter=1-1/2 in", 0.0381},
        {"service.diameter=  2 in", 0.0508},
        // NIST SP 811: a horsepower of 550 ft lbf/s is 745.6999 W
        {"pump.motor_power=1/2 hp", 372.84994},
        {"pump.motor_power=1 1/2 hp", 1118.5498},
    };
    static const char *const wrong[] = {"service.diameter=3/0 in",   "service.diameter=3/ in",
                                        "service.diameter=1 1 in",   "service.diameter=1-1 in",
                                        "service.diameter=3/4/5 in", "service.diameter=-3/4 in",
                                        "service.diameter=3/4"};
    struct folder folder;

    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        if (read_good(&folder, &table[i].override, 1)) {
            enum pd_item item =
                table[i].override[0] == 's' ? PD_SERVICE_DIAMETER : PD_PUMP_MOTOR_POWER;
            CU_ASSERT_DOUBLE_EQUAL(scenario.value[item], table[i].wanted, 1e-6 * table[i].wanted);
            pd_scenario_free(&scenario);
        }
    }
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        faults.count = 0;
        CU_ASSERT_FALSE(pd_scenario_read(folder.path, &wrong[i], 1, &scenario, &faults));
        CU_ASSERT_EQUAL(faults.count, 1);
    }
    folder_remove(&folder);
}

static void test_overrides(void)
{
    const char *const overrides[] = {"tank.volume=80 L",
                                     "tank.volume = 90L",
                                     "tank.gas=thermal",
                                     "house.elevation=",
                                     "pump.poles=4",
                                     "title=a = b",
                                     "energy.price=0.2CHF/kWh",
                                     "limit.starts_per_hour=9 1/h"};
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    if (read_good(&folder, overrides, sizeof overrides / sizeof overrides[0])) {
        // the last word counts
        CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_TANK_VOLUME], 0.09, 1e-15);
        CU_ASSERT_EQUAL(scenario.line[PD_TANK_VOLUME], 0);
        CU_ASSERT_EQUAL(scenario.value[PD_TANK_GAS], PD_GAS_THERMAL);
        CU_ASSERT_EQUAL(scenario.value[PD_HOUSE_ELEVATION], 3);
        CU_ASSERT_EQUAL(scenario.value[PD_PUMP_POLES], 4);
        CU_ASSERT_STRING_EQUAL(scenario.title, "a = b");
        CU_ASSERT_DOUBLE_EQUAL(scenario.value[PD_ENERGY_PRICE], 0.2 / 3.6e6, 1e-20);
        CU_ASSERT_STRING_EQUAL(scenario.currency, "CHF");
        CU_ASSERT_EQUAL(scenario.value[PD_LIMIT_STARTS_PER_HOUR], 9);
        pd_scenario_free(&scenario);
    }
    folder_remove(&folder);
}

// the letters before the stroke of the price's unit
static void test_currency(void)
{
    static const struct {
        const char *override, *currency;
    } table[] = {
        {"energy.price=0.3 EUR/kWh", "EUR"},
        {"energy.price=0.3$/kWh", "$"},
        {"energy.price=3e-1 \xE2\x82\xAC/kWh", "\xE2\x82\xAC"},
        {"energy.price=0.3 abcdefgh/kWh", "abcdefgh"},
        {"energy.price=0.3 /kWh", ""},
        {"energy.price=0.3 1/kWh", ""},
        {"energy.price=none", ""},
    };
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        // whatever was named before is forgotten
        const char *const overrides[] = {"energy.price=0.2 USD/kWh", table[i].override};
        if (read_good(&folder, overrides, 2)) {
            CU_ASSERT_STRING_EQUAL(scenario.currency, table[i].currency);
            pd_scenario_free(&scenario);
        }
    }
    folder_remove(&folder);
}

static void test_tank_sizes(void)
{
    const char *const list[] = {"tank.sizes=5 7.5  20 gal"};
    const char *const back[] = {"tank.sizes=5 gal", "tank.sizes="};
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    if (read_good(&folder, list, 1)) {
        // 1 US gal = 3.785411784 L exactly
        CU_ASSERT_EQUAL(scenario.tank_size_count, 3);
        CU_ASSERT_TRUE(scenario.given[PD_TANK_SIZES]);
        CU_ASSERT_DOUBLE_EQUAL(scenario.tank_sizes[1], 7.5 * 3.785411784e-3, 1e-15);
        CU_ASSERT_DOUBLE_EQUAL(scenario.tank_sizes[2], 20 * 3.785411784e-3, 1e-15);
        pd_scenario_free(&scenario);
    }
    if (read_good(&folder, back, 2)) {
        // the usual sizes come back
        CU_ASSERT_TRUE(scenario.tank_size_count > 8);
        CU_ASSERT_FALSE(scenario.given[PD_TANK_SIZES]);
        CU_ASSERT_DOUBLE_EQUAL(scenario.tank_sizes[3], 0.024, 1e-15);
        pd_scenario_free(&scenario);
    }
    folder_remove(&folder);
}

// the help of tank.sizes tells the very sizes that are chosen from, from a place in it on
static void check_told_sizes(const char *told, enum pd_unit_system units, double unit)
{
    char *end;
    pd_tank_sizes_usual(&scenario, units);
    for (size_t i = 0; i < scenario.tank_size_count; i++, told = end) {
        CU_ASSERT_DOUBLE_EQUAL(strtod(told, &end) * unit, scenario.tank_sizes[i], 1e-12);
    }
    // and no more
    CU_ASSERT_EQUAL(strtod(told, &end), 0);
}

static void test_usual_tank_sizes_are_told(void)
{
    const char *told = pd_items[PD_TANK_SIZES].worked_out;
    const char *us = told != NULL ? strstr(told, "units ") : NULL;
    scenario = pd_scenario_default();
    CU_ASSERT_PTR_NOT_NULL(us);
    if (us != NULL) {
        check_told_sizes(told, PD_UNITS_SI, 1e-3);
        check_told_sizes(us + strlen("units "), PD_UNITS_US, 3.785411784e-3);
    }
}

/* A draw of 60 s at 8 L/min, one of 6 L; with them 36 L/h from one to one o'clock: 864 L. */
static void test_water_asked_for(void)
{
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    if (read_good(&folder, NULL, 0)) {
        CU_ASSERT_DOUBLE_EQUAL(pd_scenario_asked(&scenario), 0.014, 1e-12);
        pd_scenario_free(&scenario);
    }
    folder_write_text(&folder, "profile.csv", "time,flow [L/h]\n01:00,36\n");
    if (read_good(&folder, NULL, 0)) {
        CU_ASSERT_DOUBLE_EQUAL(pd_scenario_asked(&scenario), 0.014 + 0.864, 1e-12);
        pd_scenario_free(&scenario);
    }
    // 3.6 m3/h from six to midnight, where a flow of none ends the day
    folder_write_text(&folder, "profile.csv", "time,flow [m3/h]\n00:00,0\n6:00,3.6\n24:00,0\n");
    if (read_good(&folder, NULL, 0)) {
        CU_ASSERT_DOUBLE_EQUAL(pd_scenario_asked(&scenario), 0.014 + 64.8, 1e-9);
        pd_scenario_free(&scenario);
    }
    folder_remove(&folder);
}

static void test_copy(void)
{
    static struct pd_scenario copy;
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    folder_write_text(&folder, "profile.csv", "time,flow [L/h]\n01:00,36\n");
    if (read_good(&folder, NULL, 0)) {
        CU_ASSERT_TRUE(pd_scenario_copy(&scenario, &copy));
        CU_ASSERT_PTR_NOT_EQUAL(copy.draws, scenario.draws);
        CU_ASSERT_PTR_NULL(copy.supply);
        // the copy stands when the first is gone
        pd_scenario_free(&scenario);
        CU_ASSERT_EQUAL(copy.draw_count, 2);
        CU_ASSERT_EQUAL(copy.draws[1].time, 25200);
        CU_ASSERT_DOUBLE_EQUAL(copy.profile[0].value, 1e-5, 1e-18);
        faults.count = 0;
        CU_ASSERT_TRUE(pd_scenario_check(&copy, &faults));
        CU_ASSERT_TRUE(pd_scenario_set(&copy, "supply.kind=well", &faults));
        CU_ASSERT_FALSE(pd_scenario_check(&copy, &faults));
        pd_scenario_free(&copy);
    }
    folder_remove(&folder);
}

static void test_stroke_behind_the_folder(void)
{
    char path[80];
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    (void)snprintf(path, sizeof path, "%s//", folder.path);
    faults.count = 0;
    CU_ASSERT_TRUE_FATAL(pd_scenario_read(path, NULL, 0, &scenario, &faults));
    CU_ASSERT_STRING_EQUAL(scenario.folder, folder.path);
    CU_ASSERT_STRING_EQUAL(scenario.title, strrchr(folder.path, '/') + 1);
    pd_scenario_free(&scenario);
    folder_remove(&folder);
}

void suite_read_scenario(void)
{
    CU_pSuite suite = CU_add_suite("read_scenario", NULL, NULL);
    CU_add_test(suite, "the smallest scenario", test_smallest);
    CU_add_test(suite, "as spreadsheets write", test_as_spreadsheets_write);
    CU_add_test(suite, "a profile in place of draws", test_profile_in_place_of_draws);
    CU_add_test(suite, "water asked for", test_water_asked_for);
    CU_add_test(suite, "supply.csv", test_supply_series);
    CU_add_test(suite, "supply.csv moved", test_supply_offset);
    CU_add_test(suite, "a cistern", test_cistern);
    CU_add_test(suite, "overrides", test_overrides);
    CU_add_test(suite, "fractions", test_fractions);
    CU_add_test(suite, "a copy owns its own", test_copy);
    CU_add_test(suite, "the currency", test_currency);
    CU_add_test(suite, "sizes of tanks", test_tank_sizes);
    CU_add_test(suite, "usual sizes are told", test_usual_tank_sizes_are_told);
    CU_add_test(suite, "a stroke behind the folder", test_stroke_behind_the_folder);
}
