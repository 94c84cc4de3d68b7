/* Owns the workspace of the days. */
#include "evidence/scene.h"

#include <CUnit/CUnit.h>
#include <math.h>

const double scene_litre = 1e-3, scene_bar = 1e5, scene_psi = 6894.757;
const double scene_gallon = 3.785411784e-3, scene_minute = 60, scene_hour = 3600;

static struct pd_day *workspace;

int scene_begin(void)
{
    struct pd_error error = {.code = PD_DONE};

    workspace = pd_day_create(&error);
    if (workspace == NULL) {
        pd_error_print(stderr, &error);
    }
    return workspace == NULL;
}

int scene_end(void)
{
    pd_day_free(workspace);
    workspace = NULL;
    return 0;
}

void scene_ideal(struct scene *scene, double tank, double precharge, double start, double stop)
{
    *scene = (struct scene){.scenario = pd_scenario_default()};
    double *value = scene->scenario.value;
    value[PD_SUPPLY_KIND] = PD_SUPPLY_MAIN;
    value[PD_SUPPLY_PRESSURE] = 0;
    // little inertia: the pump's full flow comes without drawing the inlet down
    value[PD_SERVICE_LENGTH] = 10;
    value[PD_SERVICE_DIAMETER] = 0.5;
    value[PD_SERVICE_LOSS_K] = 0;
    value[PD_CHECK_VALVE_OPENING_PRESSURE] = 0;
    value[PD_CHECK_VALVE_LOSS_K] = 0;
    value[PD_PUMP_RUN_UP_TIME] = 0;
    value[PD_WATER_TEMPERATURE] = 293.15;
    value[PD_ENERGY_STANDBY] = 0;
    value[PD_TANK_VOLUME] = tank;
    value[PD_TANK_GAS] = PD_GAS_ISOTHERMAL;
    value[PD_TANK_PRECHARGE] = precharge;
    value[PD_HOUSE_ELEVATION] = 0;
    value[PD_HOUSE_LOSS] = 0;
    value[PD_HOUSE_PIPE_LENGTH] = 20;
    value[PD_HOUSE_PIPE_MODULUS] = 500e9;
    value[PD_PRESSURE_START_START] = start;
    value[PD_PRESSURE_START_STOP_PRESSURE] = stop;
    value[PD_GUARD_LEAST_REST] = 0;
    value[PD_DAY_WARM_UP] = 0;
}

static double specific_weight(const struct scene *scene)
{
    return PD_GRAVITY * pd_water_at(scene->scenario.value[PD_WATER_TEMPERATURE], 5e5).density;
}

void scene_line_pump(struct scene *scene, double most, double shutoff)
{
    struct pd_pump_points *pump = &scene->scenario.pump;

    pump->count = 4;
    for (size_t i = 0; i < pump->count; i++) {
        double part = (double)i / 3;
        pump->flow[i] = part * most;
        pump->head[i] = (1 - part) * shutoff / specific_weight(scene);
        pump->power[i] = 500;
    }
}

void scene_constant_pump(struct scene *scene, double flow, double pressure)
{
    const double shutoff = 1e9;

    scene_line_pump(scene, flow / (1 - pressure / shutoff), shutoff);
}

static void draw_between(struct scene *scene, double flow, double seconds)
{
    scene->profile[0] = (struct pd_sample){0, flow};
    scene->profile[1] = (struct pd_sample){seconds, 0};
    scene->scenario.profile = scene->profile;
    scene->scenario.profile_count = 2;
}

void scene_steady_draw(struct scene *scene, double flow, double seconds)
{
    const double depth = 1e5;
    double *value = scene->scenario.value;

    value[PD_HOUSE_ELEVATION] = -depth;
    value[PD_DEMAND_REFERENCE_PRESSURE] =
        specific_weight(scene) * depth +
        (value[PD_PRESSURE_START_START] + value[PD_PRESSURE_START_STOP_PRESSURE]) / 2;
    draw_between(scene, flow, seconds);
}

void scene_opening(struct scene *scene, double flow_at_1_bar, double seconds)
{
    scene->scenario.value[PD_DEMAND_REFERENCE_PRESSURE] = scene_bar;
    draw_between(scene, flow_at_1_bar, seconds);
}

static const struct pd_day_result *run(const struct pd_scenario *scenario,
                                       const struct pd_strategy_kind *kind,
                                       const struct pd_day_options *options)
{
    static struct pd_day_result result;
    struct pd_plant plant;
    struct pd_error error = {.code = PD_DONE};

    CU_ASSERT_FATAL(pd_plant_build(scenario, &plant, &error));
    struct pd_strategy strategy = pd_strategy_for(kind, &plant);
    bool good = pd_day_run(workspace, &plant, &strategy, options, &result, &error);
    pd_plant_free(&plant);
    if (!good) {
        pd_error_print(stdout, &error);
    }
    CU_ASSERT_FATAL(good);
    return &result;
}

const struct pd_day_result *scene_day(const struct pd_scenario *scenario,
                                      const struct pd_strategy_kind *kind)
{
    struct pd_day_options options = pd_day_default();

    return run(scenario, kind, &options);
}

static enum pd_answer keep_pressure(void *pressure, const struct pd_trace_row *row)
{
    *(double *)pressure = row->header_pressure;
    return PD_GO_ON;
}

double scene_last_pressure(const struct pd_scenario *scenario)
{
    struct pd_day_options options = pd_day_default();
    double pressure = NAN;

    options.trace_every = scene_hour;
    options.trace = keep_pressure;
    options.trace_context = &pressure;
    (void)run(scenario, pd_strategies[0], &options);
    return pressure;
}

double scene_pressure_at(const struct pd_scenario *scenario, double time)
{
    struct pd_day_options options = pd_day_default();
    double pressure = NAN;

    options.trace_every = scene_hour;
    options.trace_from = time;
    options.trace_to = time;
    options.trace = keep_pressure;
    options.trace_context = &pressure;
    (void)run(scenario, pd_strategies[0], &options);
    return pressure;
}

double scene_starts_per_hour(const struct scene *scene, double seconds)
{
    const struct pd_day_result *day = scene_day(&scene->scenario, pd_strategies[0]);
    size_t last = 0;

    CU_ASSERT_EQUAL(day->ending, PD_ENDING_MIDNIGHT);
    while (last + 1 < day->run_count && day->runs[last + 1].start < seconds) {
        last++;
    }
    CU_ASSERT_FATAL(last >= 4);
    double span = day->runs[last].start - day->runs[1].start;
    return ((double)last - 1) * scene_hour / span;
}
