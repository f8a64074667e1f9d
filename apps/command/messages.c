/* SPDX-License-Identifier: BSD-3-Clause */
#include "messages.h"

#include "options.h"

#include <stdarg.h>
#include <stdlib.h>

/* Names of files and options come from outside: nothing in them may reach a terminal as a command. */
static void print_sentence(const char *kind, const char *format, va_list arguments)
{
    char *sentence = NULL;
    if (vasprintf(&sentence, format, arguments) < 0)
        sentence = NULL;
    fprintf(stderr, "stallwright: %s: ", kind);
    sw_write_escaped(sentence ? sentence : sw_status_text(SW_ERR_MEMORY), stderr);
    fputc('\n', stderr);
    free(sentence);
}

void print_error(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    print_sentence("error", format, arguments);
    va_end(arguments);
}

void print_note(const command_options *options, const char *format, ...)
{
    if (options->quiet)
        return;
    va_list arguments;
    va_start(arguments, format);
    print_sentence("note", format, arguments);
    va_end(arguments);
}
