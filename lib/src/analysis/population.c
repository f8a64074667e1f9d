/* SPDX-License-Identifier: BSD-3-Clause */
#include "cut_geometry.h"
#include "cut_thickness.h"
#include "dense.h"
#include "halton.h"
#include "pit_traits.h"
#include "pit_usual.h"

#include <stallwright/moist_air.h>
#include <stallwright/population.h>

#include <math.h>
#include <string.h>

/* Of the variance between all cooks: a guess, 0.5 to 0.9. */
const double sw_share_between_pits = 0.7;

/* Where cooks run: past these an input is none that a pit or a piece of meat has, and the integrator may have to give up. */
static const struct {
    const char *name;
    double low, high; /* [SI unit of the key] */
} where_cooks_run[] = {
    {"meat.thickness", 0.01, 0.30},
    {"pit.convection", 2.0, 60.0},
    {"pit.humidity_ratio", 0.002, 0.6},
    {"pit.temperature", 323.15, 463.15},
};

static void keep_where_cooks_run(sw_population_input *input)
{
    input->low = input->key->range.minimum;
    input->high = input->key->range.maximum;
    for (size_t i = 0; i < sizeof where_cooks_run / sizeof *where_cooks_run; i++)
        if (sw_scenario_key_find(where_cooks_run[i].name) == input->key) {
            input->low = fmin(where_cooks_run[i].low, input->middle);
            input->high = fmax(where_cooks_run[i].high, input->middle);
        }
}

static void add_input(sw_population *p, const sw_scenario_key *key, const sw_uncertainty *known)
{
    sw_population_input *input = &p->inputs[p->count];
    input->key = key;
    input->middle = sw_uncertain_input_value(key, &p->stated);
    input->is_logarithmic = known->kind != SW_UNCERTAINTY_DIFFERENCE;
    input->spread = known->kind == SW_UNCERTAINTY_FACTOR ? log(known->deviation) : known->deviation;
    keep_where_cooks_run(input);
    p->root[p->count][p->count] = 1.0;
    p->count++;
}

/* What a pit's traits are called among the keys, in the order of sw_pit_traits. */
static const char *const trait_keys[SW_PIT_TRAITS] = {"pit.temperature", "pit.convection", "pit.humidity_ratio"};

void sw_pit_traits_of(const sw_pit_learned *l, double middle[SW_PIT_TRAITS], double covariance[SW_PIT_TRAITS * SW_PIT_TRAITS])
{
    const double spread[SW_PIT_TRAITS] = {l->offset_spread, log(l->convection_spread), log(l->humidity_ratio_spread)};
    const double correlation[SW_PIT_TRAITS][SW_PIT_TRAITS] = {{1.0, l->offset_with_convection, l->offset_with_humidity_ratio},
                                                              {l->offset_with_convection, 1.0, l->convection_with_humidity_ratio},
                                                              {l->offset_with_humidity_ratio, l->convection_with_humidity_ratio, 1.0}};
    middle[0] = l->offset;
    middle[1] = log(l->convection);
    middle[2] = log(l->humidity_ratio);
    for (size_t i = 0; i < SW_PIT_TRAITS; i++)
        for (size_t j = 0; j < SW_PIT_TRAITS; j++)
            covariance[i * SW_PIT_TRAITS + j] = spread[i] * spread[j] * correlation[i][j];
}

size_t sw_pit_trait_number(const sw_scenario_key *key)
{
    size_t i = 0;
    while (i < SW_PIT_TRAITS && strcmp(key->name, trait_keys[i]) != 0)
        i++;
    return i;
}

/* The pit's own traits as they were learned, and what its cooks differ by: a smaller spread, and correlations. Numbers that the author
 * states go before. */
static void narrow(const sw_scenario *asked, sw_population *p)
{
    double middle[SW_PIT_TRAITS], covariance[SW_PIT_TRAITS * SW_PIT_TRAITS], correlations[SW_PIT_TRAITS * SW_PIT_TRAITS];
    size_t inputs[SW_PIT_TRAITS], traits[SW_PIT_TRAITS], count = 0;
    sw_pit_traits_of(&asked->pit.learned, middle, covariance);
    for (size_t k = 0; k < p->count; k++) {
        const size_t trait = sw_pit_trait_number(p->inputs[k].key);
        if (trait == SW_PIT_TRAITS || (trait > 0 && sw_uncertain_input_given(p->inputs[k].key, asked) != &p->inputs[k].key->left_open))
            continue;
        const double own = covariance[trait * SW_PIT_TRAITS + trait], other = (1.0 - sw_share_between_pits) * p->inputs[k].spread * p->inputs[k].spread;
        p->inputs[k].spread = sqrt(own + other);
        inputs[count] = k;
        traits[count++] = trait;
    }
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < count; j++)
            correlations[i * count + j] = i == j ? 1.0 : covariance[traits[i] * SW_PIT_TRAITS + traits[j]] /
                                                             (p->inputs[inputs[i]].spread * p->inputs[inputs[j]].spread);
    /* Of a covariance with something added to its diagonal, which is positive definite. */
    if (!sw_cholesky(count, correlations))
        return;
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j <= i; j++)
            p->root[inputs[i]][inputs[j]] = correlations[i * count + j];
}

/* Sizes that only the model knows: of all shapes but a slab and an outline. */
static sw_status fill_sizes(sw_context *context, sw_scenario *s)
{
    sw_food_properties raw;
    if (s->meat.shape == SW_SHAPE_SLAB)
        return SW_OK;
    if (sw_mixture_properties(&s->meat.composition, s->meat.initial_temperature, &raw) != SW_OK)
        return sw_fail(context, SW_ERR_RANGE, "the composition of the meat has no density");
    sw_cut_fill_dimensions(&s->meat, raw.density);
    return SW_OK;
}

sw_status sw_population_given(sw_context *context, const sw_scenario *stated, sw_population *population)
{
    sw_population made = {.stated = *stated};
    sw_status status = sw_scenario_check(context, stated);
    if (status != SW_OK)
        return status;
    sw_scenario_settle(&made.stated);
    status = fill_sizes(context, &made.stated);
    if (status != SW_OK)
        return status;
    for (size_t i = 0; i < sw_uncertain_input_count() && made.count < SW_POPULATION_INPUTS_MAX; i++) {
        const sw_scenario_key *key = sw_uncertain_input_at(i);
        if (key->left_open.kind != SW_UNCERTAINTY_NONE && sw_scenario_key_counts(key, &made.stated) &&
            sw_uncertain_input_counts(key, &made.stated))
            add_input(&made, key, sw_uncertain_input_given(key, stated));
    }
    if (stated->pit.learned.cooks > 0)
        narrow(stated, &made);
    *population = made;
    return SW_OK;
}

void sw_population_draw(const sw_population *p, uint64_t seed, size_t number, double *normal)
{
    for (size_t i = 0; i < p->count; i++)
        normal[i] = sw_normal_quantile(sw_halton_point(seed, number, i));
}

double sw_population_value(const sw_population *p, size_t number, const double *normal)
{
    const sw_population_input *input = &p->inputs[number];
    double y = 0.0;
    for (size_t i = 0; i <= number; i++)
        y += p->root[number][i] * normal[i];
    const double value = input->is_logarithmic ? input->middle * exp(input->spread * y) : input->middle + input->spread * y;
    return fmin(fmax(value, input->low), input->high);
}

/* The humidity ratio of air that is nearly saturated where the pit is coolest; 1, the largest there is, where water boils. */
static double most_humid(const sw_pit *pit)
{
    const double nearly = 0.95;
    double pressure, saturation, ratio;
    if (sw_pressure_at_altitude(pit->altitude, &pressure) != SW_OK ||
        sw_saturation_pressure(sw_pit_coolest_air(pit), &saturation) != SW_OK ||
        sw_humidity_ratio(nearly * saturation, pressure, &ratio) != SW_OK)
        return 1.0;
    return fmin(ratio, 1.0);
}

/* Steps move alike, but none to where no pit may be. */
static void keep_steps_allowed(sw_pit *pit)
{
    const sw_range allowed = sw_scenario_key_find("pit.temperature")->range;
    for (size_t i = 0; i < pit->step_count; i++)
        pit->steps[i].temperature = fmin(fmax(pit->steps[i].temperature, allowed.minimum), allowed.maximum);
}

/* A pit that comes out damper or cooler than stated still holds only so much vapour. */
static void keep_air_unsaturated(const sw_population *p, sw_scenario *s)
{
    const bool is_damper = s->pit.humidity_ratio > p->stated.pit.humidity_ratio;
    const bool is_cooler = s->pit.steps[0].temperature < p->stated.pit.steps[0].temperature;
    if (is_damper || is_cooler)
        s->pit.humidity_ratio = fmin(s->pit.humidity_ratio, most_humid(&s->pit));
}

void sw_population_scenario(const sw_population *p, const double *normal, sw_scenario *scenario)
{
    *scenario = p->stated;
    for (size_t i = 0; i < p->count; i++) {
        const sw_scenario_key *key = p->inputs[i].key;
        const double value = sw_population_value(p, i, normal), moved = value - p->inputs[i].middle;
        if (key->quantity == SW_QUANTITY_LENGTH && sw_shape_is_section(scenario->meat.shape))
            sw_scale_thickness(scenario, &p->stated, value / p->inputs[i].middle);
        else
            sw_uncertain_input_move(key, &(sw_uncertainty){.kind = SW_UNCERTAINTY_DIFFERENCE, .deviation = moved}, 1.0, scenario);
    }
    keep_steps_allowed(&scenario->pit);
    keep_air_unsaturated(p, scenario);
}

/* So wide a tolerance now and then leaves a balance open, and the cook is refused: sw_cook_side_by_side makes it again. */
void sw_population_coarsen(sw_scenario *s)
{
    sw_solver_settings *solver = &s->solver;
    solver->cells = solver->cells > 24 ? 24 : solver->cells;
    solver->rows = solver->rows > 8 ? 8 : solver->rows;
    solver->columns = solver->columns > 12 ? 12 : solver->columns;
    solver->relative_tolerance = fmax(solver->relative_tolerance, 5e-4);
    solver->field_interval = fmax(solver->field_interval, 3600.0);
}
