/* SPDX-License-Identifier: BSD-3-Clause */
#include "local_time.h"

/* How far the local clock is ahead of universal time at a moment [s]: the page's function. */
__attribute__((import_module("page"), import_name("ahead"))) double page_ahead(double unix_time);

struct tm *web_localtime_r(const time_t *time, struct tm *result)
{
    const time_t there = *time + (time_t)page_ahead((double)*time);
    return gmtime_r(&there, result);
}

time_t web_mktime(struct tm *local)
{
    const time_t day = 86400;
    struct tm wanted = *local;
    const time_t there = timegm(&wanted);
    /* What was in force a day before is tried first: it is so until the clock is changed. */
    time_t found = there - (time_t)page_ahead((double)(there - day));
    if (found + (time_t)page_ahead((double)found) != there) {
        const time_t other = there - (time_t)page_ahead((double)(there + day));
        found = other + (time_t)page_ahead((double)other) == there ? other : found;
    }
    web_localtime_r(&found, local);
    return found;
}
