/* SPDX-License-Identifier: BSD-3-Clause */
/* The choices of a comparison as comma-separated values. */
#ifndef SW_APPS_CSV_CHOICES_H
#define SW_APPS_CSV_CHOICES_H

#include <stallwright/everything.h>

#include <stallwright/ranking.h>

/* The outcomes of several cooks, one line a cook; their places too if ranking is not NULL. Returns an exit status. */
int csv_print_choices(const sw_run *runs, const sw_band *const *bands, size_t count, double unwrapped_done, const sw_ranking *ranking);

#endif
