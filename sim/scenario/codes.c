/* The table of published limits.  The European figures are from memory, and each says so where it
 * is shown. */
#include "scenario/codes.h"

#include <math.h>

#define PSI 6894.757293168361 /* Pa; NIST SP 811 */
#define NO_LIMIT "none asked for, limit.codes none"
#define AIR "the pressure of the air"

static const struct pd_codes codes[] = {
    [PD_CODES_US] =
        {
            // 80 psi at most; 15 psi under draw at the highest fixture
            .static_pressure = 80 * PSI,
            .static_source = "UPC 608.2, IPC 604.8",
            .valve_source = "UPC 608.2, IPC 604.8",
            .tap_pressure = 15 * PSI,
            .tap_source = "older UPC, highest fixture",
            // at ground level, all points and conditions
            .least_main = 20 * PSI,
            .main_source = "10 NYCRR 5-1.27",
            .least_suction = 5 * PSI,
            .suction_source = "Chicago 18-29",
            .greatest_velocity = 8 * 0.3048,
            .velocity_source = "Chicago 18-29-604.10.1.2",
            .by_motor_tables = true,
            .has_practice = true,
        },
    [PD_CODES_EUROPEAN] =
        {
            // 500 kPa at rest, 100 kPa under draw at any fixture
            .static_pressure = 5e5,
            .static_source = "EN 806-2, DIN 1988-200; from memory",
            .valve_source = "EN 806-2, valve to EN 1567; from memory",
            .tap_pressure = 1e5,
            .tap_source = "EN 806-3; from memory",
            // a pump must leave the main 100 kPa
            .least_main = 1e5,
            .main_source = "DIN 1988-500; from memory",
            .least_suction = 1e5,
            .suction_source = "DIN 1988-500; from memory",
            .greatest_velocity = 2,
            .velocity_source = "EN 806-3; from memory",
            // with which DIN 1988-500 sizes tanks
            .starts_per_hour = 20,
            .starts_source = "DIN 1988-500; from memory",
            .nothing = "none published that is known here",
            .has_practice = true,
        },
    [PD_CODES_NONE] =
        {
            .static_pressure = INFINITY,
            .static_source = NO_LIMIT,
            .valve_source = NO_LIMIT,
            // a tap at the pressure of the air gives nothing
            .tap_pressure = 0,
            .tap_source = AIR,
            // a pipe under the pressure of the air draws in what lies around it
            .least_main = 0,
            .main_source = AIR,
            .least_suction = 0,
            .suction_source = AIR,
            .greatest_velocity = INFINITY,
            .velocity_source = NO_LIMIT,
            .starts_per_hour = INFINITY,
            .starts_source = NO_LIMIT,
            .nothing = NO_LIMIT,
        },
};

const struct pd_codes *pd_codes_of(const struct pd_scenario *scenario)
{
    return &codes[(int)scenario->value[PD_LIMIT_CODES]];
}

static void apply(struct pd_scenario *scenario, enum pd_item item, double limit)
{
    if (!scenario->given[item]) {
        scenario->value[item] = limit;
    }
}

void pd_codes_apply(struct pd_scenario *scenario)
{
    const struct pd_codes *chosen = pd_codes_of(scenario);
    apply(scenario, PD_LIMIT_STATIC_PRESSURE, chosen->static_pressure);
    apply(scenario, PD_LIMIT_TAP_PRESSURE, chosen->tap_pressure);
}

static bool wants_more(const struct pd_scenario *scenario)
{
    // false where nothing is wanted
    return scenario->value[PD_DEMAND_WANTED_PRESSURE] > scenario->value[PD_LIMIT_TAP_PRESSURE];
}

double pd_codes_tap_pressure(const struct pd_scenario *scenario)
{
    return scenario
        ->value[wants_more(scenario) ? PD_DEMAND_WANTED_PRESSURE : PD_LIMIT_TAP_PRESSURE];
}

const char *pd_codes_tap_source(const struct pd_scenario *scenario)
{
    if (wants_more(scenario)) {
        return pd_items[PD_DEMAND_WANTED_PRESSURE].name;
    }
    return scenario->given[PD_LIMIT_TAP_PRESSURE] ? pd_items[PD_LIMIT_TAP_PRESSURE].name
                                                  : pd_codes_of(scenario)->tap_source;
}
