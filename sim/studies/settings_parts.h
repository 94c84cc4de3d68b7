/* The parts of the search for settings: the candidates of a strategy, and the plants that they are
 * tried on. */
#ifndef PUMPDAY_SETTINGS_PARTS_H
#define PUMPDAY_SETTINGS_PARTS_H

#include <pumpday/settings.h>

#include "control/candidates.h"

/* Plants of the installation as told and as it may be; the precharge is the strategy's, so that
 * case runs on the first. */
struct trial_plants {
    struct pd_scenario told_scenario; /* these hold no settings of strategies */
    struct pd_scenario off_scenario[PD_OFF_COUNT];
    struct pd_plant told, off[PD_OFF_COUNT];
};

/* False and the error if memory runs out; then there is nothing to free. */
bool trial_plants_make(const struct pd_scenario *scenario,
                       const struct pd_settings_options *options, struct trial_plants *plants,
                       struct pd_error *error);
void trial_plants_free(struct trial_plants *plants);

/* Lets a tap trickle on the last of the plants, at a flow [m3/s] at a header pressure [Pa gauge].
 */
void trial_plants_trickle(struct trial_plants *plants, double flow, double pressure);

/* What a search works with. */
struct settings_search {
    const struct pd_settings_options *options;
    const struct pd_limits *limits;
    struct trial_plants *plants;
    struct pd_day *day;
    double price; /* money per J */
    struct pd_error *error;
};

/* One day of a setting with a tank [m3]; false and the search's error if it cannot be run. */
bool settings_try_day(const struct settings_search *search, const struct pd_plant *plant,
                      double tank, const struct pd_strategy *strategy, struct pd_outcome *outcome);

/* The same with one of the troubles on site. */
bool settings_try_off(const struct settings_search *search, enum pd_off off, double tank,
                      const struct pd_strategy *strategy, struct pd_outcome *outcome);

/* False where nothing is told to be off: the day would be the same again. */
bool settings_is_off(const struct pd_settings_options *options, int off);

/* All troubles that the search goes by, one after the other. */
bool settings_try_all_off(const struct settings_search *search, struct pd_setting *setting);

/* The worst trickle, and the tank that stands it too. */
bool settings_try_trickles(const struct settings_search *search, struct pd_setting *setting);

#endif
