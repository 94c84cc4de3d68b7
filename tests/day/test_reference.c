/* The program's day against an independent integration of the same equations: other code for every
 * formula, other solvers, events located another way.
 *
 * Every scenario, strategy and gas law, and variants that bring the rarer parts into play.  Starts
 * equal, each within half a second; run time, energy and volumes within 0.2 %; settings the same.
 */
#include <pumpday/day.h>

#include "reference/reference_day.h"
#include "sanitized.h"

#include <CUnit/Basic.h>
#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void suite_reference(void);

enum { FOLDERS_MOST = 64, GASES = SANITIZED ? 1 : 3, OVERRIDES_MOST = 6 };

static const char *const gas_names[] = {"isothermal", "polytropic", "thermal"};
static const double share_apart = 2e-3;  // of totals
static const double seconds_apart = 0.5; // of starts
static const double tolerance = 1e-8;    // of the reference
static const double least_volume = 1e-4; // m3 of a day that is as good as nothing
static const double least_run_time = 1;  // s

/* A scenario with some of its items changed. */
struct variant {
    const char *folder;
    const char *overrides[OVERRIDES_MOST];
    void (*change)(struct pd_scenario *scenario); // what overrides cannot; may be NULL
};

/* A well in place of a cistern, drawn down by what is pumped. */
static void make_well(struct pd_scenario *scenario)
{
    double *item = scenario->value;

    item[PD_SUPPLY_KIND] = PD_SUPPLY_WELL;
    item[PD_SUPPLY_LEVEL] = 6;
    item[PD_SUPPLY_SPECIFIC_CAPACITY] = 8e-3 / 60; // 8 L/min/m
    item[PD_SUPPLY_AREA] = item[PD_SUPPLY_EMPTY_LEVEL] = (double)NAN;
}

static const struct variant variants[] = {
    // a two-pressure switch
    {"scenarios/hillside-house",
     {"pressure_start.start=3 bar", "pressure_start.stop_pressure=4.2 bar",
      "peak_only.stop_pressure=3.2 bar"},
     NULL},
    // a worn seat and a leak that heeds the pressure: cycles all night
    {"scenarios/hillside-house",
     {"check_valve.leak_by=0.1 L/min", "house.leak=0.3 L/min", "house.leak_exponent=1.2"},
     NULL},
    // a main that sags by half a bar more
    {"scenarios/hillside-house", {"supply.offset=-0.5 bar"}, NULL},
    // a reducing valve that holds the main by night and passes it by day
    {"scenarios/hillside-house", {"supply.reducing_valve=2.2 bar"}, NULL},
    // a motor that is at speed at once, a slow one, a long rest
    {"scenarios/hillside-house", {"pump.run_up_time=0 s"}, NULL},
    {"scenarios/hillside-house", {"pump.run_up_time=6 s", "guard.least_rest=90 s"}, NULL},
    // a resting pump that costs what its best efficiency tells
    {"scenarios/hillside-house", {"pump.stopped_loss=none"}, NULL},
    // a main that is too weak for the pump
    {"scenarios/hillside-house",
     {"guard.low_suction=1.2 bar", "guard.delay=3 s", "guard.retry=200 s"},
     NULL},
    // a long pipe from deep down: the water boils at the inlet at each start, or all along
    {"scenarios/cistern-cottage",
     {"supply.level=-5 m", "supply.empty_level=-8 m", "service.length=40 m"},
     NULL},
    {"scenarios/cistern-cottage",
     {"supply.level=-8.5 m", "supply.area=none", "supply.refill=none", "supply.empty_level=none"},
     NULL},
    // a cistern that is drawn empty, with and without the guard against running dry
    {"scenarios/cistern-cottage",
     {"supply.level=0.5 m", "supply.area=0.6 m2", "supply.refill=0.3 L/min",
      "supply.empty_level=0.2 m"},
     NULL},
    {"scenarios/cistern-cottage",
     {"supply.level=0.5 m", "supply.area=0.6 m2", "supply.refill=0.3 L/min",
      "supply.empty_level=0.2 m", "guard.dry_run_time=20 s"},
     NULL},
    {"scenarios/cistern-cottage",
     {"supply.area=0.2 m2", "supply.empty_level=-1.3 m", "guard.dry_run_time=1 s"},
     NULL},
    {"scenarios/cistern-cottage", {"house.elevation=1 m"}, make_well},
    // a pump down a well: as it stands; no casing; a worn seat; a level that falls to the inlet,
    // where the water boils, or the pump draws air
    {"scenarios/deep-well", {"well.loss=0 m"}, NULL},
    {"scenarios/deep-well", {"well.casing_diameter=none", "supply.empty_level=none"}, NULL},
    {"scenarios/deep-well", {"check_valve.leak_by=0.2 L/min", "house.leak=0.1 L/min"}, NULL},
    {"scenarios/deep-well",
     {"well.casing_diameter=none", "supply.empty_level=none", "pump.height=-34 m",
      "service.length=20 m"},
     NULL},
    {"scenarios/deep-well",
     {"supply.empty_level=-39.5 m", "supply.specific_capacity=3 L/min/m"},
     NULL},
    {"scenarios/hillside-house", {"rising_main.length=15 m", "rising_main.loss_k=6"}, NULL},
    {"scenarios/cistern-cottage", {"rising_main.length=30 m", "pump.height=-0.5 m"}, NULL},
    // a tank that lost gas: some, and all of it
    {"scenarios/hillside-house", {"tank.gas_loss=60 mbar", "tank.months=18"}, NULL},
    {"scenarios/hillside-house", {"tank.gas_loss=0.2 bar", "tank.months=60"}, NULL},
    // a warm-up of none and of a whole day
    {"scenarios/hillside-house", {"day.warm_up=0 s"}, NULL},
    {"scenarios/leaky-terrace", {"day.warm_up=24 h"}, NULL},
};
enum { VARIANTS = sizeof variants / sizeof variants[0] };

static struct reference_result reference;
static struct pd_day *workspace;

static int make_workspace(void)
{
    struct pd_error error = {0};

    workspace = pd_day_create(&error);
    if (workspace == NULL) {
        pd_error_print(stderr, &error);
    }
    return workspace == NULL;
}

static int free_workspace(void)
{
    pd_day_free(workspace);
    return 0;
}

/* Both absent, or apart by no more than a share of the reference or by next to nothing. */
static void check_number(const char *where, const char *what, double own, double other,
                         double share, double nothing)
{
    bool both_absent = isnan(own) && isnan(other);
    bool near = both_absent || fabs(own - other) <= fmax(share * fabs(other), nothing);

    if (!near) {
        printf("\n    %s: %s: program %.9g, reference %.9g", where, what, own, other);
    }
    CU_ASSERT_TRUE(near);
}

static void check_settings(const char *where, const struct pd_strategy *own)
{
    const struct reference_settings *other = &reference.settings;
    double run_on = isnan(other->stop_pressure) ? other->run_on : own->run_on;

    check_number(where, "start pressure", own->start_pressure, other->start_pressure, 1e-9, 1e-3);
    check_number(where, "start flow", own->start_flow, other->start_flow, 1e-9, 0);
    check_number(where, "stop flow", own->stop_flow, other->stop_flow, 1e-6, 1e-12);
    check_number(where, "stop pressure", own->stop_pressure, other->stop_pressure, 1e-9, 0);
    check_number(where, "run-on", own->run_on, run_on, 1e-9, 0);
    check_number(where, "precharge", own->precharge, other->precharge, 1e-6, 1e-2);
    check_number(where, "dry pressure", own->dry_pressure, other->dry_pressure, 1e-6, 1e-2);
}

/* Start for start; tells the first that is apart and no more. */
static void check_starts(const char *where, const struct pd_day_result *own)
{
    int k = 0;
    bool near = true;

    for (size_t i = 0; i < own->run_count && k < reference.starts && near; i++) {
        if (own->runs[i].start_cause == PD_CAUSE_CARRIED_OVER) {
            continue;
        }
        double other = reference.start_time[k++];
        near = fabs(own->runs[i].start - other) <= seconds_apart;
        if (!near) {
            printf("\n    %s: start %d: program %.4f s, reference %.4f s", where, k,
                   own->runs[i].start, other);
        }
    }
    CU_ASSERT_TRUE(near);
    if (own->starts != reference.starts) {
        printf("\n    %s: starts: program %d, reference %d", where, own->starts, reference.starts);
    }
    CU_ASSERT_EQUAL(own->starts, reference.starts);
}

static void check_day(const char *where, const struct pd_day_result *own)
{
    check_settings(where, &own->strategy);
    CU_ASSERT_EQUAL(own->ending == PD_ENDING_CHATTER, reference.chattered);
    check_starts(where, own);
    check_number(where, "run time", own->run_time, reference.run_time, share_apart, least_run_time);
    check_number(where, "energy", own->energy, reference.energy, share_apart, 0);
    check_number(where, "delivered", own->delivered, reference.delivered, share_apart,
                 least_volume);
    check_number(where, "supplied", own->supplied, reference.supplied, share_apart, least_volume);
    check_number(where, "leaked", own->leaked, reference.leaked, share_apart, least_volume);
    check_number(where, "highest pressure", own->highest_header_pressure, reference.highest_header,
                 share_apart, 500);
    check_number(where, "lowest tap pressure", own->lowest_tap_pressure, reference.lowest_tap,
                 share_apart, 500);
    check_number(where, "lowest suction", own->lowest_suction_pressure, reference.lowest_suction,
                 share_apart, 500);
    CU_ASSERT_EQUAL(own->locked_out, reference.locked_out);
    CU_ASSERT_EQUAL(own->suction_trips, reference.suction_trips);
}

/* One day both ways. */
static void compare_day(const char *where, const struct pd_scenario *scenario,
                        const struct pd_plant *plant, const struct pd_strategy_kind *kind)
{
    struct pd_day_options options = pd_day_default();
    struct pd_strategy strategy = pd_strategy_for(kind, plant);
    struct pd_day_result own;
    struct pd_error error = {0};
    char why[200] = "";

    bool ran = pd_day_run(workspace, plant, &strategy, &options, &own, &error);
    if (!ran) {
        printf("\n    %s: program: %s", where, error.text);
    }
    bool ran_too = reference_day(scenario, kind->name, tolerance, &reference, why, sizeof why);
    if (!ran_too) {
        printf("\n    %s: reference: %s", where, why);
    }
    CU_ASSERT_TRUE(ran);
    CU_ASSERT_TRUE(ran_too);
    if (ran && ran_too) {
        check_day(where, &own);
    }
}

/* All strategies and gas laws on one scenario. */
static void compare_scenario(const char *name, struct pd_scenario *scenario)
{
    for (int gas = 0; gas < GASES; gas++) {
        struct pd_plant plant;
        struct pd_error error = {0};
        scenario->value[PD_TANK_GAS] = gas;
        CU_ASSERT_TRUE_FATAL(pd_plant_build(scenario, &plant, &error));
        for (size_t i = 0; i < pd_strategy_count; i++) {
            char where[PD_PATH_MOST + 100];
            (void)snprintf(where, sizeof where, "%s, %s, %s", name, pd_strategies[i]->name,
                           gas_names[gas]);
            compare_day(where, scenario, &plant, pd_strategies[i]);
        }
        pd_plant_free(&plant);
    }
}

static void compare_variant(const struct variant *variant)
{
    static struct pd_faults faults;
    struct pd_scenario scenario;
    char name[PD_PATH_MOST];
    size_t count = 0;
    size_t used = (size_t)snprintf(name, sizeof name, "%s", variant->folder);

    while (count < OVERRIDES_MOST && variant->overrides[count] != NULL) {
        used += (size_t)snprintf(name + used, sizeof name - used, " %s", variant->overrides[count]);
        count++;
    }
    memset(&faults, 0, sizeof faults);
    bool read = pd_scenario_read(variant->folder, variant->overrides, count, &scenario, &faults);
    if (!read) {
        pd_faults_print(stdout, &faults);
    }
    CU_ASSERT_TRUE_FATAL(read);
    if (variant->change != NULL) {
        variant->change(&scenario);
    }
    compare_scenario(name, &scenario);
    pd_scenario_free(&scenario);
}

static int compare_names(const void *left, const void *right)
{
    return strcmp(left, right);
}

static void every_scenario(void)
{
    static char folders[FOLDERS_MOST][PD_NAME_MOST];
    size_t count = 0;
    DIR *directory = opendir("scenarios");

    CU_ASSERT_PTR_NOT_NULL(directory);
    if (directory == NULL) {
        return;
    }
    for (struct dirent *entry = readdir(directory); entry != NULL && count < FOLDERS_MOST;
         entry = readdir(directory)) {
        if (entry->d_name[0] != '.') {
            (void)snprintf(folders[count++], PD_NAME_MOST, "scenarios/%.50s", entry->d_name);
        }
    }
    closedir(directory);
    CU_ASSERT_TRUE(count >= 6);
    qsort(folders, count, sizeof folders[0], compare_names);
    for (size_t i = 0; i < count; i++) {
        const struct variant plain = {folders[i], {NULL}, NULL};
        compare_variant(&plain);
    }
}

static void every_variant(void)
{
    for (size_t i = 0; i < VARIANTS; i++) {
        compare_variant(&variants[i]);
    }
}

void suite_reference(void)
{
    CU_pSuite suite = CU_add_suite("reference", make_workspace, free_workspace);

    CU_add_test(suite, "every scenario as the reference has it", every_scenario);
    CU_add_test(suite, "every variant as the reference has it", every_variant);
}
