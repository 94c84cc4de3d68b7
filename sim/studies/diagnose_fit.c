/* Two small searches for the least of a function that is costly and not quite smooth. */
#include "studies/diagnose_parts.h"

#include <math.h>
#include <string.h>

/* Where a misfit has several valleys the grid finds the right one; the golden section then narrows
 * it from two steps of the grid to this share of the whole range. */
enum { GRID = 16, SECTIONS = 14 };

/* The simplex ends when its corners agree so well, or after so many steps. */
static const double same_value = 1e-3;
enum { STEPS_MOST = 120, CORNERS = SIMPLEX_MOST + 1 };

static bool least_on_grid(misfit_function function, void *context, double *at, double *value)
{
    *value = INFINITY;
    for (int i = 0; i <= GRID; i++) {
        double place = (double)i / GRID, found = 0;
        if (!function(context, place, &found)) {
            return false;
        }
        if (found < *value) {
            *value = found;
            *at = place;
        }
    }
    return true;
}

/* Two points within a bracket, of which one stays as the bracket narrows. */
struct bracket {
    double low, high, at[2], value[2];
};

/* Narrows it to the better side; *fresh gets the point whose value is still wanted. */
static void narrow(struct bracket *bracket, double golden, int *fresh)
{
    bool go_left = bracket->value[0] < bracket->value[1];
    int kept = go_left ? 0 : 1, to = go_left ? 1 : 0;

    *(go_left ? &bracket->high : &bracket->low) = bracket->at[to];
    bracket->at[to] = bracket->at[kept];
    bracket->value[to] = bracket->value[kept];
    double reach = golden * (bracket->high - bracket->low);
    bracket->at[kept] = go_left ? bracket->high - reach : bracket->low + reach;
    *fresh = kept;
}

bool least_between(misfit_function function, void *context, double *at, double *value)
{
    const double golden = (sqrt(5) - 1) / 2;

    if (!least_on_grid(function, context, at, value)) {
        return false;
    }
    struct bracket bracket = {fmax(*at - 1.0 / GRID, 0), fmin(*at + 1.0 / GRID, 1), {0}, {0}};
    double reach = golden * (bracket.high - bracket.low);
    bracket.at[0] = bracket.high - reach;
    bracket.at[1] = bracket.low + reach;
    if (!function(context, bracket.at[1], &bracket.value[1])) {
        return false;
    }
    for (int i = 0, fresh = 0; i < SECTIONS; i++) {
        if (!function(context, bracket.at[fresh], &bracket.value[fresh])) {
            return false;
        }
        int best = bracket.value[0] < bracket.value[1] ? 0 : 1;
        if (bracket.value[best] < *value) {
            *value = bracket.value[best];
            *at = bracket.at[best];
        }
        narrow(&bracket, golden, &fresh);
    }
    return true;
}

/* Corners and their values, the best first. */
struct simplex {
    misfit_of_some function;
    void *context;
    size_t size; /* numbers; the corners are one more */
    double corner[CORNERS][SIMPLEX_MOST], value[CORNERS];
};

static void sort_corners(struct simplex *simplex)
{
    for (size_t i = 1; i <= simplex->size; i++) {
        for (size_t j = i; j > 0 && simplex->value[j] < simplex->value[j - 1]; j--) {
            double value = simplex->value[j], corner[SIMPLEX_MOST];
            memcpy(corner, simplex->corner[j], sizeof corner);
            memcpy(simplex->corner[j], simplex->corner[j - 1], sizeof corner);
            memcpy(simplex->corner[j - 1], corner, sizeof corner);
            simplex->value[j] = simplex->value[j - 1];
            simplex->value[j - 1] = value;
        }
    }
}

/* Tries a point on the line from the worst corner through the middle of the others; keeps it if it
 * is better than `bound`. */
static bool try_point(struct simplex *simplex, double factor, double bound, bool *kept)
{
    size_t size = simplex->size;
    double at[SIMPLEX_MOST] = {0}, value = 0;

    for (size_t k = 0; k < size; k++) {
        double middle = 0;
        for (size_t i = 0; i < size; i++) {
            middle += simplex->corner[i][k] / (double)size;
        }
        at[k] = middle + factor * (simplex->corner[size][k] - middle);
    }
    if (!simplex->function(simplex->context, at, &value)) {
        return false;
    }
    *kept = value < bound;
    if (*kept) {
        memcpy(simplex->corner[size], at, sizeof at);
        simplex->value[size] = value;
    }
    return true;
}

/* All corners half way to the best. */
static bool shrink(struct simplex *simplex)
{
    for (size_t i = 1; i <= simplex->size; i++) {
        for (size_t k = 0; k < simplex->size; k++) {
            simplex->corner[i][k] = (simplex->corner[i][k] + simplex->corner[0][k]) / 2;
        }
        if (!simplex->function(simplex->context, simplex->corner[i], &simplex->value[i])) {
            return false;
        }
    }
    return true;
}

/* One step: reflect, then expand or contract, else shrink. */
static bool step_simplex(struct simplex *simplex)
{
    size_t last = simplex->size;
    double best = simplex->value[0], worst = simplex->value[last];
    bool kept = false, more = false;

    if (!try_point(simplex, -1, worst, &kept)) {
        return false;
    }
    double reflected = simplex->value[last];
    if (kept && reflected < best) {
        // from the reflected corner on: twice its distance
        return try_point(simplex, 2, reflected, &more);
    }
    if (kept && reflected < simplex->value[last - 1]) {
        return true;
    }
    if (!try_point(simplex, 0.5, simplex->value[last], &more)) {
        return false;
    }
    return kept || more || shrink(simplex);
}

bool least_near(misfit_of_some function, void *context, size_t size, const double step[],
                double at[], double *value)
{
    struct simplex simplex = {.function = function, .context = context, .size = size};

    for (size_t i = 0; i <= size; i++) {
        memcpy(simplex.corner[i], at, size * sizeof *at);
        if (i > 0) {
            simplex.corner[i][i - 1] += step[i - 1];
        }
        if (!function(context, simplex.corner[i], &simplex.value[i])) {
            return false;
        }
    }
    sort_corners(&simplex);
    for (int i = 0; i < STEPS_MOST && simplex.value[size] - simplex.value[0] > same_value; i++) {
        if (!step_simplex(&simplex)) {
            return false;
        }
        sort_corners(&simplex);
    }
    memcpy(at, simplex.corner[0], size * sizeof *at);
    *value = simplex.value[0];
    return true;
}
