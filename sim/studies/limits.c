/* What a day is judged by: the limits of the scenario, and what the motor stands. */
#include <pumpday/check.h>

#include "scenario/codes.h"

#include <math.h>

static void set_starts(struct pd_limits *limits, const struct pd_scenario *scenario,
                       const struct pd_motor_rule *rule)
{
    double hour = scenario->value[PD_LIMIT_STARTS_PER_HOUR];
    double day = scenario->value[PD_LIMIT_STARTS_PER_DAY];

    limits->starts_per_hour = isfinite(hour) ? hour : rule->starts_per_hour;
    limits->starts_source = isfinite(hour) ? "limit.starts_per_hour" : rule->starts_source;
    limits->starts_per_day = isfinite(day) ? day : rule->starts_per_day;
    limits->day_source = isfinite(day) ? "limit.starts_per_day" : rule->day_source;
}

struct pd_limits pd_limits_for(const struct pd_scenario *scenario)
{
    struct pd_motor_rule rule = pd_motor_rule_for(scenario, NULL);
    struct pd_limits limits = {
        .shortest_run = rule.least_run,
        .run_source = rule.run_source,
        .static_pressure = scenario->value[PD_LIMIT_STATIC_PRESSURE],
        .tap_pressure = pd_codes_tap_pressure(scenario),
    };

    set_starts(&limits, scenario, &rule);
    return limits;
}
