/* SPDX-License-Identifier: BSD-3-Clause */
/* What the program says on standard error besides progress, and the exit statuses it ends with. */
#ifndef SW_APPS_MESSAGES_H
#define SW_APPS_MESSAGES_H

struct command_options;

/* Exit statuses of the program. */
enum { EXIT_DONE = 0, EXIT_FAILED = 1, EXIT_BAD_USE = 2, EXIT_INTERRUPTED = 130 };

/* "stallwright: error: ..." on standard error; what could upset a terminal as \xNN. */
void print_error(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* "stallwright: note: ..." on standard error, unless quiet. */
void print_note(const struct command_options *options, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
