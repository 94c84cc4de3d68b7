/* The plant: a scenario turned into the fixed description that the equations need, SI throughout.
 * One plant serves any number of days, side by side. */
#ifndef PUMPDAY_PLANT_H
#define PUMPDAY_PLANT_H

#include <pumpday/pipe.h>
#include <pumpday/pump.h>
#include <pumpday/scenario.h>
#include <pumpday/tank.h>
#include <pumpday/water.h>

#define PD_DAY_SECONDS 86400.0

/* What happens at a time known beforehand.  Those of one instant are taken in this order. */
enum pd_edge_kind {
    PD_EDGE_SUPPLY,      /* the supply's line takes a new slope */
    PD_EDGE_PROFILE,     /* the demand profile steps */
    PD_EDGE_DRAW_CLOSES, /* a draw by duration ends */
    PD_EDGE_DRAW_OPENS
};

struct pd_edge {
    double time; /* s after midnight; negative in the warm-up */
    enum pd_edge_kind kind;
    size_t index; /* draw, or sample of the profile or of the plant's supply */
};

/* How many branches and zones a plant may have: one of each so far (`solve` in circuit_solve.c). */
enum { PD_BRANCHES_MOST = 1, PD_ZONES_MOST = 1 };

/* A way from the supply to the header: service pipe, check valve, pump, rising main.  All pressures
 * but those at the pump's inlet are at the gauge's height, so that static columns cancel. */
struct pd_branch {
    struct pd_loss_table service;
    double inertance;            /* Pa s2/m3, of the service pipe */
    double boiling;              /* Pa gauge, of the inlet's water, brought to the gauge's height */
    double height_pressure;      /* Pa = density g height of the pump's inlet above the gauge */
    struct pd_loss_table rising; /* the rising main, where rising_share > 0 */
    double rising_share;         /* of its inertance in that of the whole way, 0 to 1 */
    double valve_opening;        /* Pa */
    double valve_coefficient;    /* Pa s2/m6 */
    double valve_leak_by;        /* m3/s at 1 Pa by the square-root law; 0: tight */
    struct pd_pump pump;
    bool has_npsh;
    struct pd_curve npsh_required; /* m over flow, where has_npsh */
    double speed_time_constant;    /* s = run-up time / ln 20 */
};

/* Taps at one height. */
struct pd_zone {
    double elevation_pressure; /* Pa = density g z */
    double loss_coefficient;   /* Pa s2/m6: loss = this times the flow of all its taps squared */
    double tap_limit;          /* Pa gauge, which the day itself watches */
};

struct pd_plant {
    /* water and air */
    struct pd_water water;
    double atmosphere;      /* Pa absolute */
    double specific_weight; /* Pa/m = density g */
    double boiling;         /* Pa gauge = vapour pressure - atmosphere */
    /* supply */
    enum pd_supply_kind supply_kind;
    bool level_moves; /* a cistern, or a well with a casing, whose level is a state */
    double
        supply_pressure; /* Pa gauge where no series is given; of the level, for cistern and well */
    double supply_level; /* m over the pump; of a cistern whose level moves: the full level */
    struct pd_sample *supply; /* Pa gauge at the pump at no flow, behind a reducing valve; NULL
                               * where it stands still */
    size_t supply_count;
    double cistern_area;        /* m2, or of the casing */
    double cistern_refill;      /* m3/s, float valve wide open */
    double cistern_empty_level; /* m; -INFINITY where none is given */
    double well_drawdown; /* Pa s/m3: pressure lost per flow out of the ground, 0 but for a well */
    double well_loss;     /* Pa s2/m6: and per flow squared */
    double lowest_supply, mean_supply, highest_supply; /* Pa gauge over the day, at no flow */
    struct pd_branch branch[PD_BRANCHES_MOST];
    double standby_power; /* W, of the controller */
    /* house */
    double pipe_compliance; /* m3/Pa */
    struct pd_zone zone[PD_ZONES_MOST];
    double leak_coefficient; /* m3/s per Pa^leak_exponent */
    double leak_exponent;
    double reference_root; /* Pa^0.5, of the draws' reference pressure */
    /* tank, but for its precharge, which is the strategy's */
    struct pd_tank tank;
    /* the day's known events, warm-up first, sorted by time then kind then index */
    double warm_up; /* s */
    struct pd_edge *edges;
    size_t edge_count;
    const struct pd_scenario *scenario; /* not owned; must outlive the plant */
};

/* Builds a plant from a scenario that has been checked.  The scenario must outlive it.
 * False and PD_BAD_INPUT if memory runs out or the supply lies deeper than the atmosphere can lift.
 */
bool pd_plant_build(const struct pd_scenario *scenario, struct pd_plant *plant,
                    struct pd_error *error);

/* Gives a plant the draws and the profile that its scenario has by now; all else stays as it was
 * built.  False and PD_SOLVER_FAILED if memory runs out; the plant then has none. */
bool pd_plant_set_draws(struct pd_plant *plant, struct pd_error *error);

void pd_plant_free(struct pd_plant *plant);

/* Supply pressure [Pa gauge] at no flow at a time of day (s); for a cistern whose level moves,
 * full. */
double pd_plant_supply_pressure(const struct pd_plant *plant, double time);

/* Header pressure [Pa gauge] of the unboosted house: supply pressure less all losses of the branch
 * at a steady flow with the pump standing still. */
double pd_plant_unboosted(const struct pd_plant *plant, double supply_pressure, double flow);

#endif
