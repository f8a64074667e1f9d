/* SPDX-License-Identifier: BSD-3-Clause */
#include "vectors.h"

#include "vector_clones.h"

#include <nvector/nvector_serial.h>

#include <math.h>
#include <stdlib.h>

/* A result may be one of the operands, element for element: no loop here carries anything from one element to another. */
#ifdef __clang__
#define INDEPENDENT _Pragma("clang loop vectorize(assume_safety)")
#else
#define INDEPENDENT _Pragma("GCC ivdep")
#endif

/* z = a x + b y */
SW_VECTOR_CLONES
static void add_arrays(sunindextype n, double a, const double *x, double b, const double *y, double *z)
{
    INDEPENDENT
    for (sunindextype i = 0; i < n; i++)
        z[i] = a * x[i] + b * y[i];
}

/* z += a x + b y */
SW_VECTOR_CLONES
static void add_two_arrays(sunindextype n, double a, const double *x, double b, const double *y, double *z)
{
    INDEPENDENT
    for (sunindextype i = 0; i < n; i++)
        z[i] += a * x[i] + b * y[i];
}

SW_VECTOR_CLONES
static void scale_array(sunindextype n, double c, const double *x, double *z)
{
    INDEPENDENT
    for (sunindextype i = 0; i < n; i++)
        z[i] = c * x[i];
}

SW_VECTOR_CLONES
static void invert_array(sunindextype n, const double *x, double *z)
{
    INDEPENDENT
    for (sunindextype i = 0; i < n; i++)
        z[i] = 1.0 / x[i];
}

/* Running sums let the additions overlap. */
SW_VECTOR_CLONES
static double sum_of_squares(sunindextype n, const double *v, const double *w)
{
    enum { SUMS = 8 };
    double sum[SUMS] = {0.0};
    sunindextype i = 0;
    for (; i + SUMS <= n; i += SUMS)
        for (int k = 0; k < SUMS; k++) {
            double term = v[i + k] * w[i + k];
            sum[k] += term * term;
        }
    for (; i < n; i++)
        sum[0] += v[i] * w[i] * v[i] * w[i];
    return ((sum[0] + sum[1]) + (sum[2] + sum[3])) + ((sum[4] + sum[5]) + (sum[6] + sum[7]));
}

static void linear_sum(sunrealtype a, N_Vector x, sunrealtype b, N_Vector y, N_Vector z)
{
    add_arrays(NV_LENGTH_S(z), a, NV_DATA_S(x), b, NV_DATA_S(y), NV_DATA_S(z));
}

static void set_constant(sunrealtype c, N_Vector z)
{
    double *values = NV_DATA_S(z);
    for (sunindextype i = 0; i < NV_LENGTH_S(z); i++)
        values[i] = c;
}

static void scale(sunrealtype c, N_Vector x, N_Vector z)
{
    scale_array(NV_LENGTH_S(z), c, NV_DATA_S(x), NV_DATA_S(z));
}

static void absolute(N_Vector x, N_Vector z)
{
    const double *from = NV_DATA_S(x);
    double *to = NV_DATA_S(z);
    INDEPENDENT
    for (sunindextype i = 0; i < NV_LENGTH_S(z); i++)
        to[i] = fabs(from[i]);
}

static void invert(N_Vector x, N_Vector z)
{
    invert_array(NV_LENGTH_S(z), NV_DATA_S(x), NV_DATA_S(z));
}

static sunrealtype weighted_norm(N_Vector x, N_Vector weights)
{
    const sunindextype n = NV_LENGTH_S(x);
    return sqrt(sum_of_squares(n, NV_DATA_S(x), NV_DATA_S(weights)) / (double)n);
}

static int linear_combination(int count, sunrealtype *c, N_Vector *x, N_Vector z)
{
    if (count == 1)
        scale(c[0], x[0], z);
    else
        linear_sum(c[0], x[0], c[1], x[1], z);
    int j = 2;
    for (; j + 1 < count; j += 2)
        add_two_arrays(NV_LENGTH_S(z), c[j], NV_DATA_S(x[j]), c[j + 1], NV_DATA_S(x[j + 1]), NV_DATA_S(z));
    if (j < count)
        linear_sum(c[j], x[j], 1.0, z, z);
    return 0;
}

static int scale_add_multi(int count, sunrealtype *a, N_Vector x, N_Vector *y, N_Vector *z)
{
    for (int j = 0; j < count; j++)
        linear_sum(a[j], x, 1.0, y[j], z[j]);
    return 0;
}

static int scale_array_of_vectors(int count, sunrealtype *c, N_Vector *x, N_Vector *z)
{
    for (int j = 0; j < count; j++)
        scale(c[j], x[j], z[j]);
    return 0;
}

/* SUNDIALS writes on what a clone returns without looking whether it is there, so a clone that gets no memory is the spare of
 * its kind, and that is noted. */
typedef struct kind {
    N_Vector spare;
    bool is_missing; /* a clone was not to be had */
} kind;

typedef struct content {
    struct _N_VectorContent_Serial serial; /* first: the operations of SUNDIALS see only this */
    kind *kind;
    bool owns_kind;
} content;

static void destroy(N_Vector vector)
{
    content *c = vector->content;
    if (vector == c->kind->spare)
        return;
    if (c->owns_kind) {
        N_Vector spare = c->kind->spare;
        c->kind->spare = NULL;
        N_VDestroy(spare);
        free(c->kind);
    }
    free(c->serial.data);
    free(c);
    N_VFreeEmpty(vector);
}

/* A vector with the operations of another; NULL without memory. */
static N_Vector make_like(N_Vector pattern, kind *of_kind)
{
    const sunindextype n = NV_LENGTH_S(pattern);
    N_Vector made = N_VNewEmpty(pattern->sunctx);
    content *c = calloc(1, sizeof *c);
    double *data = calloc((size_t)n, sizeof *data);
    if (!made || !c || !data || N_VCopyOps(pattern, made) != 0) {
        free(data);
        free(c);
        if (made)
            N_VFreeEmpty(made);
        return NULL;
    }
    *c = (content){.serial = {.length = n, .own_data = SUNTRUE, .data = data}, .kind = of_kind};
    made->content = c;
    return made;
}

static N_Vector clone(N_Vector vector)
{
    kind *of_kind = ((content *)vector->content)->kind;
    N_Vector made = make_like(vector, of_kind);
    if (!made)
        of_kind->is_missing = true;
    return made ? made : of_kind->spare;
}

bool sw_vector_misses_clones(N_Vector vector)
{
    return ((const content *)vector->content)->kind->is_missing;
}

void sw_vectors_use(N_Vector vector)
{
    vector->ops->nvlinearsum = linear_sum;
    vector->ops->nvconst = set_constant;
    vector->ops->nvscale = scale;
    vector->ops->nvabs = absolute;
    vector->ops->nvinv = invert;
    vector->ops->nvwrmsnorm = weighted_norm;
    vector->ops->nvlinearcombination = linear_combination;
    vector->ops->nvscaleaddmulti = scale_add_multi;
    vector->ops->nvscalevectorarray = scale_array_of_vectors;
}

N_Vector sw_vector_create(sunindextype length, SUNContext context)
{
    N_Vector pattern = N_VNewEmpty_Serial(length, context), made = NULL;
    kind *own = calloc(1, sizeof *own);
    if (pattern && own) {
        made = make_like(pattern, own);
        if (made) {
            sw_vectors_use(made);
            made->ops->nvclone = clone;
            made->ops->nvdestroy = destroy;
            own->spare = make_like(made, own);
        }
    }
    if (pattern)
        N_VDestroy(pattern);
    if (made && own->spare) {
        ((content *)made->content)->owns_kind = true;
        return made;
    }
    if (made)
        destroy(made);
    free(own);
    return NULL;
}
