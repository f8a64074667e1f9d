/* SPDX-License-Identifier: BSD-3-Clause */
/* How many cooks may run side by side here. */
#ifndef SW_APPS_PROCESSORS_H
#define SW_APPS_PROCESSORS_H

#include <stddef.h>

/* 1..SW_THREADS_MAX. */
size_t count_processors(void);

#endif
