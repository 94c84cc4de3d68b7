/* Water and energy of every scenario, strategy and gas law: what comes in goes out or is stored,
 * the motor takes at least what it gives the water, and the parts add up to the whole. */
#include "day/folders.h"

#include "physics/near.h"

#include <CUnit/CUnit.h>

void suite_conservation(void);

enum { GASES = 3 };

static struct pd_day *workspace;

static int make_workspace(void)
{
    struct pd_error error = {.code = PD_DONE};

    workspace = pd_day_create(&error);
    return workspace == NULL;
}

static int free_workspace(void)
{
    pd_day_free(workspace);
    return 0;
}

/* The work that the running pump does on the water, summed over a trace by trapezoids. */
struct work {
    const struct pd_plant *plant;
    struct pd_trace_row last;
    double last_power, sum;
    bool begun;
};

static enum pd_answer add_work(void *context, const struct pd_trace_row *row)
{
    struct work *work = context;
    double by_flow, by_speed;
    double rise =
        pd_pump_rise(&work->plant->branch[0].pump, row->pump_flow, row->speed, &by_flow, &by_speed);
    double power = row->pump_on ? pd_hydraulic_power(row->pump_flow, rise) : 0;

    if (work->begun) {
        work->sum += 0.5 * (power + work->last_power) * (row->time - work->last.time);
    }
    work->begun = true;
    work->last = *row;
    work->last_power = power;
    return PD_GO_ON;
}

static void check_water(const struct pd_day_result *day)
{
    double volume = day->delivered + day->leaked;

    // a house above its supply has no water but by the pump, and under two strategies none at all
    CU_ASSERT(volume > 0 || day->starts == 0);
    CU_ASSERT(fabs(day->balance_error) <= 1e-4 * volume + 1e-9);
    CU_ASSERT(within(day->supplied, day->delivered + day->leaked + day->stored + day->balance_error,
                     1e-9 * volume + 1e-12));
    CU_ASSERT(day->leaked >= 0);
}

static void check_energy(const struct pd_day_result *day, double standby, double work)
{
    double motor = day->energy - standby * 86400;

    CU_ASSERT(motor >= -1e-6);
    CU_ASSERT(motor >= work);
    // no booster of this size is that bad, so the work is not nothing by mistake
    CU_ASSERT(work >= 0.01 * motor);
}

static void check_runs(const struct pd_day_result *day, double standby)
{
    double run_time = 0, energy = 0;
    int starts = 0;

    for (size_t i = 0; i < day->run_count; i++) {
        run_time += day->runs[i].run_time;
        energy += day->runs[i].energy;
        starts += day->runs[i].start_cause != PD_CAUSE_CARRIED_OVER;
    }
    CU_ASSERT_EQUAL(starts, day->starts);
    CU_ASSERT(within(run_time, day->run_time, 1e-6));
    CU_ASSERT(within(energy, day->energy - standby * 86400, 1e-6 * day->energy));
}

static void check_hours(const struct pd_day_result *day)
{
    double run_time = 0, energy = 0, volume = 0;
    int starts = 0;

    for (int i = 0; i < PD_HOURS; i++) {
        starts += day->hours[i].starts;
        run_time += day->hours[i].run_time;
        energy += day->hours[i].energy;
        volume += day->hours[i].volume;
    }
    CU_ASSERT_EQUAL(starts, day->starts);
    CU_ASSERT(within(run_time, day->run_time, 1e-6));
    CU_ASSERT(near(energy, day->energy, 1e-9));
    CU_ASSERT(near(volume, day->delivered, 1e-9));
}

static void check_day(const struct pd_plant *plant, const struct pd_strategy_kind *kind)
{
    struct pd_strategy strategy = pd_strategy_for(kind, plant);
    struct pd_day_options options = pd_day_default();
    struct work work = {.plant = plant};
    struct pd_day_result day;
    struct pd_error error = {.code = PD_DONE};
    unsigned failed = CU_get_number_of_failures();

    options.trace = add_work;
    options.trace_context = &work;
    options.trace_every = 5;
    CU_ASSERT_FATAL(pd_day_run(workspace, plant, &strategy, &options, &day, &error));
    CU_ASSERT_EQUAL(day.ending, PD_ENDING_MIDNIGHT);
    check_water(&day);
    check_energy(&day, plant->standby_power, work.sum);
    check_runs(&day, plant->standby_power);
    check_hours(&day);
    if (CU_get_number_of_failures() > failed) {
        printf("\n    in %s, %s, gas %d: balance %g of %g m3, motor %g J, work %g J",
               plant->scenario->folder, kind->name, (int)plant->tank.gas, day.balance_error,
               day.delivered, day.energy - plant->standby_power * 86400, work.sum);
    }
}

static void every_scenario_keeps_its_water_and_energy(void)
{
    static struct folders folders;

    folders_list(&folders);
    CU_ASSERT(folders.count >= 6);
    for (size_t i = 0; i < folders.count; i++) {
        struct pd_scenario scenario;
        CU_ASSERT_FATAL(folders_read(folders.path[i], &scenario));
        for (int gas = 0; gas < GASES; gas++) {
            struct pd_plant plant;
            struct pd_error error = {.code = PD_DONE};
            scenario.value[PD_TANK_GAS] = gas;
            CU_ASSERT_FATAL(pd_plant_build(&scenario, &plant, &error));
            for (size_t k = 0; k < pd_strategy_count; k++) {
                check_day(&plant, pd_strategies[k]);
            }
            pd_plant_free(&plant);
        }
        pd_scenario_free(&scenario);
    }
}

void suite_conservation(void)
{
    CU_pSuite suite = CU_add_suite("conservation", make_workspace, free_workspace);

    CU_ADD_TEST(suite, every_scenario_keeps_its_water_and_energy);
}
