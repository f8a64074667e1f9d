/* stallwright: the program. Its subcommands are the apps. */
#include "apps.h"
#include "output_file.h"

#include <stdlib.h>
#include <string.h>

static const subcommand *const apps[] = {&cook_app, &compare_app};
enum { APP_COUNT = sizeof apps / sizeof *apps };

static int print_program_help(FILE *stream)
{
    fputs("stallwright: simulates the long cook of a big cut of beef, stall and all.\n\n"
          "Usage: stallwright APP [OPTIONS] [SCENARIO.yaml]\n\nApps:\n",
          stream);
    for (size_t i = 0; i < APP_COUNT; i++)
        fprintf(stream, "  %-9s %s\n", apps[i]->name, apps[i]->purpose);
    fputs("\nFirst steps:\n"
          "  stallwright compare                 four wraps on the built-in brisket\n"
          "  stallwright cook --print-scenario   a scenario to edit, every key explained\n"
          "  stallwright cook --help             all options\n",
          stream);
    return flush_standard_output() ? EXIT_DONE : EXIT_FAILED;
}

static int print_version(void)
{
    printf("stallwright %s\nsundials %s\nhdf5 %s\n", sw_version(), sw_version_of_sundials(), sw_version_of_hdf5());
    return flush_standard_output() ? EXIT_DONE : EXIT_FAILED;
}

static int unknown_app(const char *typed)
{
    const char *names[APP_COUNT];
    for (size_t i = 0; i < APP_COUNT; i++)
        names[i] = apps[i]->name;
    const char *near = sw_nearest_word(typed, names, APP_COUNT);
    if (near)
        print_error("\"%s\" is no app, did you mean \"%s\"?", typed, near);
    else
        print_error("\"%s\" is no app; \"stallwright --help\" lists them", typed);
    return EXIT_BAD_USE;
}

static int run_app(const subcommand *app, int argc, char **argv)
{
    /* getopt moves the arguments around; the results file records them as they were typed. */
    char **typed = malloc((size_t)argc * sizeof *typed);
    if (!typed) {
        print_error("memory could not be allocated");
        return EXIT_FAILED;
    }
    memcpy(typed, argv, (size_t)argc * sizeof *typed);
    command_options o;
    int status = options_read(app, argc, argv, &o);
    if (status == EXIT_DONE && o.help) {
        options_print_help(app, stdout);
        status = flush_standard_output() ? EXIT_DONE : EXIT_FAILED;
    } else if (status == EXIT_DONE && o.version) {
        status = print_version();
    } else if (status == EXIT_DONE) {
        status = app->run(&o, argc, typed);
    }
    free(typed);
    return status;
}

int main(int argc, char **argv)
{
    if (argc < 2 || strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0)
        return print_program_help(stdout);
    if (strcmp(argv[1], "--version") == 0 || strcmp(argv[1], "-V") == 0)
        return print_version();
    for (size_t i = 0; i < APP_COUNT; i++)
        if (strcmp(argv[1], apps[i]->name) == 0)
            return run_app(apps[i], argc - 1, argv + 1);
    return unknown_app(argv[1]);
}
