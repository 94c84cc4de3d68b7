/* How the pump is used: the flows at which it works, and whether it runs dry. */
#ifndef PUMPDAY_USAGE_H
#define PUMPDAY_USAGE_H

#include "run/run.h"

/* The water pumped is sorted by its flow into this many bins; the last takes all beyond. */
enum { FLOW_BINS = 400 };

struct usage {
    struct pd_day_result *result;
    double time, flow;        /* s, m3/s: where the step at hand began */
    double dry_spell;         /* s on without flow and pressure, so far */
    double bin;               /* m3/s, width of one */
    double volume[FLOW_BINS]; /* m3 pumped */
};

/* On a run of that plant. */
struct observer usage_observer(struct usage *usage, struct pd_day_result *result,
                               const struct pd_plant *plant);

#endif
