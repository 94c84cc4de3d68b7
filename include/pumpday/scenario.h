/* A scenario: one installation and one day, read from a folder of CSV files, checked, in SI.
 *
 * Items of site.csv live in one table (pd_items) that drives reading, limits, defaults, messages,
 * the list of items and the template.  An item's value is kept by its place in that table. */
#ifndef PUMPDAY_SCENARIO_H
#define PUMPDAY_SCENARIO_H

#include <pumpday/error.h>
#include <pumpday/household.h>
#include <pumpday/units.h>

/* Items in the order of the table; see `pumpday items` for what each means. */
enum pd_item {
    PD_TITLE,
    PD_SITE_ALTITUDE,
    PD_WATER_TEMPERATURE,
    PD_ENERGY_PRICE,
    PD_ENERGY_STANDBY,
    PD_COST_PUMP,
    PD_COST_TANK,
    PD_COST_FITTING,
    PD_COST_MAINTENANCE,
    PD_COST_PUMP_LIFE_HOURS,
    PD_COST_PUMP_LIFE_STARTS,
    PD_COST_YEARS,
    PD_COST_PRICE_RISE,
    PD_COST_DISCOUNT_RATE,
    PD_DEMAND_REFERENCE_PRESSURE,
    PD_DEMAND_WANTED_PRESSURE,
    PD_SUPPLY_KIND,
    PD_SUPPLY_PRESSURE,
    PD_SUPPLY_LEVEL,
    PD_SUPPLY_OFFSET,
    PD_SUPPLY_AREA,
    PD_SUPPLY_REFILL,
    PD_SUPPLY_EMPTY_LEVEL,
    PD_SUPPLY_SPECIFIC_CAPACITY,
    PD_WELL_CASING_DIAMETER,
    PD_WELL_LOSS,
    PD_WELL_LOSS_FLOW,
    PD_SUPPLY_REDUCING_VALVE,
    PD_SERVICE_LENGTH,
    PD_SERVICE_DIAMETER,
    PD_SERVICE_ROUGHNESS,
    PD_SERVICE_LOSS_K,
    PD_CHECK_VALVE_DIAMETER,
    PD_CHECK_VALVE_OPENING_PRESSURE,
    PD_CHECK_VALVE_LOSS_K,
    PD_CHECK_VALVE_LEAK_BY,
    PD_PUMP_HEIGHT,
    PD_RISING_MAIN_LENGTH,
    PD_RISING_MAIN_DIAMETER,
    PD_RISING_MAIN_ROUGHNESS,
    PD_RISING_MAIN_LOSS_K,
    PD_PUMP_RUN_UP_TIME,
    PD_PUMP_STOPPED_LOSS,
    PD_PUMP_MOTOR_POWER,
    PD_PUMP_POLES,
    PD_PUMP_PHASES,
    PD_PUMP_INLET_DIAMETER,
    PD_PUMP_SUBMERSIBLE,
    PD_TANK_VOLUME,
    PD_TANK_GAS,
    PD_TANK_EXPONENT,
    PD_TANK_TIME_CONSTANT,
    PD_TANK_PRECHARGE,
    PD_TANK_GAS_LOSS,
    PD_TANK_MONTHS,
    PD_TANK_RATED_PRESSURE,
    PD_TANK_SIZES,
    PD_HOUSE_ELEVATION,
    PD_HOUSE_LOSS,
    PD_HOUSE_LOSS_FLOW,
    PD_HOUSE_PIPE_LENGTH,
    PD_HOUSE_PIPE_DIAMETER,
    PD_HOUSE_PIPE_WALL,
    PD_HOUSE_PIPE_MODULUS,
    PD_HOUSE_LEAK,
    PD_HOUSE_LEAK_PRESSURE,
    PD_HOUSE_LEAK_EXPONENT,
    PD_HOUSE_LOWEST_FIXTURE,
    PD_PRESSURE_START_START,
    PD_PRESSURE_START_STOP_FLOW,
    PD_PRESSURE_START_STOP_PRESSURE,
    PD_PRESSURE_START_RUN_ON,
    PD_PRESSURE_START_PRECHARGE,
    PD_FLOW_START_START_FLOW,
    PD_FLOW_START_STOP_FLOW,
    PD_FLOW_START_RUN_ON,
    PD_FLOW_START_PRECHARGE,
    PD_PEAK_ONLY_START,
    PD_PEAK_ONLY_STOP_FLOW,
    PD_PEAK_ONLY_STOP_PRESSURE,
    PD_PEAK_ONLY_RUN_ON,
    PD_PEAK_ONLY_PRECHARGE,
    PD_GUARD_LOW_SUCTION,
    PD_GUARD_DELAY,
    PD_GUARD_RETRY,
    PD_GUARD_DRY_RUN_TIME,
    PD_GUARD_LEAST_REST,
    PD_LIMIT_CODES,
    PD_LIMIT_STARTS_PER_HOUR,
    PD_LIMIT_STARTS_PER_DAY,
    PD_LIMIT_SHORTEST_RUN,
    PD_LIMIT_STATIC_PRESSURE,
    PD_LIMIT_TAP_PRESSURE,
    PD_DAY_WARM_UP,
    PD_CALENDAR_HOLIDAYS,
    PD_CALENDAR_AWAY,
    PD_ITEM_COUNT
};

/* Values of supply.kind, pump.phases, pump.submersible, tank.gas and limit.codes, in the order of
 * their choice lists. */
enum pd_supply_kind { PD_SUPPLY_MAIN, PD_SUPPLY_CISTERN, PD_SUPPLY_WELL };
enum pd_motor_phases { PD_PHASES_SINGLE, PD_PHASES_POLY };
enum pd_submersible { PD_SUBMERSIBLE_NO, PD_SUBMERSIBLE_YES };
enum pd_tank_gas { PD_GAS_ISOTHERMAL, PD_GAS_POLYTROPIC, PD_GAS_THERMAL };
enum pd_limit_codes { PD_CODES_US, PD_CODES_EUROPEAN, PD_CODES_NONE };

/* One row of the table of items. */
struct pd_item_row {
    const char *name;
    enum pd_kind kind;
    const char *unit;   /* unit in which least, most and fallback stand and the template shows */
    double least, most; /* limits, in `unit`; both ends allowed */
    double fallback;    /* default, in `unit`; NAN where there is none or it is worked out */
    const char *worked_out; /* how the default is worked out, or NULL */
    const char *choices;    /* "main|cistern|well", or NULL */
    const char *help;       /* one sentence */
};

extern const struct pd_item_row pd_items[PD_ITEM_COUNT];

/* Finds an item by name.  PD_ITEM_COUNT if there is none. */
enum pd_item pd_item_find(const char *name);

/* True if an item's value is somebody's choice (a tank, a setting, a limit) and not what is found
 * on site or a trait of a model; false of PD_ITEM_COUNT. */
bool pd_item_is_chosen(enum pd_item item);

/* The name of the item most like the one given, for messages; NULL if none is near. */
const char *pd_item_nearest(const char *name);

enum {
    PD_PUMP_POINTS_MOST = 64,
    PD_SERIES_MOST = 4096,
    PD_TANK_SIZES_MOST = 24,
    PD_CURRENCY_MOST = 12,
    PD_TARIFF_HOURS = 24
};

/* Rows of pump.csv.  Flow rises from 0; head falls or stays; power and npsh_required are >= 0. */
struct pd_pump_points {
    size_t count; /* 3 to PD_PUMP_POINTS_MOST */
    bool has_npsh;
    double flow[PD_PUMP_POINTS_MOST];          /* m3/s */
    double head[PD_PUMP_POINTS_MOST];          /* m of the water pumped */
    double power[PD_PUMP_POINTS_MOST];         /* W, electrical input */
    double npsh_required[PD_PUMP_POINTS_MOST]; /* m, absolute */
};

/* A value at a time: profile.csv (m3/s, from that time on) or supply.csv (Pa gauge or m, linear
 * between the points and from the last over midnight to the first). */
struct pd_sample {
    double time; /* s after midnight, 0 <= time <= 86400, rising */
    double value;
};

/* A whole scenario, read and checked.  Fixed once read. */
struct pd_scenario {
    char folder[PD_PATH_MOST];
    char title[128];
    char currency[PD_CURRENCY_MOST]; /* of energy.price's unit: "EUR"; "" where it names none */
    double value[PD_ITEM_COUNT]; /* SI; a choice by its place in the list; NAN: to be worked out,
                                  * or kept elsewhere (title, tank.sizes) */
    bool given[PD_ITEM_COUNT];   /* the folder or an override gave it */
    int line[PD_ITEM_COUNT];     /* line of site.csv, or 0 */
    double tank_sizes[PD_TANK_SIZES_MOST]; /* m3, rising; of tank.sizes or the usual ones */
    size_t tank_size_count;
    struct pd_pump_points pump;
    struct pd_draw *draws; /* by time; rows of one time keep the file's order */
    size_t draw_count;
    size_t evening_count; /* of the day before, behind the day's in `draws`, by their own times */
    bool follows;         /* the day before is not the same day, its draws are the evening's */
    struct pd_sample *profile;
    size_t profile_count;
    struct pd_use uses[PD_USES_MOST]; /* household.csv, from which days are drawn */
    size_t use_count;
    bool drawn; /* the draws are those of day 1 of the household */
    struct pd_sample *supply;
    size_t supply_count;
    bool supply_is_level;           /* supply.csv holds levels (m) and not pressures (Pa gauge) */
    bool has_tariff;                /* there is a tariff.csv */
    double tariff[PD_TARIFF_HOURS]; /* price of each hour, money per J; NAN: energy.price */
    char tariff_currency[PD_CURRENCY_MOST]; /* of tariff.csv; "" where it names none */
    int leaning; /* US units less SI units in its files, overrides not counted */
};

/* Every item at its default, no pump, no draws; owns no memory. */
struct pd_scenario pd_scenario_default(void);

/* Reads a folder (site.csv, pump.csv, demand.csv, profile.csv, household.csv, supply.csv,
 * tariff.csv), then applies overrides (`tank.volume=80 L`, a unit required as in the file), then
 * checks the whole. Where there is a household.csv and neither demand.csv nor profile.csv, the
 * draws are those of day 1 of seed 1. Returns true and a scenario to be freed with
 * pd_scenario_free, or false and every fault that could be found; then the scenario is empty and
 * owns nothing. */
bool pd_scenario_read(const char *folder, const char *const *overrides, size_t override_count,
                      struct pd_scenario *scenario, struct pd_faults *faults);

/* Applies one override `ITEM=VALUE[ UNIT]` to a scenario.  False and a fault if it is wrong. */
bool pd_scenario_set(struct pd_scenario *scenario, const char *override, struct pd_faults *faults);

/* A value of supply.csv with supply.offset [Pa gauge, or m where supply_is_level].  A pressure is
 * added to levels as metres of water at 1000 kg/m3. */
double pd_scenario_supply(const struct pd_scenario *scenario, size_t sample);

/* The price of energy in an hour of the day, 0 to 23, money per J: that of tariff.csv, or
 * energy.price. */
double pd_scenario_price(const struct pd_scenario *scenario, int hour);

/* The calendar.* items, for the days of a household. */
struct pd_calendar pd_scenario_calendar(const struct pd_scenario *scenario);

/* Checks what must hold between items and files (as pd_scenario_read does at its end). */
bool pd_scenario_check(const struct pd_scenario *scenario, struct pd_faults *faults);

/* The system that most units of its files belong to; SI where as many belong to either. */
enum pd_unit_system pd_scenario_units(const struct pd_scenario *scenario);

/* Copies a scenario with all it owns.  False if memory runs out. */
bool pd_scenario_copy(const struct pd_scenario *from, struct pd_scenario *to);

/* Water that the day asks for [m3]: every draw by its volume, or at its rated flow through its
 * duration, and the profile's flows around the clock. */
double pd_scenario_asked(const struct pd_scenario *scenario);

void pd_scenario_free(struct pd_scenario *scenario);

/* What a new scenario is to be: a house on a weak main, or one on a drilled well. */
enum pd_template_kind { PD_TEMPLATE_HOUSE, PD_TEMPLATE_WELL, PD_TEMPLATE_KIND_COUNT };

struct pd_template {
    enum pd_template_kind kind;
    enum pd_unit_system units;
    double dwellings,
        people; /* in all, and in each: a household.csv in place of demand.csv; 0: none */
};

/* Writes a commented scenario that runs as it is, the same in both systems of units to six digits,
 * into a folder that does not exist or is empty.
 * False and the error (PD_OUTPUT_FAILED) otherwise; nothing is left half written. */
bool pd_scenario_write_template(const char *folder, const struct pd_template *template,
                                struct pd_error *error);

#endif
