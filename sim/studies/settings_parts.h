/* The parts of the search for settings: the candidates of a strategy, and the plants that they are
 * tried on. */
#ifndef PUMPDAY_SETTINGS_PARTS_H
#define PUMPDAY_SETTINGS_PARTS_H

#include <pumpday/settings.h>

enum { CANDIDATES_MOST = 24 };

/* Plants of the installation as told and as it may be; the precharge is the strategy's, so that
 * case runs on the first. */
struct trial_plants {
    struct pd_scenario told_scenario, low_scenario, high_scenario; /* no settings of strategies */
    struct pd_plant told, low_supply, high_demand;
};

/* False and the error if memory runs out; then there is nothing to free. */
bool trial_plants_make(const struct pd_scenario *scenario,
                       const struct pd_settings_options *options, struct trial_plants *plants,
                       struct pd_error *error);
void trial_plants_free(struct trial_plants *plants);

/* Settings of a kind worth trying, the usual ones first; returns how many. */
size_t settings_candidates(const struct pd_strategy_kind *kind, const struct pd_plant *plant,
                           enum pd_unit_system units,
                           struct pd_strategy candidates[CANDIDATES_MOST]);

#endif
