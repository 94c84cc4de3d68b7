/* Draws every item from a range that an installation might have. */
#include "evidence/random_scene.h"

#include <math.h>
#include <stdlib.h>

static const double litre = 1e-3, minute = 60, bar = 1e5, day_seconds = 86400;

/* G. Marsaglia, xorshift: J. Stat. Softw. 8 (2003), 64 bit, multiplied. */
static uint64_t next(struct random_scene *scene)
{
    uint64_t x = scene->seed;

    x ^= x >> 12;
    x ^= x << 25;
    x ^= x >> 27;
    scene->seed = x;
    return x * 2685821657736338717U;
}

double random_between(struct random_scene *scene, double low, double high)
{
    return low + (high - low) * (double)(next(scene) >> 11) / 9007199254740992.0;
}

static bool chance(struct random_scene *scene, double share)
{
    return random_between(scene, 0, 1) < share;
}

static void give(struct random_scene *scene, enum pd_item item, double value)
{
    scene->scenario.value[item] = value;
    scene->scenario.given[item] = true;
}

static void give_between(struct random_scene *scene, enum pd_item item, double low, double high)
{
    give(scene, item, random_between(scene, low, high));
}

static void give_perhaps(struct random_scene *scene, double share, enum pd_item item, double low,
                         double high)
{
    double value = random_between(scene, low, high);

    if (chance(scene, share)) {
        give(scene, item, value);
    }
}

/* Rising times from midnight on, the first of them at any time. */
static size_t fill_samples(struct random_scene *scene, struct pd_sample *samples, double low,
                           double high)
{
    size_t count = (size_t)random_between(scene, 2, RANDOM_SAMPLES_MOST);
    double time = random_between(scene, 0, 3600);

    for (size_t i = 0; i < count; i++) {
        samples[i] = (struct pd_sample){time, random_between(scene, low, high)};
        time += random_between(scene, 60, 10000);
    }
    return count;
}

static void fill_main(struct random_scene *scene)
{
    give(scene, PD_SUPPLY_KIND, PD_SUPPLY_MAIN);
    if (chance(scene, 0.5)) {
        scene->scenario.supply = scene->supply;
        scene->scenario.supply_count = fill_samples(scene, scene->supply, 0.3 * bar, 3.5 * bar);
    } else {
        give_between(scene, PD_SUPPLY_PRESSURE, 0, 4 * bar);
    }
}

static void fill_cistern(struct random_scene *scene)
{
    give(scene, PD_SUPPLY_KIND, PD_SUPPLY_CISTERN);
    give_between(scene, PD_SUPPLY_LEVEL, 0.4, 3);
    if (chance(scene, 0.6)) {
        give_between(scene, PD_SUPPLY_AREA, 0.2, 3);
        give_between(scene, PD_SUPPLY_REFILL, 0, 20 * litre / minute);
        give_perhaps(scene, 0.6, PD_SUPPLY_EMPTY_LEVEL, 0.02, 0.3);
    }
}

/* Half of the wells have their pump down below, some a casing that holds water. */
static void fill_well(struct random_scene *scene)
{
    if (chance(scene, 0.5)) {
        double under = random_between(scene, 3, 25);
        give_between(scene, PD_SUPPLY_LEVEL, -25, -2);
        give(scene, PD_PUMP_HEIGHT, scene->scenario.value[PD_SUPPLY_LEVEL] - under);
        give_between(scene, PD_RISING_MAIN_LENGTH, 5, 60);
        give_perhaps(scene, 0.7, PD_RISING_MAIN_DIAMETER, 0.02, 0.05);
        give_between(scene, PD_RISING_MAIN_LOSS_K, 0, 10);
    }
    if (chance(scene, 0.6)) {
        give_between(scene, PD_WELL_CASING_DIAMETER, 0.08, 0.3);
        give_perhaps(scene, 0.5, PD_SUPPLY_EMPTY_LEVEL, scene->scenario.value[PD_SUPPLY_LEVEL] - 20,
                     scene->scenario.value[PD_SUPPLY_LEVEL] - 1);
    }
    give_perhaps(scene, 0.5, PD_WELL_LOSS, 0, 5);
}

static void fill_supply(struct random_scene *scene)
{
    double kind = random_between(scene, 0, 1);

    if (kind < 0.6) {
        fill_main(scene);
    } else if (kind < 0.85) {
        fill_cistern(scene);
    } else {
        give(scene, PD_SUPPLY_KIND, PD_SUPPLY_WELL);
        give_between(scene, PD_SUPPLY_LEVEL, -3, 10);
        give_between(scene, PD_SUPPLY_SPECIFIC_CAPACITY, 3 * litre / minute, 50 * litre / minute);
        fill_well(scene);
    }
}

/* Head falls as a power of the flow; the motor takes what the water gets at 20 to 50 %. */
static void fill_pump(struct random_scene *scene)
{
    struct pd_pump_points *pump = &scene->scenario.pump;
    double shutoff = random_between(scene, 15, 60);
    double most = random_between(scene, 25, 120) * litre / minute;
    double bend = random_between(scene, 1, 2.5), drop = random_between(scene, 0.5, 0.95);
    double idle = random_between(scene, 0.25, 0.6), efficiency = random_between(scene, 0.2, 0.5);
    double full = 9810 * most * shutoff / efficiency;

    pump->count = (size_t)random_between(scene, 4, 9);
    pump->has_npsh = chance(scene, 0.5);
    for (size_t i = 0; i < pump->count; i++) {
        double part = (double)i / (double)(pump->count - 1);
        pump->flow[i] = part * most;
        pump->head[i] = shutoff * (1 - drop * pow(part, bend));
        pump->power[i] = full * (idle + (1 - idle) * part);
        pump->npsh_required[i] = 1 + 2 * part * part;
    }
    give(scene, PD_PUMP_RUN_UP_TIME, chance(scene, 0.1) ? 0 : random_between(scene, 0.05, 3));
    give_between(scene, PD_PUMP_STOPPED_LOSS, 2e3, 60e3);
    give_between(scene, PD_ENERGY_STANDBY, 0, 8);
}

static void fill_branch(struct random_scene *scene)
{
    give_between(scene, PD_SITE_ALTITUDE, 0, 2500);
    give_between(scene, PD_WATER_TEMPERATURE, 276, 303);
    give_between(scene, PD_SERVICE_LENGTH, 1, 80);
    give_between(scene, PD_SERVICE_DIAMETER, 0.016, 0.04);
    give_between(scene, PD_SERVICE_ROUGHNESS, 0, 2e-4);
    give_between(scene, PD_SERVICE_LOSS_K, 0, 20);
    give_perhaps(scene, 0.5, PD_CHECK_VALVE_DIAMETER, 0.016, 0.04);
    give_between(scene, PD_CHECK_VALVE_OPENING_PRESSURE, 0, 5e3);
    give_between(scene, PD_CHECK_VALVE_LOSS_K, 0, 10);
    give_perhaps(scene, 0.3, PD_CHECK_VALVE_LEAK_BY, 0, 0.3 * litre / minute);
}

static void fill_tank(struct random_scene *scene)
{
    give(scene, PD_TANK_GAS, floor(random_between(scene, 0, 3)));
    give_between(scene, PD_TANK_EXPONENT, 1, 1.4);
    give_between(scene, PD_TANK_TIME_CONSTANT, 1, 200);
    give(scene, PD_TANK_VOLUME, 4 * litre * pow(75, random_between(scene, 0, 1)));
    give_perhaps(scene, 0.1, PD_TANK_PRECHARGE, 0, 4 * bar);
}

static void fill_house(struct random_scene *scene)
{
    give_between(scene, PD_DEMAND_REFERENCE_PRESSURE, bar, 4 * bar);
    give_between(scene, PD_HOUSE_ELEVATION, -3, 12);
    give_between(scene, PD_HOUSE_LOSS, 0, 0.6 * bar);
    give_between(scene, PD_HOUSE_LOSS_FLOW, 15 * litre / minute, 60 * litre / minute);
    give_between(scene, PD_HOUSE_PIPE_LENGTH, 20, 80);
    give_between(scene, PD_HOUSE_PIPE_DIAMETER, 0.012, 0.03);
    give_between(scene, PD_HOUSE_PIPE_WALL, 1e-3, 3e-3);
    give(scene, PD_HOUSE_PIPE_MODULUS, chance(scene, 0.5) ? 120e9 : 0.8e9);
    give_perhaps(scene, 0.4, PD_HOUSE_LEAK, 0.002 * litre / minute, 0.2 * litre / minute);
    give_between(scene, PD_HOUSE_LEAK_PRESSURE, bar, 5 * bar);
    give_between(scene, PD_HOUSE_LEAK_EXPONENT, 0.4, 2.3);
}

static void fill_controller(struct random_scene *scene)
{
    if (chance(scene, 0.3)) {
        double start = random_between(scene, bar, 3 * bar);
        give(scene, PD_PRESSURE_START_START, start);
        give(scene, PD_PEAK_ONLY_START, start / 2);
        give(scene, PD_PRESSURE_START_STOP_PRESSURE, start + random_between(scene, 0.3, 2) * bar);
        give(scene, PD_PEAK_ONLY_STOP_PRESSURE, start + random_between(scene, 0.3, 2) * bar);
    }
    give_between(scene, PD_PRESSURE_START_RUN_ON, 2, 30);
    give_between(scene, PD_FLOW_START_RUN_ON, 2, 30);
    give_between(scene, PD_PEAK_ONLY_RUN_ON, 2, 30);
    give_perhaps(scene, 0.15, PD_GUARD_LOW_SUCTION, -0.5 * bar, 1.5 * bar);
    give_between(scene, PD_GUARD_DELAY, 0, 20);
    give_between(scene, PD_GUARD_RETRY, 10, 1800);
    give_perhaps(scene, 0.15, PD_GUARD_DRY_RUN_TIME, 5, 120);
    give_between(scene, PD_GUARD_LEAST_REST, 1, 60);
    give_between(scene, PD_DAY_WARM_UP, 0, 1800);
}

static int earlier_draw(const void *left, const void *right)
{
    const struct pd_draw *a = left;
    const struct pd_draw *b = right;

    return (a->time > b->time) - (a->time < b->time);
}

static void fill_demand(struct random_scene *scene)
{
    struct pd_scenario *scenario = &scene->scenario;

    scenario->draws = scene->draws;
    scenario->draw_count = (size_t)random_between(scene, 20, RANDOM_DRAWS_MOST);
    for (size_t i = 0; i < scenario->draw_count; i++) {
        bool by_volume = chance(scene, 0.5);
        scene->draws[i] = (struct pd_draw){
            .time = random_between(scene, 0, day_seconds),
            .flow = random_between(scene, 0.5, 25) * litre / minute,
            .duration = by_volume ? (double)NAN : random_between(scene, 2, 900),
            .volume = by_volume ? random_between(scene, 0.2, 120) * litre : (double)NAN,
            .fixture = "tap",
        };
    }
    qsort(scene->draws, scenario->draw_count, sizeof *scene->draws, earlier_draw);
    if (chance(scene, 0.3)) {
        scenario->profile = scene->profile;
        scenario->profile_count = fill_samples(scene, scene->profile, 0, 6 * litre / minute);
    }
}

void random_scene_fill(struct random_scene *scene, uint64_t seed)
{
    *scene = (struct random_scene){.seed = seed * 0x9E3779B97F4A7C15U + 1};
    scene->scenario = pd_scenario_default();
    // neighbouring seeds part company
    for (int i = 0; i < 8; i++) {
        (void)next(scene);
    }
    fill_supply(scene);
    fill_branch(scene);
    fill_pump(scene);
    fill_tank(scene);
    fill_house(scene);
    fill_controller(scene);
    fill_demand(scene);
}
