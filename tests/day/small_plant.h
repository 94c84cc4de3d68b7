/* A small installation made in code, with a workspace and a trace, for the tests of a day.
 *
 * A main of 2 bar, a pump that adds 30 m at no flow, a tank of 20 L whose gas keeps its
 * temperature, as closed forms want it, taps at the pump's height, no
 * draws; what a test is about is changed in `scenario` before the run. */
#ifndef PUMPDAY_TESTS_SMALL_PLANT_H
#define PUMPDAY_TESTS_SMALL_PLANT_H

#include <pumpday/day.h>

enum { SMALL_DRAWS = 16, SMALL_SAMPLES = 8, SMALL_ROWS = 1 << 17 };

static const double bar = 1e5;                    // Pa
static const double litre = 1e-3;                 // m3
static const double litre_per_minute = 1e-3 / 60; // m3/s

struct small_plant {
    struct pd_scenario scenario;
    struct pd_draw draws[SMALL_DRAWS];
    struct pd_sample profile[SMALL_SAMPLES], supply[SMALL_SAMPLES];
    struct pd_plant plant;
    struct pd_strategy strategy;
    struct pd_day_options options;
    struct pd_day *day;
    struct pd_day_result result;
    struct pd_trace_row *rows;
    size_t row_count;
};

/* Fills the scenario, makes the workspace.  End with small_end. */
void small_begin(struct small_plant *small);
void small_end(struct small_plant *small);

/* Adds a draw that ends by duration [s] or by volume [m3]; times must rise. */
void small_draw(struct small_plant *small, double time, double flow, double duration);
void small_draw_volume(struct small_plant *small, double time, double flow, double volume);

/* Adds a point of the profile [m3/s] or the supply [Pa gauge]; times must rise. */
void small_profile(struct small_plant *small, double time, double flow);
void small_supply(struct small_plant *small, double time, double pressure);

/* Sets the strategy peak-only such that it never starts: the supply alone. */
void small_rest(struct small_plant *small);

/* Builds the plant and runs its day; false, and it is told, if that fails. */
bool small_run(struct small_plant *small, const char *strategy);

/* First row at or after a time for which a condition holds; the last row if there is none. */
typedef bool (*row_condition)(const struct pd_trace_row *row, double value);
const struct pd_trace_row *small_first(const struct small_plant *small, double from,
                                       row_condition condition, double value);

/* The row nearest to a time, the last of those at the same time. */
const struct pd_trace_row *small_row(const struct small_plant *small, double time);

/* Conditions on rows. */
bool row_draws(const struct pd_trace_row *row, double unused);
bool row_idle(const struct pd_trace_row *row, double unused);
bool row_valve_open(const struct pd_trace_row *row, double unused);
bool row_valve_shut(const struct pd_trace_row *row, double unused);
bool row_flow_under(const struct pd_trace_row *row, double flow);
bool row_tank_dry(const struct pd_trace_row *row, double unused);
bool row_tank_wet(const struct pd_trace_row *row, double unused);

#endif
