/* SPDX-License-Identifier: BSD-3-Clause */
/* Pages of the manual, made from the apps' tables of options, the table of keys and committed words (manual_words.c). */
#ifndef SW_APPS_MANUAL_H
#define SW_APPS_MANUAL_H

#include "options.h"

/* Prints the names of all pages, one a line ("stallwright-cook.1"), or one page, in the language of man. Returns an exit status.
 * page: NULL for the names. */
int manual_print(const subcommand *const *apps, size_t app_count, const char *page);

#endif
