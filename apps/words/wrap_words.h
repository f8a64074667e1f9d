/* SPDX-License-Identifier: BSD-3-Clause */
/* The wrap as headings tell it. */
#ifndef SW_APPS_WRAP_WORDS_H
#define SW_APPS_WRAP_WORDS_H

#include <stallwright/everything.h>

enum { WRAP_WORDS_SIZE = 32 };

/* "wrap: paper", by the name it has in a scenario, or "no wrap". Returns text. */
const char *show_wrap(sw_wrap_kind kind, char text[static WRAP_WORDS_SIZE]);

#endif
