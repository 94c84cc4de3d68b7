/* What a pump's motor stands: starts in an hour and in a day, rests, runs. */
#include <pumpday/check.h>

#include "scenario/codes.h"

#include <math.h>

static const double watts_per_horsepower = 745.7;

/* Most starts per hour and least rest between starts.
 * Source: NEMA MG 10, allowable number of starts and minimum time between starts of Design A and B
 * polyphase motors, columns A and C, for loads within the inertia that NEMA MG 1 allows; a
 * centrifugal pump's is far within. */
struct motor_row {
    double horsepower;
    double starts[3]; /* 2, 4, 6 poles */
    double rest[3];   /* s */
};

static const struct motor_row motor_rows[] = {
    {1, {15, 30, 34}, {75, 38, 33}},       {1.5, {12.9, 25.7, 29.1}, {76, 38, 34}},
    {2, {11.5, 23, 26.1}, {77, 39, 35}},   {3, {9.9, 19.8, 22.4}, {80, 40, 36}},
    {5, {8.1, 16.3, 18.4}, {83, 42, 37}},  {7.5, {7, 13.9, 15.8}, {88, 44, 39}},
    {10, {6.2, 12.5, 14.2}, {92, 46, 41}}, {15, {5.4, 10.7, 12.1}, {100, 50, 44}},
    {20, {4.8, 9.6, 10.9}, {110, 55, 48}}, {25, {4.4, 8.8, 10}, {115, 58, 51}},
};

enum { MOTOR_ROWS = sizeof motor_rows / sizeof motor_rows[0] };

/* Source: Water Systems Council, tank standard, introduction: at most 15 starts per hour for small
 * private systems up to 3/4 hp, 7.5 above; fewer than 300 in 24 hours. */
static const double small_horsepower = 0.75;
static const double small_starts = 15;
static const double larger_starts = 7.5;

/* Most starts in 24 hours of motors over 3/4 hp, up to a size.
 * Source: a table that makers of submersible motors have in common; from memory. */
struct day_row {
    double horsepower;
    double single, poly;
};

static const double most_a_day = 300; /* Water Systems Council's, whatever the size */
static const struct day_row day_rows[] = {{0.75, 300, 300}, {5.5, 100, 300}, {INFINITY, 50, 100}};

/* A rated size given in whole watts or rounded must find its own row. */
static const double size_slack = 1.02;

/* Shaft power over the greatest electrical power of pump.csv where the motor's size is not told.
 * 10 CFR 431.446(a) asks 77.0 to 80.4 % of a 1 hp two-pole motor. */
static const double motor_efficiency = 0.80;

/* A run of a controller that stops by flow, and the minute that a pressure switch's tank should
 * give and a submersible motor needs to lose the heat of its start; common practice, no source. */
static const double shortest_run = 5;
static const double a_minute = 60;

/* Where a limit comes from.  A size that was estimated and phases that are not known are told. */
enum origin {
    WSC_SMALL,
    WSC_LARGER,
    WSC_DAY,
    MAKERS_DAY,
    NEMA,
    NEMA_LAST,
    NEMA_REST,
    NEMA_REST_ASSUMED,
    MINUTE_REST,
    ORIGINS
};

#define ORIGIN(words)                                                                              \
    {                                                                                              \
        {words, words "; phases unknown: the stricter"},                                           \
        {                                                                                          \
            words "; size estimated", words "; size estimated, phases unknown: the stricter"       \
        }                                                                                          \
    }

#define A_MINUTE "a minute; common practice, no source"

static const char *const origins[ORIGINS][2][2] = {
    [WSC_SMALL] = ORIGIN("Water Systems Council tank standard, up to 3/4 hp"),
    [WSC_LARGER] = ORIGIN("Water Systems Council tank standard, over 3/4 hp"),
    [WSC_DAY] = ORIGIN("Water Systems Council tank standard"),
    [MAKERS_DAY] = ORIGIN("makers' tables of submersible motors, from memory"),
    [NEMA] = ORIGIN("NEMA MG 10"),
    [NEMA_LAST] = ORIGIN("NEMA MG 10, at 25 hp, the largest size taken from it"),
    [NEMA_REST] = ORIGIN("NEMA MG 10, minimum time between starts"),
    [NEMA_REST_ASSUMED] = ORIGIN("assumed as of NEMA MG 10's polyphase motors from 1 hp on"),
    // whatever the size
    [MINUTE_REST] = {{A_MINUTE, A_MINUTE}, {A_MINUTE, A_MINUTE}},
};

struct bound {
    double value;
    enum origin origin;
};

/* What is known of a motor and of what switches it. */
struct motor {
    double horsepower;
    int poles;
    bool single; /* phase */
    bool rests_a_minute;
};

static bool is_small(double horsepower)
{
    return horsepower <= small_horsepower * size_slack;
}

static size_t motor_column(int poles)
{
    return poles >= 6 ? 2 : poles >= 4 ? 1 : 0;
}

/* The row of a size, or of the next larger one; the last for what is beyond the table. */
static size_t motor_row_of(double horsepower)
{
    size_t row = 0;

    while (row < MOTOR_ROWS - 1 && horsepower > motor_rows[row].horsepower * size_slack) {
        row++;
    }
    return row;
}

static struct bound starts_per_hour(const struct motor *motor)
{
    double largest = motor_rows[MOTOR_ROWS - 1].horsepower * size_slack;
    size_t row = motor_row_of(motor->horsepower);

    if (is_small(motor->horsepower)) {
        return (struct bound){small_starts, WSC_SMALL};
    }
    if (motor->single) {
        return (struct bound){larger_starts, WSC_LARGER};
    }
    return (struct bound){motor_rows[row].starts[motor_column(motor->poles)],
                          motor->horsepower > largest ? NEMA_LAST : NEMA};
}

static struct bound starts_per_day(const struct motor *motor)
{
    const struct day_row *row = day_rows;

    while (motor->horsepower > row->horsepower * size_slack) {
        row++;
    }
    double starts = motor->single ? row->single : row->poly;
    return (struct bound){starts, starts < most_a_day ? MAKERS_DAY : WSC_DAY};
}

static struct bound rest_between(const struct motor *motor)
{
    size_t row = motor_row_of(motor->horsepower);
    double rest = motor_rows[row].rest[motor_column(motor->poles)];

    if (!is_small(motor->horsepower) && !motor->single) {
        return (struct bound){rest, NEMA_REST};
    }
    return motor->rests_a_minute ? (struct bound){a_minute, MINUTE_REST}
                                 : (struct bound){rest, NEMA_REST_ASSUMED};
}

/* The one that asks for more: fewer starts, or a longer rest. */
static struct bound fewer(struct bound a, struct bound b)
{
    return a.value <= b.value ? a : b;
}

static struct bound longer(struct bound a, struct bound b)
{
    return a.value >= b.value ? a : b;
}

double pd_motor_starts_per_hour(double power, int poles, const char **source)
{
    struct motor motor = {.horsepower = power / watts_per_horsepower, .poles = poles};
    struct bound starts = starts_per_hour(&motor);

    *source = origins[starts.origin][false][false];
    return starts.value;
}

/* Told, or estimated from what the motor draws at the most; 0 without a pump. */
static double rated_power(const struct pd_scenario *scenario)
{
    double told = scenario->value[PD_PUMP_MOTOR_POWER];
    double most = 0;

    for (size_t i = 0; i < scenario->pump.count; i++) {
        most = fmax(most, scenario->pump.power[i]);
    }
    return isfinite(told) ? told : motor_efficiency * most;
}

static bool has_water_over_pump(const struct pd_scenario *scenario)
{
    double lowest = scenario->value[PD_SUPPLY_LEVEL];

    for (size_t i = 0; i < scenario->supply_count; i++) {
        lowest = fmin(lowest, pd_scenario_supply(scenario, i));
    }
    return lowest > 0;
}

/* Told; else a pump that stands under the water of a well. */
static bool is_submersible(const struct pd_scenario *scenario)
{
    double told = scenario->value[PD_PUMP_SUBMERSIBLE];

    return isfinite(told)
               ? told == PD_SUBMERSIBLE_YES
               : scenario->value[PD_SUPPLY_KIND] == PD_SUPPLY_WELL && has_water_over_pump(scenario);
}

/* Codes that have no tables of motors: makers' tables and practice hold on, unless nobody's limits
 * are asked for. */
static void set_by_codes(struct pd_motor_rule *rule, const struct pd_codes *codes, enum origin day,
                         enum origin rest)
{
    if (codes->by_motor_tables) {
        return;
    }
    rule->starts_per_hour = codes->starts_per_hour;
    rule->starts_source = codes->starts_source;
    if (!codes->has_practice || day != MAKERS_DAY) {
        rule->starts_per_day = INFINITY;
        rule->day_source = codes->nothing;
    }
    if (!codes->has_practice || rest != MINUTE_REST) {
        rule->least_rest = -(double)INFINITY;
        rule->rest_source = codes->nothing;
        rule->rest_is_assumed = true;
    }
}

static void set_run(struct pd_motor_rule *rule, const struct pd_scenario *scenario,
                    bool by_pressure)
{
    const struct pd_codes *codes = pd_codes_of(scenario);
    double told = scenario->value[PD_LIMIT_SHORTEST_RUN];

    rule->usual_run = NAN;
    if (isfinite(told)) {
        rule->least_run = told;
        rule->run_source = "limit.shortest_run";
    } else if (!codes->has_practice) {
        rule->least_run = -(double)INFINITY;
        rule->run_source = codes->nothing;
    } else if (rule->is_submersible) {
        rule->least_run = a_minute;
        rule->run_source = "a minute for a submersible motor; common practice, no source";
    } else {
        rule->least_run = shortest_run;
        rule->run_source = "limit.shortest_run; common practice, no source";
        rule->usual_run = by_pressure ? a_minute : (double)NAN;
    }
}

struct pd_motor_rule pd_motor_rule_for(const struct pd_scenario *scenario,
                                       const struct pd_strategy *strategy)
{
    const double *value = scenario->value;
    bool by_pressure = strategy != NULL && isfinite(strategy->stop_pressure);
    struct pd_motor_rule rule = {
        .power = rated_power(scenario),
        .power_is_estimated = !isfinite(value[PD_PUMP_MOTOR_POWER]),
        .is_submersible = is_submersible(scenario),
    };
    // with the poles unknown the fast motor, which stands the fewest starts, is taken
    struct motor motor = {
        .horsepower = rule.power / watts_per_horsepower,
        .poles = isfinite(value[PD_PUMP_POLES]) ? (int)value[PD_PUMP_POLES] : 2,
        .single = value[PD_PUMP_PHASES] == PD_PHASES_SINGLE,
        .rests_a_minute = by_pressure || rule.is_submersible,
    };
    struct bound hour = starts_per_hour(&motor), day = starts_per_day(&motor);
    struct bound rest = rest_between(&motor);

    rule.phases_missing = !isfinite(value[PD_PUMP_PHASES]) && !is_small(motor.horsepower);
    if (rule.phases_missing) {
        motor.single = true;
        hour = fewer(hour, starts_per_hour(&motor));
        day = fewer(day, starts_per_day(&motor));
        rest = longer(rest, rest_between(&motor));
    }
    rule.starts_per_hour = hour.value;
    rule.starts_source = origins[hour.origin][rule.power_is_estimated][rule.phases_missing];
    rule.starts_per_day = day.value;
    rule.day_source = origins[day.origin][rule.power_is_estimated][rule.phases_missing];
    rule.least_rest = rest.value;
    rule.rest_source = origins[rest.origin][rule.power_is_estimated][rule.phases_missing];
    rule.rest_is_assumed = rest.origin != NEMA_REST;
    set_by_codes(&rule, pd_codes_of(scenario), day.origin, rest.origin);
    set_run(&rule, scenario, by_pressure);
    return rule;
}
