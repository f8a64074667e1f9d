/* SPDX-License-Identifier: BSD-3-Clause */
/* The options of the apps. Each app lists those it takes, shared ones and its own; parsing, help and whatever else describes
 * the command line are made from these lists. What several apps take stands here, so that it means the same everywhere. */
#ifndef SW_APPS_OPTIONS_H
#define SW_APPS_OPTIONS_H

#include "messages.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <stallwright/everything.h>

typedef enum output_format { FORMAT_TABLE, FORMAT_JSON, FORMAT_CSV } output_format;
typedef enum progress_mode { PROGRESS_AUTO, PROGRESS_ALWAYS, PROGRESS_NEVER } progress_mode;

enum { OPTION_TEXTS_MAX = 64 };

/* The texts of an option that may be repeated. */
typedef struct text_list {
    size_t count;
    const char *texts[OPTION_TEXTS_MAX];
} text_list;

/* A whole number, if it is given. */
typedef struct whole_number {
    bool is_given;
    uint64_t value;
} whole_number;

/* What the command line says of what several apps take. Texts are borrowed from it. */
typedef struct command_options {
    const char *input_path; /* the scenario, NULL: the default one; of draw: the results */
    text_list assignments;
    output_format format;
    sw_unit_system units;
    const char *hours;       /* NULL: chosen by the app */
    const char *plot_path;   /* NULL: no plot */
    const char *page_path;   /* NULL: no page */
    const char *output_path; /* NULL: no results file */
    bool no_band;            /* leave out how far a cook may lie from what is computed */
    bool force, quiet, verbose;
    progress_mode progress;
    bool help, version;
} command_options;

/* What an option does with its field of the options. */
typedef enum option_kind {
    OPTION_FLAG,   /* a bool */
    OPTION_TEXT,   /* a text */
    OPTION_TEXTS,  /* a text_list */
    OPTION_CHOICE, /* an enum; its values number the choices */
    OPTION_WHOLE   /* a whole_number */
} option_kind;

/* One option: how it is written, what its help says and where its value goes. */
typedef struct command_option {
    const char *name; /* long */
    char letter;      /* short; 0 for none */
    option_kind kind;
    size_t field;         /* offset in the options of the app */
    const char *value;    /* name of its value; NULL for a flag */
    const char *choices;  /* allowed words, one blank between; the number of the word is the value */
    uint64_t least, most; /* of a whole number */
    const char *endings;  /* of the names of files it takes, one blank between; NULL: any */
    const char *takes;    /* the same in words, for who gave another */
    const char *(*word)(int number); /* what a list with commas is made of, for completion; NULL past the last */
    const char *help;
} command_option;

/* The offset of a choice, which must be as large as an int. */
#define CHOICE_FIELD(options, name) \
    (offsetof(options, name) + 0 * sizeof(char[sizeof(((options *)NULL)->name) == sizeof(int) ? 1 : -1]))

/* What several apps take. */
extern const command_option option_set, option_hours, option_format, option_format_no_csv, option_units, option_plot, option_page, option_output,
    option_no_band, option_force, option_quiet, option_verbose, option_progress, option_help, option_version;

/* An app: its name, what it answers and how it runs. */
typedef struct subcommand {
    const char *name;
    const char *purpose;                  /* one line */
    const char *arguments;                /* after the name, for the usage line */
    const command_option *const *options; /* those it takes, in the order of its help; NULL ends them */
    size_t options_size;                  /* of what they say: a struct that begins with command_options */
    const void *defaults;                 /* of that size; NULL: all zero */
    const char *examples[2];
    int (*run)(const void *options, int argc, char **argv);
} subcommand;

/* Reads the command line of an app, argv[0] being the app's name, into options of its size. Says what is wrong on standard
 * error. Returns EXIT_DONE or EXIT_BAD_USE. */
int options_read(const subcommand *app, int argc, char **argv, command_options *options);

/* Prints the help of an app; fits a screen of 24 lines of 80 columns. */
void options_print_help(const subcommand *app, FILE *stream);

#endif
