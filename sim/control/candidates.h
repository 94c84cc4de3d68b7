/* Settings worth trying.  All of them are common practice, no source; the first that a strategy
 * adds is what the trade begins with. */
#ifndef PUMPDAY_CANDIDATES_H
#define PUMPDAY_CANDIDATES_H

#include <pumpday/strategy.h>

#define GPM (3.785411784e-3 / 60.0) /* m3/s, US gallons */

#define COUNT(list) (sizeof(list) / sizeof(list)[0])

enum { CANDIDATES_MOST = 24 };

struct pd_candidates {
    const struct pd_plant *plant;
    enum pd_unit_system units; /* of the dials */
    struct pd_strategy usual;  /* as the program would set it */
    struct pd_strategy *at;    /* CANDIDATES_MOST of them */
    size_t count;
};

/* Settings of a kind worth trying, the usual ones first, as the dials of a unit system have them;
 * returns how many. */
size_t candidates_of(const struct pd_strategy_kind *kind, const struct pd_plant *plant,
                     enum pd_unit_system units, struct pd_strategy at[CANDIDATES_MOST]);

/* What a dial of pressure shows [Pa]. */
double candidates_pressure_step(enum pd_unit_system units);

/* The run-on times tried [s]. */
enum { RUN_ONS = 2 };
extern const double candidates_run_on[RUN_ONS];

/* Adds one as a dial would have it, its precharge after its start pressure. */
void candidates_add(struct pd_candidates *candidates, struct pd_strategy strategy);

/* Adds one start pressure [Pa gauge] with each run-on, and with each stop flow unless it is the
 * usual alone. */
void candidates_add_at(struct pd_candidates *candidates, double start, bool stop_flow_is_usual);

#endif
