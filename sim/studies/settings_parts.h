/* The parts of the search for settings: the candidates of a strategy, and the plants that they are
 * tried on. */
#ifndef PUMPDAY_SETTINGS_PARTS_H
#define PUMPDAY_SETTINGS_PARTS_H

#include <pumpday/settings.h>

enum { CANDIDATES_MOST = 24 };

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

/* What a dial of pressure shows [Pa]. */
double settings_pressure_step(enum pd_unit_system units);

/* Settings of a kind worth trying, the usual ones first; returns how many. */
size_t settings_candidates(const struct pd_strategy_kind *kind, const struct pd_plant *plant,
                           enum pd_unit_system units,
                           struct pd_strategy candidates[CANDIDATES_MOST]);

#endif
