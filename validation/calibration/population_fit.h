/* SPDX-License-Identifier: BSD-3-Clause */
/* The parameters that all cooks share, fitted to measured cooks and targets at once. */
#ifndef SW_VALIDATION_POPULATION_FIT_H
#define SW_VALIDATION_POPULATION_FIT_H

#include "bounded_fit.h"
#include "cook_fit.h"

enum { PARAMETERS_MAX = 32, TARGETS_MAX = 32, TARGET_COOKS_MAX = 2 * TARGETS_MAX };

typedef struct parameter {
    char name[64];
    char group[16];         /* empty: a law's key; else whose median it moves */
    const sw_scenario_key *key;
    bool is_logarithmic;
    double start, lower, upper, prior, spread; /* on the scale of the fit: logarithms of logarithmic ones */
} parameter;

/* A cook that targets ask for; several may ask for one. */
typedef struct target_cook {
    const char *file, *settings;
    sw_scenario scenario;
} target_cook;

/* A quantity of a cook, or by how much it is more than in another one. */
typedef struct target {
    const char *quantity, *source;
    size_t cook, against; /* of target_cooks; against: the same, if the quantity counts as it is */
    double value, uncertainty;
} target;

typedef struct population_fit {
    csv_table *parameter_table, *target_table;
    size_t parameter_count, target_count, target_cook_count, cook_count;
    parameter parameters[PARAMETERS_MAX];
    target targets[TARGETS_MAX];
    target_cook target_cooks[TARGET_COOKS_MAX];
    cook_fit *cooks;
    reading_error error;
    double spreads[SW_POPULATION_INPUTS_MAX]; /* factors on the standard deviations of the table of keys, by its order */
    double values[PARAMETERS_MAX];            /* where the fit is */
    fit_parameter fitted[PARAMETERS_MAX];
    fit_result result;
} population_fit;

/* Reads the tables, and takes cooks to fit to; ends the program at what cannot be understood. */
void population_fit_begin(population_fit *fit, const measured_cook *const *cooks, size_t count);
void population_fit_end(population_fit *fit);

/* Fits: own unknowns of each cook and what is common, in turn, so many times. */
void population_fit_run(population_fit *fit, int rounds);

/* How many readings and ends there are. */
size_t population_fit_observed(const population_fit *fit);

/* The population of a cook by the values of a fit; laws are in its stated scenario. */
void population_of(const population_fit *fit, const double *values, const measured_cook *cook, sw_population *population);

/* A fit of one cook's own, at the middle of that. */
void cook_fit_begin(const population_fit *fit, const measured_cook *cook, cook_fit *own);

/* The value of a parameter as it is told. */
double parameter_told(const parameter *parameter, double value);

/* Computed targets at the values of a fit. */
void targets_compute(const population_fit *fit, const double *values, double *computed);

#endif
