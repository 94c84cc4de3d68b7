/* How far the sizes fitted to a log may be off: by how much its traits change with them. */
#include "studies/log_parts.h"

#include <math.h>
#include <string.h>

/* The sizes are moved by so much to either side: logarithms, and Pa. */
static const double moved[LOG_SIZES] = {
    [LOG_LEAK] = 0.05, [LOG_START] = 5e3, [LOG_PRECHARGE] = 0.1, [LOG_SUPPLY] = 5e3};

/* What is known of the sizes without any log; keeps what a log says nothing about from being
 * without bounds. */
static const double known[LOG_SIZES] = {[LOG_LEAK] = 2, [LOG_START] = 2e5, [LOG_PRECHARGE] = 1};

/* Valleys whose sums of squares differ by less are as deep. */
static const double as_deep = 4;

/* The sizes that may be off: those fitted, and a precharge that was gauged. */
struct normal {
    size_t sizes;
    enum log_size size[LOG_SIZES];
    double of[LOG_SIZES][LOG_SIZES];
};

/* The distances of the traits logged; 0 for the others. */
static bool distances(struct log_fitting *fitting, const double at[LOG_SIZES],
                      double distance[PD_TRAIT_COUNT])
{
    double simulated[PD_TRAIT_COUNT];

    if (!log_trial(fitting, at, simulated)) {
        return false;
    }
    for (int i = 0; i < PD_TRAIT_COUNT; i++) {
        bool told = !isnan(fitting->fit->logged[i]);
        distance[i] = told ? trait_distance(fitting->fit, (enum pd_trait)i, simulated[i]) : 0;
    }
    return true;
}

static bool slopes_of(struct log_fitting *fitting, const double at[LOG_SIZES], size_t size,
                      double slope[PD_TRAIT_COUNT])
{
    double low[PD_TRAIT_COUNT], high[PD_TRAIT_COUNT], place[LOG_SIZES];

    memcpy(place, at, sizeof place);
    place[size] = at[size] - moved[size];
    if (!distances(fitting, place, low)) {
        return false;
    }
    place[size] = at[size] + moved[size];
    if (!distances(fitting, place, high)) {
        return false;
    }
    for (int i = 0; i < PD_TRAIT_COUNT; i++) {
        slope[i] = (high[i] - low[i]) / (2 * moved[size]);
    }
    return true;
}

static double known_off(const struct log_fitting *fitting, enum log_size size,
                        const double at[LOG_SIZES])
{
    if (size == LOG_PRECHARGE && fitting->fit->gauged) {
        return pd_sign_off(PD_SIGN_PRECHARGE, 0, NAN) / exp(at[LOG_PRECHARGE]);
    }
    return size == LOG_SUPPLY ? fitting->supply_off : known[size];
}

/* The normal equations' matrix, with what is known. */
static bool make_normal(struct log_fitting *fitting, const double at[LOG_SIZES],
                        struct normal *normal)
{
    double slope[LOG_SIZES][PD_TRAIT_COUNT];

    for (size_t i = 0; i < normal->sizes; i++) {
        double off = known_off(fitting, normal->size[i], at);
        if (!slopes_of(fitting, at, normal->size[i], slope[i])) {
            return false;
        }
        for (size_t j = 0; j <= i; j++) {
            double sum = i == j ? 1 / (off * off) : 0;
            for (int k = 0; k < PD_TRAIT_COUNT; k++) {
                sum += slope[i][k] * slope[j][k];
            }
            normal->of[i][j] = normal->of[j][i] = sum;
        }
    }
    return true;
}

/* Solves for one size's column of the inverse, by Gauss without exchange: the matrix is positive
 * definite.  Returns what stands on its diagonal. */
static double variance_of(struct normal normal, size_t size)
{
    double right[LOG_SIZES] = {0};
    size_t n = normal.sizes;

    right[size] = 1;
    for (size_t i = 0; i < n; i++) {
        for (size_t j = i + 1; j < n; j++) {
            double part = normal.of[j][i] / normal.of[i][i];
            right[j] -= part * right[i];
            for (size_t k = i; k < n; k++) {
                normal.of[j][k] -= part * normal.of[i][k];
            }
        }
    }
    for (size_t i = n; i-- > size;) {
        for (size_t k = i + 1; k < n; k++) {
            right[i] -= normal.of[i][k] * right[k];
        }
        right[i] /= normal.of[i][i];
    }
    return right[size];
}

/* How far another valley, nearly as deep, lies from where the fit ended. */
static double farthest_valley(const struct log_fitting *fitting, size_t free, double end)
{
    double traits = 0, far = 0;

    for (int i = 0; i < PD_TRAIT_COUNT; i++) {
        traits += isnan(fitting->fit->logged[i]) ? 0 : 1;
    }
    for (size_t i = 0; i < fitting->valleys; i++) {
        double more = fitting->depth[i] * fitting->depth[i] - fitting->least * fitting->least;
        if (traits * more < as_deep) {
            far = fmax(far, fabs(fitting->valley[i][free] - end));
        }
    }
    return far / 2;
}

bool find_sizes_off(struct log_fitting *fitting, const double at[LOG_SIZES])
{
    struct pd_log_fit *fit = fitting->fit;
    struct normal normal = {.sizes = fitting->free_count};
    double off[LOG_SIZES] = {0}, worse = fmax(fit->misfit, 1);

    memcpy(normal.size, fitting->free, sizeof normal.size);
    if (fit->gauged) {
        normal.size[normal.sizes++] = LOG_PRECHARGE;
    }
    if (!make_normal(fitting, at, &normal)) {
        return false;
    }
    for (size_t i = 0; i < normal.sizes; i++) {
        enum log_size size = normal.size[i];
        double far = i < fitting->free_count ? farthest_valley(fitting, i, at[size]) : 0;
        off[size] = hypot(worse * sqrt(variance_of(normal, i)), far);
    }
    fit->leak_off = fit->leak * off[LOG_LEAK];
    fit->start_off = off[LOG_START];
    fit->supply_off = off[LOG_SUPPLY];
    fit->precharge_off = fit->gauged ? pd_sign_off(PD_SIGN_PRECHARGE, 0, NAN)
                                     : exp(at[LOG_PRECHARGE]) * off[LOG_PRECHARGE];
    return true;
}
