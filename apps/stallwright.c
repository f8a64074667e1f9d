/* SPDX-License-Identifier: BSD-3-Clause */
/* stallwright: the program. Its subcommands are the apps. */
#include "apps.h"
#include "completion.h"
#include "manual.h"
#include "output_file.h"
#include "schema.h"

#include <stdlib.h>
#include <string.h>

static const subcommand *const apps[] = {&cook_app, &compare_app, &sweep_app, &explain_app, &plan_app, &track_app, &draw_app};
enum { APP_COUNT = sizeof apps / sizeof *apps };

static int print_program_help(FILE *stream)
{
    fputs("stallwright: simulates the long cook of a big cut of beef, stall and all.\n\n"
          "Usage: stallwright APP [OPTIONS] [FILE]\n\nApps:\n",
          stream);
    for (size_t i = 0; i < APP_COUNT; i++)
        fprintf(stream, "  %-9s %s\n", apps[i]->name, apps[i]->purpose);
    fputs("\nFirst steps:\n"
          "  stallwright compare                 four wraps on the built-in brisket\n"
          "  stallwright cook --print-scenario   a scenario to edit, every key explained\n"
          "  stallwright cook --help             all options\n",
          stream);
    return flush_standard_output();
}

static int print_version(void)
{
    printf("stallwright %s\nsundials %s\nhdf5 %s\n", sw_version(), sw_version_of_sundials(), sw_version_of_hdf5());
    return flush_standard_output();
}

static int unknown_app(const char *typed)
{
    const char *names[APP_COUNT];
    for (size_t i = 0; i < APP_COUNT; i++)
        names[i] = apps[i]->name;
    const char *near = sw_nearest_word(typed, names, APP_COUNT);
    if (near)
        print_error("\"%s\" is no app, did you mean \"%s\"?", typed, near);
    else if (typed[0] == '-')
        print_error("unknown option \"%s\"; options come after an app, \"stallwright --help\" lists the apps", typed);
    else
        print_error("\"%s\" is no app; \"stallwright --help\" lists them", typed);
    return EXIT_BAD_USE;
}

static int obey(const subcommand *app, const command_options *o, int argc, char **argv)
{
    if (o->help) {
        options_print_help(app, stdout);
        return flush_standard_output();
    }
    return o->version ? print_version() : app->run(o, argc, argv);
}

static int run_app(const subcommand *app, int argc, char **argv)
{
    /* getopt moves the arguments around; the results file records them as they were typed. */
    char **typed = malloc((size_t)argc * sizeof *typed);
    command_options *o = malloc(app->options_size);
    int status = EXIT_FAILED;
    if (typed && o) {
        memcpy(typed, argv, (size_t)argc * sizeof *typed);
        status = options_read(app, argc, argv, o);
        if (status == EXIT_DONE)
            status = obey(app, o, argc, typed);
    } else {
        print_error("the command line cannot be kept: %s", sw_status_text(SW_ERR_MEMORY));
    }
    free(o);
    free(typed);
    return status;
}

static int run(int argc, char **argv)
{
    if (argc < 2 || strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0)
        return print_program_help(stdout);
    if (strcmp(argv[1], "--version") == 0 || strcmp(argv[1], "-V") == 0)
        return print_version();
    if (strcmp(argv[1], "--complete") == 0)
        return completion_print(apps, APP_COUNT, argc - 2, argv + 2);
    if (strcmp(argv[1], "--manual") == 0)
        return manual_print(apps, APP_COUNT, argc > 2 ? argv[2] : NULL);
    if (strcmp(argv[1], "--schema") == 0)
        return schema_print(argc > 2 ? argv[2] : NULL);
    for (size_t i = 0; i < APP_COUNT; i++)
        if (strcmp(argv[1], apps[i]->name) == 0)
            return run_app(apps[i], argc - 1, argv + 1);
    return unknown_app(argv[1]);
}

int main(int argc, char **argv)
{
    int status = run(argc, argv);
    /* Some file systems tell only at the close that data did not reach them. */
    return status == EXIT_DONE ? close_standard_output() : status;
}
