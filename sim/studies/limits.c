/* What a day is judged by: the limits of the scenario, and the starts that a motor stands. */
#include <pumpday/compare.h>

#include <math.h>

static const double watts_per_horsepower = 745.7;

/* Most starts per hour.
 * Source: NEMA MG 10, allowable number of starts of Design A and B polyphase motors, column A, for
 * loads within the inertia that NEMA MG 1 allows; a centrifugal pump's is far within. */
struct motor_row {
    double horsepower;
    double starts[3]; /* 2, 4, 6 poles */
};

static const struct motor_row motor_rows[] = {
    {1, {15, 30, 34}},       {1.5, {12.9, 25.7, 29.1}}, {2, {11.5, 23, 26.1}},
    {3, {9.9, 19.8, 22.4}},  {5, {8.1, 16.3, 18.4}},    {7.5, {7, 13.9, 15.8}},
    {10, {6.2, 12.5, 14.2}}, {15, {5.4, 10.7, 12.1}},   {20, {4.8, 9.6, 10.9}},
    {25, {4.4, 8.8, 10}},
};

/* Source: Water Systems Council, tank standard, introduction: at most 15 starts per hour for small
 * private systems up to 3/4 hp. */
static const double small_horsepower = 0.75;
static const double small_starts = 15;

/* A rated size given in whole watts or rounded must find its own row. */
static const double size_slack = 1.02;

double pd_motor_starts_per_hour(double power, int poles, const char **source)
{
    size_t last = sizeof motor_rows / sizeof motor_rows[0] - 1;
    size_t column = poles >= 6 ? 2 : poles >= 4 ? 1 : 0;
    double horsepower = power / watts_per_horsepower;
    size_t row = 0;

    if (horsepower <= small_horsepower * size_slack) {
        *source = "Water Systems Council tank standard, up to 3/4 hp";
        return small_starts;
    }
    while (row < last && horsepower > motor_rows[row].horsepower * size_slack) {
        row++;
    }
    *source = horsepower > motor_rows[last].horsepower * size_slack
                  ? "NEMA MG 10, at 25 hp, the largest size taken from it"
                  : "NEMA MG 10";
    return motor_rows[row].starts[column];
}

struct pd_limits pd_limits_for(const struct pd_scenario *scenario)
{
    const double *value = scenario->value;
    double power = value[PD_PUMP_MOTOR_POWER];
    double poles = value[PD_PUMP_POLES];
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
    // of a motor whose size is not told nothing better is known than the rule for small ones; with
    // the poles unknown the fast motor, which stands the fewest starts, is taken
    limits.starts_per_hour = pd_motor_starts_per_hour(
        isfinite(power) ? power : 0, isfinite(poles) ? (int)poles : 2, &limits.starts_source);
    return limits;
}
