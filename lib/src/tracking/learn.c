/* SPDX-License-Identifier: BSD-3-Clause */
/* What a cook tells of its pit, put together with what cooks before it told. Everything is normal, so this is exact: the pit's traits
 * are drawn once for the pit, and for each cook anew about them; the readings tell of the cook's. docs/theory/tracking.md. */
#include "dense.h"
#include "pit_traits.h"

#include <stallwright/track.h>

#include <math.h>
#include <string.h>

enum { N = SW_PIT_TRAITS, INPUTS = SW_POPULATION_INPUTS_MAX };

/* Information: the inverse of a covariance, and that times the middle. */
typedef struct information {
    double matrix[N * N], vector[N];
} information;

static void spreads_of_pits(double spread[N])
{
    for (size_t i = 0; i < sw_uncertain_input_count(); i++) {
        const sw_scenario_key *key = sw_uncertain_input_at(i);
        const size_t trait = sw_pit_trait_number(key);
        if (trait < N)
            spread[trait] = key->left_open.kind == SW_UNCERTAINTY_FACTOR ? log(key->left_open.deviation) : key->left_open.deviation;
    }
}

/* Of pits like it, before a cook in it. */
static void unknown_pit(const sw_scenario *asked, const double spread[N], double middle[N], double covariance[N * N])
{
    sw_scenario usual = *asked;
    usual.pit.learned = (sw_pit_learned){0};
    usual.pit.convection = usual.pit.humidity_ratio = SW_USUAL;
    sw_scenario_settle(&usual);
    middle[0] = 0.0;
    middle[1] = log(usual.pit.convection);
    middle[2] = log(usual.pit.humidity_ratio);
    memset(covariance, 0, N * N * sizeof *covariance);
    for (size_t i = 0; i < N; i++)
        covariance[i * N + i] = sw_share_between_pits * spread[i] * spread[i];
}

/* Precision of the normal coordinates of some unknowns, the others integrated out: a Schur complement, by the covariance. */
static bool precision_of(const sw_track *t, const size_t *inputs, size_t count, double *precision)
{
    const size_t all = t->population.count;
    double covariance[INPUTS * INPUTS];
    memcpy(covariance, t->precision, all * all * sizeof *covariance);
    if (!sw_invert(all, covariance))
        return false;
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < count; j++)
            precision[i * count + j] = covariance[inputs[i] * all + inputs[j]];
    return sw_invert(count, precision);
}

/* What the readings alone tell of the cook's traits: what is known after them less what was before. */
static bool told_by_readings(const sw_scenario *asked, const sw_track *t, information *told)
{
    const sw_population *p = &t->population;
    size_t inputs[N], traits[N], count = 0;
    double lambda[N * N], scale[N * N] = {0.0}, vector[N], base[N];
    *told = (information){0};
    for (size_t k = 0; k < p->count; k++)
        if (sw_pit_trait_number(p->inputs[k].key) < N) {
            inputs[count] = k;
            traits[count++] = sw_pit_trait_number(p->inputs[k].key);
        }
    if (!precision_of(t, inputs, count, lambda))
        return false;
    for (size_t i = 0; i < count; i++) {
        const sw_population_input *x = &p->inputs[inputs[i]];
        base[i] = x->is_logarithmic ? log(x->middle) : x->middle - asked->pit.steps[0].temperature;
        vector[i] = 0.0;
        for (size_t j = 0; j < count; j++)
            vector[i] += lambda[i * count + j] * t->best[inputs[j]];
        for (size_t j = 0; j <= i; j++)
            scale[i * count + j] = x->spread * p->root[inputs[i]][inputs[j]];
    }
    for (size_t i = 0; i < count; i++)
        lambda[i * count + i] -= 1.0;
    /* From normal coordinates to traits: trait = base + scale z. Columns of the inverse of scale by forward substitution. */
    double back[N * N];
    for (size_t j = 0; j < count; j++) {
        double column[N] = {0.0};
        column[j] = 1.0;
        sw_forward_solve(count, scale, column);
        for (size_t i = 0; i < count; i++)
            back[i * count + j] = column[i];
    }
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < count; j++) {
            double sum = 0.0;
            for (size_t k = 0; k < count; k++)
                for (size_t l = 0; l < count; l++)
                    sum += back[k * count + i] * lambda[k * count + l] * back[l * count + j];
            told->matrix[traits[i] * N + traits[j]] = sum;
        }
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < count; k++)
            told->vector[traits[i]] += back[k * count + i] * vector[k];
        for (size_t j = 0; j < count; j++)
            told->vector[traits[i]] += told->matrix[traits[i] * N + traits[j]] * base[j];
    }
    return true;
}

/* Adds what a cook tells of its pit: less than of itself, since it differs from the pit. */
static bool add_cook(const information *told, const double spread[N], information *pit)
{
    double inverse[N * N], other[N];
    memcpy(inverse, told->matrix, sizeof inverse);
    for (size_t i = 0; i < N; i++) {
        other[i] = 1.0 / ((1.0 - sw_share_between_pits) * spread[i] * spread[i]);
        inverse[i * N + i] += other[i];
    }
    if (!sw_invert(N, inverse))
        return false;
    for (size_t i = 0; i < N; i++)
        for (size_t j = 0; j < N; j++) {
            pit->matrix[i * N + j] += (i == j ? other[i] : 0.0) - other[i] * inverse[i * N + j] * other[j];
            pit->vector[i] += other[i] * inverse[i * N + j] * told->vector[j];
        }
    return true;
}

static bool keep(const information *pit, sw_pit_learned *learned)
{
    double covariance[N * N], middle[N] = {0.0}, spread[N];
    memcpy(covariance, pit->matrix, sizeof covariance);
    if (!sw_invert(N, covariance))
        return false;
    for (size_t i = 0; i < N; i++) {
        spread[i] = sqrt(covariance[i * N + i]);
        for (size_t j = 0; j < N; j++)
            middle[i] += covariance[i * N + j] * pit->vector[j];
    }
    learned->cooks++;
    learned->offset = middle[0];
    learned->offset_spread = spread[0];
    learned->convection = exp(middle[1]);
    learned->convection_spread = exp(spread[1]);
    learned->humidity_ratio = exp(middle[2]);
    learned->humidity_ratio_spread = exp(spread[2]);
    learned->offset_with_convection = covariance[1] / (spread[0] * spread[1]);
    learned->offset_with_humidity_ratio = covariance[2] / (spread[0] * spread[2]);
    learned->convection_with_humidity_ratio = covariance[5] / (spread[1] * spread[2]);
    return true;
}

sw_status sw_track_learn(sw_context *context, const sw_track_question *question, const sw_track *track, sw_pit_learned *learned)
{
    double spread[N], middle[N], covariance[N * N];
    information pit = {{0.0}, {0.0}}, told;
    sw_pit_learned made = *learned;
    if (track->used == 0)
        return sw_fail(context, SW_ERR_ARGUMENT, "a cook without readings shows nothing of its pit");
    spreads_of_pits(spread);
    if (learned->cooks > 0)
        sw_pit_traits_of(learned, middle, covariance);
    else
        unknown_pit(&question->scenario, spread, middle, covariance);
    memcpy(pit.matrix, covariance, sizeof pit.matrix);
    bool is_good = sw_invert(N, pit.matrix);
    for (size_t i = 0; i < N; i++)
        for (size_t j = 0; j < N; j++)
            pit.vector[i] += pit.matrix[i * N + j] * middle[j];
    is_good = is_good && told_by_readings(&question->scenario, track, &told) && add_cook(&told, spread, &pit) && keep(&pit, &made);
    if (!is_good)
        return sw_fail(context, SW_ERR_SOLVER, "what the readings tell of the pit cannot be put together with what was learned");
    *learned = made;
    return SW_OK;
}
