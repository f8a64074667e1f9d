/* SPDX-License-Identifier: BSD-3-Clause */
/* A plan as a file for calendars (RFC 5545). Of the apps, only calendar_file.c sees libical. */
#ifndef SW_APPS_CALENDAR_FILE_H
#define SW_APPS_CALENDAR_FILE_H

#include "options.h"
#include "plan_view.h"

/* Whether this build can write one. */
bool calendar_is_built_in(void);

/* Writes the timetable of one piece or several to a path, an event a row, with alarms where there is something to do; times of the
 * plan's zone. Of plans with a date and with starts. Prints the reason if it fails; returns an exit status. */
int calendar_write(const plan_view *views, size_t pieces, const command_options *options, const char *path);

#endif
