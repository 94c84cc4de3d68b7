/* The day as a whole: warm-up, midnight, and the sums between the two midnights. */
#include "reference_day.h"
#include "reference_parts.h"
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { EVENTS_MOST = 400000 };

/* From rest: pump off, valve closed, header at the supply's pressure. */
static void begin_at_rest(struct ref_day *day)
{
    const struct ref_plant *plant = &day->plant;

    day->time = 0 - plant->warm_up;
    day->switched_at = day->time;
    day->rest_ends = day->hold_ends = -INFINITY;
    day->run_on_ends = day->suction_ends = day->dry_ends = INFINITY;
    day->y[REF_GAS] = plant->wall;
    day->y[REF_LEVEL] = plant->level_moves ? plant->full : 0;
    day->gas_constant = (day->set.precharge + plant->atmosphere) * plant->tank_volume / plant->wall;
    ref_timetable_start(day);
    day->y[REF_HEADER] = fmax(ref_supply(day, day->time, day->y), 0);
    day->tank_empty = day->y[REF_HEADER] + plant->atmosphere < ref_empty_pressure(day, day->y);
}

/* What has gone before midnight counts nowhere; sigma goes on, for draws by volume stand on it. */
static void begin_counting(struct ref_day *day)
{
    struct reference_result *result = day->result;

    day->counting = true;
    day->y[REF_ENERGY] = day->y[REF_SUPPLIED] = day->y[REF_DELIVERED] = day->y[REF_LEAKED] = 0;
    day->stored_at_midnight = ref_stored(day, day->y);
    result->lowest_tap = result->lowest_suction = INFINITY;
    result->highest_header = day->y[REF_HEADER];
}

static void finish(struct ref_day *day)
{
    struct reference_result *result = day->result;

    if (day->on && day->counting) {
        result->run_time += day->time - fmax(day->on_since, 0);
    }
    result->energy = day->y[REF_ENERGY];
    result->supplied = day->y[REF_SUPPLIED];
    result->delivered = day->y[REF_DELIVERED];
    result->leaked = day->y[REF_LEAKED];
    result->stored = ref_stored(day, day->y) - day->stored_at_midnight;
    result->last_header = day->y[REF_HEADER];
    result->last_level = day->y[REF_LEVEL];
    result->locked_out = day->locked;
    result->end_time = day->time;
    if (isinf(result->lowest_tap)) {
        result->lowest_tap = NAN;
    }
    if (isinf(result->lowest_suction)) {
        result->lowest_suction = NAN;
    }
}

/* From instant to instant until 24:00. */
static bool run_through(struct ref_day *day, struct ref_stepper *stepper)
{
    struct reference_result *result = day->result;

    while (day->time < 86400 && !result->chattered) {
        if (day->time >= 0 && !day->counting) {
            begin_counting(day);
        }
        bool rests = ref_take_instant(day);
        result->events++;
        result->chattered =
            !rests || result->events > EVENTS_MOST || result->starts > REFERENCE_STARTS_MOST;
        if (!ref_advance(stepper, ref_next_time(day))) {
            return false;
        }
    }
    finish(day);
    return true;
}

static bool prepare(struct ref_day *day, const struct pd_scenario *scenario, const char *name)
{
    ref_plant_build(scenario, &day->plant);
    if (!ref_settings_for(&day->plant, name, &day->set)) {
        (void)snprintf(day->why, day->why_size, "there is no strategy \"%s\"", name);
        return false;
    }
    day->by_flow = !isnan(day->set.start_flow);
    day->result->settings = day->set;
    if (!ref_timetable_build(day)) {
        (void)snprintf(day->why, day->why_size, "memory ran out");
        return false;
    }
    begin_at_rest(day);
    return true;
}

bool reference_day(const struct pd_scenario *scenario, const char *strategy_name, double tolerance,
                   struct reference_result *result, char *why, size_t why_size)
{
    struct ref_day day;
    bool good = false;

    memset(&day, 0, sizeof day);
    memset(result, 0, sizeof *result);
    day.tolerance = tolerance;
    day.result = result;
    day.why = why;
    day.why_size = why_size;
    gsl_error_handler_t *before = gsl_set_error_handler_off();
    if (prepare(&day, scenario, strategy_name)) {
        struct ref_stepper *stepper = ref_stepper_create(&day);
        good = stepper != NULL && run_through(&day, stepper);
        ref_stepper_free(stepper);
    }
    gsl_set_error_handler(before);
    free(day.edges);
    free(day.draws);
    return good;
}
