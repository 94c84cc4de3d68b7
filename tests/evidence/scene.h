/* Installations made in code, stripped of all that a closed form leaves out, and their days. */
#ifndef PUMPDAY_TESTS_SCENE_H
#define PUMPDAY_TESTS_SCENE_H

#include <pumpday/day.h>

extern const double scene_litre, scene_bar, scene_psi, scene_gallon, scene_minute, scene_hour;

/* For CUnit: makes and frees the workspace that the days of a suite run in. */
int scene_begin(void);
int scene_end(void);

/* A main of no pressure, no losses, no motor inertia, a stiff house pipe, no least rest and no
 * warm-up, at sea level; a pressure-start with a stop pressure, that is a two-pressure switch.
 * Pressures gauge, the tank isothermal. */
struct scene {
    struct pd_scenario scenario;
    struct pd_sample profile[2];
};
void scene_ideal(struct scene *scene, double tank, double precharge, double start, double stop);

/* A pump whose flow falls in a straight line from `most` at no rise to nothing at `shutoff` Pa. */
void scene_line_pump(struct scene *scene, double most, double shutoff);

/* The same with a line so steep that it gives the flow within 0.01 % at any house pressure. */
void scene_constant_pump(struct scene *scene, double flow, double pressure);

/* A draw that does not depend on the pressure within 0.01 %, for some seconds from midnight: the
 * taps are put 100 km below the pump, which the limits of site.csv would refuse. */
void scene_steady_draw(struct scene *scene, double flow, double seconds);

/* A fixed opening at the pump's height that gives a flow at 1 bar. */
void scene_opening(struct scene *scene, double flow_at_1_bar, double seconds);

/* One day by one strategy; the result holds until the next.  A failure fails the test. */
const struct pd_day_result *scene_day(const struct pd_scenario *scenario,
                                      const struct pd_strategy_kind *kind);

/* Header pressure at the end of such a day of a two-pressure switch [Pa gauge]. */
double scene_last_pressure(const struct pd_scenario *scenario);

/* Header pressure at a time of such a day [Pa gauge]. */
double scene_pressure_at(const struct pd_scenario *scenario, double time);

/* Starts per hour of a two-pressure switch between midnight and a time, from the spacing of the
 * starts, without the first, which finds the tank empty. */
double scene_starts_per_hour(const struct scene *scene, double seconds);

#endif
