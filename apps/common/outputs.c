#include "outputs.h"

#include "output_file.h"
#include "plot.h"

#include <stdlib.h>
#include <string.h>

int outputs_check(const command_options *o)
{
    if (o->plot_path && !plot_path_is_good(o->plot_path))
        return EXIT_BAD_USE;
    if (o->plot_path && o->output_path && strcmp(o->plot_path, o->output_path) == 0) {
        print_error("--plot and --output name the same file, \"%s\"", o->plot_path);
        return EXIT_BAD_USE;
    }
    int status = o->plot_path ? output_file_check(o->plot_path, o->force) : EXIT_DONE;
    if (status == EXIT_DONE && o->output_path)
        status = output_file_check(o->output_path, o->force);
    return status;
}

/* The command line as it was typed, without the folder of the program. */
static char *join(int argc, char **argv)
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
    char *text = scenario_text(s), *line = join(argc, argv), program[64];
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
