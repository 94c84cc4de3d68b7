/* One step of Radau IIA of order 5, for stretches with modes much faster than what goes on.
 *
 * Source: E. Hairer and G. Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996,
 * sections IV.5 and IV.8 (from memory; the day's firmness under a tighter tolerance and the
 * explicit method's agreement check it).  All stages are solved at once, in scaled states. */
#include "reference_parts.h"
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

enum { STAGES = 3, SIZE = STAGES * REF_FED_BACK, ITERATIONS_MOST = 12 };

struct stages {
    double place[STAGES], weight[STAGES][STAGES];
    double increment[STAGES][REF_STATES]; // of the state, at each stage
    double rates[STAGES][REF_STATES];
};

static void set_coefficients(struct stages *stages)
{
    const double r = sqrt(6);
    const double weight[STAGES][STAGES] = {
        {(88 - 7 * r) / 360, (296 - 169 * r) / 1800, (-2 + 3 * r) / 225},
        {(296 + 169 * r) / 1800, (88 + 7 * r) / 360, (-2 - 3 * r) / 225},
        {(16 - r) / 36, (16 + r) / 36, 1.0 / 9}};

    memset(stages, 0, sizeof *stages);
    memcpy(stages->weight, weight, sizeof weight);
    stages->place[0] = (4 - r) / 10;
    stages->place[1] = (4 + r) / 10;
    stages->place[2] = 1;
}

/* Central differences; only the first states feed anything back. */
void ref_jacobian(const struct ref_day *day, double time, const double *y,
                  double by[REF_FED_BACK][REF_FED_BACK])
{
    double near[REF_STATES], up[REF_STATES], down[REF_STATES];

    memcpy(near, y, sizeof near);
    for (int j = 0; j < REF_FED_BACK; j++) {
        double reach = 1e-6 * ref_scales[j];
        near[j] = y[j] + reach;
        ref_rates(day, time, near, up);
        near[j] = y[j] - reach;
        ref_rates(day, time, near, down);
        near[j] = y[j];
        for (int i = 0; i < REF_FED_BACK; i++) {
            by[i][j] = (up[i] - down[i]) / 2e-6 / ref_scales[i];
        }
    }
}

/* Rates at the stages as they stand. */
static void rate_stages(const struct ref_day *day, double time, double h, const double *y0,
                        struct stages *stages)
{
    double y[REF_STATES];

    for (int s = 0; s < STAGES; s++) {
        for (int i = 0; i < REF_STATES; i++) {
            y[i] = y0[i] + stages->increment[s][i];
        }
        ref_rates(day, time + stages->place[s] * h, y, stages->rates[s]);
    }
}

/* What an increment should be, by the rates of all stages. */
static double collocated(const struct stages *stages, int stage, int state, double h)
{
    double sum = 0;

    for (int s = 0; s < STAGES; s++) {
        sum += stages->weight[stage][s] * stages->rates[s][state];
    }
    return h * sum;
}

static void fill_matrix(const struct stages *stages, double by[REF_FED_BACK][REF_FED_BACK],
                        double h, double *matrix)
{
    for (int row = 0; row < SIZE; row++) {
        for (int column = 0; column < SIZE; column++) {
            double weight = stages->weight[row / REF_FED_BACK][column / REF_FED_BACK];
            double slope = by[row % REF_FED_BACK][column % REF_FED_BACK];
            matrix[row * SIZE + column] = (row == column ? 1 : 0) - h * weight * slope;
        }
    }
}

/* One correction of all stages by the factored matrix; returns its size in units of the scales,
 * NAN if it is no number. */
static double correct(struct stages *stages, const gsl_matrix *factors,
                      const gsl_permutation *order, double h)
{
    double residual[SIZE];
    gsl_vector_view view = gsl_vector_view_array(residual, SIZE);
    double size = 0;

    for (int k = 0; k < SIZE; k++) {
        int s = k / REF_FED_BACK;
        int i = k % REF_FED_BACK;
        residual[k] = (collocated(stages, s, i, h) - stages->increment[s][i]) / ref_scales[i];
    }
    gsl_linalg_LU_svx(factors, order, &view.vector);
    for (int k = 0; k < SIZE; k++) {
        int i = k % REF_FED_BACK;
        stages->increment[k / REF_FED_BACK][i] += residual[k] * ref_scales[i];
        size = isfinite(residual[k]) ? fmax(size, fabs(residual[k])) : (double)NAN;
        if (isnan(size)) {
            break;
        }
    }
    return size;
}

/* Hairer and Wanner's estimate, filtered so that fast modes do not blow it up. */
static void estimate_error(const struct stages *stages, double by[REF_FED_BACK][REF_FED_BACK],
                           double h, const double *rates0, double *error)
{
    const double eigenvalue = 30 / (6 + cbrt(81) - cbrt(9));
    const double r = sqrt(6);
    const double share[STAGES] = {-(13 + 7 * r) / 3, (-13 + 7 * r) / 3, -1.0 / 3};
    double matrix[REF_FED_BACK * REF_FED_BACK];
    double right[REF_FED_BACK];
    size_t places[REF_FED_BACK];
    gsl_permutation order = {REF_FED_BACK, places};
    int sign;

    for (int i = 0; i < REF_FED_BACK; i++) {
        right[i] = rates0[i] * h;
        for (int s = 0; s < STAGES; s++) {
            right[i] += share[s] * stages->increment[s][i];
        }
        right[i] /= ref_scales[i];
        for (int j = 0; j < REF_FED_BACK; j++) {
            matrix[i * REF_FED_BACK + j] = (i == j ? eigenvalue : 0) - h * by[i][j];
        }
    }
    gsl_matrix_view factors = gsl_matrix_view_array(matrix, REF_FED_BACK, REF_FED_BACK);
    gsl_vector_view view = gsl_vector_view_array(right, REF_FED_BACK);
    gsl_linalg_LU_decomp(&factors.matrix, &order, &sign);
    gsl_linalg_LU_svx(&factors.matrix, &order, &view.vector);
    memset(error, 0, sizeof *error * REF_STATES);
    for (int i = 0; i < REF_FED_BACK; i++) {
        error[i] = right[i] * ref_scales[i];
    }
}

/* Solves for the stages; false if the corrections do not die out. */
static bool solve_stages(const struct ref_day *day, double time, double h, const double *y0,
                         double by[REF_FED_BACK][REF_FED_BACK], struct stages *stages)
{
    double matrix[SIZE * SIZE];
    size_t places[SIZE];
    gsl_permutation order = {SIZE, places};
    gsl_matrix_view factors = gsl_matrix_view_array(matrix, SIZE, SIZE);
    int sign;

    fill_matrix(stages, by, h, matrix);
    gsl_linalg_LU_decomp(&factors.matrix, &order, &sign);
    for (int i = 0; i < ITERATIONS_MOST; i++) {
        rate_stages(day, time, h, y0, stages);
        double size = correct(stages, &factors.matrix, &order, h);
        if (isnan(size) || size > 1e6) {
            return false;
        }
        if (size < 0.01 * day->tolerance) {
            return true;
        }
    }
    return false;
}

bool ref_radau_step(const struct ref_day *day, double time, double h, const double *y0, double *y1,
                    double *error)
{
    struct stages stages;
    double by[REF_FED_BACK][REF_FED_BACK];
    double rates0[REF_STATES];

    set_coefficients(&stages);
    ref_jacobian(day, time, y0, by);
    ref_rates(day, time, y0, rates0);
    if (!solve_stages(day, time, h, y0, by, &stages)) {
        return false;
    }
    estimate_error(&stages, by, h, rates0, error);
    // the integrals feed nothing back and follow from the rates at the stages
    rate_stages(day, time, h, y0, &stages);
    for (int i = 0; i < REF_STATES; i++) {
        y1[i] = y0[i] + (i < REF_FED_BACK ? stages.increment[STAGES - 1][i]
                                          : collocated(&stages, STAGES - 1, i, h));
    }
    return true;
}
