/* SPDX-License-Identifier: BSD-3-Clause */
/* What could come next on a command line that is being typed: the completion scripts of the shells (apps/completions) ask the
 * program, so that they need not know its options. */
#ifndef SW_APPS_COMPLETION_H
#define SW_APPS_COMPLETION_H

#include "options.h"

/* Prints the words that could stand in the place of the last of those typed, one a line: apps, options, words of an option, keys of
 * a scenario ("meat.cut=") and their values ("meat.cut=packer"). A line "<file>" asks the shell for names of files, those with
 * the endings behind it.
 * words: after the program's name, the last as far as it is typed, maybe empty. Returns an exit status. */
int completion_print(const subcommand *const *apps, size_t app_count, int count, char **words);

#endif
