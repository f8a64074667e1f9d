/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * What is not known of one cook before it is made, given what its scenario states: thickness over the probe, air film and
 * humidity of the pit, and the pit's temperature as the meat feels it. One distribution for bands, plans and forecasts.
 *
 * Each unknown is an input that the table of keys gives a spread from cook to cook (<stallwright/uncertain_input.h>). A point
 * of the distribution is told in normal coordinates: independent numbers of the standard normal distribution. With y = root
 * times these, the value is middle exp(spread y) where the spread is one of the logarithm, else middle + spread y.
 * docs/theory/population.md. */
#ifndef STALLWRIGHT_POPULATION_H
#define STALLWRIGHT_POPULATION_H

#include <stallwright/uncertain_input.h>

#include <stdint.h>

SW_BEGIN_DECLARATIONS

#define SW_POPULATION_INPUTS_MAX 12

/** One unknown. */
typedef struct sw_population_input {
    const sw_scenario_key *key;
    bool is_logarithmic; /**< the spread is of the logarithm */
    double middle;       /**< median; of the pit's temperature that of its first step, the others moving alike [SI unit of the key] */
    double spread;       /**< one standard deviation, of the logarithm [-] or of the value [SI unit of the key] */
    double low, high;    /**< values are kept within: where cooks run [SI unit of the key] */
} sw_population_input;

/** The distribution. */
typedef struct sw_population {
    sw_scenario stated; /**< settled: every unknown at its median */
    size_t count;       /**< unknowns that play a part in this cook */
    sw_population_input inputs[SW_POPULATION_INPUTS_MAX];
    /** Lower Cholesky root of their correlations: rows have length 1. */
    double root[SW_POPULATION_INPUTS_MAX][SW_POPULATION_INPUTS_MAX];
} sw_population;

/** The distribution of what differs from cook to cook, given what a scenario states. What it states is known better: a
 * thickness, a number for an air film or a humidity, a logged pit.
 * @param stated as its author left it, not settled: what was left open must still be seen
 * @param population out; unchanged on error
 * @return SW_OK, or what sw_scenario_check returns */
SW_API sw_status sw_population_given(sw_context *context, const sw_scenario *stated, sw_population *population);

/** A point of the distribution: points spread evenly over it (Halton 1960), shifted around by the seed (Cranley and Patterson
 * 1976). A function of seed and number alone.
 * @param number of the draw, from 0
 * @param normal out: as many numbers as the population has unknowns */
SW_API void sw_population_draw(const sw_population *population, uint64_t seed, size_t number, double *normal);

/** The value of one unknown at a point [SI unit of its key]. */
SW_API double sw_population_value(const sw_population *population, size_t input, const double *normal);

/** The stated scenario with its unknowns at a point. */
SW_API void sw_population_scenario(const sw_population *population, const double *normal, sw_scenario *scenario);

/** Makes a scenario one that computes several times faster, for many draws: fewer cells, a wider tolerance, fewer rows in the
 * history. docs/theory/population.md has what that changes. */
SW_API void sw_population_coarsen(sw_scenario *scenario);

SW_END_DECLARATIONS

#endif
