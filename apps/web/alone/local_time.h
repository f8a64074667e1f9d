/* SPDX-License-Identifier: BSD-3-Clause */
/* Local time of a machine without time zones: the page is asked how far its clock is ahead. */
#ifndef SW_WEB_LOCAL_TIME_H
#define SW_WEB_LOCAL_TIME_H

#include <time.h>

#define localtime_r web_localtime_r
#define mktime web_mktime
#define tzset() ((void)0)

struct tm *web_localtime_r(const time_t *time, struct tm *result);

/* Of an hour that summer time leaves out the one as far behind, of one that comes twice the first. */
time_t web_mktime(struct tm *local);

#endif
