/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook that takes milliseconds. */
#ifndef SW_TESTS_COARSE_COOK_H
#define SW_TESTS_COARSE_COOK_H

#include <stallwright/everything.h>

/* The default scenario up to the pull, with so few cells and so wide a tolerance that many of it can be run. */
sw_scenario coarse_scenario(void);

#endif
