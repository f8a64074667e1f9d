/* SPDX-License-Identifier: BSD-3-Clause */
/* Cuts of every shape, and plausible random states of them, for tests that must hold for all. */
#ifndef SW_TESTS_CUTS_H
#define SW_TESTS_CUTS_H

#include "body.h"
#include "wrap.h"

enum { CUT_COUNT = 7 };

/* Cut number 0..CUT_COUNT - 1 as a scenario: slab, slab with a fat cap on top, slab with one below, cylinder, sphere,
 * rectangular section with a fat cap, whole brisket lengthwise with cap and seam. */
void cut_scenario(int number, sw_scenario *scenario);
const char *cut_name(int number);

/* The pit's air of a scenario, at its first step. */
sw_surroundings pit_air(const sw_scenario *scenario, const sw_body *body);

/* Puts the body there under a wrap that holds nothing. */
void surround_body(sw_body *body, const sw_scenario *scenario, const sw_surroundings *around, sw_wrap_kind wrap);

/* Uniform in 0..1; the same row of numbers every time from the same seed. */
double random_share(unsigned long long *seed);

/* Temperatures 5..115 C, rising outwards past boiling, and water contents from dry to raw, both with noise. */
void random_state(const sw_body *body, unsigned long long *seed, double *state);

#endif
