/* The inlet of a running pump: its pressure, and its head against what the pump asks for. */
#ifndef PUMPDAY_SUCTION_H
#define PUMPDAY_SUCTION_H

#include "run/run.h"

struct suction {
    struct pd_day_result *result;
    double short_since; /* s: the inlet has less head than it takes; NAN: it has not */
};

/* A run begins: no spell goes on over it. */
void suction_begin(struct suction *suction);

/* A state with the pump on and water flowing, and the suction pressure in it [Pa gauge]. */
void suction_note(struct suction *suction, const struct run *run, double time, const double *state,
                  double pressure);

#endif
