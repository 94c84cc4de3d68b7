/* A check from the few things known on site. */
#include "studies/findings.h"
#include "studies/quick_parts.h"

#include <math.h>
#include <string.h>

/* Halvings of a flow: to a millionth of the pump's, and well beyond. */
enum { HALVINGS = 40 };

struct pd_quick pd_quick_default(void)
{
    return (struct pd_quick){
        .supply = NAN,
        .shutoff = NAN,
        .duty_flow = NAN,
        .duty_head = NAN,
        .tank = NAN,
        .draw = NAN,
        .precharge = NAN,
        .start = NAN,
        .stop = NAN,
        .motor_power = NAN,
        .phases = NAN,
        .codes = NAN,
        .gas = NAN,
        .pipe_bore = NAN,
        .pipe_length = NAN,
    };
}

bool pd_quick_scenario(const struct pd_quick *quick, struct pd_scenario *scenario,
                       struct pd_error *error)
{
    struct quick_draw draw = {isnan(quick->draw) ? 0 : quick->draw, 0, PD_DAY_SECONDS};

    return quick_scenario(quick, &draw, 1, scenario, error);
}

/* Pressure left over at the header when the pump gives a flow and the header stands at its start
 * pressure; *inlet gets the pressure at the pump's inlet [Pa gauge]. */
static double left_over(const struct pd_plant *plant, double start, double flow, double *inlet)
{
    double slope, by_flow, by_speed;

    *inlet = plant->lowest_supply - pd_loss_table_at(&plant->branch[0].service, flow, &slope) -
             plant->branch[0].valve_opening - plant->branch[0].valve_coefficient * flow * flow;
    return *inlet + pd_pump_rise(&plant->branch[0].pump, flow, 1, &by_flow, &by_speed) - start;
}

/* The flow at which nothing is left over, or the water boils at the inlet, by halving; 0 if the
 * pump does not come up to its start pressure. */
static void find_drawing(const struct pd_plant *plant, double start, struct pd_quick_found *found)
{
    double low = 0, high = 2 * plant->branch[0].pump.last_flow;

    for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2;
        bool more = left_over(plant, start, middle, &found->drawing_pressure) > 0 &&
                    found->drawing_pressure > plant->boiling;
        low = more ? middle : low;
        high = more ? high : middle;
    }
    found->drawing_flow = low;
    (void)left_over(plant, start, low, &found->drawing_pressure);
}

static bool search(struct quick_bench *bench, const struct pd_plant *plant,
                   struct pd_findings *findings, struct pd_quick_found *found)
{
    struct pd_strategy strategy = pd_strategy_for(pd_strategy_find("pressure-start"), plant);

    found->start_pressure = strategy.start_pressure;
    found->precharge = strategy.precharge;
    find_drawing(plant, strategy.start_pressure, found);
    bench->rule = pd_motor_rule_for(plant->scenario, &strategy);
    bench->drawing_flow = found->drawing_flow;
    bench->air = plant->atmosphere;
    bench->start = strategy.start_pressure;
    bench->top =
        isnan(strategy.stop_pressure) ? findings_shutoff_pressure(plant) : strategy.stop_pressure;
    bench->most_draw = isnan(strategy.stop_pressure) ? fmin(strategy.stop_flow, found->drawing_flow)
                                                     : found->drawing_flow;
    if (!quick_told(bench, found) || !quick_worst(bench, found) || !quick_tank(bench, found)) {
        return false;
    }
    quick_findings(findings, bench->quick, plant, &strategy, found);
    return true;
}

bool pd_quick_check(const struct pd_quick *quick, const struct pd_day_options *day,
                    struct pd_findings *findings, struct pd_quick_found *found,
                    struct pd_error *error)
{
    struct quick_bench bench = {.quick = quick, .options = day, .error = error};
    struct pd_scenario scenario;
    struct pd_plant plant;

    memset(findings, 0, sizeof *findings);
    memset(found, 0, sizeof *found);
    if (!pd_quick_scenario(quick, &scenario, error)) {
        return false;
    }
    bool good = pd_plant_build(&scenario, &plant, error);
    if (good) {
        bench.day = pd_day_create(error);
        good = bench.day != NULL && search(&bench, &plant, findings, found);
        pd_day_free(bench.day);
        pd_plant_free(&plant);
    }
    pd_scenario_free(&scenario);
    return good;
}
