/* The table of the items of site.csv.  Defaults without a source named beside them are common
 * practice, no source; limits only keep slips of the pen and numbers without meaning out. */
#include <pumpday/scenario.h>

#include "base/text.h"
#include "scenario/items.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define NUM(number) number, NULL, NULL /* a default that is a number */
#define NOT(why) NAN, why, NULL        /* none, or worked out: why tells */
#define PICK(place, list) place, NULL, list
#define MUST NAN, NULL, NULL

// how the strategies' precharges are worked out, thrice
#define PRECHARGE "2 psi below the start pressure, never below 0"

const struct pd_item_row pd_items[PD_ITEM_COUNT] = {
    [PD_TITLE] = {"title", PD_KIND_TEXT, "", 0, 0, NOT("the folder's name"),
                  "Name of the installation, for tables and charts."},
    [PD_SITE_ALTITUDE] = {"site.altitude", PD_KIND_LENGTH, "m", -430, 5000, NUM(0),
                          "Height above the sea; it moves the pressure of the air."},
    [PD_WATER_TEMPERATURE] = {"water.temperature", PD_KIND_TEMPERATURE, "degC", 1, 60, NUM(15),
                              "Temperature of the water and of the tank's wall."},
    [PD_ENERGY_PRICE] = {"energy.price", PD_KIND_PRICE, "/kWh", 0, 1000, NUM(0.30),
                         "Price of electricity, in any currency."},
    [PD_ENERGY_STANDBY] = {"energy.standby", PD_KIND_POWER, "W", 0, 500, NUM(2),
                           "Power of the controller, drawn all day."},
    [PD_COST_PUMP] = {"cost.pump", PD_KIND_NUMBER, "", 0, 1e9, NUM(0),
                      "Price of the pump with its controller, in the currency of energy.price."},
    [PD_COST_TANK] = {"cost.tank", PD_KIND_NUMBER, "", 0, 1e9, NUM(0), "Price of the tank."},
    [PD_COST_FITTING] = {"cost.fitting", PD_KIND_NUMBER, "", 0, 1e9, NUM(0),
                         "Price of fitting, and of all else that is bought once."},
    [PD_COST_MAINTENANCE] = {"cost.maintenance", PD_KIND_NUMBER, "", 0, 1e9, NUM(0),
                             "Price of a year's maintenance."},
    [PD_COST_PUMP_LIFE_HOURS] = {"cost.pump_life_hours", PD_KIND_TIME, "h", 1, 1e6,
                                 NOT("without end"),
                                 "Hours of running after which the pump is bought anew."},
    [PD_COST_PUMP_LIFE_STARTS] = {"cost.pump_life_starts", PD_KIND_NUMBER, "", 1, 1e9,
                                  NOT("without end"),
                                  "Starts after which the pump is bought anew."},
    [PD_COST_YEARS] = {"cost.years", PD_KIND_NUMBER, "", 1, 60, NUM(15),
                       "Years over which costs are reckoned."},
    [PD_COST_PRICE_RISE] = {"cost.price_rise", PD_KIND_SHARE, "%", -20, 50, NUM(2),
                            "By how much prices rise in a year."},
    [PD_COST_DISCOUNT_RATE] = {"cost.discount_rate", PD_KIND_SHARE, "%", 0, 50, NUM(4),
                               "Interest by which later costs count for less, a year."},
    [PD_DEMAND_REFERENCE_PRESSURE] = {"demand.reference_pressure", PD_KIND_PRESSURE, "bar", 0.1, 20,
                                      NUM(3), "Tap pressure at which taps give their rated flow."},
    [PD_DEMAND_WANTED_PRESSURE] = {"demand.wanted_pressure", PD_KIND_PRESSURE, "bar", 0, 20,
                                   NOT("limit.tap_pressure"),
                                   "Pressure wanted at an open tap, where it is more than "
                                   "limit.tap_pressure: days are judged by it, `settings` looks "
                                   "for what holds it."},
    [PD_SUPPLY_KIND] = {"supply.kind", PD_KIND_CHOICE, "", 0, 0, NAN, NULL, "main|cistern|well",
                        "Where the water comes from."},
    [PD_SUPPLY_PRESSURE] = {"supply.pressure", PD_KIND_PRESSURE, "bar", -0.9, 25,
                            NOT("none; a main needs it or supply.csv"),
                            "Pressure of the main at the height of the tank's gauge, at no flow."},
    [PD_SUPPLY_LEVEL] = {"supply.level", PD_KIND_LENGTH, "m", -300, 300,
                         NOT("none; a cistern or well needs it or supply.csv"),
                         "Water level above the tank's gauge at no flow, negative below it; with "
                         "supply.area the full level."},
    [PD_SUPPLY_OFFSET] = {"supply.offset", PD_KIND_PRESSURE, "bar", -25, 25, NUM(0),
                          "Added to every pressure of supply.csv, or in m of water to every level: "
                          "a main that sags more, a well that stands lower."},
    [PD_SUPPLY_AREA] = {"supply.area", PD_KIND_AREA, "m2", 0.05, 1e5, NOT("the level stands still"),
                        "Plan area of the cistern; given, its level moves."},
    [PD_SUPPLY_REFILL] = {"supply.refill", PD_KIND_FLOW, "L/min", 0, 1e5, NUM(0),
                          "Flow into the cistern through its float valve wide open."},
    [PD_SUPPLY_EMPTY_LEVEL] = {"supply.empty_level", PD_KIND_LENGTH, "m", -310, 300,
                               NOT("never empty"),
                               "Level of the cistern, or of a well with a casing, at which the "
                               "pump draws air."},
    [PD_SUPPLY_SPECIFIC_CAPACITY] = {"supply.specific_capacity", PD_KIND_SPECIFIC_CAPACITY,
                                     "L/min/m", 0.01, 1e5, NOT("none; a well needs it"),
                                     "Flow that draws the well's level down by a unit of length."},
    [PD_WELL_CASING_DIAMETER] = {"well.casing_diameter", PD_KIND_BORE, "mm", 20, 5000,
                                 NOT("the well holds no water of its own"),
                                 "Bore of the casing whose water the pump draws first; of a casing "
                                 "with the rising main in it, of the circle of the same area."},
    [PD_WELL_LOSS] = {"well.loss", PD_KIND_LENGTH, "m", 0, 200, NUM(0),
                      "Further drawdown, which grows with the square of the flow, at "
                      "well.loss_flow."},
    [PD_WELL_LOSS_FLOW] = {"well.loss_flow", PD_KIND_FLOW, "L/min", 0.1, 1e5, NUM(30),
                           "Flow at which well.loss was found."},
    [PD_SUPPLY_REDUCING_VALVE] = {"supply.reducing_valve", PD_KIND_PRESSURE, "bar", 0.1, 25,
                                  NOT("no valve"),
                                  "Pressure behind a reducing valve where the main comes in, at "
                                  "the pump's elevation."},
    [PD_SERVICE_LENGTH] = {"service.length", PD_KIND_LENGTH, "m", 0.1, 5000, MUST,
                           "Length of the pipe from the supply to the pump."},
    [PD_SERVICE_DIAMETER] = {"service.diameter", PD_KIND_BORE, "mm", 6, 1000, MUST,
                             "Inner diameter of that pipe."},
    [PD_SERVICE_ROUGHNESS] = {"service.roughness", PD_KIND_BORE, "mm", 0, 10, NUM(0.0015),
                              "Wall roughness of that pipe; the default is drawn tubing."},
    [PD_SERVICE_LOSS_K] = {"service.loss_k", PD_KIND_NUMBER, "", 0, 10000, NUM(5),
                           "Sum of the loss coefficients of meter, bends and valves on that pipe."},
    [PD_CHECK_VALVE_DIAMETER] = {"check_valve.diameter", PD_KIND_BORE, "mm", 4, 1000,
                                 NOT("as service.diameter"), "Bore of the check valve."},
    [PD_CHECK_VALVE_OPENING_PRESSURE] = {"check_valve.opening_pressure", PD_KIND_PRESSURE, "kPa", 0,
                                         200, NUM(2), "Pressure across it that lifts the valve."},
    // swing check, Munson et al., Fundamentals of Fluid Mechanics, table 8.2; value from memory
    [PD_CHECK_VALVE_LOSS_K] = {"check_valve.loss_k", PD_KIND_NUMBER, "", 0, 10000, NUM(2),
                               "Loss coefficient of the open check valve."},
    [PD_CHECK_VALVE_LEAK_BY] = {"check_valve.leak_by", PD_KIND_FLOW, "L/min", 0, 1000, NUM(0),
                                "Flow back through the closed valve's worn seat at 1 bar."},
    [PD_PUMP_HEIGHT] = {"pump.height", PD_KIND_LENGTH, "m", -310, 20, NUM(0),
                        "Height of the pump's inlet above the tank's gauge, negative for a pump "
                        "down a well: there the suction is judged."},
    [PD_RISING_MAIN_LENGTH] = {"rising_main.length", PD_KIND_LENGTH, "m", 0, 5000, NUM(0),
                               "Length of the pipe from the pump up to the tank."},
    [PD_RISING_MAIN_DIAMETER] = {"rising_main.diameter", PD_KIND_BORE, "mm", 6, 1000,
                                 NOT("as service.diameter"), "Inner diameter of that pipe."},
    [PD_RISING_MAIN_ROUGHNESS] = {"rising_main.roughness", PD_KIND_BORE, "mm", 0, 10, NUM(0.0015),
                                  "Wall roughness of that pipe."},
    [PD_RISING_MAIN_LOSS_K] = {"rising_main.loss_k", PD_KIND_NUMBER, "", 0, 10000, NUM(0),
                               "Sum of the loss coefficients of bends and valves on that pipe."},
    [PD_PUMP_RUN_UP_TIME] = {"pump.run_up_time", PD_KIND_TIME, "s", 0, 60, NUM(0.5),
                             "Time from rest to 95 % of full speed."},
    [PD_PUMP_STOPPED_LOSS] = {"pump.stopped_loss", PD_KIND_PRESSURE, "kPa", 0, 2000,
                              NOT("0.227 of the head at best efficiency at that flow, as the "
                                  "square of the flow: a radial pump that water turns"),
                              "Loss through the stopped pump at the largest flow of pump.csv."},
    [PD_PUMP_MOTOR_POWER] = {"pump.motor_power", PD_KIND_POWER, "kW", 0.01, 500,
                             NOT("unknown; 0.80 of pump.csv's greatest power is taken"),
                             "Rated shaft power of the motor, for the starts it allows."},
    [PD_PUMP_POLES] = {"pump.poles", PD_KIND_NUMBER, "", 2, 6, NUM(2),
                       "Poles of the motor, 2, 4 or 6, for the starts it allows."},
    [PD_PUMP_PHASES] =
        {"pump.phases", PD_KIND_CHOICE, "", 0, 0, NAN,
         "unknown; over 3/4 hp the stricter limits are taken", "single|polyphase",
         "Whether the motor runs on one phase or several, for the starts it allows."},
    [PD_PUMP_INLET_DIAMETER] = {"pump.inlet_diameter", PD_KIND_BORE, "mm", 4, 1000, NOT("unknown"),
                                "Bore of the pump's inlet; the service pipe should be no smaller."},
    [PD_PUMP_SUBMERSIBLE] = {"pump.submersible", PD_KIND_CHOICE, "", 0, 0, NAN,
                             "yes in a well whose level stands above the pump", "no|yes",
                             "Whether the motor runs under water, for the runs and rests it "
                             "needs."},
    [PD_TANK_VOLUME] = {"tank.volume", PD_KIND_VOLUME, "L", 0.05, 20000, MUST,
                        "Whole volume of the pressure tank, gas and water."},
    [PD_TANK_GAS] = {"tank.gas", PD_KIND_CHOICE, "", 0, 0,
                     PICK(PD_GAS_THERMAL, "isothermal|polytropic|thermal"),
                     "How the tank's gas answers: at one temperature, by an exponent, or with heat "
                     "through the wall."},
    [PD_TANK_EXPONENT] = {"tank.exponent", PD_KIND_NUMBER, "", 1, 1.4, NUM(1.2),
                          "Exponent of the polytropic gas."},
    [PD_TANK_TIME_CONSTANT] = {"tank.time_constant", PD_KIND_TIME, "s", 0.5, 36000, NUM(20),
                               "Time in which the thermal gas comes near the wall's temperature."},
    [PD_TANK_PRECHARGE] = {"tank.precharge", PD_KIND_PRESSURE, "bar", 0, 40,
                           NOT("as each strategy's own"),
                           "Precharge of the empty tank, gauge; holds for all strategies."},
    // makers ask for a yearly look at the precharge: common practice, no source
    [PD_TANK_GAS_LOSS] = {"tank.gas_loss", PD_KIND_PRESSURE, "mbar", 0, 1000, NUM(0),
                          "Precharge lost in a month, through the diaphragm or a valve."},
    [PD_TANK_MONTHS] = {"tank.months", PD_KIND_NUMBER, "", 0, 600, NUM(0),
                        "Months since the precharge was set, for tank.gas_loss."},
    [PD_TANK_RATED_PRESSURE] = {"tank.rated_pressure", PD_KIND_PRESSURE, "bar", 0.5, 100,
                                NOT("unknown"),
                                "Greatest working pressure of the tank, from its plate."},
    [PD_TANK_SIZES] = {"tank.sizes", PD_KIND_TEXT, "L", 0.05, 20000,
                       NOT("8 12 18 24 35 50 60 80 100 150 200 300 500 L, or for results in US "
                           "units 2 4.5 8.5 14 20 26 32 44 52 62 86 119 gal, usual sizes of the "
                           "trade, no source"),
                       "Volumes of the tanks to choose from, rising, with spaces between them."},
    [PD_HOUSE_ELEVATION] =
        {"house.elevation", PD_KIND_LENGTH, "m", -50, 300, NUM(3),
         "Height of the highest tap over the tank's gauge; all taps are taken to be there."},
    [PD_HOUSE_LOSS] = {"house.loss", PD_KIND_PRESSURE, "kPa", 0, 2000, NUM(30),
                       "Pressure lost in the house pipe at house.loss_flow."},
    [PD_HOUSE_LOSS_FLOW] = {"house.loss_flow", PD_KIND_FLOW, "L/min", 0.1, 1e5, NUM(30),
                            "Flow at which house.loss is lost."},
    [PD_HOUSE_PIPE_LENGTH] = {"house.pipe_length", PD_KIND_LENGTH, "m", 0, 10000, NUM(30),
                              "Length of the house pipe, for its elasticity."},
    [PD_HOUSE_PIPE_DIAMETER] = {"house.pipe_diameter", PD_KIND_BORE, "mm", 4, 1000, NUM(20),
                                "Inner diameter of the house pipe."},
    [PD_HOUSE_PIPE_WALL] = {"house.pipe_wall", PD_KIND_BORE, "mm", 0.1, 100, NUM(2),
                            "Wall thickness of the house pipe."},
    [PD_HOUSE_PIPE_MODULUS] = {"house.pipe_modulus", PD_KIND_PRESSURE, "GPa", 0.01, 500, NUM(0.8),
                               "Young's modulus of the house pipe; the default is a plastic."},
    [PD_HOUSE_LEAK] = {"house.leak", PD_KIND_FLOW, "L/min", 0, 1000, NUM(0),
                       "Leak of the house at house.leak_pressure."},
    [PD_HOUSE_LEAK_PRESSURE] = {"house.leak_pressure", PD_KIND_PRESSURE, "bar", 0.1, 40, NUM(3),
                                "Header pressure at which house.leak is given."},
    [PD_HOUSE_LEAK_EXPONENT] = {"house.leak_exponent", PD_KIND_NUMBER, "", 0.3, 2.5, NUM(0.5),
                                "Exponent of the leak over pressure; 0.5 is a fixed hole."},
    [PD_HOUSE_LOWEST_FIXTURE] =
        {"house.lowest_fixture", PD_KIND_LENGTH, "m", -100, 300, NUM(0),
         "Height of the lowest fixture over the tank's gauge, for the highest "
         "static pressure."},
    [PD_PRESSURE_START_START] = {"pressure_start.start", PD_KIND_PRESSURE, "bar", -0.9, 40,
                                 NOT("lowest supply pressure + shutoff pressure - 12.5 psi"),
                                 "Header pressure at or below which the pump starts."},
    [PD_PRESSURE_START_STOP_FLOW] = {"pressure_start.stop_flow", PD_KIND_FLOW, "gpm", 0.001, 26000,
                                     NUM(0.8), "Flow under which the run-on clock runs."},
    [PD_PRESSURE_START_STOP_PRESSURE] = {"pressure_start.stop_pressure", PD_KIND_PRESSURE, "bar",
                                         -0.9, 60, NOT("it stops by flow"),
                                         "Header pressure that stops the pump instead of the flow: "
                                         "a two-pressure switch."},
    [PD_PRESSURE_START_RUN_ON] = {"pressure_start.run_on", PD_KIND_TIME, "s", 0, 3600, NUM(7),
                                  "Time under the stop flow after which the pump stops."},
    [PD_PRESSURE_START_PRECHARGE] = {"pressure_start.precharge", PD_KIND_PRESSURE, "bar", 0, 40,
                                     NOT(PRECHARGE), "Precharge of the tank for this strategy."},
    [PD_FLOW_START_START_FLOW] = {"flow_start.start_flow", PD_KIND_FLOW, "gpm", 0.01, 26000, NUM(1),
                                  "Flow through the pump at or above which it starts."},
    [PD_FLOW_START_STOP_FLOW] = {"flow_start.stop_flow", PD_KIND_FLOW, "gpm", 0.001, 26000,
                                 NUM(0.8), "Flow under which the run-on clock runs."},
    [PD_FLOW_START_RUN_ON] = {"flow_start.run_on", PD_KIND_TIME, "s", 0, 3600, NUM(7),
                              "Time under the stop flow after which the pump stops."},
    [PD_FLOW_START_PRECHARGE] = {"flow_start.precharge", PD_KIND_PRESSURE, "bar", 0, 40,
                                 NOT("2 psi below the unboosted header pressure at the start flow "
                                     "and the lowest supply pressure, never below 0"),
                                 "Precharge of the tank for this strategy."},
    [PD_PEAK_ONLY_START] = {"peak_only.start", PD_KIND_PRESSURE, "bar", -0.9, 40,
                            NOT("mean supply pressure - 7.5 psi"),
                            "Header pressure at or below which the pump starts."},
    [PD_PEAK_ONLY_STOP_FLOW] = {"peak_only.stop_flow", PD_KIND_FLOW, "L/min", 0.001, 1e5,
                                NOT("half of the flow that drags the unboosted header to the start "
                                    "pressure, at least 0.8 gpm"),
                                "Flow under which the run-on clock runs."},
    [PD_PEAK_ONLY_STOP_PRESSURE] = {"peak_only.stop_pressure", PD_KIND_PRESSURE, "bar", -0.9, 60,
                                    NOT("it stops by flow"),
                                    "Header pressure that stops the pump instead of the flow."},
    [PD_PEAK_ONLY_RUN_ON] = {"peak_only.run_on", PD_KIND_TIME, "s", 0, 3600, NUM(7),
                             "Time under the stop flow after which the pump stops."},
    [PD_PEAK_ONLY_PRECHARGE] = {"peak_only.precharge", PD_KIND_PRESSURE, "bar", 0, 40,
                                NOT(PRECHARGE), "Precharge of the tank for this strategy."},
    [PD_GUARD_LOW_SUCTION] = {"guard.low_suction", PD_KIND_PRESSURE, "bar", -1, 25, NOT("off"),
                              "Suction pressure, gauge, below which the pump is tripped."},
    [PD_GUARD_DELAY] = {"guard.delay", PD_KIND_TIME, "s", 0, 3600, NUM(5),
                        "Time below guard.low_suction before the trip."},
    [PD_GUARD_RETRY] = {"guard.retry", PD_KIND_TIME, "min", 0.01, 1440, NUM(10),
                        "Time after a trip before the pump may start again."},
    [PD_GUARD_DRY_RUN_TIME] = {"guard.dry_run_time", PD_KIND_TIME, "s", 0.1, 3600, NOT("off"),
                               "Time on without flow and pressure that locks the pump out."},
    [PD_GUARD_LEAST_REST] = {"guard.least_rest", PD_KIND_TIME, "s", 0, 3600, NUM(1),
                             "Least time from a stop to the next start."},
    [PD_LIMIT_CODES] = {"limit.codes", PD_KIND_CHOICE, "", 0, 0,
                        PICK(PD_CODES_US, "us|european|none"),
                        "Whose published limits hold where no limit.* tells: US codes; EN 806, "
                        "EN 1567 and DIN 1988, from memory; nobody's, but for what physics asks."},
    [PD_LIMIT_STARTS_PER_HOUR] = {"limit.starts_per_hour", PD_KIND_STARTS, "1/h", 0, 3600,
                                  NOT("by limit.codes and the motor's power, poles and phases"),
                                  "Most starts in any hour that pass."},
    [PD_LIMIT_STARTS_PER_DAY] =
        {"limit.starts_per_day", PD_KIND_STARTS, "1/day", 0, 86400,
         NOT("by limit.codes and the motor's power and phases; us: 300 up to "
             "3/4 hp"),
         "Most starts in the day that pass."},
    [PD_LIMIT_SHORTEST_RUN] =
        {"limit.shortest_run", PD_KIND_TIME, "s", 0, 3600,
         NOT("5 s; of a submersible pump a minute; none with limit.codes none"),
         "Shortest run of the pump that passes."},
    [PD_LIMIT_STATIC_PRESSURE] = {"limit.static_pressure", PD_KIND_PRESSURE, "psi", 0, 1000,
                                  NOT("by limit.codes; us: 80 psi, european: 500 kPa"),
                                  "Highest header pressure that passes."},
    [PD_LIMIT_TAP_PRESSURE] = {"limit.tap_pressure", PD_KIND_PRESSURE, "psi", 0, 300,
                               NOT("by limit.codes; us: 15 psi, european: 100 kPa, none: 0"),
                               "Lowest tap pressure under draw that passes."},
    [PD_DAY_WARM_UP] = {"day.warm_up", PD_KIND_TIME, "h", 0, 24, NUM(2),
                        "Time simulated before midnight and counted nowhere."},
    [PD_CALENDAR_HOLIDAYS] = {"calendar.holidays", PD_KIND_NUMBER, "", 0, 200, NUM(0),
                              "Weekdays of a year on which the household lives as on a weekend."},
    [PD_CALENDAR_AWAY] = {"calendar.away", PD_KIND_NUMBER, "", 0, 350, NUM(0),
                          "Days of a year, on end, on which nobody of the household is at home."},
};

enum pd_item pd_item_find(const char *name)
{
    size_t i = 0;
    while (i < PD_ITEM_COUNT && !pd_text_same(name, pd_items[i].name)) {
        i++;
    }
    return (enum pd_item)i;
}

bool pd_item_is_chosen(enum pd_item item)
{
    // items, and with a dot at the end all of a group
    static const char *const chosen[] = {
        "supply.reducing_valve",
        "service.diameter",
        "check_valve.diameter",
        "tank.volume",
        "tank.precharge",
        "pressure_start.",
        "flow_start.",
        "peak_only.",
        "guard.",
        "limit.",
    };
    bool is_chosen = false;

    for (size_t i = 0; item < PD_ITEM_COUNT && i < sizeof chosen / sizeof *chosen; i++) {
        const char *name = pd_items[item].name;
        size_t length = strlen(chosen[i]);
        bool is_group = chosen[i][length - 1] == '.';
        is_chosen = is_chosen || strncmp(name, chosen[i], is_group ? length : length + 1) == 0;
    }
    return is_chosen;
}

void pd_item_default_text(enum pd_item item, char *text, size_t size)
{
    const struct pd_item_row *row = &pd_items[item];
    if (isnan(row->fallback)) {
        text[0] = '\0';
        return;
    }
    if (row->choices == NULL) {
        (void)snprintf(text, size, "%.10g", row->fallback);
        return;
    }
    // the word at the default's place in the list
    const char *word = row->choices;
    for (int i = 0; i < (int)row->fallback; i++) {
        word = strchr(word, '|') + 1;
    }
    (void)snprintf(text, size, "%.*s", (int)strcspn(word, "|"), word);
}

const char *pd_item_nearest(const char *name)
{
    const char *nearest = NULL;
    // a third of the letters wrong is as far as a guess is any help
    size_t best = strlen(name) / 3 + 1;
    for (size_t i = 0; i < PD_ITEM_COUNT; i++) {
        const char *dot = strchr(pd_items[i].name, '.');
        if (dot != NULL && pd_text_same(name, dot + 1)) {
            return pd_items[i].name;
        }
        size_t distance = pd_text_distance(name, pd_items[i].name);
        if (distance < best) {
            best = distance;
            nearest = pd_items[i].name;
        }
    }
    return nearest;
}
