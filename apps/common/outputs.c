#include "outputs.h"

#include "output_file.h"
#include "page.h"
#include "plot.h"

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

int outputs_check(const command_options *o)
{
    if (o->plot_path && !plot_path_is_good(o->plot_path))
        return EXIT_BAD_USE;
    if (o->plot_path && o->output_path && is_same_file(o->plot_path, o->output_path)) {
        print_error("--plot and --output name the same file, \"%s\"", o->plot_path);
        return EXIT_BAD_USE;
    }
    if (o->page_path && !page_path_is_good(o->page_path))
        return EXIT_BAD_USE;
    int status = o->plot_path ? output_file_check(o->plot_path, o->force) : EXIT_DONE;
    if (status == EXIT_DONE && o->output_path)
        status = output_file_check(o->output_path, o->force);
    if (status == EXIT_DONE && o->page_path)
        status = output_file_check(o->page_path, o->force);
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

int outputs_write_results(session *s, const command_options *o, int argc, char **argv, const cook_run *runs,
                          size_t count)
{
    if (!o->output_path)
        return EXIT_DONE;
    const sw_history **histories = calloc(count, sizeof *histories);
    const char **labels = calloc(count, sizeof *labels);
    char *text = scenario_text(s), *line = outputs_command_line(argc, argv), program[64];
    int status = EXIT_FAILED;
    snprintf(program, sizeof program, "stallwright %s", sw_version());
    if (!histories || !labels || !text || !line) {
        print_error("the results file cannot be prepared: %s", sw_status_text(SW_ERR_MEMORY));
    } else {
        size_t used = 0;
        for (size_t i = 0; i < count; i++)
            if (runs[i].history) {
                histories[used] = runs[i].history;
                labels[used++] = runs[i].label;
            }
        sw_provenance from = {program, line, text};
        sw_status written = sw_results_write(s->context, o->output_path, used, histories, labels, &from, o->force);
        status = written == SW_OK ? EXIT_DONE : report(s, written);
    }
    if (status == EXIT_DONE)
        print_note(o, "results written to \"%s\"", o->output_path);
    free(histories);
    free(labels);
    free(text);
    free(line);
    return status;
}
