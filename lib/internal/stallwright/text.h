/** @file
 * Words and units as people type and read them. */
#ifndef STALLWRIGHT_TEXT_H
#define STALLWRIGHT_TEXT_H

#include <stallwright/scenario.h>

#include <stdio.h>

SW_BEGIN_DECLARATIONS

/** The word among several that somebody who typed another one probably meant, for "did you mean"; NULL if none is near. */
SW_API const char *sw_nearest_word(const char *typed, const char *const *words, size_t count);

/** Writes text for a terminal: bytes that could upset it (control characters, marks that turn the direction of text, what is
 * no UTF-8) as \xNN. */
SW_API void sw_write_escaped(const char *text, FILE *stream);

SW_END_DECLARATIONS

#endif
