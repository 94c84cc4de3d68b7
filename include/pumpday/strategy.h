/* Strategies: when the controller starts and stops the pump.
 *
 * A strategy has a kind of controller.  Those that the program knows share one, which works by two
 * margins over what its sensors read: an idle pump starts when the start margin is no longer
 * positive; a running pump stops when its stop margin has been negative for the whole of its run-on
 * time, counted from the start too.  Guards and timers are common to them. */
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
    PD_CAUSE_END_OF_DAY,
    PD_CAUSE_COUNT
};
const char *pd_cause_name(enum pd_cause cause);

/* What the controller's sensors read. */
struct pd_readings {
    double time;             /* s after midnight; negative in the warm-up */
    double header_pressure;  /* Pa gauge */
    double suction_pressure; /* Pa gauge at the pump's inlet; NAN where its kind does not ask */
    double pump_flow;        /* m3/s */
};

/* What a controller wants of the pump. */
struct pd_command {
    bool on;
    enum pd_cause cause; /* why it last went on or off */
};

/* What a kind of controller may use: surfaces that the readings can cross, bytes of memory. */
enum { PD_CONTROL_SURFACES_MOST = 3, PD_CONTROL_MEMORY_MOST = 192 };

/* A kind of controller: it decides from readings alone and keeps what it must remember in its own
 * memory.  A run asks for distances all the time, and hands over control when a reading has
 * crossed one of them or a time has come that the controller named. */
struct pd_controller_kind {
    size_t surfaces; /* to PD_CONTROL_SURFACES_MOST */
    size_t memory;   /* bytes, to PD_CONTROL_MEMORY_MOST */
    /* as at rest, the pump off */
    void (*clear)(void *memory);
    /* whether the distances depend on the suction pressure as things are; NULL: never */
    bool (*reads_suction)(const struct pd_strategy *strategy, const void *memory);
    /* how far the readings are from each surface: about 1 in size, positive on the side where they
     * are; 1 where it does not matter.  NULL where it has none */
    void (*distances)(const struct pd_strategy *strategy, const void *memory,
                      const struct pd_readings *readings, double *distance);
    /* the readings have crossed a surface: what the controller remembers of it, or wants now */
    void (*crossed)(const struct pd_strategy *strategy, void *memory, size_t surface,
                    const struct pd_readings *readings, struct pd_command *command);
    /* next time after the present one at which something is due [s]; INFINITY: none */
    double (*next_time)(const struct pd_strategy *strategy, const void *memory, double now);
    /* a time may have come; true if that changed anything.  Asked until nothing changes */
    bool (*on_time)(const struct pd_strategy *strategy, void *memory,
                    const struct pd_readings *readings, struct pd_command *command);
};

/* Where site.csv holds the settings of a strategy; PD_ITEM_COUNT: it has none such. */
struct pd_setting_items {
    enum pd_item start; /* its start pressure or flow */
    enum pd_item stop_flow, stop_pressure, run_on, precharge;
};

/* Settings worth trying, as they are put together (control/candidates.h). */
struct pd_candidates;

/* One kind of strategy: its name, how its settings are worked out, and its controller.  The margins
 * (about 1 in size, dimensionless) are for the controller that starts and stops by them. */
struct pd_strategy_kind {
    const char *name;          /* as in files and options: "pressure-start" */
    enum pd_cause start_cause; /* why its runs begin */
    const char *summary;       /* how "the pump" starts, for a reader */
    const struct pd_controller_kind *controller;
    const struct pd_setting_items *items; /* NULL: its settings are not in site.csv */
    /* its settings for a plant: from the scenario where given, else worked out */
    void (*settle)(const struct pd_plant *plant, struct pd_strategy *strategy);
    /* adds settings worth trying, those with which the trade begins first; NULL: none but its own
     */
    void (*suggest)(struct pd_candidates *candidates);
    double (*start_margin)(const struct pd_strategy *strategy, const struct pd_readings *readings);
    double (*stop_margin)(const struct pd_strategy *strategy, const struct pd_readings *readings);
};

/* Guards and timers of a controller. */
struct pd_guards {
    double low_suction;   /* Pa gauge; -INFINITY: off */
    double suction_delay; /* s */
    double suction_retry; /* s */
    double dry_run_time;  /* s; INFINITY: off */
    double least_rest;    /* s */
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
    struct pd_guards guards;
};

/* The guards that a scenario asks for. */
struct pd_guards pd_guards_of(const struct pd_scenario *scenario);

/* The strategies that the program knows, in the order in which they are told; whoever has one of
 * its own gives its kind to a study beside or instead of these.  Lists of strategies have room for
 * PD_STRATEGIES_MOST. */
enum { PD_STRATEGIES_MOST = 6 };
extern const struct pd_strategy_kind *const pd_strategies[];
extern const size_t pd_strategy_count;

/* Finds a kind by name; NULL if there is none. */
const struct pd_strategy_kind *pd_strategy_find(const char *name);

/* Settings of a kind for a plant: from the scenario where given, else worked out. */
struct pd_strategy pd_strategy_for(const struct pd_strategy_kind *kind,
                                   const struct pd_plant *plant);

#endif
