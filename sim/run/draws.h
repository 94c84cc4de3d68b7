/* The draws that are open.  Those by volume end when sigma, the integral of the root of the tap
 * pressure, has grown by volume / coefficient, so one integral serves all of them. */
#ifndef PUMPDAY_DRAWS_H
#define PUMPDAY_DRAWS_H

#include <pumpday/plant.h>

/* far more taps than a system of this size has; a scenario that needs more is told so */
enum { OPEN_DRAWS_MOST = 4096 };

struct open_draw {
    size_t index;       /* in the scenario */
    double coefficient; /* m3/s per Pa^0.5 */
    double sigma_end;   /* INFINITY for a draw by duration */
};

struct open_draws {
    size_t count;
    double profile;    /* coefficient of the profile's flow */
    double next_sigma; /* least sigma_end; INFINITY if there is none */
    struct open_draw list[OPEN_DRAWS_MOST];
};

void draws_clear(struct open_draws *draws);

/* Opens a draw of the scenario at a value of sigma.  False if too many are open. */
bool draws_open(struct open_draws *draws, const struct pd_plant *plant, size_t index, double sigma);

/* Closes the draw by duration of an index; nothing where it is not open. */
void draws_close(struct open_draws *draws, size_t index);

/* Closes the draws by volume that have run full, that is all up to the next to do so. */
void draws_close_full(struct open_draws *draws, double sigma);

void draws_set_profile(struct open_draws *draws, const struct pd_plant *plant, double flow);

/* Sum of the coefficients of all that is open. */
double draws_coefficient(const struct open_draws *draws);

#endif
