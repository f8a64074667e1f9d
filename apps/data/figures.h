/* SPDX-License-Identifier: BSD-3-Clause */
/* The figures of a cook under the keys that JSON and CSV share; docs/reference/json-output.md lists them. */
#ifndef SW_APPS_FIGURES_H
#define SW_APPS_FIGURES_H

#include <stallwright/everything.h>

#define SW_COUNT_ONE(name, unit, long_name) +1
enum { FIGURE_KEY_SIZE = 80, FIGURES_MAX = 5 SW_OUTCOME_LIST(SW_COUNT_ONE) };
#undef SW_COUNT_ONE

typedef struct figure {
    char key[FIGURE_KEY_SIZE];
    double value; /* SI; SW_ABSENT if it does not exist */
} figure;

/* The key of a figure, its unit at the end: "done_time" in s is "done_s", "probe_temperature" in K "probe_k".
 * Written into a text of FIGURE_KEY_SIZE and returned. */
const char *figure_key(const char *name, const char *unit, char *key);

/* Probe temperature at which the wrap goes on; SW_ABSENT without a wrap or if it goes on by time. */
double wrap_at_probe(const sw_wrap *wrap);

/* Every figure of one choice: its outcome, what it saves against a cook that takes unwrapped_done seconds, and the masses
 * lost until slicing. All are absent if the cook failed. figures has room for FIGURES_MAX; returns their number. */
size_t choice_figures(const sw_run *run, double unwrapped_done, figure *figures);

#endif
