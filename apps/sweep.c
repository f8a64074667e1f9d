/* SPDX-License-Identifier: BSD-3-Clause */
/* stallwright sweep: how does the answer move? */
#include "apps.h"

#include "idle_keys.h"
#include "output_file.h"
#include "outputs.h"
#include "plot_sweep.h"
#include "progress.h"
#include "processors.h"
#include "ranks.h"
#include "scenario_option.h"
#include "sweep_page.h"
#include "sweep_table.h"
#include "sweep_text.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The second is told to the other ranks only. */
enum { RUNS_DEFAULT = 200, EXIT_NOTHING_TO_DO = -1 };

/* The results file is written again while the sweep runs, but not so often that it costs more than a twentieth of the
 * time [s]. */
static const double least_between_files = 2.0, file_share = 0.05;

/* How the cooks are chosen. */
typedef enum sweep_design { DESIGN_AUTO, DESIGN_GRID, DESIGN_HALTON } sweep_design;

/* What sweep takes besides what all do. */
typedef struct sweep_options {
    command_options shared;
    text_list variations; /* none: the usual ones */
    sweep_design design;
    whole_number runs, seed, threads;
    bool resume;
} sweep_options;

typedef struct sweep {
    const sweep_options *own;
    const command_options *options; /* what all apps take */
    session session;
    sw_study *study;
    sw_study_journal *journal;
    char journal_path[OUTPUT_PATH_SIZE + 16];
    int argument_count; /* as typed, from the app's name on */
    char **arguments;
    char *command_line; /* the same in one line */
    size_t threads;
    size_t before; /* runs that were there at the start */

    pthread_mutex_t lock; /* of what follows, and of the journal: the ranks' servant works beside the threads */
    size_t next;
    sw_status status; /* of the journal and the file; the first that is not SW_OK stays */
    char failure[SW_RUN_FAILURE_SIZE];
    progress progress;
    struct timespec began, file_written;
    double file_cost;    /* of the last writing [s] */
    sw_context *context; /* of the servant */
} sweep;

/* ---- what is asked for ---- */

static bool has_distribution(const sw_study *study)
{
    for (size_t i = 0; i < sw_study_factor_count(study); i++)
        if (sw_study_factor(study, i).kind != SW_FACTOR_LISTED)
            return true;
    return false;
}

static int choose_design(sweep *s)
{
    const sweep_options *o = s->own;
    const bool is_random = o->design == DESIGN_HALTON ||
                           (o->design == DESIGN_AUTO && (o->runs.is_given || has_distribution(s->study)));
    if (!is_random && (o->runs.is_given || o->seed.is_given)) {
        print_error("--%s is for a halton design; this sweep is a grid, which has every combination once",
                    o->runs.is_given ? "runs" : "seed");
        return EXIT_BAD_USE;
    }
    sw_status status = sw_study_set_design(s->session.context, s->study, is_random ? SW_DESIGN_HALTON : SW_DESIGN_GRID,
                                           o->runs.is_given ? (size_t)o->runs.value : RUNS_DEFAULT, o->seed.value);
    return status == SW_OK ? EXIT_DONE : report(&s->session, status);
}

/* One a processor, unless it is given. */
static void choose_threads(sweep *s)
{
    /* Whoever starts ranks has counted the processors. */
    const size_t usual = ranks_count() == 1 ? count_processors() : 1;
    s->threads = s->own->threads.is_given ? (size_t)s->own->threads.value : usual;
}

static int describe_study(sweep *s)
{
    static const char *const usual[] = {"pit.temperature=110C:140C:10C", "wrap.kind=none,paper,open-tray,closed-foil"};
    const text_list *given = &s->own->variations;
    const char *const *variations = given->count ? given->texts : usual;
    const size_t count = given->count ? given->count : sizeof usual / sizeof *usual;
    sw_scenario_reader *reader = session_reader(&s->session);
    if (!reader)
        return EXIT_FAILED;
    sw_status status = sw_study_create(s->session.context, &s->session.scenario, &s->study);
    for (size_t i = 0; i < count && status == SW_OK; i++)
        status = sw_study_vary(s->session.context, reader, s->study, variations[i]);
    if (status != SW_OK)
        return report(&s->session, status);
    choose_threads(s);
    return choose_design(s);
}

/* ---- files ---- */

static bool is_there(const char *path)
{
    return access(path, F_OK) == 0;
}

static int check_outputs(const sweep *s)
{
    command_options o = *s->options;
    if (s->own->resume && !o.output_path) {
        print_error("--resume continues the sweep that --output names, and --output is not given");
        return EXIT_BAD_USE;
    }
    int status = outputs_check_names(&o);
    /* A file that the interrupted sweep has left is its own to replace. */
    if (s->own->resume && is_there(o.output_path))
        o.output_path = NULL;
    return status == EXIT_DONE ? outputs_check(&o) : status;
}

static sw_status write_file(sweep *s, sw_context *context, const char *run_status, bool overwrite)
{
    char program[64];
    struct timespec began;
    if (!s->options->output_path)
        return SW_OK;
    snprintf(program, sizeof program, "stallwright %s", sw_version());
    const sw_provenance from = {program, s->command_line, NULL};
    clock_gettime(CLOCK_MONOTONIC, &began);
    sw_status status = sw_study_results_write(context, s->session.reader, s->options->output_path, s->study, s->journal,
                                              &from, run_status, overwrite);
    s->file_cost = seconds_since(&began);
    clock_gettime(CLOCK_MONOTONIC, &s->file_written);
    return status;
}

static int open_files(sweep *s)
{
    const command_options *o = s->options;
    const char *path = o->output_path ? s->journal_path : NULL;
    int checked = check_outputs(s);
    if (checked != EXIT_DONE)
        return checked;
    const bool resume = s->own->resume && is_there(s->journal_path);
    if (s->own->resume && !resume)
        print_note(o, "there is no journal \"%s\" to resume: the sweep starts from the beginning", s->journal_path);
    sw_status status = sw_study_journal_open(s->session.context, s->session.reader, path, s->study, resume, o->force,
                                             &s->journal);
    if (status != SW_OK)
        return report(&s->session, status);
    s->before = sw_study_journal_count(s->journal);
    if (resume)
        print_note(o, "%zu of %zu cooks are in the journal", s->before, sw_study_run_count(s->study));
    /* From the beginning on there is a file that can be read, whatever happens. */
    status = write_file(s, s->session.context, "running", resume || o->force);
    if (status == SW_OK)
        return EXIT_DONE;
    int exit_status = report(&s->session, status);
    sw_study_journal_close(s->journal, resume);
    s->journal = NULL;
    return exit_status;
}

/* ---- the cooks ---- */

static bool next_run(size_t *run, void *data)
{
    sweep *s = data;
    pthread_mutex_lock(&s->lock);
    while (s->next < sw_study_run_count(s->study) && sw_study_journal_has(s->journal, s->next))
        s->next++;
    const bool any = s->status == SW_OK && !was_interrupted() && s->next < sw_study_run_count(s->study);
    if (any)
        *run = s->next++;
    pthread_mutex_unlock(&s->lock);
    return any;
}

/* Journal, progress, and now and then the file. */
static sw_status keep(sw_context *context, sweep *s, const sw_study_result *result)
{
    sw_status status = sw_study_journal_append(context, s->journal, result);
    if (status != SW_OK)
        return status;
    progress_count(&s->progress, sw_study_journal_count(s->journal), s->before, sw_study_run_count(s->study), &s->began);
    const double since = seconds_since(&s->file_written);
    return since > least_between_files && since > s->file_cost / file_share ? write_file(s, context, "running", true) : SW_OK;
}

static sw_status take_result(sw_context *context, const sw_study_result *result, void *data)
{
    sweep *s = data;
    pthread_mutex_lock(&s->lock);
    if (s->status == SW_OK) {
        s->status = keep(context, s, result);
        if (s->status != SW_OK)
            snprintf(s->failure, sizeof s->failure, "%s", sw_context_message(context));
    }
    const sw_status status = s->status == SW_OK ? SW_OK : sw_fail(context, s->status, "%s", s->failure);
    pthread_mutex_unlock(&s->lock);
    return status;
}

static sw_status run_here(sweep *s, sw_context *context)
{
    const sw_study_work work = {.threads = s->threads, .next = next_run, .take = take_result, .data = s};
    return sw_study_run(context, s->study, &work);
}

/* ---- several ranks ---- */

static void take_bytes(const void *bytes, size_t size, void *data)
{
    sweep *s = data;
    sw_study_result result;
    if (sw_study_result_unpack(s->context, bytes, size, &result) != SW_OK)
        return; /* counted as missing at the end */
    take_result(s->context, &result, s);
    sw_study_result_free(&result);
}

/* The threads of rank 0, beside the one that serves the others. */
typedef struct own_work {
    sweep *sweep;
    sw_status status;
} own_work;

static void *work_beside(void *data)
{
    own_work *own = data;
    own->status = run_here(own->sweep, own->sweep->session.context);
    return NULL;
}

static sw_status run_as_first_rank(sweep *s)
{
    const ranks_service service = {next_run, take_bytes, s};
    own_work own = {s, SW_OK};
    pthread_t thread;
    const bool is_beside = pthread_create(&thread, NULL, work_beside, &own) == 0;
    ranks_serve(&service);
    if (is_beside)
        pthread_join(thread, NULL);
    else
        work_beside(&own);
    return own.status == SW_OK && s->status != SW_OK ? sw_fail(s->session.context, s->status, "%s", s->failure)
                                                     : own.status;
}

static bool ask_first_rank(size_t *run, void *data)
{
    (void)data;
    return ranks_ask(run);
}

static sw_status give_to_first_rank(sw_context *context, const sw_study_result *result, void *data)
{
    void *bytes;
    size_t size;
    (void)data;
    sw_status status = sw_study_result_pack(context, result, &bytes, &size);
    if (status != SW_OK)
        return status;
    ranks_give(bytes, size);
    free(bytes);
    return SW_OK;
}

static int run_as_other_rank(sweep *s, int prepared)
{
    const sw_study_work work = {.threads = s->threads, .next = ask_first_rank, .take = give_to_first_rank};
    const int go = ranks_share_status(EXIT_DONE);
    if (go != EXIT_DONE)
        return go == EXIT_NOTHING_TO_DO ? EXIT_DONE : go;
    sw_status status = prepared == EXIT_DONE ? sw_study_run(s->session.context, s->study, &work) : SW_ERR_ARGUMENT;
    ranks_say_goodbye();
    return status == SW_OK ? EXIT_DONE : EXIT_FAILED;
}

/* ---- the end ---- */

/* An argument as a shell reads it back. One that could upset a terminal is shown, not to be read back. */
static void print_argument(const char *argument)
{
    static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_=.,:/+%@";
    if (*argument && strspn(argument, plain) == strlen(argument)) {
        fputs(argument, stderr);
        return;
    }
    fputc('\'', stderr);
    for (const char *quote; (quote = strchr(argument, '\'')) != NULL; argument = quote + 1) {
        char *before = strndup(argument, (size_t)(quote - argument));
        sw_write_escaped(before ? before : "...", stderr);
        fputs("'\\''", stderr);
        free(before);
    }
    sw_write_escaped(argument, stderr);
    fputc('\'', stderr);
}

/* How to go on with a sweep that was cut short. */
static void note_going_on(const sweep *s)
{
    const size_t kept = sw_study_journal_count(s->journal), all = sw_study_run_count(s->study);
    if (!s->options->output_path) {
        fprintf(stderr, "stallwright: note: %zu of %zu cooks were made and are lost; with --output they would be kept\n",
                kept, all);
        return;
    }
    fprintf(stderr, "stallwright: note: %zu of %zu cooks are kept; to resume: stallwright", kept, all);
    for (int i = 0; i < s->argument_count; i++) {
        fputc(' ', stderr);
        print_argument(s->arguments[i]);
    }
    fputs(s->own->resume ? "\n" : " --resume\n", stderr);
}

static int print_result(const sweep_view *v, const command_options *o)
{
    switch (o->format) {
    case FORMAT_CSV:
        return sweep_print_csv(v);
    case FORMAT_JSON:
        return sweep_print_json(v);
    default:
        return sweep_print_table(v, o);
    }
}

/* Where standard output is for machines. */
static void note_hours(const sweep_view *v, const command_options *o)
{
    char text[160];
    if (o->format == FORMAT_TABLE)
        return;
    if (show_cooks_in_time(v, text, sizeof text))
        print_note(o, "%s", text);
    if (show_cooks_not_wrapped(v, text, sizeof text))
        print_note(o, "%s", text);
    if (show_cooks_past_log(v, text, sizeof text))
        print_note(o, "%s", text);
}

static int show(sweep *s)
{
    sweep_view view;
    int status = sweep_view_load(&view, s->session.context, s->study, s->journal);
    if (status == EXIT_DONE && s->options->plot_path)
        status = plot_sweep(s->options, &view);
    if (status == EXIT_DONE && s->options->page_path)
        status = sweep_page_write(s->options, &view);
    if (status == EXIT_DONE)
        status = print_result(&view, s->options);
    if (status == EXIT_DONE)
        note_hours(&view, s->options);
    const size_t endless = view.endless_count;
    sweep_view_free(&view);
    if (status != EXIT_DONE)
        return status;
    const size_t failed = sw_study_journal_failures(s->journal);
    if (failed > 0)
        print_error("%zu of %zu cooks failed", failed, sw_study_run_count(s->study));
    if (endless > 0)
        print_error("%zu of %zu cooks have a phase that does not end", endless, sw_study_run_count(s->study));
    return failed == 0 && endless == 0 ? EXIT_DONE : EXIT_FAILED;
}

static int finish(sweep *s, sw_status status)
{
    const bool is_complete = sw_study_journal_count(s->journal) == sw_study_run_count(s->study);
    if (status != SW_OK) {
        int exit_status = report(&s->session, status);
        note_going_on(s);
        return exit_status;
    }
    status = write_file(s, s->session.context, is_complete ? "complete" : "interrupted", true);
    if (status != SW_OK) {
        report(&s->session, status);
        note_going_on(s);
        return EXIT_FAILED;
    }
    if (!is_complete) {
        const int exit_status = was_interrupted() ? report_interrupt() : EXIT_FAILED;
        if (exit_status == EXIT_FAILED)
            print_error("a rank has ended early; not all cooks were made");
        note_going_on(s);
        return exit_status;
    }
    if (s->options->output_path)
        print_note(s->options, "results written to \"%s\"", s->options->output_path);
    const int exit_status = show(s);
    /* All it held is in the file. */
    sw_study_journal_close(s->journal, false);
    s->journal = NULL;
    return exit_status;
}

/* ---- a sweep that is complete ---- */

static bool is_done_already(const sweep *s)
{
    const command_options *o = s->options;
    return s->own->resume && o->output_path && is_there(o->output_path) && !is_there(s->journal_path);
}

/* A picture or page that the complete sweep has left stays as it is. */
static void leave_alone(const command_options *o, const char *option, const char **path)
{
    if (!*path || o->force || !is_there(*path))
        return;
    print_note(o, "--%s: \"%s\" exists already and stays as it is; --force replaces it", option, *path);
    *path = NULL;
}

/* Prints, draws and returns what the sweep itself would have, from its results file. */
static int show_again(sweep *s)
{
    const command_options *given = s->options;
    command_options o = *given;
    int status = outputs_check_names(&o);
    if (status != EXIT_DONE)
        return status;
    sw_status read =
        sw_study_results_read(s->session.context, s->session.reader, o.output_path, s->study, &s->journal);
    if (read != SW_OK)
        return report(&s->session, read);
    print_note(&o, "\"%s\" is complete; there is nothing to resume", o.output_path);
    leave_alone(&o, "plot", &o.plot_path);
    leave_alone(&o, "page", &o.page_path);
    o.output_path = NULL;
    status = outputs_check(&o);
    if (status != EXIT_DONE)
        return status;
    take_over_interrupt();
    s->options = &o;
    status = show(s);
    s->options = given;
    return status;
}

/* What counts in none of the cooks, whether set for all or varied. */
static void note_idle(const sweep *s)
{
    idle_keys keys = {{false}};
    sw_scenario scenario;
    char condition[SW_KEY_CONDITION_SIZE];
    for (size_t run = 0; run < sw_study_run_count(s->study); run++) {
        sw_study_scenario(s->study, run, &scenario);
        idle_keys_see(&keys, &scenario);
    }
    idle_keys_note(&keys, &s->session, s->options);
    for (size_t i = 0; i < sw_study_factor_count(s->study); i++) {
        const sw_scenario_key *key = sw_scenario_key_find(sw_study_factor(s->study, i).key);
        if (!keys.counts[sw_scenario_key_number(key)])
            print_note(s->options, "--vary %s changes nothing; it counts if %s", key->name,
                       sw_scenario_key_condition(key, condition));
    }
}

static int run_as_first(sweep *s, int prepared)
{
    if (prepared == EXIT_DONE && is_done_already(s)) {
        ranks_share_status(EXIT_NOTHING_TO_DO);
        return show_again(s);
    }
    take_over_interrupt();
    int status = prepared == EXIT_DONE ? open_files(s) : prepared;
    if (status == EXIT_DONE)
        note_idle(s);
    status = ranks_share_status(status);
    if (status != EXIT_DONE)
        return status;
    progress_begin(&s->progress, s->options);
    clock_gettime(CLOCK_MONOTONIC, &s->began);
    sw_status made = ranks_count() > 1 ? run_as_first_rank(s) : run_here(s, s->session.context);
    progress_end(&s->progress);
    return finish(s, made);
}

static int prepare(sweep *s, int argc, char **argv)
{
    const command_options *o = s->options;
    int status = session_begin(&s->session, o);
    if (status != EXIT_DONE)
        return status;
    s->argument_count = argc;
    s->arguments = argv;
    s->command_line = outputs_command_line(argc, argv);
    if (!s->command_line || sw_context_create(&s->context) != SW_OK) {
        print_error("the sweep cannot be prepared: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    if (o->output_path)
        snprintf(s->journal_path, sizeof s->journal_path, "%.*s.journal", OUTPUT_PATH_SIZE, o->output_path);
    return describe_study(s);
}

static int run_sweep(const void *options, int argc, char **argv)
{
    const sweep_options *o = options;
    sweep s = {.own = o, .options = &o->shared, .lock = PTHREAD_MUTEX_INITIALIZER};
    int status = ranks_begin();
    if (status == EXIT_DONE)
        status = prepare(&s, argc, argv);
    status = ranks_number() == 0 ? run_as_first(&s, status) : run_as_other_rank(&s, status);
    sw_study_journal_close(s.journal, true);
    sw_study_destroy(s.study);
    sw_context_destroy(s.context);
    free(s.command_line);
    session_end(&s.session);
    ranks_end();
    return status;
}

static const command_option vary_option = {.name = "vary",
                                           .kind = OPTION_TEXTS,
                                           .field = offsetof(sweep_options, variations),
                                           .value = "NAME=VALUES",
                                           .help = "a,b or from:to:step, uniform(a,b), normal(mean,sd)"};
static const command_option design_option = {.name = "design",
                                             .kind = OPTION_CHOICE,
                                             .field = CHOICE_FIELD(sweep_options, design),
                                             .value = "DESIGN",
                                             .choices = "auto grid halton",
                                             .help = "grid, halton (evenly random) or auto"};
static const command_option runs_option = {.name = "runs",
                                           .kind = OPTION_WHOLE,
                                           .field = offsetof(sweep_options, runs),
                                           .value = "N",
                                           .least = 1,
                                           .most = SW_STUDY_RUNS_MAX,
                                           .help = "cooks of a halton design (200)"};
static const command_option seed_option = {.name = "seed",
                                           .kind = OPTION_WHOLE,
                                           .field = offsetof(sweep_options, seed),
                                           .value = "N",
                                           .most = INT64_MAX,
                                           .help = "shifts a halton design (0: not at all)"};
static const command_option threads_option = {.name = "threads",
                                              .kind = OPTION_WHOLE,
                                              .field = offsetof(sweep_options, threads),
                                              .value = "N",
                                              .least = 1,
                                              .most = SW_THREADS_MAX,
                                              .help = "cooks side by side (one a processor)"};
static const command_option resume_option = {.name = "resume",
                                             .kind = OPTION_FLAG,
                                             .field = offsetof(sweep_options, resume),
                                             .help = "resume the sweep that --output names"};

static const command_option *const takes[] = {&option_set,     &vary_option,   &design_option, &runs_option,     &seed_option,
                                              &threads_option, &resume_option, &option_format, &option_units,    &option_plot,
                                              &option_page,    &option_output, &option_force,  &option_quiet,    &option_progress,
                                              &option_help,    &option_version, NULL};

const subcommand sweep_app = {
    .name = "sweep",
    .purpose = "How does the answer move? Many cooks side by side, all in one file.",
    .arguments = "[OPTIONS] [SCENARIO.yaml]",
    .options = takes,
    .options_size = sizeof(sweep_options),
    .examples = {"stallwright sweep --vary meat.thickness=6cm:10cm:1cm --plot sweep.png",
                 "stallwright sweep --vary \"meat.mass=normal(6kg,0.5kg)\" -o sweep.h5"},
    .run = run_sweep,
};
