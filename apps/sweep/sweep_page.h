/* SPDX-License-Identifier: BSD-3-Clause */
/* The page of a sweep: what the factors do, over two of them or as a scatter, and the curve of a chosen cook. */
#ifndef SW_APPS_SWEEP_PAGE_H
#define SW_APPS_SWEEP_PAGE_H

#include "sweep_view.h"

/* Writes it to the path of --page. Prints the reason if it fails; returns an exit status. */
int sweep_page_write(const command_options *options, const sweep_view *view);

#endif
