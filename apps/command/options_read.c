/* SPDX-License-Identifier: BSD-3-Clause */
#include "options.h"

#include <errno.h>
#include <getopt.h>
#include <stdlib.h>
#include <string.h>

/* What getopt returns for the first of the long names; those below are letters. */
enum { OPTIONS_MAX = 32, FIRST_NAME = 256 };

static size_t count_options(const subcommand *app)
{
    size_t count = 0;
    while (count < OPTIONS_MAX && app->options[count])
        count++;
    return count;
}

static const command_option *find_name(const subcommand *app, const char *name, size_t length)
{
    for (const command_option *const *at = app->options; *at; at++)
        if (strlen((*at)->name) == length && strncmp((*at)->name, name, length) == 0)
            return *at;
    return NULL;
}

static const command_option *find_letter(const subcommand *app, int letter)
{
    for (const command_option *const *at = app->options; *at; at++)
        if ((*at)->letter != 0 && (*at)->letter == letter)
            return *at;
    return NULL;
}

static int bad_option(const subcommand *app, const char *typed)
{
    const char *names[OPTIONS_MAX], *near = NULL;
    const size_t count = count_options(app);
    for (size_t i = 0; i < count; i++)
        names[i] = app->options[i]->name;
    if (strncmp(typed, "--", 2) == 0) {
        char word[64];
        snprintf(word, sizeof word, "%.*s", (int)strcspn(typed + 2, "="), typed + 2);
        near = sw_nearest_word(word, names, count);
    }
    if (near)
        print_error("unknown option \"%s\", did you mean \"--%s\"?", typed, near);
    else
        print_error("unknown option \"%s\"; \"stallwright %s --help\" lists them", typed, app->name);
    return EXIT_BAD_USE;
}

/* ---- values ---- */

static int read_choice(const command_option *option, const char *typed, void *field)
{
    const char *words[8], *near;
    char copy[64], *rest = NULL;
    int count = 0;
    snprintf(copy, sizeof copy, "%s", option->choices);
    for (char *word = strtok_r(copy, " ", &rest); word; word = strtok_r(NULL, " ", &rest))
        words[count++] = word;
    for (int i = 0; i < count; i++)
        if (strcmp(words[i], typed) == 0) {
            /* An enum of whatever type, as large as an int. */
            memcpy(field, &i, sizeof i);
            return EXIT_DONE;
        }
    near = sw_nearest_word(typed, words, (size_t)count);
    print_error("--%s is \"%s\"; allowed are: %s%s%s%s", option->name, typed, option->choices,
                near ? "; did you mean \"" : "", near ? near : "", near ? "\"?" : "");
    return EXIT_BAD_USE;
}

static int read_whole(const command_option *option, const char *typed, whole_number *number)
{
    char *end;
    errno = 0;
    const unsigned long long value = strtoull(typed, &end, 10);
    const bool is_whole = *typed >= '0' && *typed <= '9' && *end == '\0';
    if (is_whole && errno == 0 && value >= option->least && value <= option->most) {
        *number = (whole_number){true, value};
        return EXIT_DONE;
    }
    print_error("--%s is \"%s\"; it takes a whole number from %llu to %llu", option->name, typed,
                (unsigned long long)option->least, (unsigned long long)option->most);
    return EXIT_BAD_USE;
}

static int add_text(const command_option *option, const char *typed, text_list *list)
{
    if (list->count == OPTION_TEXTS_MAX) {
        print_error("--%s is given more than %d times", option->name, OPTION_TEXTS_MAX);
        return EXIT_BAD_USE;
    }
    list->texts[list->count++] = typed;
    return EXIT_DONE;
}

static int apply(const command_option *option, const char *typed, command_options *o)
{
    void *field = (char *)o + option->field;
    switch (option->kind) {
    case OPTION_FLAG:
        *(bool *)field = true;
        return EXIT_DONE;
    case OPTION_TEXT:
        *(const char **)field = typed;
        return EXIT_DONE;
    case OPTION_TEXTS:
        return add_text(option, typed, field);
    case OPTION_CHOICE:
        return read_choice(option, typed, field);
    case OPTION_WHOLE:
        return read_whole(option, typed, field);
    }
    return EXIT_BAD_USE;
}

/* ---- the command line ---- */

/* getopt_long would take any beginning of a name for the name; here names are exact. */
static int check_exact(const subcommand *app, int argc, char **argv)
{
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++) {
        if (strncmp(argv[i], "--", 2) != 0)
            continue;
        const command_option *option = find_name(app, argv[i] + 2, strcspn(argv[i] + 2, "="));
        if (!option)
            return bad_option(app, argv[i]);
        if (option->value && !strchr(argv[i], '='))
            i++; /* its value comes next */
    }
    return EXIT_DONE;
}

/* What getopt is told of the options of an app. */
typedef struct getopt_lists {
    struct option names[OPTIONS_MAX + 1];
    char letters[2 * OPTIONS_MAX + 2];
} getopt_lists;

static getopt_lists list_options(const subcommand *app)
{
    getopt_lists lists = {.letters = ":"};
    const size_t count = count_options(app);
    size_t used = 1;
    for (size_t i = 0; i < count; i++) {
        const command_option *option = app->options[i];
        const int has_value = option->value ? required_argument : no_argument;
        lists.names[i] = (struct option){option->name, has_value, NULL, FIRST_NAME + (int)i};
        if (option->letter)
            lists.letters[used++] = option->letter;
        if (option->letter && option->value)
            lists.letters[used++] = ':';
    }
    return lists;
}

/* Says what getopt did not like. */
static int refuse(const subcommand *app, int code, char **argv)
{
    const char *typed = argv[optind - 1], letter[] = {'-', (char)optopt, '\0'};
    if (code != ':' && optopt < FIRST_NAME)
        return bad_option(app, optopt ? letter : typed);
    print_error(code == ':' ? "option \"%s\" needs a value" : "option \"%s\" takes no value", typed);
    return EXIT_BAD_USE;
}

static int read_options(const subcommand *app, int argc, char **argv, command_options *o)
{
    const getopt_lists lists = list_options(app);
    int status = EXIT_DONE;
    opterr = 0;
    optind = 1;
    for (int code; status == EXIT_DONE && (code = getopt_long(argc, argv, lists.letters, lists.names, NULL)) != -1;) {
        const command_option *option = code >= FIRST_NAME ? app->options[code - FIRST_NAME] : find_letter(app, code);
        status = option ? apply(option, optarg, o) : refuse(app, code, argv);
    }
    return status;
}

int options_read(const subcommand *app, int argc, char **argv, command_options *o)
{
    if (app->defaults)
        memcpy(o, app->defaults, app->options_size);
    else
        memset(o, 0, app->options_size);
    int status = check_exact(app, argc, argv);
    if (status == EXIT_DONE)
        status = read_options(app, argc, argv, o);
    if (status != EXIT_DONE)
        return status;
    if (optind < argc)
        o->input_path = argv[optind++];
    if (optind < argc) {
        print_error("\"%s\" is one file too many; \"stallwright %s\" takes one", argv[optind], app->name);
        return EXIT_BAD_USE;
    }
    return EXIT_DONE;
}
