/* A logged gauge: faults planted in simulated days, logged with noise, are found again with their
 * size, by rows close and far apart.  Nothing of the bench on which trials are logged is used. */
#include <pumpday/diagnose.h>

#include "physics/near.h"
#include "scenario/folder.h"
#include "studies/diagnose_house.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

void suite_diagnose_log(void);

static const double bar = 1e5;

enum { LOG_MOST = 86401 };

static enum pd_answer log_row(void *context, const struct pd_trace_row *row)
{
    struct pd_log *log = context;
    double last = log->count > 0 ? log->time[log->count - 1] : -1;

    // whole seconds only, of the hour after the bucket
    if (row->time >= 2 * 3600 && row->time <= 3 * 3600 && row->time - last > 0.999 &&
        fabs(row->time - round(row->time)) < 1e-6) {
        log->time[log->count] = row->time;
        log->pressure[log->count] = row->header_pressure + 2e3 * noise();
        log->power[log->count++] = row->power;
    }
    return PD_GO_ON;
}

/* An hour's log of a house with three things wrong. */
static void plant_log(const char *const *sets, size_t count, struct pd_log *log)
{
    static double time[LOG_MOST], pressure[LOG_MOST], power[LOG_MOST];
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct pd_day_result result;
    struct pd_error error = {.code = PD_DONE};
    struct pd_day_options options = pd_day_default();

    *log = (struct pd_log){.file = "log", .time = time, .pressure = pressure, .power = power};
    read_house(sets, count, false, &scenario);
    CU_ASSERT_TRUE_FATAL(pd_plant_build(&scenario, &plant, &error));
    struct pd_strategy strategy = pd_strategy_for(pd_strategy_find("pressure-start"), &plant);
    struct pd_day *day = pd_day_create(&error);
    CU_ASSERT_PTR_NOT_NULL_FATAL(day);
    options.trace = log_row;
    options.trace_context = log;
    options.trace_every = 1;
    CU_ASSERT_TRUE_FATAL(pd_day_run(day, &plant, &strategy, &options, &result, &error));
    pd_day_free(day);
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
}

struct planted_log {
    const char *sets[3];
    double precharge, leak, start;
};

static const struct planted_log logs[] = {
    {{"pressure_start.precharge=3 bar", "house.leak=0.6 L/min", "pressure_start.start=4.5 bar"},
     3e5,
     0.6e-3 / 60,
     4.5e5},
    {{"pressure_start.precharge=4.4 bar", "house.leak=0.9 L/min", "pressure_start.start=4.6 bar"},
     4.4e5,
     0.9e-3 / 60,
     4.6e5},
    {{"pressure_start.precharge=1 bar", "house.leak=0.15 L/min", "pressure_start.start=4.8 bar"},
     1e5,
     0.15e-3 / 60,
     4.8e5},
};

static void fit_told(struct pd_log *log, const struct pd_seen *told, struct pd_log_fit *fit)
{
    static const char *const design[] = {DESIGN};
    struct pd_seen seen = *told;
    struct pd_day_options day = pd_day_default();
    struct pd_scenario scenario;
    struct pd_error error = {.code = PD_DONE};

    read_house(design, COUNT(design), false, &scenario);
    seen.supply = isnan(seen.supply) ? scenario.value[PD_SUPPLY_PRESSURE] : seen.supply;
    // no supply at all is told by one that cannot be
    seen.supply = isinf(seen.supply) ? (double)NAN : seen.supply;
    bool good =
        pd_log_fit(&scenario, pd_strategy_find("pressure-start"), log, &seen, &day, fit, &error);
    pd_error_print(stdout, &error);
    pd_scenario_free(&scenario);
    CU_ASSERT_TRUE_FATAL(good);
}

/* With the supply told. */
static void fit_log(struct pd_log *log, struct pd_log_fit *fit)
{
    const struct pd_seen nothing = pd_seen_nothing();

    fit_told(log, &nothing, fit);
}

static void planted_logs_are_fitted(void)
{
    seed = 11;
    for (size_t i = 0; i < 2 * COUNT(logs); i++) {
        const struct planted_log *planted = &logs[i / 2];
        struct pd_log log;
        struct pd_log_fit fit;
        plant_log(planted->sets, COUNT(planted->sets), &log);
        // each with power and without
        log.power = i % 2 == 0 ? log.power : NULL;
        fit_log(&log, &fit);
        CU_ASSERT(within(fit.start, planted->start, 0.05 * bar));
        CU_ASSERT(within(fit.precharge, planted->precharge, 0.4 * bar));
        CU_ASSERT(near(fit.leak, planted->leak, 0.1));
        CU_ASSERT(fit.misfit < 1.5);
        CU_ASSERT(near(fit.leak_by_hand, planted->leak, 0.15));
        // a logger that tells whole psi: the misfit knows its step
        for (size_t k = 0; k < log.count; k++) {
            log.pressure[k] = 6894.757 * round(log.pressure[k] / 6894.757);
        }
        fit_log(&log, &fit);
        CU_ASSERT(near(fit.gauge_step, 6894.757, 1e-6));
        CU_ASSERT(fit.misfit < 1.5);
    }
}

/* A gas that warms and cools hides part of the precharge; by hand it would seem a larger leak. */
static void planted_logs_of_a_thermal_gas(void)
{
    seed = 11;
    gas = "thermal";
    for (size_t i = 0; i < COUNT(logs); i++) {
        const struct planted_log *planted = &logs[i];
        struct pd_log log;
        struct pd_log_fit fit;
        plant_log(planted->sets, COUNT(planted->sets), &log);
        fit_log(&log, &fit);
        CU_ASSERT(within(fit.start, planted->start, 0.05 * bar));
        CU_ASSERT(within(fit.precharge, planted->precharge, 0.5 * bar));
        CU_ASSERT(near(fit.leak, planted->leak, 0.2));
        CU_ASSERT(fit.misfit < 1.5);
    }
    gas = "isothermal";
}

/* Every so many rows of a log of whole seconds. */
static void thin_out(struct pd_log *log, size_t every)
{
    size_t count = 0;

    for (size_t i = 0; i < log->count; i += every, count++) {
        log->time[count] = log->time[i];
        log->pressure[count] = log->pressure[i];
        log->power[count] = log->power[i];
    }
    log->count = count;
}

/* What is said to be off is a deviation: three of them hold all but one in some hundreds. */
static void check_within_off(const struct pd_log_fit *fit, const struct planted_log *planted)
{
    CU_ASSERT(within(fit->precharge, planted->precharge, 3 * fit->precharge_off));
    CU_ASSERT(within(fit->leak, planted->leak, 3 * fit->leak_off));
    CU_ASSERT(fit->start_hidden || within(fit->start, planted->start, 3 * fit->start_off));
    CU_ASSERT(fit->misfit < 1.5);
}

/* Runs of these houses take 5 to 11 s: rows of 10 s cannot follow them. */
static void rows_far_apart_are_read(void)
{
    struct pd_seen gauged = pd_seen_nothing();

    seed = 13;
    for (size_t i = 0; i < 2 * COUNT(logs); i++) {
        const struct planted_log *planted = &logs[i / 2];
        struct pd_log log;
        struct pd_log_fit fit;
        plant_log(planted->sets, COUNT(planted->sets), &log);
        thin_out(&log, 10);
        log.power = i % 2 == 0 ? log.power : NULL;
        fit_log(&log, &fit);
        CU_ASSERT_TRUE(fit.far_apart);
        CU_ASSERT(isnan(fit.logged[PD_TRAIT_RISE]));
        CU_ASSERT_EQUAL(isnan(fit.logged[PD_TRAIT_ON]), i % 2 == 1);
        check_within_off(&fit, planted);
        // a gauged precharge is held, and leaves little to find
        gauged.sign[PD_SIGN_PRECHARGE] = planted->precharge;
        fit_told(&log, &gauged, &fit);
        CU_ASSERT_DOUBLE_EQUAL(fit.precharge, planted->precharge, 1);
        CU_ASSERT_TRUE(fit.gauged);
        CU_ASSERT(near(fit.leak, planted->leak, 0.1));
        check_within_off(&fit, planted);
    }
}

/* The main stands 0.4 bar over the scenario's and nobody tells. */
static void a_supply_not_told_is_fitted(void)
{
    static const char *const sets[] = {"pressure_start.precharge=3 bar", "house.leak=0.6 L/min",
                                       "pressure_start.start=4.5 bar", "supply.pressure=2.4 bar"};
    struct pd_seen nothing = pd_seen_nothing();
    struct pd_log log;
    struct pd_log_fit fit;

    seed = 17;
    plant_log(sets, COUNT(sets), &log);
    nothing.supply = INFINITY;
    fit_told(&log, &nothing, &fit);
    CU_ASSERT_FALSE(fit.supply_told);
    CU_ASSERT(within(fit.supply - fit.supply_designed, 0.4 * bar, 0.1 * bar));
    CU_ASSERT(within(fit.start, 4.5 * bar, 0.05 * bar));
    CU_ASSERT(within(fit.precharge, 3 * bar, 0.5 * bar));
    CU_ASSERT(near(fit.leak, 0.6e-3 / 60, 0.15));
}

/* With the house shut the gauge falls all the same: the loss is the check valve's, told at 1 bar
 * across it. */
static void a_log_with_the_house_shut(void)
{
    static const char *const sets[] = {"pressure_start.precharge=3 bar",
                                       "check_valve.leak_by=0.4 L/min"};
    struct pd_seen told = pd_seen_nothing();
    struct pd_log log;
    struct pd_log_fit fit;

    seed = 19;
    plant_log(sets, COUNT(sets), &log);
    told.sign[PD_SIGN_FALLS_ISOLATED] = 1;
    told.sign[PD_SIGN_PRECHARGE] = 3 * bar;
    fit_told(&log, &told, &fit);
    CU_ASSERT_TRUE(fit.by_valve);
    CU_ASSERT(near(fit.leak, 0.4e-3 / 60, 0.1));
    CU_ASSERT(fit.misfit < 1.5);
    told.sign[PD_SIGN_FALLS_ISOLATED] = 0;
    fit_told(&log, &told, &fit);
    CU_ASSERT_FALSE(fit.by_valve);
    CU_ASSERT_TRUE(fit.house_leaks);
}

static void bad_logs_are_told(void)
{
    static const struct {
        const char *text, *words;
        int line;
    } bad[] = {
        {"time [s],pressure [bar]\n0,3\n1,x\n", "not a number", 3},
        {"time [s],pressure [bar]\n0,3\n0,3\n", "same time", 3},
        {"time [s],pressure [bar]\n1,3\n0,3\n", "out of order", 3},
        {"time,pressure\n00:00:01,3\n", "no unit", 1},
        {"time [s]\n1\n2\n", "missing", 1},
        {"time [s],pressure [bar]\n1,3\n", "fewer than two rows", 0},
        {"time,pressure [bar]\n23:59:59,3\n00:00:00,3\n", "over midnight", 3},
    };

    for (size_t i = 0; i < COUNT(bad); i++) {
        static struct pd_faults told;
        struct folder folder;
        struct pd_log log;
        char path[128];
        told.count = 0;
        CU_ASSERT_TRUE_FATAL(folder_make(&folder));
        // a name that the folder knows how to remove
        folder_write_text(&folder, "profile.csv", bad[i].text);
        (void)snprintf(path, sizeof path, "%s/profile.csv", folder.path);
        CU_ASSERT_FALSE(pd_log_read(path, &log, &told));
        CU_ASSERT_FATAL(told.count > 0);
        CU_ASSERT_EQUAL(told.list[0].line, bad[i].line);
        CU_ASSERT_PTR_NOT_NULL(strstr(told.list[0].text, bad[i].words));
        CU_ASSERT_STRING_EQUAL(told.list[0].file, path);
        folder_remove(&folder);
    }
}

void suite_diagnose_log(void)
{
    CU_pSuite suite = CU_add_suite("diagnose log", NULL, NULL);

    CU_ADD_TEST(suite, planted_logs_are_fitted);
    CU_ADD_TEST(suite, planted_logs_of_a_thermal_gas);
    CU_ADD_TEST(suite, rows_far_apart_are_read);
    CU_ADD_TEST(suite, a_supply_not_told_is_fitted);
    CU_ADD_TEST(suite, a_log_with_the_house_shut);
    CU_ADD_TEST(suite, bad_logs_are_told);
}
