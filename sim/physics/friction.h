/* The loss of a pipe with its derivative, for the table that is made of it. */
#ifndef PUMPDAY_PHYSICS_FRICTION_H
#define PUMPDAY_PHYSICS_FRICTION_H

#include <pumpday/pipe.h>

/* pd_pipe_loss, and its derivative [Pa s/m3] in *slope. */
double pd_pipe_loss_slope(const struct pd_pipe *pipe, double density, double viscosity, double flow,
                          double *slope);

#endif
