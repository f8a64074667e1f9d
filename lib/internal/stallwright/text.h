/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Words and units as people type and read them. */
#ifndef STALLWRIGHT_TEXT_H
#define STALLWRIGHT_TEXT_H

#include <stallwright/scenario.h>

#include <stdint.h>
#include <stdio.h>

SW_BEGIN_DECLARATIONS

/** The word among several that somebody who typed another one probably meant, for "did you mean"; NULL if none is near. */
SW_API const char *sw_nearest_word(const char *typed, const char *const *words, size_t count);

/** Writes text for a terminal: bytes that could upset it (control characters, marks that turn the direction of text, what is
 * no UTF-8) as \xNN. */
SW_API void sw_write_escaped(const char *text, FILE *stream);

/** The moment that files say they were made at: now, or, for files that are to be the same when they are made again, that which the
 * environment sets, SOURCE_DATE_EPOCH.
 * @param seconds out: since 1970, in UTC, before the year 10000
 * @return SW_OK; SW_ERR_ARGUMENT with a sentence, if what the environment sets is no such number */
SW_API sw_status sw_moment_of_making(sw_context *context, int64_t *seconds);

SW_END_DECLARATIONS

#endif
