#include "cook_run.h"

#include <stdlib.h>
#include <string.h>

void cook_run_do(cook_run *run, sw_context *context, progress *p)
{
    p->label = run->label;
    run->status = sw_cook_run(context, &run->scenario, progress_observe, p, &run->history);
    progress_end(p);
    if (run->status == SW_OK)
        sw_outcome_evaluate(run->history, &run->outcome);
    else
        snprintf(run->failure, sizeof run->failure, "%s", sw_context_message(context));
}

void cook_run_free(cook_run *run)
{
    sw_history_destroy(run->history);
    run->history = NULL;
}

static char *join(int argc, char **argv)
{
    size_t length = strlen("stallwright") + 1;
    for (int i = 0; i < argc; i++)
        length += strlen(argv[i]) + 1;
    char *line = malloc(length);
    if (!line)
        return NULL;
    strcpy(line, "stallwright");
    for (int i = 0; i < argc; i++) {
        strcat(line, " ");
        strcat(line, argv[i]);
    }
    return line;
}

int write_results(session *s, const command_options *o, int argc, char **argv, const cook_run *runs, size_t count)
{
    const sw_history **histories = calloc(count, sizeof *histories);
    const char **labels = calloc(count, sizeof *labels);
    char *text = scenario_text(s), *line = join(argc, argv), program[64];
    size_t used = 0;
    int status = EXIT_FAILED;
    snprintf(program, sizeof program, "stallwright %s", sw_version());
    for (size_t i = 0; histories && labels && i < count; i++)
        if (runs[i].history) {
            histories[used] = runs[i].history;
            labels[used++] = runs[i].label;
        }
    if (!histories || !labels || !text || !line) {
        print_error("memory for the results file could not be allocated");
    } else {
        sw_provenance from = {program, line, text};
        sw_status written = sw_results_write(s->context, o->output_path, used, histories, labels, &from, o->force);
        status = written == SW_OK ? EXIT_DONE : report(s, written);
        if (written == SW_ERR_EXISTS)
            status = EXIT_BAD_USE;
    }
    free(histories);
    free(labels);
    free(text);
    free(line);
    return status;
}
