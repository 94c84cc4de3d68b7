/* Fills the scenario item by item; nothing is read from files. */
#include "day/small_plant.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void fill_pump(struct pd_pump_points *pump)
{
    static const double flow[] = {0, 20, 40, 60}, head[] = {30, 28, 22, 12};
    static const double power[] = {200, 260, 310, 340};

    pump->count = 4;
    for (size_t i = 0; i < pump->count; i++) {
        pump->flow[i] = flow[i] * litre_per_minute;
        pump->head[i] = head[i];
        pump->power[i] = power[i];
    }
}

void small_begin(struct small_plant *small)
{
    struct pd_error error = {.code = PD_DONE};

    memset(small, 0, sizeof *small);
    small->scenario = pd_scenario_default();
    double *value = small->scenario.value;
    value[PD_SUPPLY_KIND] = PD_SUPPLY_MAIN;
    value[PD_SUPPLY_PRESSURE] = 2 * bar;
    value[PD_SERVICE_LENGTH] = 10;
    value[PD_SERVICE_DIAMETER] = 0.03;
    value[PD_TANK_VOLUME] = 20 * litre;
    value[PD_TANK_GAS] = PD_GAS_ISOTHERMAL;
    value[PD_HOUSE_ELEVATION] = 0;
    value[PD_ENERGY_STANDBY] = 0;
    value[PD_DAY_WARM_UP] = 600;
    fill_pump(&small->scenario.pump);
    small->scenario.draws = small->draws;
    small->scenario.profile = small->profile;
    small->scenario.supply = small->supply;
    small->options = pd_day_default();
    small->day = pd_day_create(&error);
    small->rows = calloc(SMALL_ROWS, sizeof *small->rows);
    if (small->day == NULL || small->rows == NULL) {
        abort();
    }
}

void small_end(struct small_plant *small)
{
    pd_plant_free(&small->plant);
    pd_day_free(small->day);
    free(small->rows);
    memset(small, 0, sizeof *small);
}

static void add_draw(struct small_plant *small, struct pd_draw draw)
{
    if (small->scenario.draw_count == SMALL_DRAWS) {
        abort();
    }
    small->draws[small->scenario.draw_count++] = draw;
}

void small_draw(struct small_plant *small, double time, double flow, double duration)
{
    add_draw(small, (struct pd_draw){time, flow, duration, NAN, "tap"});
}

void small_draw_volume(struct small_plant *small, double time, double flow, double volume)
{
    add_draw(small, (struct pd_draw){time, flow, NAN, volume, "tap"});
}

void small_profile(struct small_plant *small, double time, double flow)
{
    small->profile[small->scenario.profile_count++] = (struct pd_sample){time, flow};
}

void small_supply(struct small_plant *small, double time, double pressure)
{
    small->supply[small->scenario.supply_count++] = (struct pd_sample){time, pressure};
}

void small_rest(struct small_plant *small)
{
    small->scenario.value[PD_PEAK_ONLY_START] = -0.9 * bar;
    small->scenario.value[PD_PEAK_ONLY_PRECHARGE] = 1 * bar;
}

static enum pd_answer take_row(void *context, const struct pd_trace_row *row)
{
    struct small_plant *small = context;

    if (small->row_count == SMALL_ROWS) {
        return PD_FAILED;
    }
    small->rows[small->row_count++] = *row;
    return PD_GO_ON;
}

bool small_run(struct small_plant *small, const char *strategy)
{
    struct pd_error error = {.code = PD_DONE};

    pd_plant_free(&small->plant);
    small->row_count = 0;
    if (small->options.trace_every > 0) {
        small->options.trace = take_row;
        small->options.trace_context = small;
    }
    if (!pd_plant_build(&small->scenario, &small->plant, &error)) {
        pd_error_print(stdout, &error);
        return false;
    }
    small->strategy = pd_strategy_for(pd_strategy_find(strategy), &small->plant);
    if (!pd_day_run(small->day, &small->plant, &small->strategy, &small->options, &small->result,
                    &error)) {
        pd_error_print(stdout, &error);
        return false;
    }
    return true;
}

const struct pd_trace_row *small_first(const struct small_plant *small, double from,
                                       row_condition condition, double value)
{
    size_t i = 0;

    while (i + 1 < small->row_count &&
           (small->rows[i].time < from || !condition(&small->rows[i], value))) {
        i++;
    }
    return &small->rows[i];
}

const struct pd_trace_row *small_row(const struct small_plant *small, double time)
{
    const struct pd_trace_row *nearest = &small->rows[0];

    for (size_t i = 0; i < small->row_count; i++) {
        if (fabs(small->rows[i].time - time) <= fabs(nearest->time - time)) {
            nearest = &small->rows[i];
        }
    }
    return nearest;
}

bool row_draws(const struct pd_trace_row *row, double unused)
{
    (void)unused;
    return row->demand_flow > 0;
}

bool row_idle(const struct pd_trace_row *row, double unused)
{
    return !row_draws(row, unused);
}

bool row_valve_open(const struct pd_trace_row *row, double unused)
{
    (void)unused;
    return row->valve_open;
}

bool row_valve_shut(const struct pd_trace_row *row, double unused)
{
    return !row_valve_open(row, unused);
}

bool row_flow_under(const struct pd_trace_row *row, double flow)
{
    return row->pump_flow < flow;
}

bool row_tank_dry(const struct pd_trace_row *row, double unused)
{
    return !row_tank_wet(row, unused);
}

bool row_tank_wet(const struct pd_trace_row *row, double unused)
{
    (void)unused;
    return row->tank_water > 0;
}
