/* SPDX-License-Identifier: BSD-3-Clause */
#include "outputs.h"

#include "output_file.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char *last_part(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

static bool stat_folder(const char *path, struct stat *about)
{
    char folder[OUTPUT_PATH_SIZE];
    const int length = (int)(last_part(path) - path);
    return snprintf(folder, sizeof folder, "%.*s", length ? length : 1, length ? path : ".") < (int)sizeof folder &&
           stat(folder, about) == 0;
}

/* Whether two paths name the same file, however they are written. */
static bool is_same_file(const char *a, const char *b)
{
    struct stat in_a, in_b;
    return strcmp(last_part(a), last_part(b)) == 0 && stat_folder(a, &in_a) && stat_folder(b, &in_b) &&
           in_a.st_dev == in_b.st_dev && in_a.st_ino == in_b.st_ino;
}

static bool differ(const char *option, const char *path, const char *other_option, const char *other)
{
    if (!path || !other || !is_same_file(path, other))
        return true;
    print_error("--%s and --%s name the same file, \"%s\"", option, other_option, path);
    return false;
}

/* "-" is standard input where a file is read; it would be taken for standard output here, which is for the tables. */
static bool is_file_name(const char *option, const char *path)
{
    if (!path || strcmp(path, "-") != 0)
        return true;
    print_error("--%s is \"-\"; it needs the name of a file and cannot go to standard output", option);
    return false;
}

int output_ending(const command_option *option, const char *path)
{
    const size_t length = strlen(path);
    int number = 0;
    for (const char *at = option->endings; *at; number++) {
        const size_t span = strcspn(at, " ");
        if (length > span && strncmp(path + length - span, at, span) == 0)
            return number;
        at += span + (at[span] == ' ');
    }
    return -1;
}

static bool ends_well(const command_option *option, const char *path)
{
    if (!path || output_ending(option, path) >= 0)
        return true;
    print_error("--%s is \"%s\"; %s", option->name, path, option->takes);
    return false;
}

static bool is_built_in(const char *option, const char *path, bool there, const char *what, const char *part)
{
    if (!path || there)
        return true;
    print_error("--%s is not possible: this stallwright was built without %s (%s=OFF)", option, what, part);
    return false;
}

/* Before the cooks are run: what they cost is not to be lost for want of a place to put it. */
static bool are_built_in(const command_options *o)
{
#ifdef SW_HAVE_PLPLOT
    const bool can_draw = true;
#else
    const bool can_draw = false;
#endif
    return is_built_in("output", o->output_path, strcmp(sw_version_of_hdf5(), "none") != 0, "HDF5", "SW_HDF5") &&
           is_built_in("plot", o->plot_path, can_draw, "PLplot", "SW_PLOT");
}

/* A picture and a page differ by their endings. */
int outputs_check_names(const command_options *o)
{
    const bool good = are_built_in(o) && is_file_name("plot", o->plot_path) && is_file_name("page", o->page_path) &&
                      is_file_name("output", o->output_path) && ends_well(&option_plot, o->plot_path) &&
                      ends_well(&option_page, o->page_path) &&
                      differ("plot", o->plot_path, "output", o->output_path) &&
                      differ("page", o->page_path, "output", o->output_path);
    return good ? EXIT_DONE : EXIT_BAD_USE;
}

int outputs_check(const command_options *o)
{
    const char *const paths[] = {o->plot_path, o->output_path, o->page_path};
    int status = outputs_check_names(o);
    for (size_t i = 0; i < sizeof paths / sizeof *paths && status == EXIT_DONE; i++)
        status = paths[i] ? output_file_check(paths[i], o->force) : EXIT_DONE;
    return status;
}

char *outputs_command_line(int argc, char **argv)
{
    size_t length = strlen("stallwright") + 1;
    for (int i = 0; i < argc; i++)
        length += strlen(argv[i]) + 1;
    char *line = malloc(length), *at = line;
    if (!line)
        return NULL;
    at = stpcpy(at, "stallwright");
    for (int i = 0; i < argc; i++) {
        *at++ = ' ';
        at = stpcpy(at, argv[i]);
    }
    return line;
}

bool outputs_origin_begin(session *s, int argc, char **argv, outputs_origin *origin)
{
    origin->text = scenario_text(s);
    origin->line = outputs_command_line(argc, argv);
    snprintf(origin->program, sizeof origin->program, "stallwright %s", sw_version());
    origin->from = (sw_provenance){origin->program, origin->line, origin->text};
    if (origin->text && origin->line)
        return true;
    print_error("the results file cannot be prepared: %s", sw_status_text(SW_ERR_MEMORY));
    outputs_origin_end(origin);
    return false;
}

void outputs_origin_end(outputs_origin *origin)
{
    free(origin->text);
    free(origin->line);
}

int outputs_write_results(session *s, const command_options *o, int argc, char **argv, const sw_run *runs,
                          size_t count)
{
    if (!o->output_path)
        return EXIT_DONE;
    const sw_history **histories = calloc(count, sizeof *histories);
    const char **labels = calloc(count, sizeof *labels);
    outputs_origin origin;
    int status = EXIT_FAILED;
    if (!histories || !labels) {
        print_error("the results file cannot be prepared: %s", sw_status_text(SW_ERR_MEMORY));
    } else if (outputs_origin_begin(s, argc, argv, &origin)) {
        size_t used = 0;
        for (size_t i = 0; i < count; i++)
            if (runs[i].history) {
                histories[used] = runs[i].history;
                labels[used++] = runs[i].label;
            }
        sw_status written = sw_results_write(s->context, o->output_path, used, histories, labels, &origin.from, o->force);
        status = written == SW_OK ? EXIT_DONE : report(s, written);
        outputs_origin_end(&origin);
    }
    if (status == EXIT_DONE)
        print_note(o, "results written to \"%s\"", o->output_path);
    free(histories);
    free(labels);
    return status;
}
