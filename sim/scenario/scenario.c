/* A scenario in memory: its defaults, copies, and what follows from it as a whole. */
#include <pumpday/scenario.h>

#include "base/memory.h"
#include "scenario/codes.h"
#include "scenario/items.h"
#include "scenario/read.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct pd_scenario pd_scenario_default(void)
{
    struct pd_scenario scenario = {.title = ""};
    for (size_t i = 0; i < PD_ITEM_COUNT; i++) {
        scenario.value[i] = pd_item_default((enum pd_item)i);
    }
    for (size_t hour = 0; hour < PD_TARIFF_HOURS; hour++) {
        scenario.tariff[hour] = NAN;
    }
    pd_codes_apply(&scenario);
    pd_tank_sizes_usual(&scenario, PD_UNITS_SI);
    return scenario;
}

void pd_scenario_free(struct pd_scenario *scenario)
{
    free(scenario->draws);
    free(scenario->profile);
    free(scenario->supply);
    memset(scenario, 0, sizeof *scenario);
}

// a copy of an array; NULL for none.  False if memory runs out
static bool copy_array(void **to, const void *from, size_t count, size_t size)
{
    *to = NULL;
    if (count == 0) {
        return true;
    }
    *to = pd_memory_resize(NULL, count * size);
    if (*to != NULL) {
        memcpy(*to, from, count * size);
    }
    return *to != NULL;
}

bool pd_scenario_copy(const struct pd_scenario *from, struct pd_scenario *to)
{
    void *draws = NULL;
    void *profile = NULL;
    void *supply = NULL;
    bool good = copy_array(&draws, from->draws, from->draw_count + from->evening_count,
                           sizeof *from->draws) &&
                copy_array(&profile, from->profile, from->profile_count, sizeof *from->profile) &&
                copy_array(&supply, from->supply, from->supply_count, sizeof *from->supply);
    *to = *from;
    to->draws = draws;
    to->profile = profile;
    to->supply = supply;
    if (!good) {
        pd_scenario_free(to);
    }
    return good;
}

double pd_scenario_supply(const struct pd_scenario *scenario, size_t sample)
{
    const struct pd_unit *metre = pd_unit_find(PD_KIND_PRESSURE, "m");
    double offset = scenario->value[PD_SUPPLY_OFFSET];
    return scenario->supply[sample].value +
           (scenario->supply_is_level ? pd_unit_from_si(metre, offset) : offset);
}

enum pd_unit_system pd_scenario_units(const struct pd_scenario *scenario)
{
    return scenario->leaning > 0 ? PD_UNITS_US : PD_UNITS_SI;
}

double pd_scenario_price(const struct pd_scenario *scenario, int hour)
{
    double price = scenario->tariff[hour];
    return isnan(price) ? scenario->value[PD_ENERGY_PRICE] : price;
}

struct pd_calendar pd_scenario_calendar(const struct pd_scenario *scenario)
{
    return (struct pd_calendar){
        .holidays = scenario->value[PD_CALENDAR_HOLIDAYS],
        .away = scenario->value[PD_CALENDAR_AWAY],
    };
}
