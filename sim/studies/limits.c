/* What a day is judged by: the limits of the scenario, and the starts that a motor stands. */
#include <pumpday/check.h>

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
 * private systems up to 3/4 hp, 7.5 above. */
static const double small_horsepower = 0.75;
static const double small_starts = 15;
static const double larger_starts = 7.5;

/* A rated size given in whole watts or rounded must find its own row. */
static const double size_slack = 1.02;

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

double pd_motor_starts_per_hour(double power, int poles, const char **source)
{
    double horsepower = power / watts_per_horsepower;
    size_t row = motor_row_of(horsepower);

    if (horsepower <= small_horsepower * size_slack) {
        *source = "Water Systems Council tank standard, up to 3/4 hp";
        return small_starts;
    }
    *source = horsepower > motor_rows[MOTOR_ROWS - 1].horsepower * size_slack
                  ? "NEMA MG 10, at 25 hp, the largest size taken from it"
                  : "NEMA MG 10";
    return motor_rows[row].starts[motor_column(poles)];
}

struct pd_motor_rule pd_motor_rule_for(const struct pd_scenario *scenario)
{
    const double *value = scenario->value;
    // of a motor whose size is not told nothing better is known than the rule for small ones; with
    // the poles unknown the fast motor, which stands the fewest starts, is taken
    double power = isfinite(value[PD_PUMP_MOTOR_POWER]) ? value[PD_PUMP_MOTOR_POWER] : 0;
    int poles = isfinite(value[PD_PUMP_POLES]) ? (int)value[PD_PUMP_POLES] : 2;
    bool single = value[PD_PUMP_PHASES] == PD_PHASES_SINGLE;
    double horsepower = power / watts_per_horsepower;
    bool small = horsepower <= small_horsepower * size_slack;
    struct pd_motor_rule rule = {
        .least_rest = motor_rows[motor_row_of(horsepower)].rest[motor_column(poles)],
        .rest_source = "NEMA MG 10, minimum time between starts",
        .rest_is_assumed = small || single,
    };

    rule.starts_per_hour = pd_motor_starts_per_hour(power, poles, &rule.starts_source);
    if (single && !small) {
        rule.starts_per_hour = larger_starts;
        rule.starts_source = "Water Systems Council tank standard, over 3/4 hp";
    }
    if (rule.rest_is_assumed) {
        rule.rest_source = "assumed as of NEMA MG 10's polyphase motors from 1 hp on";
    }
    return rule;
}

struct pd_limits pd_limits_for(const struct pd_scenario *scenario)
{
    const double *value = scenario->value;
    struct pd_limits limits = {
        .starts_per_hour = value[PD_LIMIT_STARTS_PER_HOUR],
        .starts_per_day = value[PD_LIMIT_STARTS_PER_DAY],
        .shortest_run = value[PD_LIMIT_SHORTEST_RUN],
        .static_pressure = value[PD_LIMIT_STATIC_PRESSURE],
        .tap_pressure = value[PD_LIMIT_TAP_PRESSURE],
        .starts_source = "limit.starts_per_hour",
    };

    if (isfinite(limits.starts_per_hour)) {
        return limits;
    }
    struct pd_motor_rule rule = pd_motor_rule_for(scenario);
    limits.starts_per_hour = rule.starts_per_hour;
    limits.starts_source = rule.starts_source;
    return limits;
}
