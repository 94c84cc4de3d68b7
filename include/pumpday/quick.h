/* A check from the few things known on site, without a scenario: one is made up around them. */
#ifndef PUMPDAY_QUICK_H
#define PUMPDAY_QUICK_H

#include <pumpday/check.h>

/* The few things known.  NAN: not known, an assumption is made. */
struct pd_quick {
    double supply;      /* Pa gauge, incoming at no flow, must be known */
    double shutoff;     /* m, head at no flow, must be known */
    double duty_flow;   /* m3/s, > 0, must be known */
    double duty_head;   /* m, under the shutoff head, must be known */
    double tank;        /* m3, must be known */
    double draw;        /* m3/s at the start pressure, > 0; else only the worst draw is looked at */
    double precharge;   /* Pa gauge; else 2 psi below the start pressure */
    double start;       /* Pa gauge; else 12.5 psi below the boosted static pressure */
    double stop;        /* Pa gauge, of a two-pressure switch; else it stops by flow */
    double motor_power; /* W; else estimated, see pd_motor_rule */
    double phases;      /* enum pd_motor_phases; else the stricter limits of both */
    double codes;       /* enum pd_limit_codes; else those of the US */
    double gas;         /* enum pd_tank_gas; else as a scenario has it by default */
    double pipe_bore;   /* m, of the pipe to the pump, with its length; else a wide pipe */
    double pipe_length; /* m, > 0 */
    enum pd_unit_system units; /* whose tank sizes are chosen from */
};

/* Everything not known. */
struct pd_quick pd_quick_default(void);

/* The cycle at a draw that stays open. */
struct pd_quick_cycle {
    double draw;                /* m3/s at the start pressure */
    double starts_per_hour;     /* on average; 0 if it does not cycle */
    double run_time, rest_time; /* s, of a cycle; NAN if there is none */
    double volume;              /* m3 drawn in a cycle; NAN if there is none */
    bool runs_on;               /* the pump never stops at this draw */
};

struct pd_quick_found {
    double start_pressure, precharge;   /* Pa gauge, as told or assumed */
    struct pd_quick_cycle worst;        /* at the draw at which the pump starts most often */
    struct pd_quick_cycle told;         /* at the draw told; its draw is NAN if none was */
    bool chatters;                      /* at some draw it starts and stops without end */
    double shortest_run, shortest_rest; /* s, at any draw; NAN if it never cycles */
    double smallest_tank;               /* m3, the smallest that passes; NAN if none does */
    double drawing_flow;     /* m3/s, what the pump gives with the header at its start pressure */
    double drawing_pressure; /* Pa gauge at the pump's inlet then, or at the draw told if lower */
};

/* Builds the scenario of a quick check: a head curve H = shutoff - k Q^2 through the duty point,
 * the draw open all day, everything else by default.  False and the error if the points do not
 * fit. */
bool pd_quick_scenario(const struct pd_quick *quick, struct pd_scenario *scenario,
                       struct pd_error *error);

/* Simulates it under pressure-start: searches the worst draw on this tank and the smallest tank
 * that passes at its own worst draw with the precharge right, and checks cycles, precharge,
 * pressures at no flow and the main with the pump drawing. */
bool pd_quick_check(const struct pd_quick *quick, const struct pd_day_options *day,
                    struct pd_findings *findings, struct pd_quick_found *found,
                    struct pd_error *error);

#endif
