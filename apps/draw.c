/* SPDX-License-Identifier: BSD-3-Clause */
/* stallwright draw: the picture of a results file. */
#include "apps.h"

#include "missing.h"
#include "outputs.h"
#include "plot.h"
#include "progress.h"

#include <stdlib.h>

/* A cook as if it had just been run; the history stays the results'. */
static void take_cook(sw_run *run, const char *label, sw_history *history)
{
    snprintf(run->label, sizeof run->label, "%s", label);
    run->scenario = history->scenario;
    run->status = SW_OK;
    run->history = history;
    sw_outcome_evaluate(history, &run->outcome);
}

static int draw_results(const command_options *o, const sw_results *results)
{
    if (results->count > 1 && o->hours) {
        print_error("--hours chooses the maps of one cook; \"%s\" holds %zu", o->input_path, results->count);
        return EXIT_BAD_USE;
    }
    sw_run *runs = calloc(results->count, sizeof *runs);
    if (!runs) {
        print_error("the picture cannot be drawn: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    for (size_t i = 0; i < results->count; i++)
        take_cook(&runs[i], results->labels[i], results->histories[i]);
    for (size_t i = 0; i < results->count; i++)
        print_missing(&runs[i], results->count > 1 ? runs[i].label : NULL, o->units);
    int status = results->count == 1 ? plot_cook(o, runs) : plot_compare(o, runs, results->count);
    free(runs);
    return status;
}

static int read_and_draw(const session *s, const command_options *o)
{
    sw_results *results;
    sw_status status = sw_results_read(s->context, o->input_path, &results);
    if (status != SW_OK) {
        /* A file that is not there is bad input like one that cannot be understood. */
        int code = report(s, status);
        return status == SW_ERR_FILE ? EXIT_BAD_USE : code;
    }
    /* A picture that is half drawn is to be cleaned up. */
    take_over_interrupt();
    int code = draw_results(o, results);
    sw_results_destroy(results);
    return code;
}

static int run_draw(const void *options, int argc, char **argv)
{
    const command_options *o = options;
    (void)argc;
    (void)argv;
    if (!o->input_path || !o->plot_path) {
        print_error("%s is missing; write \"stallwright draw RESULTS.h5 --plot FILE.svg\"",
                    o->input_path ? "--plot" : "the results file");
        return EXIT_BAD_USE;
    }
    session s;
    int status = outputs_check(o);
    if (status != EXIT_DONE)
        return status;
    status = session_open(&s);
    if (status == EXIT_DONE)
        status = read_and_draw(&s, o);
    session_end(&s);
    return status;
}

static const command_option *const takes[] = {&option_hours, &option_units, &option_plot, &option_force,
                                              &option_quiet, &option_help,  &option_version, NULL};

const subcommand draw_app = {
    .name = "draw",
    .purpose = "What did it look like? Draws a results file again, without computing.",
    .arguments = "RESULTS.h5 --plot FILE [OPTIONS]",
    .options = takes,
    .options_size = sizeof(command_options),
    .examples = {"stallwright draw run.h5 --plot again.svg --units us",
                 "stallwright draw section.h5 --plot maps.png --hours 2,6,10"},
    .run = run_draw,
};
