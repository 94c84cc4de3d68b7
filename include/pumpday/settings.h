/* What to set on site: for each strategy the settings and the smallest tank that keep a day within
 * its limits, found by simulating, and what is left when things are not as told. */
#ifndef PUMPDAY_PUBLIC_SETTINGS_H
#define PUMPDAY_PUBLIC_SETTINGS_H

#include <pumpday/compare.h>

/* What may be off on site. */
enum pd_off {
    PD_OFF_SUPPLY,      /* lower all day */
    PD_OFF_HIGH_SUPPLY, /* all day at its highest, a main higher still */
    PD_OFF_DEMAND,
    PD_OFF_PRECHARGE,
    PD_OFF_ALL,     /* a lower supply, larger draws and a lower precharge at once */
    PD_OFF_TRICKLE, /* two hours of the night a tap trickles, at the flow that cycles worst; tried
                     * on what was found, and no part of the search */
    PD_OFF_COUNT
};

/* How a day went. */
struct pd_outcome {
    bool good;
    bool ran; /* the pump, at any time of the day */
    int starts, starts_in_worst_hour;
    double shortest_run;            /* s; NAN if none */
    double lowest_tap_pressure;     /* Pa gauge; NAN if no tap was open */
    double lowest_suction_pressure; /* Pa gauge at the pump inlet; NAN if no water flowed */
    double energy;                  /* J */
    double cost;                    /* money */
    char verdict[PD_VERDICT_MOST];
};

/* What to set for one strategy. */
struct pd_setting {
    bool draws_main_down;        /* below 0 gauge at the pump inlet, on the day; a main only */
    bool found;                  /* some settings and a tank keep the day within its limits */
    struct pd_strategy strategy; /* not found: the usual settings, with the largest tank */
    double tank;                 /* m3 */
    double reducing_valve;       /* Pa gauge; NAN: none but what the scenario has */
    struct pd_outcome day;
    struct pd_outcome off[PD_OFF_COUNT]; /* with the same settings; found only */
    int stands;                          /* how many of those are good */
    double trickle;                      /* m3/s at the start pressure; found only */
    double trickle_tank; /* m3, the smallest of the list that stands it too; NAN: none does */
};

/* What decided between two strategies that pass. */
enum pd_reason {
    PD_REASON_NONE_PASSES,
    PD_REASON_NOT_NEEDED,   /* none is preferred: the supply alone holds the taps */
    PD_REASON_ALONE,        /* no other passes */
    PD_REASON_LIKE_OTHERS,  /* no other is better */
    PD_REASON_SUCTION,      /* it does not draw a main below the pressure of the air */
    PD_REASON_STANDS,       /* it stands more of what may be off */
    PD_REASON_COST,         /* it costs less */
    PD_REASON_STARTS,       /* it starts less often, at about the same cost */
    PD_REASON_TAP_PRESSURE, /* the taps keep more pressure, at about the same cost and starts */
    PD_REASON_COUNT
};

struct pd_settings_options {
    const struct pd_strategy_kind *strategies[PD_STRATEGIES_MOST];
    size_t strategy_count;     /* 0: all three */
    enum pd_unit_system units; /* tanks are those usual there, settings are rounded to what a dial
                                  of this system shows */
    double supply_off;         /* Pa by which a main is lower, or higher */
    double level_off;          /* m by which a cistern or well is lower */
    double demand_off;         /* share by which draws are larger */
    double precharge_off;      /* Pa by which the precharge is lower */
    struct pd_day_options day;
};

/* 0.3 bar, 0.5 m, a quarter, 0.3 bar. */
struct pd_settings_options pd_settings_default(void);

struct pd_settings {
    struct pd_limits limits;
    size_t count;
    struct pd_setting setting[PD_STRATEGIES_MOST];
    double reducing_valve; /* Pa gauge that one before the pump is to be set to, since nothing
                            * will do without; NAN: tried with none */
    double wanted;         /* Pa gauge at the taps that was asked for */
    size_t preferred;      /* place in the list; count if none passes, or if none is needed */
    enum pd_reason reason;
};

/* Finds them.  Settings of strategies that the scenario gives are not looked at, but for a stop
 * pressure, which tells that the controller is a two-pressure switch.  The tank is one of
 * tank.sizes, or of the sizes usual where `units` are.  Where the
 * pressure breaks the limit whatever is set, all is tried again with a reducing valve. Taps are to
 * hold demand.wanted_pressure where that is more than limit.tap_pressure.  False and the error if a
 * day cannot be simulated. */
bool pd_settings_find(const struct pd_scenario *scenario, const struct pd_settings_options *options,
                      struct pd_settings *settings, struct pd_error *error);

/* One setting as a row of site.csv. */
struct pd_setting_row {
    enum pd_item item;
    double value; /* SI; NAN: `none`, which brings the default back */
    const char *unit;
};

enum { PD_SETTING_ROWS = 8 };

/* The rows that make a scenario run with a setting; returns how many. */
size_t pd_setting_rows(const struct pd_scenario *scenario, const struct pd_setting *setting,
                       enum pd_unit_system units, struct pd_setting_row rows[PD_SETTING_ROWS]);

#endif
