/* Hashes a scenario by FNV-1a, 64 bits.
 * Source: Fowler, Noll, Vo, Eastlake, "The FNV Non-Cryptographic Hash Algorithm", section 2. */
#include "studies/fingerprint.h"

#include <math.h>
#include <string.h>

static const uint64_t offset_basis = 0xcbf29ce484222325U;
static const uint64_t prime = 0x00000100000001b3U;

static void add_number(uint64_t *hash, double number)
{
    unsigned char bytes[sizeof number];

    memcpy(bytes, &number, sizeof number);
    for (size_t i = 0; i < sizeof bytes; i++) {
        *hash = (*hash ^ bytes[i]) * prime;
    }
}

static void add_numbers(uint64_t *hash, const double *numbers, size_t count)
{
    // the count keeps the end of one list apart from the start of the next
    add_number(hash, (double)count);
    for (size_t i = 0; i < count; i++) {
        add_number(hash, numbers[i]);
    }
}

static void add_samples(uint64_t *hash, const struct pd_sample *samples, size_t count)
{
    add_number(hash, (double)count);
    for (size_t i = 0; i < count; i++) {
        add_number(hash, samples[i].time);
        add_number(hash, samples[i].value);
    }
}

uint64_t scenario_fingerprint(const struct pd_scenario *scenario)
{
    const struct pd_pump_points *pump = &scenario->pump;
    uint64_t hash = offset_basis;

    add_numbers(&hash, scenario->value, PD_ITEM_COUNT);
    for (size_t i = 0; i < PD_ITEM_COUNT; i++) {
        add_number(&hash, scenario->given[i] ? 1 : 0);
    }
    add_numbers(&hash, pump->flow, pump->count);
    add_numbers(&hash, pump->head, pump->count);
    add_numbers(&hash, pump->power, pump->count);
    add_numbers(&hash, pump->npsh_required, pump->has_npsh ? pump->count : 0);
    add_number(&hash, (double)scenario->draw_count);
    for (size_t i = 0; i < scenario->draw_count; i++) {
        const struct pd_draw *draw = &scenario->draws[i];
        const double numbers[] = {draw->time, draw->flow, draw->duration, draw->volume};
        add_numbers(&hash, numbers, sizeof numbers / sizeof numbers[0]);
    }
    add_samples(&hash, scenario->profile, scenario->profile_count);
    add_samples(&hash, scenario->supply, scenario->supply_count);
    add_number(&hash, scenario->supply_is_level ? 1 : 0);
    if (scenario->has_tariff) {
        add_numbers(&hash, scenario->tariff, PD_TARIFF_HOURS);
    }
    return hash;
}

uint64_t household_fingerprint(const struct pd_scenario *scenario)
{
    struct pd_scenario bare = *scenario;

    bare.draw_count = 0;
    bare.profile_count = 0;
    uint64_t hash = scenario_fingerprint(&bare);
    for (size_t i = 0; i < scenario->use_count; i++) {
        const struct pd_use *use = &scenario->uses[i];
        const double numbers[] = {use->draws_per_day, use->flow,    use->flow_spread,
                                  use->duration,      use->volume,  use->spread,
                                  (double)use->law,   use->weekday, use->weekend,
                                  use->day_spread,    use->cluster, use->gap};
        add_numbers(&hash, numbers, sizeof numbers / sizeof numbers[0]);
        add_numbers(&hash, use->hours, PD_USE_HOURS);
        for (size_t k = 0; use->name[k] != '\0'; k++) {
            add_number(&hash, use->name[k]);
        }
    }
    return hash;
}

uint64_t numbers_fingerprint(const double *numbers, size_t count)
{
    uint64_t hash = offset_basis;

    for (size_t i = 0; i < count; i++) {
        add_number(&hash, isnan(numbers[i]) ? (double)NAN : numbers[i]);
    }
    return hash;
}
