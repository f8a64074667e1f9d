/* SPDX-License-Identifier: BSD-3-Clause */
/* The history of a cook as comma-separated values. */
#ifndef SW_APPS_CSV_HISTORY_H
#define SW_APPS_CSV_HISTORY_H

#include <stallwright/everything.h>

/* The history of a cook, one line a row. Returns an exit status. */
int csv_print_history(const sw_run *run);

#endif
