/* Turns a checked scenario into the fixed description that the equations need. */
#include <pumpday/plant.h>

#include "base/memory.h"
#include "model/supply_day.h"
#include "scenario/codes.h"

#include <math.h>
#include <stdlib.h>

static const double pi = 3.14159265358979323846;

/* water's properties are taken at a booster's usual pressure; over 0 to 1 MPa its density moves by
 * 0.05 % */
static const double property_pressure = 5.0e5; /* Pa absolute */

/* a run-up or an elastic pipe of nothing would make the equations algebraic */
static const double shortest_run_up = 1.0e-3;   /* s */
static const double least_compliance = 1.0e-12; /* m3/Pa */

/* the loss table reaches past what the pump can move; beyond it the formula itself is used */
static const double table_reach = 3.0; /* times the largest flow of the pump's curve */

static double item(const struct pd_scenario *scenario, enum pd_item which)
{
    return scenario->value[which];
}

static double circle(double diameter)
{
    return pi / 4.0 * diameter * diameter;
}

static void build_water(struct pd_plant *plant)
{
    const struct pd_scenario *scenario = plant->scenario;

    plant->water = pd_water_at(item(scenario, PD_WATER_TEMPERATURE), property_pressure);
    plant->atmosphere = pd_atmosphere_pressure(item(scenario, PD_SITE_ALTITUDE));
    plant->specific_weight = plant->water.density * PD_GRAVITY;
    plant->boiling = plant->water.vapour_pressure - plant->atmosphere;
}

static bool build_supply(struct pd_plant *plant, struct pd_error *error)
{
    const struct pd_scenario *scenario = plant->scenario;
    bool well = (enum pd_supply_kind)item(scenario, PD_SUPPLY_KIND) == PD_SUPPLY_WELL;
    double area =
        well ? circle(item(scenario, PD_WELL_CASING_DIAMETER)) : item(scenario, PD_SUPPLY_AREA);
    double empty = item(scenario, PD_SUPPLY_EMPTY_LEVEL);

    plant->supply_kind = (enum pd_supply_kind)item(scenario, PD_SUPPLY_KIND);
    plant->supply_level = item(scenario, PD_SUPPLY_LEVEL);
    plant->supply_pressure = plant->supply_kind == PD_SUPPLY_MAIN
                                 ? item(scenario, PD_SUPPLY_PRESSURE)
                                 : plant->specific_weight * plant->supply_level;
    plant->level_moves = !isnan(area) && plant->supply_kind != PD_SUPPLY_MAIN;
    plant->cistern_area = area;
    plant->cistern_refill = fmax(item(scenario, PD_SUPPLY_REFILL), 0.0);
    plant->cistern_empty_level = isnan(empty) ? -(double)INFINITY : empty;
    plant->well_drawdown = plant->well_loss = 0.0;
    if (well) {
        double loss_flow = item(scenario, PD_WELL_LOSS_FLOW);
        plant->well_drawdown = plant->specific_weight / item(scenario, PD_SUPPLY_SPECIFIC_CAPACITY);
        plant->well_loss =
            plant->specific_weight * item(scenario, PD_WELL_LOSS) / (loss_flow * loss_flow);
    }
    return supply_day_build(plant, error);
}

/* The pipe between pump and tank; without a length there is none. */
static void build_rising_main(struct pd_plant *plant)
{
    const struct pd_scenario *scenario = plant->scenario;
    struct pd_branch *branch = &plant->branch[0];
    double diameter = item(scenario, PD_RISING_MAIN_DIAMETER);
    struct pd_pipe rising = {
        .length = item(scenario, PD_RISING_MAIN_LENGTH),
        .diameter = isnan(diameter) ? item(scenario, PD_SERVICE_DIAMETER) : diameter,
        .roughness = item(scenario, PD_RISING_MAIN_ROUGHNESS),
        .loss_k = item(scenario, PD_RISING_MAIN_LOSS_K),
    };

    branch->height_pressure = plant->specific_weight * item(scenario, PD_PUMP_HEIGHT);
    branch->boiling = plant->boiling + branch->height_pressure;
    branch->rising_share = 0.0;
    if (rising.length > 0.0) {
        double inertance = pd_pipe_inertance(&rising, plant->water.density);
        branch->rising_share = inertance / (inertance + branch->inertance);
        pd_loss_table_build(&branch->rising, &rising, plant->water.density, plant->water.viscosity,
                            table_reach * branch->pump.last_flow);
    }
}

static void build_branch(struct pd_plant *plant)
{
    const struct pd_scenario *scenario = plant->scenario;
    double valve_diameter = item(scenario, PD_CHECK_VALVE_DIAMETER);
    double run_up = item(scenario, PD_PUMP_RUN_UP_TIME);
    struct pd_pipe service = {
        .length = item(scenario, PD_SERVICE_LENGTH),
        .diameter = item(scenario, PD_SERVICE_DIAMETER),
        .roughness = item(scenario, PD_SERVICE_ROUGHNESS),
        .loss_k = item(scenario, PD_SERVICE_LOSS_K),
    };

    pd_pump_build(&plant->branch[0].pump, &scenario->pump, plant->water.density,
                  item(scenario, PD_PUMP_STOPPED_LOSS));
    plant->branch[0].has_npsh = scenario->pump.has_npsh;
    if (plant->branch[0].has_npsh) {
        pd_curve_build(&plant->branch[0].npsh_required, scenario->pump.flow,
                       scenario->pump.npsh_required, scenario->pump.count);
    }
    pd_loss_table_build(&plant->branch[0].service, &service, plant->water.density,
                        plant->water.viscosity, table_reach * plant->branch[0].pump.last_flow);
    plant->branch[0].inertance = pd_pipe_inertance(&service, plant->water.density);
    plant->branch[0].speed_time_constant = fmax(run_up, shortest_run_up) / log(20.0);

    if (isnan(valve_diameter)) {
        valve_diameter = service.diameter;
    }
    double valve_area = circle(valve_diameter);
    plant->branch[0].valve_opening = item(scenario, PD_CHECK_VALVE_OPENING_PRESSURE);
    plant->branch[0].valve_coefficient = item(scenario, PD_CHECK_VALVE_LOSS_K) *
                                         plant->water.density / (2.0 * valve_area * valve_area);
    plant->branch[0].valve_leak_by = item(scenario, PD_CHECK_VALVE_LEAK_BY) / sqrt(1.0e5);
    plant->standby_power = item(scenario, PD_ENERGY_STANDBY);
    build_rising_main(plant);
}

static void build_house(struct pd_plant *plant)
{
    const struct pd_scenario *scenario = plant->scenario;
    double loss_flow = item(scenario, PD_HOUSE_LOSS_FLOW);
    double compliance = pd_pipe_compliance(
        item(scenario, PD_HOUSE_PIPE_LENGTH), item(scenario, PD_HOUSE_PIPE_DIAMETER),
        item(scenario, PD_HOUSE_PIPE_WALL), item(scenario, PD_HOUSE_PIPE_MODULUS),
        plant->water.bulk_modulus);

    plant->pipe_compliance = fmax(compliance, least_compliance);
    plant->zone[0].elevation_pressure = plant->specific_weight * item(scenario, PD_HOUSE_ELEVATION);
    plant->zone[0].loss_coefficient = item(scenario, PD_HOUSE_LOSS) / (loss_flow * loss_flow);
    plant->leak_exponent = item(scenario, PD_HOUSE_LEAK_EXPONENT);
    plant->leak_coefficient = item(scenario, PD_HOUSE_LEAK) /
                              pow(item(scenario, PD_HOUSE_LEAK_PRESSURE), plant->leak_exponent);
    plant->reference_root = sqrt(item(scenario, PD_DEMAND_REFERENCE_PRESSURE));
    plant->zone[0].tap_limit = pd_codes_tap_pressure(scenario);

    plant->tank = (struct pd_tank){
        .gas = (enum pd_tank_gas)item(scenario, PD_TANK_GAS),
        .volume = item(scenario, PD_TANK_VOLUME),
        .exponent = item(scenario, PD_TANK_EXPONENT),
        .time_constant = item(scenario, PD_TANK_TIME_CONSTANT),
        .wall_temperature = item(scenario, PD_WATER_TEMPERATURE),
    };
}

/* Adds an edge of the day, and its twin in the warm-up if it falls there. */
static void add_edge(struct pd_plant *plant, double time, enum pd_edge_kind kind, size_t index)
{
    if (time < PD_DAY_SECONDS) {
        plant->edges[plant->edge_count++] = (struct pd_edge){time, kind, index};
    }
    if (time >= PD_DAY_SECONDS - plant->warm_up) {
        plant->edges[plant->edge_count++] = (struct pd_edge){time - PD_DAY_SECONDS, kind, index};
    }
}

/* A draw opens and, if it ends by duration, closes; one of the day before stands a day earlier. */
static void add_draw(struct pd_plant *plant, size_t index, double earlier)
{
    const struct pd_draw *draw = &plant->scenario->draws[index];
    double opens = draw->time - earlier, closes = draw->time + draw->duration - earlier;

    if (opens < -plant->warm_up) {
        return;
    }
    plant->edges[plant->edge_count++] = (struct pd_edge){opens, PD_EDGE_DRAW_OPENS, index};
    if (closes < PD_DAY_SECONDS) {
        plant->edges[plant->edge_count++] = (struct pd_edge){closes, PD_EDGE_DRAW_CLOSES, index};
    }
}

/* The draws of the day, and of the evening before: those of another day, or its own once more. */
static void add_draws(struct pd_plant *plant)
{
    const struct pd_scenario *scenario = plant->scenario;
    size_t first = scenario->follows ? scenario->draw_count : 0;
    size_t end = scenario->draw_count + scenario->evening_count;

    for (size_t i = 0; i < scenario->draw_count; i++) {
        add_draw(plant, i, 0.0);
    }
    for (size_t i = first; i < end; i++) {
        add_draw(plant, i, PD_DAY_SECONDS);
    }
}

static int compare_edges(const void *left, const void *right)
{
    const struct pd_edge *a = left;
    const struct pd_edge *b = right;

    if (a->time != b->time) {
        return a->time < b->time ? -1 : 1;
    }
    if (a->kind != b->kind) {
        return a->kind < b->kind ? -1 : 1;
    }
    return a->index < b->index ? -1 : a->index > b->index;
}

/* A sample at 24:00 is the end of a line only where one at 00:00 begins the next day. */
static bool begins_something(const struct pd_sample *samples, size_t sample)
{
    return samples[sample].time < PD_DAY_SECONDS || samples[0].time > 0.0;
}

static bool build_edges(struct pd_plant *plant, struct pd_error *error)
{
    const struct pd_scenario *scenario = plant->scenario;
    size_t most = 2 * (plant->supply_count + scenario->profile_count) +
                  4 * (scenario->draw_count + scenario->evening_count) + 1;

    plant->edge_count = 0;
    plant->edges = pd_memory_resize(NULL, most * sizeof *plant->edges);
    if (plant->edges == NULL) {
        return pd_error_set(error, PD_SOLVER_FAILED, scenario->folder, 0, NULL,
                            "not enough memory for %zu events", most);
    }
    for (size_t i = 0; i < plant->supply_count; i++) {
        if (begins_something(plant->supply, i)) {
            add_edge(plant, plant->supply[i].time, PD_EDGE_SUPPLY, i);
        }
    }
    for (size_t i = 0; i < scenario->profile_count; i++) {
        if (begins_something(scenario->profile, i)) {
            add_edge(plant, scenario->profile[i].time, PD_EDGE_PROFILE, i);
        }
    }
    add_draws(plant);
    qsort(plant->edges, plant->edge_count, sizeof *plant->edges, compare_edges);
    return true;
}

/* No pump draws water up further than the atmosphere presses it. */
static bool check_lift(const struct pd_plant *plant, struct pd_error *error)
{
    const struct pd_scenario *scenario = plant->scenario;
    double most = (plant->atmosphere - plant->water.vapour_pressure) / plant->specific_weight;
    double lift =
        (plant->branch[0].height_pressure - plant->lowest_supply) / plant->specific_weight;
    enum pd_item told = plant->supply_kind == PD_SUPPLY_MAIN ? PD_SUPPLY_PRESSURE : PD_SUPPLY_LEVEL;

    if (lift < most) {
        return true;
    }
    return pd_error_set(error, PD_BAD_INPUT, scenario->folder, 0, pd_items[told].name,
                        "the supply falls to %.2f m of water below the pump, expected less than "
                        "%.2f m: the atmosphere lifts no more at this altitude and temperature",
                        lift, most);
}

bool pd_plant_build(const struct pd_scenario *scenario, struct pd_plant *plant,
                    struct pd_error *error)
{
    *plant = (struct pd_plant){.scenario = scenario};
    build_water(plant);
    build_branch(plant);
    build_house(plant);
    plant->warm_up = item(scenario, PD_DAY_WARM_UP);
    if (build_supply(plant, error) && check_lift(plant, error) && build_edges(plant, error)) {
        return true;
    }
    pd_plant_free(plant);
    return false;
}

bool pd_plant_set_draws(struct pd_plant *plant, struct pd_error *error)
{
    free(plant->edges);
    return build_edges(plant, error);
}

void pd_plant_free(struct pd_plant *plant)
{
    free(plant->supply);
    plant->supply = NULL;
    plant->supply_count = 0;
    free(plant->edges);
    plant->edges = NULL;
    plant->edge_count = 0;
}

double pd_plant_supply_pressure(const struct pd_plant *plant, double time)
{
    struct supply_line line = supply_line_at(plant, time);
    return line.value + line.slope * (time - line.time);
}

double pd_plant_unboosted(const struct pd_plant *plant, double supply_pressure, double flow)
{
    double slope;
    double losses =
        pd_loss_table_at(&plant->branch[0].service, flow, &slope) + plant->branch[0].valve_opening;
    double per_square =
        plant->branch[0].valve_coefficient + plant->branch[0].pump.stopped_coefficient;

    if (plant->branch[0].rising_share > 0.0) {
        losses += pd_loss_table_at(&plant->branch[0].rising, flow, &slope);
    }
    return supply_pressure - plant->well_drawdown * flow - losses -
           (per_square + plant->well_loss) * flow * flow;
}
