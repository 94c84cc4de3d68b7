/* The parts of a quick check: the scenario made up, the cycles at a row of draws, the lines. */
#ifndef PUMPDAY_STUDIES_QUICK_PARTS_H
#define PUMPDAY_STUDIES_QUICK_PARTS_H

#include <pumpday/quick.h>

/* As many draws share one day. */
enum { QUICK_DRAWS = 24 };

/* A draw and when it is open [s after midnight]. */
struct quick_draw {
    double flow; /* m3/s at the start pressure */
    double from, to;
};

/* The scenario with these draws, each open from when the one before closes; the first at midnight;
 * count 1 to QUICK_DRAWS. */
bool quick_scenario(const struct pd_quick *quick, const struct quick_draw *draws, size_t count,
                    struct pd_scenario *scenario, struct pd_error *error);

/* What a search needs at hand. */
struct quick_bench {
    const struct pd_quick *quick;
    const struct pd_day_options *options;
    struct pd_day *day;
    struct pd_motor_rule rule;
    double most_draw;    /* m3/s: at more than this it cannot cycle */
    double drawing_flow; /* m3/s, what the pump gives at its start pressure */
    double air;          /* Pa, of the atmosphere */
    double start, top;   /* Pa gauge, where a cycle begins, and the most at which it stops */
    struct pd_error *error;
};

/* The cycle at the draw told, and the lowest pressure at the inlet then; into `found`. */
bool quick_told(const struct quick_bench *bench, struct pd_quick_found *found);

/* The worst draw, the shortest run and rest of this tank; into `found`. */
bool quick_worst(const struct quick_bench *bench, struct pd_quick_found *found);

/* The smallest tank of the trade that passes; into `found`. */
bool quick_tank(const struct quick_bench *bench, struct pd_quick_found *found);

/* All lines. */
void quick_findings(struct pd_findings *findings, const struct pd_quick *quick,
                    const struct pd_plant *plant, const struct pd_strategy *strategy,
                    const struct pd_quick_found *found);

#endif
