/* SPDX-License-Identifier: BSD-3-Clause */
/* Cooks a draw of a population by hand, as those side by side are cooked. */
#ifndef SW_TESTS_DRAW_COOKED_H
#define SW_TESTS_DRAW_COOKED_H

#include <stallwright/everything.h>

/* Coarsely or not; a balance left open is made again at a tenth of the tolerance, twice at most. It must then cook. */
sw_outcome draw_cooked(sw_scenario scenario, bool coarse);

#endif
