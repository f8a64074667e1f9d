/* The options of all apps: one table, so that an option means the same everywhere, and parsing and help cannot drift. */
#ifndef SW_APPS_OPTIONS_H
#define SW_APPS_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include <stallwright/stallwright.h>

/* Exit statuses of the program. */
enum { EXIT_DONE = 0, EXIT_FAILED = 1, EXIT_BAD_USE = 2, EXIT_INTERRUPTED = 130 };

typedef enum output_format { FORMAT_TABLE, FORMAT_CSV, FORMAT_JSON } output_format;
typedef enum sweep_design { DESIGN_AUTO, DESIGN_GRID, DESIGN_HALTON } sweep_design;
typedef enum progress_mode { PROGRESS_AUTO, PROGRESS_ALWAYS, PROGRESS_NEVER } progress_mode;

enum { ASSIGNMENTS_MAX = 64 };

/* What the command line says. Texts are borrowed from it. */
typedef struct command_options {
    const char *input_path; /* the scenario, NULL: the default one; of draw: the results */
    const char *assignments[ASSIGNMENTS_MAX];
    size_t assignment_count;
    bool print_scenario;
    bool sensitivity;
    int format; /* an output_format */
    int units;  /* a sw_unit_system */
    const char *plot_path;   /* NULL: no plot */
    const char *page_path;   /* NULL: no page */
    const char *output_path; /* NULL: no results file */
    const char *wraps;       /* NULL: all */
    const char *wrap_at;     /* NULL: as the scenario says */
    int by;                  /* a criterion; -1: not ranked */
    const char *hours;       /* NULL: chosen by the app */
    const char *variations[ASSIGNMENTS_MAX];
    size_t variation_count;
    int design;          /* a sweep_design */
    const char *runs;    /* NULL: chosen by the app */
    const char *seed;    /* NULL: 0 */
    const char *threads; /* NULL: one a processor */
    bool resume;
    bool force, quiet, verbose;
    int progress; /* a progress_mode */
    bool help, version;
} command_options;

/* An app: its name, what it answers and how it runs. */
typedef struct subcommand {
    const char *name;
    const char *purpose;     /* one line */
    const char *arguments;   /* after the name, for the usage line */
    const char *option_names; /* those it takes, by long name, one blank between */
    const char *examples[2];
    int (*run)(const command_options *options, int argc, char **argv);
} subcommand;

/* Reads the command line of an app, argv[0] being the app's name. Says what is wrong on standard error.
 * Returns EXIT_DONE or EXIT_BAD_USE. */
int options_read(const subcommand *app, int argc, char **argv, command_options *options);

/* Prints the help of an app; fits a screen of 24 lines of 80 columns. */
void options_print_help(const subcommand *app, FILE *stream);

/* "stallwright: error: ..." on standard error; what could upset a terminal as \xNN. */
void print_error(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* "stallwright: note: ..." on standard error, unless quiet. */
void print_note(const command_options *options, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
