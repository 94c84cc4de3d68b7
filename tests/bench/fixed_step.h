/* The day room once more, on a fixed-step scheme in the place of CVODE.  The functions are those of
 * day.h under other names: the build links the same objects with fixed_step.c and renames them. */
#ifndef PUMPDAY_FIXED_STEP_H
#define PUMPDAY_FIXED_STEP_H

#include <pumpday/day.h>

/* Step of the fixed-step scheme [s]. */
extern double fixed_step;

struct pd_day *fixed_day_create(struct pd_error *error);
void fixed_day_free(struct pd_day *day);
bool fixed_day_run(struct pd_day *day, const struct pd_plant *plant,
                   const struct pd_strategy *strategy, const struct pd_day_options *options,
                   struct pd_day_result *result, struct pd_error *error);

#endif
