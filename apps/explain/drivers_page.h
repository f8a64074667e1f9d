/* SPDX-License-Identifier: BSD-3-Clause */
/* The part of the page on what drives the plateau, and how sure that is. */
#ifndef SW_APPS_DRIVERS_PAGE_H
#define SW_APPS_DRIVERS_PAGE_H

#include "page.h"

/* Fills {{drivers}}: the inputs that move the stall by more than the least that matters, the largest first; without a stall,
 * those that move the done time. */
void put_drivers(page *page, const sw_sensitivity *sensitivity, const sw_outcome *planned);

#endif
