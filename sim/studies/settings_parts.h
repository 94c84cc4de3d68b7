/* The parts of the search for settings: the candidates of a strategy, the plants that they are
 * tried on, and the days themselves. */
#ifndef PUMPDAY_SETTINGS_PARTS_H
#define PUMPDAY_SETTINGS_PARTS_H

#include <pumpday/settings.h>

#include "control/candidates.h"

/* Trickles that are tried. */
enum { TRICKLES = 4 };

/* The installation as told, as it may be on site, and with each of the trickles. */
enum { PLANT_TOLD = PD_OFF_TRICKLE, PLANT_TRICKLE, TRIAL_PLANTS = PLANT_TRICKLE + TRICKLES };

/* Plants of the installation as told and as it may be; the precharge is the strategy's, so that
 * case runs on the first.  Those of what may be off stand at its place in enum pd_off. */
struct trial_plants {
    struct pd_scenario scenario[TRIAL_PLANTS]; /* these hold no settings of strategies */
    struct pd_plant plant[TRIAL_PLANTS];
};

/* False and the error if memory runs out; then there is nothing to free. */
bool trial_plants_make(const struct pd_scenario *scenario,
                       const struct pd_settings_options *options, struct trial_plants *plants,
                       struct pd_error *error);
void trial_plants_free(struct trial_plants *plants);

/* Lets a tap trickle on one of the plants for it, at a flow [m3/s] at a header pressure [Pa gauge].
 */
void trial_plants_trickle(struct trial_plants *plants, int trickle, double flow, double pressure);

/* What a search works with. */
struct settings_search {
    const struct pd_settings_options *options;
    const struct pd_limits *limits;
    struct trial_plants *plants;
    const struct pd_plant *told;        /* the one of the plants that is as told */
    const struct pd_scenario *scenario; /* for its prices */
    struct pd_error *error;
};

/* A day to be tried, and what came of it. */
struct settings_day {
    int plant;   /* its place among the plants */
    double tank; /* m3 */
    struct pd_strategy strategy;
    struct pd_outcome outcome;
};

/* A day of the installation as told, and one with something off on site. */
struct settings_day settings_day_told(double tank, const struct pd_strategy *strategy);
struct settings_day settings_day_off(const struct settings_search *search, enum pd_off off,
                                     double tank, const struct pd_strategy *strategy);

/* Runs days side by side, whole; false and the search's error if one cannot be run. */
bool settings_run_days(const struct settings_search *search, struct settings_day *days,
                       size_t count);

/* Whether all days pass.  None is run further than it takes to know; the outcomes of days that do
 * not pass, or of which one did not, hold nothing but that. */
bool settings_all_pass(const struct settings_search *search, struct settings_day *days,
                       size_t count, bool *pass);

/* False where nothing is told to be off: the day would be the same again. */
bool settings_is_off(const struct pd_settings_options *options, int off);

/* All troubles that the search goes by, of `count` settings. */
bool settings_try_all_off(const struct settings_search *search, struct pd_setting *settings,
                          size_t count);

/* The worst trickle, and the tank that stands it too. */
bool settings_try_trickles(const struct settings_search *search, struct pd_setting *setting);

/* The best of the settings found, and what sets it apart from the next best. */
void settings_prefer(struct pd_settings *settings);

/* Brings the defaults of all settings back but a stop pressure, which tells the kind of controller.
 */
void settings_forget(struct pd_scenario *scenario);

#endif
