/* Crossings of surfaces that the integrator did not find. */
#ifndef PUMPDAY_RUN_MISSED_H
#define PUMPDAY_RUN_MISSED_H

#include "run/run.h"

/* Crossings that the step ran over without finding them, such as of a surface on which it began:
 * the day goes back to where the first was.  False if the states between cannot be had. */
bool missed_catch(struct run *run, double from, bool crossed[SURFACES_MOST]);

#endif
