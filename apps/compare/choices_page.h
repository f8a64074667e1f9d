/* SPDX-License-Identifier: BSD-3-Clause */
/* The page of a comparison: a table of its choices, their curves, and a laboratory that moves between them. */
#ifndef SW_APPS_CHOICES_PAGE_H
#define SW_APPS_CHOICES_PAGE_H

#include "options.h"

enum { CHOICES_PAGE_MAX = 16 };

/* Writes it to the path of --page; modelled is the meat as it was cooked. Prints the reason if it fails; returns an exit
 * status. */
int choices_page_write(const command_options *options, const sw_scenario *modelled, const sw_run *runs, const sw_band *const *bands,
                       size_t count);

#endif
