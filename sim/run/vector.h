/* Vectors of STATE_COUNT numbers for CVODE, with operations short enough to inline.
 *
 * The packaged library's own serial vector loops over a run-time length through two calls; on ten
 * numbers that costs more than the arithmetic.  The norms here look
 * at what is watched: the core of the state and the volumes in and out.  The other integrals do not
 * feed back; they follow the core's accuracy. */
#ifndef PUMPDAY_VECTOR_H
#define PUMPDAY_VECTOR_H

#include <sundials/sundials_nvector.h>

/* Makes a vector; NULL if memory runs out. */
N_Vector vector_create(SUNContext context);

/* The numbers of a vector. */
static inline double *vector_data(N_Vector vector)
{
    return (double *)vector->content;
}

#endif
