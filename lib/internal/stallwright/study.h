/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * A study: many cooks that differ from a base scenario in a few factors, run side by side.
 *
 * A study is described first (factors, design) and then only read: every run is a function of its number alone, so runs
 * may be made in any order, in any number of threads or processes, and come out the same to the bit. */
#ifndef STALLWRIGHT_STUDY_H
#define STALLWRIGHT_STUDY_H

#include <stallwright/outcome.h>

#include <stdint.h>

SW_BEGIN_DECLARATIONS

#define SW_STUDY_FACTORS_MAX 12
#define SW_STUDY_VALUES_MAX 10000
#define SW_STUDY_RUNS_MAX 1000000

/** How the runs are spread over the factors. */
typedef enum sw_design {
    SW_DESIGN_GRID,  /**< every combination of listed values, the last factor changing fastest */
    SW_DESIGN_HALTON /**< points of a Halton sequence, spread evenly over ranges and distributions */
} sw_design;

/** "grid", "halton". */
SW_API const char *sw_design_name(sw_design design);

/** What a factor takes its values from. */
typedef enum sw_factor_kind {
    SW_FACTOR_LISTED,  /**< listed values; a Halton design picks each equally often */
    SW_FACTOR_UNIFORM, /**< any number between two; Halton only */
    SW_FACTOR_NORMAL   /**< normally distributed; Halton only */
} sw_factor_kind;

typedef struct sw_study sw_study;

/** Creates a study of a grid without factors: one run, the base scenario.
 * @param base copied
 * @param study out: owned by the caller; unchanged on error
 * @return SW_OK or SW_ERR_MEMORY */
SW_API sw_status sw_study_create(sw_context *context, const sw_scenario *base, sw_study **study);

/** Destroys a study; NULL is allowed. */
SW_API void sw_study_destroy(sw_study *study);

/** Adds one value to a listed factor, which begins with its first value.
 * @param key name of the factor: any key of a scenario file, for example "pit.temperature"
 * @param holder the value is the one this scenario has for the key; copied
 * @param label how the value is written, for tables; copied
 * @return SW_OK; SW_ERR_ARGUMENT (unknown key, a value that is there already, too many values or factors, a key that has a
 * distribution); SW_ERR_MEMORY */
SW_API sw_status sw_study_add_value(sw_context *context, sw_study *study, const char *key, const sw_scenario *holder,
                                    const char *label);

/** Adds a factor distributed evenly between the values that two scenarios have for a key of numbers.
 * @return SW_OK; SW_ERR_ARGUMENT (unknown key, no numbers, low not below high, factor there already, too many); SW_ERR_MEMORY */
SW_API sw_status sw_study_add_uniform(sw_context *context, sw_study *study, const char *key, const sw_scenario *low,
                                      const sw_scenario *high);

/** Adds a normally distributed factor.
 * @param mean a scenario that has the mean for the key
 * @param deviation standard deviation, above 0 [SI unit of the key]
 * @return as sw_study_add_uniform */
SW_API sw_status sw_study_add_normal(sw_context *context, sw_study *study, const char *key, const sw_scenario *mean,
                                     double deviation);

/** Chooses the design, after all factors are there.
 * @param runs 1..SW_STUDY_RUNS_MAX for a Halton design; a grid counts its own and ignores it
 * @param seed of a Halton design: 0 is the plain sequence, any other number shifts each factor's points around by an
 * amount of its own (Cranley and Patterson 1976), which keeps them spread as evenly
 * @return SW_OK; SW_ERR_ARGUMENT (distributions in a grid, runs or combinations out of range) */
SW_API sw_status sw_study_set_design(sw_context *context, sw_study *study, sw_design design, size_t runs, uint64_t seed);

SW_API sw_design sw_study_design(const sw_study *study);
SW_API uint64_t sw_study_seed(const sw_study *study);
SW_API size_t sw_study_run_count(const sw_study *study);
SW_API const sw_scenario *sw_study_base(const sw_study *study);

/** A factor, for reading. Texts are valid as long as the study. */
typedef struct sw_factor_view {
    const char *key;
    sw_factor_kind kind;
    bool has_numbers;     /**< false: its values are words, or not of one quantity */
    sw_quantity quantity; /**< of the numbers below and of sw_study_number, in its SI unit */
    size_t value_count; /**< SW_FACTOR_LISTED */
    double first;       /**< SW_FACTOR_UNIFORM: low; SW_FACTOR_NORMAL: mean */
    double second;      /**< SW_FACTOR_UNIFORM: high; SW_FACTOR_NORMAL: standard deviation */
} sw_factor_view;

SW_API size_t sw_study_factor_count(const sw_study *study);
SW_API sw_factor_view sw_study_factor(const sw_study *study, size_t factor);

/** Number and label of a value of a listed factor. A word's number is its place in the list. */
SW_API double sw_study_listed_number(const sw_study *study, size_t factor, size_t value);
SW_API const char *sw_study_listed_label(const sw_study *study, size_t factor, size_t value);

/** Which of its listed values a factor has in a run; 0 for a distribution. */
SW_API size_t sw_study_choice(const sw_study *study, size_t run, size_t factor);

/** The number a factor has in a run [SI unit of the key]; of a word, its place in the list. */
SW_API double sw_study_number(const sw_study *study, size_t run, size_t factor);

/** The scenario of a run. Not checked: an impossible one fails when it is run. */
SW_API void sw_study_scenario(const sw_study *study, size_t run, sw_scenario *scenario);

/** Runs one after the other, from a multiple of their number on, that differ only in how they are wrapped: of a grid whose last
 * factors are keys of wrap and rewrap. 1 if there are none; at most SW_STUDY_ALIKE_MAX, and 1 if there are more. */
SW_API size_t sw_study_alike_runs(const sw_study *study);
#define SW_STUDY_ALIKE_MAX 32

/** The curves that are kept of every run, on a time axis common to all. */
typedef enum sw_study_curve { SW_CURVE_PROBE, SW_CURVE_TOP_SURFACE, SW_STUDY_CURVE_COUNT } sw_study_curve;

/** The series of a history that a curve is taken from. */
SW_API sw_series sw_study_curve_series(sw_study_curve curve);

/** Between the points of the common time axis [s]. */
#define SW_STUDY_CURVE_INTERVAL 600.0

#define SW_STUDY_FAILURE_SIZE 1024

/** What became of one run. */
typedef struct sw_study_result {
    size_t run;
    sw_status status;
    char failure[SW_STUDY_FAILURE_SIZE]; /**< sentence; empty if status is SW_OK */
    sw_outcome outcome;                  /**< every figure SW_ABSENT if it failed */
    size_t point_count;                  /**< points at 0, 1, 2, ... intervals, up to the end of the cook; 0 if it failed */
    double *curves[SW_STUDY_CURVE_COUNT]; /**< point_count values each, of single precision; in one block that begins
                                               at curves[0] */
} sw_study_result;

/** Runs one cook of a study. May be called from any thread, each with its own context and result.
 * That the cook fails is a result and not an error.
 * @param branches of cooks that begin alike, as sw_cook_run_branching takes them; NULL for none
 * @param result out: release with sw_study_result_free; unchanged on error
 * @return SW_OK or SW_ERR_MEMORY */
SW_API sw_status sw_study_cook(sw_context *context, const sw_study *study, size_t run, sw_branches *branches, sw_study_result *result);

SW_API void sw_study_result_free(sw_study_result *result);

/** How a study is run. Callbacks are called one at a time, though from several threads; each may be NULL except take. */
typedef struct sw_study_work {
    /** Number of threads, 1..SW_THREADS_MAX. */
    size_t threads;
    /** Gives out the next run to make; returns false when there is none left. */
    bool (*next)(size_t *run, void *data);
    /** Takes the result of a finished cook, in the order in which they finish. Returns SW_OK, or a status that ends the
     * work: cooks in hand are finished and taken, no others begun. The sentence goes to the context given. */
    sw_status (*take)(sw_context *context, const sw_study_result *result, void *data);
    void *data;
} sw_study_work;

/** Runs the cooks that work.next gives out, all runs in turn if it is NULL.
 * @return SW_OK, also if cooks failed; SW_ERR_ARGUMENT (threads); SW_ERR_MEMORY; the first status other than SW_OK that
 * take returned (SW_ERR_CANCELLED by convention if it was asked to stop) */
SW_API sw_status sw_study_run(sw_context *context, const sw_study *study, const sw_study_work *work);

/** The value below which a share of all values lies, linearly between neighbours (definition 7 of Hyndman and Fan 1996).
 * Absent values are not counted.
 * @param values sorted in place, absent ones last
 * @param share 0..1
 * @return SW_ABSENT if there is no value */
SW_API double sw_quantile(double *values, size_t count, double share);

SW_END_DECLARATIONS

#endif
