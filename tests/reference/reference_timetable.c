/* What happens at times known beforehand: the supply's line, the profile, the draws.  The day
 * repeats itself, so the warm-up has the last hours' events a day earlier. */
#include "reference_parts.h"
#include <math.h>
#include <stdlib.h>

static const double day_length = 86400;
static const double never = (double)INFINITY;

static int compare_edges(const void *left, const void *right)
{
    const struct ref_edge *a = left;
    const struct ref_edge *b = right;

    if (a->time < b->time || a->time > b->time) {
        return a->time < b->time ? -1 : 1;
    }
    if (a->kind != b->kind) {
        return a->kind < b->kind ? -1 : 1;
    }
    return (a->index > b->index) - (a->index < b->index);
}

/* Puts an event of the day in, and its like in the warm-up. */
static void add_edge(struct ref_day *day, double time, enum ref_edge_kind kind, size_t index)
{
    double before = time - day_length;

    if (before >= -day->plant.warm_up) {
        day->edges[day->edge_count++] = (struct ref_edge){before, kind, index};
    }
    if (time < day_length) {
        day->edges[day->edge_count++] = (struct ref_edge){time, kind, index};
    }
}

/* A series that has a point at both ends of the day jumps at midnight: its last point holds for
 * no time. */
static size_t lasting_samples(const struct pd_sample *series, size_t count)
{
    bool jumps = count > 1 && series[0].time <= 0 && series[count - 1].time >= day_length;

    return jumps ? count - 1 : count;
}

bool ref_timetable_build(struct ref_day *day)
{
    const struct pd_scenario *scenario = day->plant.scenario;
    size_t most = scenario->supply_count + scenario->profile_count + scenario->draw_count;

    day->edges = malloc((2 * most + 1) * sizeof *day->edges);
    day->draws = malloc((2 * scenario->draw_count + 1) * sizeof *day->draws);
    if (day->edges == NULL || day->draws == NULL) {
        return false;
    }
    size_t supplies = lasting_samples(scenario->supply, scenario->supply_count);
    for (size_t i = 0; i < supplies; i++) {
        add_edge(day, scenario->supply[i].time, REF_EDGE_SUPPLY, i);
    }
    size_t steps = lasting_samples(scenario->profile, scenario->profile_count);
    for (size_t i = 0; i < steps; i++) {
        add_edge(day, scenario->profile[i].time, REF_EDGE_PROFILE, i);
    }
    for (size_t i = 0; i < scenario->draw_count; i++) {
        add_edge(day, scenario->draws[i].time, REF_EDGE_DRAW, i);
    }
    qsort(day->edges, day->edge_count, sizeof *day->edges, compare_edges);
    return true;
}

/* The sample that holds at a time of the day: the last one before it, or the day before's last. */
static size_t sample_at(const struct pd_sample *series, size_t count, double time)
{
    size_t found = count - 1;

    for (size_t i = 0; i < count && series[i].time <= time; i++) {
        found = i;
    }
    return found;
}

/* The supply's line from one sample on, which stood at `from`. */
static void take_supply(struct ref_day *day, size_t index, double from)
{
    const struct pd_scenario *scenario = day->plant.scenario;
    bool wraps = index + 1 == scenario->supply_count;
    const struct pd_sample *now = &scenario->supply[index];
    const struct pd_sample *next = &scenario->supply[wraps ? 0 : index + 1];
    double scale = scenario->supply_is_level ? day->plant.weight : 1;
    double lasts = next->time - now->time + (wraps ? day_length : 0);

    day->supply_from = from;
    day->supply_value = scale * (now->value + day->plant.offset);
    day->supply_slope = lasts > 0 ? scale * (next->value - now->value) / lasts : 0;
}

static void sum_coefficients(struct ref_day *day)
{
    day->coefficient = day->profile_coefficient;
    for (size_t i = 0; i < day->draw_count; i++) {
        day->coefficient += day->draws[i].coefficient;
    }
}

void ref_timetable_start(struct ref_day *day)
{
    const struct pd_scenario *scenario = day->plant.scenario;
    double clock = fmod(day_length - day->plant.warm_up, day_length);

    day->supply_value = day->plant.steady_supply;
    if (scenario->supply_count > 0) {
        size_t count = lasting_samples(scenario->supply, scenario->supply_count);
        size_t at = sample_at(scenario->supply, count, clock);
        double from = scenario->supply[at].time - clock - day->plant.warm_up;
        take_supply(day, at, scenario->supply[at].time > clock ? from - day_length : from);
    }
    if (scenario->profile_count > 0) {
        size_t count = lasting_samples(scenario->profile, scenario->profile_count);
        size_t at = sample_at(scenario->profile, count, clock);
        day->profile_coefficient = scenario->profile[at].value / day->plant.reference_root;
    }
    sum_coefficients(day);
}

static void open_draw(struct ref_day *day, const struct pd_draw *draw)
{
    struct ref_open_draw *open = &day->draws[day->draw_count++];

    open->coefficient = draw->flow / day->plant.reference_root;
    open->closes_at = isnan(draw->duration) ? never : day->time + draw->duration;
    open->closes_sigma =
        isnan(draw->volume) ? never : day->y[REF_SIGMA] + draw->volume / open->coefficient;
}

static void take_edge(struct ref_day *day, const struct ref_edge *edge)
{
    const struct pd_scenario *scenario = day->plant.scenario;

    if (edge->kind == REF_EDGE_SUPPLY) {
        take_supply(day, edge->index, edge->time);
    } else if (edge->kind == REF_EDGE_PROFILE) {
        day->profile_coefficient = scenario->profile[edge->index].value / day->plant.reference_root;
    } else {
        open_draw(day, &scenario->draws[edge->index]);
    }
}

void ref_take_edges(struct ref_day *day)
{
    while (day->edge_next < day->edge_count && day->edges[day->edge_next].time <= day->time) {
        take_edge(day, &day->edges[day->edge_next++]);
    }
    sum_coefficients(day);
}

void ref_close_draws(struct ref_day *day)
{
    size_t kept = 0;

    for (size_t i = 0; i < day->draw_count; i++) {
        const struct ref_open_draw *draw = &day->draws[i];
        bool open = draw->closes_at > day->time && draw->closes_sigma > day->y[REF_SIGMA];
        if (open) {
            day->draws[kept++] = *draw;
        }
    }
    day->draw_count = kept;
    sum_coefficients(day);
}
