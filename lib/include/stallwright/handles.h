/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
  * The stable interface: scenarios, cooks and explanations behind handles, set and read by name, with numbers in SI units. It
 * shows no struct, so programs need no change and no new compilation when the library grows; names stay
 * (docs/how-to/use-the-library.md has the promise, docs/changes.md the changes). Setting, cooking and reading need no file and no
 * units database, and start no thread, except in sw_setups_cook.
 *
 * Unless stated otherwise functions return SW_OK; SW_ERR_ARGUMENT for an unknown name or a value of the wrong kind, and
 * SW_ERR_RANGE for a number out of its range, both with a sentence in the context; or SW_ERR_MEMORY. On error they leave
 * everything unchanged. The context may be NULL if only the status matters. */
#ifndef STALLWRIGHT_HANDLES_H
#define STALLWRIGHT_HANDLES_H

#include <stallwright/context.h>

#include <stddef.h>

SW_BEGIN_DECLARATIONS

/* ---- a scenario ---- */

/** Everything a cook decides before the fire is lit. */
typedef struct sw_setup sw_setup;

/** Creates the default scenario.
 * @param setup out: destroy with sw_setup_destroy */
SW_API sw_status sw_setup_create(sw_context *context, sw_setup **setup);

/** Copies a setup.
 * @param clone out: destroy with sw_setup_destroy */
SW_API sw_status sw_setup_clone(sw_context *context, const sw_setup *setup, sw_setup **clone);

/** Destroys a setup; NULL is allowed. */
SW_API void sw_setup_destroy(sw_setup *setup);

/** The number of keys, the name of each ("pit.temperature"), its meaning and its SI unit ("K", "1"). Meaning and unit are NULL for
 * an unknown name. docs/reference/scenario.md lists all keys with their ranges. */
SW_API size_t sw_setup_key_count(void);
SW_API const char *sw_setup_key_name(size_t number);
SW_API const char *sw_setup_key_meaning(const char *key);
SW_API const char *sw_setup_key_unit(const char *key);

/** Sets or reads a number [SI unit of the key]; also pit.temperature while it is a single number. */
SW_API sw_status sw_setup_set_number(sw_context *context, sw_setup *setup, const char *key, double number);
SW_API sw_status sw_setup_number(sw_context *context, const sw_setup *setup, const char *key, double *number);

/** Sets or reads a word: text, a choice, "yes" or "no", or "usual" for a number that the cut or the pit may decide. A word that was
 * read is valid until the setup is changed or destroyed. */
SW_API sw_status sw_setup_set_word(sw_context *context, sw_setup *setup, const char *key, const char *word);
SW_API sw_status sw_setup_word(sw_context *context, const sw_setup *setup, const char *key, const char **word);

/** Sets or reads how a phase ends (pull, wrap.when, rest.until, ...): "temperature" with a probe temperature [K], "duration" [s],
 * "clock" with a time of day [s after midnight], "clock-on-day" [s after midnight of the day on which the meat went on], "none",
 * "bark", "usual" (these three with 0). */
SW_API sw_status sw_setup_set_ending(sw_context *context, sw_setup *setup, const char *key, const char *kind, double value);
SW_API sw_status sw_setup_ending(sw_context *context, const sw_setup *setup, const char *key, const char **kind, double *value);

/** Sets a list, row after row. A row of pit.temperature is start [s], temperature [K], and 1 if it then runs straight to the next
 * one, else 0; of pit.lid.openings the time [s]; of meat.outline x and y of a corner [m]. pit.learned has one row: how many cooks it
 * was learned from, then the numbers in the order of a file that track --learn writes [K, W m-2 K-1, kg per kg dry air]. For places
 * of probes see sw_setup_set_probes.
 * @param rows of the list; 0 empties it, except pit.temperature
 * @param values the numbers of all rows */
SW_API sw_status sw_setup_set_list(sw_context *context, sw_setup *setup, const char *key, size_t rows, const double *values);

/** Reads such a list.
  * @param room how many numbers fit into values
 * @param rows out; if the room is too small, nothing is written to values */
SW_API sw_status sw_setup_list(sw_context *context, const sw_setup *setup, const char *key, size_t room, double *values,
                               size_t *rows);

/** Puts probes into a section (meat.probes); without any they are at the usual places of the shape.
 * @param count 0 to 4
 * @param names one for each probe: 1 to 31 bytes, all different; copied
 * @param places two for each probe: along the section from its left end and up from its lowest point [m], -1 to 2 */
SW_API sw_status sw_setup_set_probes(sw_context *context, sw_setup *setup, size_t count, const char *const *names,
                                     const double *places);

/** How many probes were put into the section. */
SW_API size_t sw_setup_probe_count(const sw_setup *setup);

/** Name and place of one probe.
 * @param number 0 to count - 1
 * @param name out: valid until the setup is changed or destroyed
 * @param along, up out: where it is [m] */
SW_API sw_status sw_setup_probe(sw_context *context, const sw_setup *setup, size_t number, const char **name, double *along,
                                double *up);

/** Checks that the values of a setup fit together; sw_setup_cook does this too. */
SW_API sw_status sw_setup_check(sw_context *context, const sw_setup *setup);

/* ---- a cook ---- */

/** The results of a cook: its figures, words and curves. Read only. */
typedef struct sw_cooked sw_cooked;

/** Runs a cook.
 * @param observe called now and then with the time reached [s] and the probe temperature [K]; nonzero cancels; may be NULL
 * @param cooked out: destroy with sw_cooked_destroy
 * @return also SW_ERR_NEVER_ENDS, SW_ERR_SOLVER, SW_ERR_CANCELLED */
SW_API sw_status sw_setup_cook(sw_context *context, const sw_setup *setup,
                               int (*observe)(double time, double probe_temperature, void *data), void *data, sw_cooked **cooked);

/** Destroys the results of a cook; NULL is allowed. */
SW_API void sw_cooked_destroy(sw_cooked *cooked);

/** Figures, with the names of docs/reference/results-file.md ("done_time", "yield_fraction"); budgets at the pull and at the end
 * ("at_pull.evaporated_mass", "at_end.meat_mass"); sides of the cut ("top.bark"). NaN if a figure does not exist, for example
 * the length of the stall in a cook without one. */
SW_API size_t sw_cooked_figure_count(void);
SW_API const char *sw_cooked_figure_name(size_t number);
SW_API const char *sw_cooked_figure_meaning(const char *figure);
SW_API const char *sw_cooked_figure_unit(const char *figure);
SW_API sw_status sw_cooked_figure(sw_context *context, const sw_cooked *cooked, const char *figure, double *value);

/** Words: "tenderness", "top_state_at_pull". */
SW_API sw_status sw_cooked_word(sw_context *context, const sw_cooked *cooked, const char *name, const char **word);

/** Curves, all of the same length: "time" [s], "probe_temperature" [K] and so on; with several probes also one for each
 * ("probe_1_temperature"). The values are valid as long as the cook is. */
SW_API size_t sw_cooked_curve_count(void);
SW_API const char *sw_cooked_curve_name(size_t number);
SW_API const char *sw_cooked_curve_meaning(const char *curve);
SW_API const char *sw_cooked_curve_unit(const char *curve);
SW_API sw_status sw_cooked_curve(sw_context *context, const sw_cooked *cooked, const char *curve, const double **values,
                                 size_t *length);

/* ---- many cooks ---- */

/** Receives each cook when it is done: one at a time, in any order, from any thread.
 * @param number of its setup
 * @param cooked NULL if the cook failed; destroyed after the call
 * @param failure why it failed, as a sentence; NULL if it did not fail
 * @return nonzero to stop */
typedef int (*sw_take_cooked)(size_t number, const sw_cooked *cooked, const char *failure, void *data);

/** Runs several cooks in parallel. The callback learns of a cook that fails; that is not an error here.
 * @param threads 1 to SW_THREADS_MAX
 * @return also SW_ERR_CANCELLED, if the callback stopped it */
SW_API sw_status sw_setups_cook(sw_context *context, size_t count, const sw_setup *const *setups, size_t threads,
                                sw_take_cooked take, void *data);

/* ---- why it stalls ---- */

/** The same cook with one cause changed at a time, and where its heat goes. Read only. */
typedef struct sw_account sw_account;

/** Makes the account. It runs the planned cook and one more for each cause.
 * @param account out: destroy with sw_account_destroy */
SW_API sw_status sw_setup_explain(sw_context *context, const sw_setup *setup, sw_account **account);

/** Destroys an account and its cooks; NULL is allowed. */
SW_API void sw_account_destroy(sw_account *account);

/** What ends the stall: "none", "wrap", "pull", "pit", "dry", "short", "range", "heat". */
SW_API const char *sw_account_ending(const sw_account *account);

/** The cooks of an account: "planned", then one for each cause ("no_evaporation", "damp_pit", ...). */
SW_API size_t sw_account_cook_count(void);
SW_API const char *sw_account_cook_name(size_t number);

/** One cook of an account.
 * @param cooked out: valid as long as the account is; NULL if the planned cook is like that already or this cook failed */
SW_API sw_status sw_account_cook(sw_context *context, const sw_account *account, const char *name, const sw_cooked **cooked);

/** The heat of each hour until the pull (of every few hours in a long cook): "start", "end" [s], "probe" [K], where the heat came
 * from, "air", "radiation", and where it went, "evaporation", "vapour", "drip", "fat", "warming", "rest" [J].
 * @param room how many numbers fit into values
 * @param count out; if the room is too small, nothing is written to values */
SW_API sw_status sw_account_hours(sw_context *context, const sw_account *account, const char *name, size_t room, double *values,
                                  size_t *count);

SW_END_DECLARATIONS

#endif
