/* How much water a scenario's day asks for. */
#include <pumpday/scenario.h>

#include <math.h>

static const double day = 86400; /* s */

/* The profile's flows, each up to the next, the last over midnight to the first. */
static double profile_volume(const struct pd_scenario *scenario)
{
    double volume = 0;

    for (size_t i = 0; i < scenario->profile_count; i++) {
        bool is_last = i + 1 == scenario->profile_count;
        double end = is_last ? scenario->profile[0].time + day : scenario->profile[i + 1].time;
        volume += scenario->profile[i].value * (end - scenario->profile[i].time);
    }
    return volume;
}

double pd_scenario_asked(const struct pd_scenario *scenario)
{
    double volume = profile_volume(scenario);

    for (size_t i = 0; i < scenario->draw_count; i++) {
        const struct pd_draw *draw = &scenario->draws[i];
        volume += isfinite(draw->duration) ? draw->flow * draw->duration : draw->volume;
    }
    return volume;
}
