#include "run/draws.h"

#include <math.h>

/* sigma is of the order of 500 Pa^0.5 a second: this is far under a microsecond of flow */
static const double sigma_slack = 1.0e-6; /* Pa^0.5 s */

static void find_next(struct open_draws *draws)
{
    draws->next_sigma = INFINITY;
    for (size_t i = 0; i < draws->count; i++) {
        draws->next_sigma = fmin(draws->next_sigma, draws->list[i].sigma_end);
    }
}

/* Takes one out; the order of the rest stays, so that sums do not depend on history. */
static void take_out(struct open_draws *draws, size_t place)
{
    for (size_t i = place + 1; i < draws->count; i++) {
        draws->list[i - 1] = draws->list[i];
    }
    draws->count--;
}

void draws_clear(struct open_draws *draws)
{
    draws->count = 0;
    draws->profile = 0.0;
    draws->next_sigma = INFINITY;
}

bool draws_open(struct open_draws *draws, const struct pd_plant *plant, size_t index, double sigma)
{
    const struct pd_draw *draw = &plant->scenario->draws[index];
    double coefficient = draw->flow / plant->reference_root;
    double sigma_end = INFINITY;

    if (draws->count == OPEN_DRAWS_MOST) {
        return false;
    }
    if (isnan(draw->duration)) {
        sigma_end = sigma + draw->volume / coefficient;
    }
    draws->list[draws->count++] = (struct open_draw){index, coefficient, sigma_end};
    draws->next_sigma = fmin(draws->next_sigma, sigma_end);
    return true;
}

void draws_close(struct open_draws *draws, size_t index)
{
    for (size_t i = 0; i < draws->count; i++) {
        if (draws->list[i].index == index && isinf(draws->list[i].sigma_end)) {
            take_out(draws, i);
            return;
        }
    }
}

void draws_close_full(struct open_draws *draws, double sigma)
{
    size_t i = 0;

    while (i < draws->count) {
        if (draws->list[i].sigma_end <= sigma + sigma_slack) {
            take_out(draws, i);
        } else {
            i++;
        }
    }
    find_next(draws);
}

void draws_set_profile(struct open_draws *draws, const struct pd_plant *plant, double flow)
{
    draws->profile = flow / plant->reference_root;
}

double draws_coefficient(const struct open_draws *draws)
{
    double sum = draws->profile;

    for (size_t i = 0; i < draws->count; i++) {
        sum += draws->list[i].coefficient;
    }
    return sum;
}
