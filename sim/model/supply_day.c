/* Hides how a day of supply samples wraps round midnight, and what a reducing valve makes of it. */
#include "model/supply_day.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>

/* Time from a sample to the next, over midnight for the last. */
static double sample_span(const struct pd_sample *samples, size_t count, size_t sample)
{
    if (sample + 1 < count) {
        return samples[sample + 1].time - samples[sample].time;
    }
    return samples[0].time + PD_DAY_SECONDS - samples[sample].time;
}

/* What comes in, unreduced: a sample in Pa gauge at the pump. */
static double incoming(const struct pd_plant *plant, size_t sample)
{
    double value = pd_scenario_supply(plant->scenario, sample);
    return plant->scenario->supply_is_level ? plant->specific_weight * value : value;
}

static void add_sample(struct pd_plant *plant, double time, double value)
{
    plant->supply[plant->supply_count++] = (struct pd_sample){time, value};
}

/* A sample behind the valve, and the point between it and the next where the valve begins or ends
 * to reduce. */
static void add_reduced(struct pd_plant *plant, size_t sample, double valve)
{
    const struct pd_scenario *scenario = plant->scenario;
    double value = incoming(plant, sample);
    double next = incoming(plant, (sample + 1) % scenario->supply_count);
    double time = scenario->supply[sample].time;
    double span = sample_span(scenario->supply, scenario->supply_count, sample);

    add_sample(plant, time, fmin(value, valve));
    if (span > 0.0 && (value - valve) * (next - valve) < 0.0) {
        add_sample(plant, fmod(time + span * (valve - value) / (next - value), PD_DAY_SECONDS),
                   valve);
    }
}

static int compare_times(const void *left, const void *right)
{
    const struct pd_sample *a = left, *b = right;

    return a->time < b->time ? -1 : a->time > b->time;
}

static void find_extremes(struct pd_plant *plant)
{
    double area = 0.0;

    plant->lowest_supply = INFINITY;
    plant->highest_supply = -INFINITY;
    for (size_t i = 0; i < plant->supply_count; i++) {
        struct supply_line line = supply_line_from(plant, i, 0.0);
        double span = sample_span(plant->supply, plant->supply_count, i);
        area += span * (line.value + 0.5 * line.slope * span);
        plant->lowest_supply = fmin(plant->lowest_supply, line.value);
        plant->highest_supply = fmax(plant->highest_supply, line.value);
    }
    plant->mean_supply = area / PD_DAY_SECONDS;
}

bool supply_day_build(struct pd_plant *plant, struct pd_error *error)
{
    const struct pd_scenario *scenario = plant->scenario;
    double told = scenario->value[PD_SUPPLY_REDUCING_VALVE];
    double valve = isnan(told) ? (double)INFINITY : told;
    size_t most = 2 * scenario->supply_count;

    // a pressure that is not given stays so
    if (plant->supply_pressure > valve) {
        plant->supply_pressure = valve;
    }
    if (most == 0) {
        plant->lowest_supply = plant->mean_supply = plant->highest_supply = plant->supply_pressure;
        return true;
    }
    plant->supply = pd_memory_resize(NULL, most * sizeof *plant->supply);
    if (plant->supply == NULL) {
        return pd_error_set(error, PD_SOLVER_FAILED, scenario->folder, 0, NULL,
                            "not enough memory for %zu points of the supply", most);
    }
    for (size_t i = 0; i < scenario->supply_count; i++) {
        add_reduced(plant, i, valve);
    }
    // a point between the last sample and the first may fall before that
    qsort(plant->supply, plant->supply_count, sizeof *plant->supply, compare_times);
    find_extremes(plant);
    return true;
}

struct supply_line supply_line_from(const struct pd_plant *plant, size_t sample, double day)
{
    double span = sample_span(plant->supply, plant->supply_count, sample);
    double value = plant->supply[sample].value;
    double next = plant->supply[(sample + 1) % plant->supply_count].value;
    // samples at 24:00 and at 00:00 leave no time between them
    double slope = span > 0.0 ? (next - value) / span : 0.0;

    return (struct supply_line){plant->supply[sample].time + day, value, slope};
}

struct supply_line supply_line_at(const struct pd_plant *plant, double time)
{
    double day = PD_DAY_SECONDS * floor(time / PD_DAY_SECONDS);
    double clock = time - day;
    size_t sample = plant->supply_count;

    if (plant->supply_count == 0) {
        return (struct supply_line){time, plant->supply_pressure, 0.0};
    }
    while (sample > 0 && plant->supply[sample - 1].time > clock) {
        sample--;
    }
    // before the first sample the last one of the day before is in force
    if (sample == 0) {
        return supply_line_from(plant, plant->supply_count - 1, day - PD_DAY_SECONDS);
    }
    return supply_line_from(plant, sample - 1, day);
}
