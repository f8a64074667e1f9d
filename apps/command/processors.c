/* SPDX-License-Identifier: BSD-3-Clause */
#include "processors.h"

#include <stallwright/study.h>

#include <unistd.h>

size_t count_processors(void)
{
    const long count = sysconf(_SC_NPROCESSORS_ONLN);
    return count < 1 ? 1 : count < SW_THREADS_MAX ? (size_t)count : SW_THREADS_MAX;
}
