/* What a day's energy costs. */
#include <pumpday/compare.h>

double pd_day_cost(const struct pd_scenario *scenario, const struct pd_day_result *result)
{
    double cost = 0;

    // one price is paid for the whole, to the last digit
    if (!scenario->has_tariff) {
        return result->energy * scenario->value[PD_ENERGY_PRICE];
    }
    for (int hour = 0; hour < PD_HOURS; hour++) {
        cost += result->hours[hour].energy * pd_scenario_price(scenario, hour);
    }
    return cost;
}
