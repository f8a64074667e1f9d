/* SPDX-License-Identifier: BSD-3-Clause */
#include "wrap_words.h"

#include <stdio.h>

const char *show_wrap(sw_wrap_kind kind, char text[static WRAP_WORDS_SIZE])
{
    snprintf(text, WRAP_WORDS_SIZE, "%s%s", kind == SW_WRAP_NONE ? "no wrap" : "wrap: ", kind == SW_WRAP_NONE ? "" : sw_wrap_name(kind));
    return text;
}
