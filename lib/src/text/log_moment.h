/* SPDX-License-Identifier: BSD-3-Clause */
/* When a row of a log was taken, as loggers write it: 12.5 with a unit in the heading, 0:30, 22:15, 2026-11-26T22:15:00. */
#ifndef SW_IO_LOG_MOMENT_H
#define SW_IO_LOG_MOMENT_H

#include <stdbool.h>

typedef enum sw_moment_kind {
    SW_MOMENT_NUMBER, /* nothing of the kinds below */
    SW_MOMENT_HOURS,  /* H:MM or H:MM:SS, of a clock or since the start */
    SW_MOMENT_DATED   /* ISO 8601: a date and a time of day */
} sw_moment_kind;

typedef struct sw_moment {
    sw_moment_kind kind;
    double seconds; /* of H:MM; since 1970 of a date, less its offset from UTC [s] */
    double clock;   /* time of day as written [s after midnight] */
} sw_moment;

/* Reads a moment; false if it begins as a time of day or a date but is none. A text without ":" and "T" is a number, which is
 * left to the caller. */
bool sw_log_moment_read(const char *text, sw_moment *moment);

#endif
