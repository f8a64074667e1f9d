/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * The interface that lasts: scenarios, cooks and explanations behind handles, set and read by name, numbers in SI units. No
 * struct of its own is seen, so that programs need no change and no new compilation when the library learns more; names stay
 * (docs/how-to/use-the-library.md has the promise, docs/changes.md what changed). Setting, cooking and reading take no file, no units database
 * and, but for sw_setups_cook, no thread.
 *
 * Unless said otherwise functions return SW_OK; SW_ERR_ARGUMENT for a name that is none or a value of the wrong kind and
 * SW_ERR_RANGE for a number out of its range, both with a sentence in the context; SW_ERR_MEMORY. What they were to set is
 * unchanged on error. The context may be NULL where only the status matters. */
#ifndef STALLWRIGHT_HANDLES_H
#define STALLWRIGHT_HANDLES_H

#include <stallwright/context.h>

#include <stddef.h>

SW_BEGIN_DECLARATIONS

/* ---- a scenario ---- */

/** Everything a cook decides before the fire is lit. */
typedef struct sw_setup sw_setup;

/** The default one.
 * @param setup out: destroy with sw_setup_destroy */
SW_API sw_status sw_setup_create(sw_context *context, sw_setup **setup);

/** Another one like it. */
SW_API sw_status sw_setup_clone(sw_context *context, const sw_setup *setup, sw_setup **clone);

/** Destroys it; NULL is allowed. */
SW_API void sw_setup_destroy(sw_setup *setup);

/** How many keys there are, the name of each ("pit.temperature"), what it means and its SI unit ("K", "1"). Both are NULL for a name
 * that is no key. docs/reference/scenario.md lists them with their ranges. */
SW_API size_t sw_setup_key_count(void);
SW_API const char *sw_setup_key_name(size_t number);
SW_API const char *sw_setup_key_meaning(const char *key);
SW_API const char *sw_setup_key_unit(const char *key);

/** Numbers, also of pit.temperature while it is one [SI unit of the key]. */
SW_API sw_status sw_setup_set_number(sw_context *context, sw_setup *setup, const char *key, double number);
SW_API sw_status sw_setup_number(sw_context *context, const sw_setup *setup, const char *key, double *number);

/** Words: texts, choices, "yes" and "no", and "usual" for a number that may be left to the cut or the pit. A word that is read is valid
 * until the setup is changed or destroyed. */
SW_API sw_status sw_setup_set_word(sw_context *context, sw_setup *setup, const char *key, const char *word);
SW_API sw_status sw_setup_word(sw_context *context, const sw_setup *setup, const char *key, const char **word);

/** How a phase ends (pull, wrap.when, rest.until, ...): "temperature" with a probe temperature [K], "duration" [s], "clock" with a time of
 * day [s after midnight], "clock-on-day" [s after midnight of the day on which the meat went on], "none", "bark", "usual" (with 0). */
SW_API sw_status sw_setup_set_ending(sw_context *context, sw_setup *setup, const char *key, const char *kind, double value);
SW_API sw_status sw_setup_ending(sw_context *context, const sw_setup *setup, const char *key, const char **kind, double *value);

/** Lists, row after row: of pit.temperature start [s], temperature [K] and 1 if it then runs straight to the next, else 0; of
 * pit.lid.openings the time [s]; of meat.outline x and y of a corner [m]; of pit.learned in one row how many cooks told of the pit, and
 * what they told in the order of a file that track --learn writes [K, W m-2 K-1, kg per kg dry air]. Places of probes have names, and calls of their own.
 * @param rows of the list; 0 empties it, but for pit.temperature
 * @param values as many a row as said above */
SW_API sw_status sw_setup_set_list(sw_context *context, sw_setup *setup, const char *key, size_t rows, const double *values);

/** Reads such a list.
 * @param room how many numbers values has room for
 * @param rows out; if the room is too small nothing is written to values */
SW_API sw_status sw_setup_list(sw_context *context, const sw_setup *setup, const char *key, size_t room, double *values,
                               size_t *rows);

/** Puts probes into a section (meat.probes); without any they are where the shape usually has them.
 * @param count 0 to 4
 * @param names one a probe: 1 to 31 bytes, all different; copied
 * @param places two a probe: along the section from its left end and up from its lowest point [m], -1 to 2 */
SW_API sw_status sw_setup_set_probes(sw_context *context, sw_setup *setup, size_t count, const char *const *names,
                                     const double *places);

/** How many were put there. */
SW_API size_t sw_setup_probe_count(const sw_setup *setup);

/** One of them.
 * @param number 0 to count - 1
 * @param name out: valid until the setup is changed or destroyed
 * @param along, up out: where it is [m] */
SW_API sw_status sw_setup_probe(sw_context *context, const sw_setup *setup, size_t number, const char **name, double *along,
                                double *up);

/** Whether its values go together; a cook asks this itself. */
SW_API sw_status sw_setup_check(sw_context *context, const sw_setup *setup);

/* ---- a cook ---- */

/** A cook that was run: its figures, words and curves. Read only. */
typedef struct sw_cooked sw_cooked;

/** Runs one.
 * @param observe called now and then with the time reached [s] and the probe temperature [K]; nonzero cancels; may be NULL
 * @param cooked out: destroy with sw_cooked_destroy
 * @return also SW_ERR_NEVER_ENDS, SW_ERR_SOLVER, SW_ERR_CANCELLED */
SW_API sw_status sw_setup_cook(sw_context *context, const sw_setup *setup,
                               int (*observe)(double time, double probe_temperature, void *data), void *data, sw_cooked **cooked);

/** Destroys it; NULL is allowed. */
SW_API void sw_cooked_destroy(sw_cooked *cooked);

/** Figures: named as in docs/reference/results-file.md ("done_time", "yield_fraction"), budgets at the pull and at the end ("at_pull.evaporated_mass",
 * "at_end.meat_mass"), sides of the cut ("top.bark"). NaN if a figure does not exist, as the stall of a cook without one. */
SW_API size_t sw_cooked_figure_count(void);
SW_API const char *sw_cooked_figure_name(size_t number);
SW_API const char *sw_cooked_figure_meaning(const char *figure);
SW_API const char *sw_cooked_figure_unit(const char *figure);
SW_API sw_status sw_cooked_figure(sw_context *context, const sw_cooked *cooked, const char *figure, double *value);

/** Words: "tenderness", "top_state_at_pull". */
SW_API sw_status sw_cooked_word(sw_context *context, const sw_cooked *cooked, const char *name, const char **word);

/** Curves, all of the same length: "time" [s], "probe_temperature" [K] and so on; of several probes each ("probe_1_temperature").
 * The values are valid as long as the cook is. */
SW_API size_t sw_cooked_curve_count(void);
SW_API const char *sw_cooked_curve_name(size_t number);
SW_API const char *sw_cooked_curve_meaning(const char *curve);
SW_API const char *sw_cooked_curve_unit(const char *curve);
SW_API sw_status sw_cooked_curve(sw_context *context, const sw_cooked *cooked, const char *curve, const double **values,
                                 size_t *length);

/* ---- many cooks ---- */

/** Takes each cook as it is done, one at a time, in whatever order, from any thread.
 * @param number of its setup
 * @param cooked NULL if it failed; destroyed afterwards
 * @param failure why it failed, as a sentence; NULL if it did not
 * @return nonzero to stop */
typedef int (*sw_take_cooked)(size_t number, const sw_cooked *cooked, const char *failure, void *data);

/** Cooks them side by side. That one fails is told to the callback and is no error.
 * @param threads 1 to SW_THREADS_MAX
 * @return also SW_ERR_CANCELLED, where the callback stopped it */
SW_API sw_status sw_setups_cook(sw_context *context, size_t count, const sw_setup *const *setups, size_t threads,
                                sw_take_cooked take, void *data);

/* ---- why it stalls ---- */

/** The same cook with one cause changed at a time, and where its heat goes. Read only. */
typedef struct sw_account sw_account;

/** Makes it, with as many cooks as there are causes and one.
 * @param account out: destroy with sw_account_destroy */
SW_API sw_status sw_setup_explain(sw_context *context, const sw_setup *setup, sw_account **account);

/** Destroys it and its cooks; NULL is allowed. */
SW_API void sw_account_destroy(sw_account *account);

/** What ends the stall: "none", "wrap", "pull", "pit", "dry", "short", "range", "heat". */
SW_API const char *sw_account_ending(const sw_account *account);

/** Its cooks: "planned", then one a cause ("no_evaporation", "damp_pit", ...). */
SW_API size_t sw_account_cook_count(void);
SW_API const char *sw_account_cook_name(size_t number);

/** One of them.
 * @param cooked out: valid as long as the account is; NULL if the planned cook is like that already or such a cook failed */
SW_API sw_status sw_account_cook(sw_context *context, const sw_account *account, const char *name, const sw_cooked **cooked);

/** The heat of each hour until the pull, or of each few of a long cook: "start", "end" [s], "probe" [K], and by where it came from and went
 * "air", "radiation", "evaporation", "vapour", "drip", "fat", "warming", "rest" [J].
 * @param room how many numbers values has room for
 * @param count out; if the room is too small nothing is written to values */
SW_API sw_status sw_account_hours(sw_context *context, const sw_account *account, const char *name, size_t room, double *values,
                                  size_t *count);

SW_END_DECLARATIONS

#endif
