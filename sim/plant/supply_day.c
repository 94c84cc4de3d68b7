/* Hides how a day of supply samples wraps round midnight. */
#include "plant/supply_day.h"

#include <math.h>

/* A sample in Pa gauge at the pump. */
static double sample_pressure(const struct pd_plant *plant, size_t sample)
{
    double value = pd_scenario_supply(plant->scenario, sample);
    return plant->scenario->supply_is_level ? plant->specific_weight * value : value;
}

/* Time from a sample to the next, over midnight for the last. */
static double sample_span(const struct pd_scenario *scenario, size_t sample)
{
    if (sample + 1 < scenario->supply_count) {
        return scenario->supply[sample + 1].time - scenario->supply[sample].time;
    }
    return scenario->supply[0].time + PD_DAY_SECONDS - scenario->supply[sample].time;
}

struct supply_line supply_line_from(const struct pd_plant *plant, size_t sample, double day)
{
    const struct pd_scenario *scenario = plant->scenario;
    double span = sample_span(scenario, sample);
    double value = sample_pressure(plant, sample);
    double next = sample_pressure(plant, (sample + 1) % scenario->supply_count);
    // samples at 24:00 and at 00:00 leave no time between them
    double slope = span > 0.0 ? (next - value) / span : 0.0;

    return (struct supply_line){scenario->supply[sample].time + day, value, slope};
}

struct supply_line supply_line_at(const struct pd_plant *plant, double time)
{
    const struct pd_scenario *scenario = plant->scenario;
    double day = PD_DAY_SECONDS * floor(time / PD_DAY_SECONDS);
    double clock = time - day;
    size_t sample = scenario->supply_count;

    if (scenario->supply_count == 0) {
        return (struct supply_line){time, plant->supply_pressure, 0.0};
    }
    while (sample > 0 && scenario->supply[sample - 1].time > clock) {
        sample--;
    }
    // before the first sample the last one of the day before is in force
    if (sample == 0) {
        return supply_line_from(plant, scenario->supply_count - 1, day - PD_DAY_SECONDS);
    }
    return supply_line_from(plant, sample - 1, day);
}

void supply_day_extremes(struct pd_plant *plant)
{
    const struct pd_scenario *scenario = plant->scenario;
    double area = 0.0;

    plant->lowest_supply = plant->supply_pressure;
    plant->highest_supply = plant->supply_pressure;
    plant->mean_supply = plant->supply_pressure;
    if (scenario->supply_count == 0) {
        return;
    }
    plant->lowest_supply = INFINITY;
    plant->highest_supply = -INFINITY;
    for (size_t i = 0; i < scenario->supply_count; i++) {
        struct supply_line line = supply_line_from(plant, i, 0.0);
        double span = sample_span(scenario, i);
        area += span * (line.value + 0.5 * line.slope * span);
        plant->lowest_supply = fmin(plant->lowest_supply, line.value);
        plant->highest_supply = fmax(plant->highest_supply, line.value);
    }
    plant->mean_supply = area / PD_DAY_SECONDS;
}
