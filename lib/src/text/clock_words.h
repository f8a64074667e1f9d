/* SPDX-License-Identifier: BSD-3-Clause */
/* Times of day in words: "9pm", "9:30 pm", "noon", "midnight". */
#ifndef SW_IO_CLOCK_WORDS_H
#define SW_IO_CLOCK_WORDS_H

#include <stddef.h>

enum { SW_CLOCK_WORDS_SIZE = 16 };

/* Writes the time that text begins with as the 24-hour clock has it, such as "21:30".
 * Returns how many characters it takes; 0, with plain unchanged, if text begins with no time in words. */
size_t sw_clock_words(const char *text, char plain[SW_CLOCK_WORDS_SIZE]);

#endif
