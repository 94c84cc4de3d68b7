/* Strategies: when the controller starts and stops the pump.
 *
 * Every strategy is two margins over what its sensors read.  An idle pump starts when the start
 * margin is no longer positive.  A running pump stops when its stop margin has been negative for
 * the whole of its run-on time, counted from the start too.  Guards and timers are common to all.
 */
#ifndef PUMPDAY_STRATEGY_H
#define PUMPDAY_STRATEGY_H

#include <pumpday/plant.h>

struct pd_strategy;

/* Why a run began or ended; pd_cause_name gives the words of cycles.csv. */
enum pd_cause {
    PD_CAUSE_PRESSURE,     /* start: the header fell to the start pressure */
    PD_CAUSE_FLOW,         /* start: the flow rose to the start flow */
    PD_CAUSE_CARRIED_OVER, /* it ran at midnight already */
    PD_CAUSE_LOW_FLOW,     /* stop: flow under the stop flow for the run-on time */
    PD_CAUSE_STOP_PRESSURE,
    PD_CAUSE_LOW_SUCTION,
    PD_CAUSE_DRY,
    PD_CAUSE_END_OF_DAY
};
const char *pd_cause_name(enum pd_cause cause);

/* What the controller's sensors read. */
struct pd_readings {
    double header_pressure; /* Pa gauge */
    double pump_flow;       /* m3/s */
};

/* One kind of strategy: its name, how its settings are worked out, and its margins (about 1 in
 * size, dimensionless). */
struct pd_strategy_kind {
    const char *name;          /* as in files and options: "pressure-start" */
    enum pd_cause start_cause; /* why its runs begin */
    const char *summary;       /* how "the pump" starts, for a reader */
    void (*settle)(const struct pd_plant *plant, struct pd_strategy *strategy);
    double (*start_margin)(const struct pd_strategy *strategy, const struct pd_readings *readings);
    double (*stop_margin)(const struct pd_strategy *strategy, const struct pd_readings *readings);
};

/* A strategy with its settings for one plant. */
struct pd_strategy {
    const struct pd_strategy_kind *kind;
    double start_pressure; /* Pa gauge; NAN for flow-start */
    double start_flow;     /* m3/s; NAN for the others */
    double stop_flow;      /* m3/s */
    double stop_pressure;  /* Pa gauge; NAN unless it is a two-pressure switch */
    double run_on;         /* s; 0 for a two-pressure switch */
    double precharge;      /* Pa gauge */
    double dry_pressure;   /* Pa gauge; running under it without flow is running dry */
};

enum { PD_STRATEGY_COUNT = 3 };
extern const struct pd_strategy_kind *const pd_strategies[PD_STRATEGY_COUNT];

/* Finds a kind by name; NULL if there is none. */
const struct pd_strategy_kind *pd_strategy_find(const char *name);

/* Settings of a kind for a plant: from the scenario where given, else worked out. */
struct pd_strategy pd_strategy_for(const struct pd_strategy_kind *kind,
                                   const struct pd_plant *plant);

#endif
