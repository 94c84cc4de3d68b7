#include "run/vector.h"

#include "run/motion.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Two numbers at a time: the compiler cannot tell that x, y and z are either the same vector or
 * apart, so it would not pair the numbers itself.  Pairing took a tenth of the instructions of a
 * day of hillside-house away. */
typedef double pair __attribute__((vector_size(16)));

/* a last one without a partner gets one that is never looked at */
enum { PAIRS = (STATE_COUNT + 1) / 2, PADDED = 2 * PAIRS };

static inline pair *pairs_of(N_Vector vector)
{
    return (pair *)vector->content;
}

static N_Vector clone(N_Vector model)
{
    N_Vector vector = N_VNewEmpty(model->sunctx);

    if (vector == NULL) {
        return NULL;
    }
    vector->content = aligned_alloc(16, PADDED * sizeof(double));
    if (vector->content != NULL) {
        memset(vector->content, 0, PADDED * sizeof(double));
    }
    if (vector->content == NULL || N_VCopyOps(model, vector) != 0) {
        free(vector->content);
        N_VFreeEmpty(vector);
        return NULL;
    }
    return vector;
}

static void destroy(N_Vector vector)
{
    if (vector != NULL) {
        free(vector->content);
        N_VFreeEmpty(vector);
    }
}

static void space(N_Vector vector, sunindextype *reals, sunindextype *integers)
{
    (void)vector;
    *reals = STATE_COUNT;
    *integers = 1;
}

static sunindextype length(N_Vector vector)
{
    (void)vector;
    return STATE_COUNT;
}

static void linear_sum(sunrealtype a, N_Vector x, sunrealtype b, N_Vector y, N_Vector z)
{
    const pair *xd = pairs_of(x), *yd = pairs_of(y);
    pair *zd = pairs_of(z);

    for (int i = 0; i < PAIRS; i++) {
        zd[i] = a * xd[i] + b * yd[i];
    }
}

static void fill(sunrealtype c, N_Vector z)
{
    double *zd = vector_data(z);

    for (int i = 0; i < STATE_COUNT; i++) {
        zd[i] = c;
    }
}

static void product(N_Vector x, N_Vector y, N_Vector z)
{
    const double *xd = vector_data(x), *yd = vector_data(y);
    double *zd = vector_data(z);

    for (int i = 0; i < STATE_COUNT; i++) {
        zd[i] = xd[i] * yd[i];
    }
}

static void quotient(N_Vector x, N_Vector y, N_Vector z)
{
    const double *xd = vector_data(x), *yd = vector_data(y);
    double *zd = vector_data(z);

    for (int i = 0; i < STATE_COUNT; i++) {
        zd[i] = xd[i] / yd[i];
    }
}

static void scale(sunrealtype c, N_Vector x, N_Vector z)
{
    const pair *xd = pairs_of(x);
    pair *zd = pairs_of(z);

    for (int i = 0; i < PAIRS; i++) {
        zd[i] = c * xd[i];
    }
}

static void absolute(N_Vector x, N_Vector z)
{
    const double *xd = vector_data(x);
    double *zd = vector_data(z);

    for (int i = 0; i < STATE_COUNT; i++) {
        zd[i] = fabs(xd[i]);
    }
}

static void inverse(N_Vector x, N_Vector z)
{
    const double *xd = vector_data(x);
    double *zd = vector_data(z);

    for (int i = 0; i < STATE_COUNT; i++) {
        zd[i] = 1.0 / xd[i];
    }
}

static void add_constant(N_Vector x, sunrealtype b, N_Vector z)
{
    const double *xd = vector_data(x);
    double *zd = vector_data(z);

    for (int i = 0; i < STATE_COUNT; i++) {
        zd[i] = xd[i] + b;
    }
}

static sunrealtype dot(N_Vector x, N_Vector y)
{
    const double *xd = vector_data(x), *yd = vector_data(y);
    double sum = 0.0;

    for (int i = 0; i < STATE_COUNT; i++) {
        sum += xd[i] * yd[i];
    }
    return sum;
}

/* Largest of what is watched. */
static sunrealtype max_norm(N_Vector x)
{
    const double *xd = vector_data(x);
    double most = 0.0;

    for (int i = 0; i < WATCHED_COUNT; i++) {
        most = fmax(most, fabs(xd[i]));
    }
    return most;
}

static sunrealtype wrms_norm(N_Vector x, N_Vector weight)
{
    return motion_norm(vector_data(x), vector_data(weight));
}

static sunrealtype least(N_Vector x)
{
    const double *xd = vector_data(x);
    double low = xd[0];

    for (int i = 1; i < STATE_COUNT; i++) {
        low = fmin(low, xd[i]);
    }
    return low;
}

static int linear_combination(int count, sunrealtype *c, N_Vector *x, N_Vector z)
{
    pair sum[PAIRS] = {{0.0}};
    pair *zd = pairs_of(z);

    for (int k = 0; k < count; k++) {
        const pair *xd = pairs_of(x[k]);
        for (int i = 0; i < PAIRS; i++) {
            sum[i] += c[k] * xd[i];
        }
    }
    for (int i = 0; i < PAIRS; i++) {
        zd[i] = sum[i];
    }
    return 0;
}

static int scale_add_multi(int count, sunrealtype *a, N_Vector x, N_Vector *y, N_Vector *z)
{
    const pair *xd = pairs_of(x);

    for (int k = 0; k < count; k++) {
        const pair *yd = pairs_of(y[k]);
        pair *zd = pairs_of(z[k]);
        for (int i = 0; i < PAIRS; i++) {
            zd[i] = a[k] * xd[i] + yd[i];
        }
    }
    return 0;
}

static int scale_vectors(int count, sunrealtype *c, N_Vector *x, N_Vector *z)
{
    for (int k = 0; k < count; k++) {
        scale(c[k], x[k], z[k]);
    }
    return 0;
}

static N_Vector_ID identity(N_Vector vector)
{
    (void)vector;
    return SUNDIALS_NVEC_CUSTOM;
}

static void set_operations(N_Vector_Ops ops)
{
    ops->nvgetvectorid = identity;
    ops->nvclone = clone;
    ops->nvdestroy = destroy;
    ops->nvspace = space;
    ops->nvgetlength = length;
    ops->nvlinearsum = linear_sum;
    ops->nvconst = fill;
    ops->nvprod = product;
    ops->nvdiv = quotient;
    ops->nvscale = scale;
    ops->nvabs = absolute;
    ops->nvinv = inverse;
    ops->nvaddconst = add_constant;
    ops->nvdotprod = dot;
    ops->nvmaxnorm = max_norm;
    ops->nvwrmsnorm = wrms_norm;
    ops->nvmin = least;
    ops->nvlinearcombination = linear_combination;
    ops->nvscaleaddmulti = scale_add_multi;
    ops->nvscalevectorarray = scale_vectors;
}

N_Vector vector_create(SUNContext context)
{
    N_Vector model = N_VNewEmpty(context);
    N_Vector vector;

    if (model == NULL) {
        return NULL;
    }
    set_operations(model->ops);
    vector = clone(model);
    N_VFreeEmpty(model);
    return vector;
}
