/* SPDX-License-Identifier: BSD-3-Clause */
/* stallwright track: the probe is in, when will it be done? */
#include "apps.h"

#include "json_track.h"
#include "output_file.h"
#include "outputs.h"
#include "plot_track.h"
#include "progress.h"
#include "track_files.h"
#include "track_page.h"
#include "track_table.h"

#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* How often a log that grows is looked at [s]. */
static const time_t look_every = 1;

static int draw(const track_options *o, const track_input *in, const sw_track *t)
{
    const int status = o->shared.plot_path ? plot_track(o, in, t) : EXIT_DONE;
    return status == EXIT_DONE && o->shared.page_path ? track_page_write(o, in, t) : status;
}

static int show(session *s, const track_options *o, const track_input *in, const sw_track *t)
{
    int status = o->shared.output_path ? track_write_results(s, o, in, t) : EXIT_DONE;
    if (status == EXIT_DONE && o->learn_path)
        status = track_learn(s, o, in, t);
    if (status == EXIT_DONE)
        status = draw(o, in, t);
    if (status != EXIT_DONE)
        return status;
    return o->shared.format == FORMAT_JSON ? json_track_print(in, t) : track_table_print(in, t, o->shared.units);
}

/* One update: everything is read and computed again. tell: what it comes to. */
static int update(const track_options *o, int (*tell)(session *, const track_options *, const track_input *, const sw_track *))
{
    session s;
    static track_input in;
    sw_track *track = NULL;
    sw_pit_learned learned;
    in = (track_input){0};
    int exit_status = session_begin(&s, &o->shared);
    if (exit_status == EXIT_DONE)
        exit_status = o->learn_path ? track_learn_check(&s, o, &learned) : EXIT_DONE;
    if (exit_status == EXIT_DONE)
        exit_status = track_input_read(&s, o, &in);
    if (exit_status == EXIT_DONE) {
        const sw_status status = sw_track_find(s.context, &in.question, &track);
        exit_status = status == SW_OK ? tell(&s, o, &in, track) : report(&s, status);
    }
    sw_track_destroy(track);
    track_input_free(&in);
    session_end(&s);
    return exit_status;
}

/* On a terminal the line is written over; elsewhere each update is a line. Picture and page are made anew, so that they can be left open. */
static int tell_line(session *s, const track_options *o, const track_input *in, const sw_track *t)
{
    (void)s;
    const bool is_terminal = isatty(STDOUT_FILENO);
    if (is_terminal)
        fputs("\r\033[K", stdout);
    track_line_print(in, t, o->shared.units);
    if (!is_terminal)
        fputs("\n", stdout);
    const int status = flush_standard_output();
    return status == EXIT_DONE ? draw(o, in, t) : status;
}

/* Until Ctrl-C, which leaves the summary. That no file is in the way was checked; from then on those that are there are its own. */
static int follow(const track_options *o)
{
    track_options again = *o;
    again.shared.force = again.shared.quiet = true;
    off_t size = -1;
    int status = EXIT_DONE;
    while (status == EXIT_DONE && !was_interrupted()) {
        struct stat now;
        if (stat(o->log_path, &now) == 0 && now.st_size != size) {
            size = now.st_size;
            status = update(&again, tell_line);
        }
        if (!was_interrupted())
            nanosleep(&(struct timespec){.tv_sec = look_every}, NULL);
    }
    if (!was_interrupted())
        return status;
    fputs("\n\n", stdout);
    forget_interrupt();
    again.shared.quiet = o->shared.quiet;
    return update(&again, show);
}

static int check(const track_options *o)
{
    if (o->follow && (!o->log_path || o->log_path[0] == '-'))
        print_error("--follow needs the file of a log that grows: --log FILE");
    else if (o->follow && o->shared.format == FORMAT_JSON)
        print_error("--follow prints one line for each update; leave out --format json");
    else if (o->columns && !o->log_path)
        print_error("--columns names the columns of a log; there is no --log");
    else
        return outputs_check(&o->shared);
    return EXIT_BAD_USE;
}

static int run_track(const void *options, int argc, char **argv)
{
    track_options with = *(const track_options *)options;
    const track_options *o = &with;
    with.argc = argc;
    with.argv = argv;
    const int status = check(o);
    if (status != EXIT_DONE)
        return status;
    take_over_interrupt();
    return o->follow ? follow(o) : update(o, show);
}

#define FIELD(name) offsetof(track_options, name)
static const command_option option_log = {.name = "log", .kind = OPTION_TEXT, .field = FIELD(log_path), .value = "FILE",
                                          .help = "a thermometer's log: times, temperatures; - is input"};
static const command_option option_columns = {.name = "columns", .kind = OPTION_TEXT, .field = FIELD(columns), .value = "LIST",
                                              .help = "what its columns are: time=Clock,flat=Probe 2,pit=Air"};
static const command_option option_on = {.name = "on", .kind = OPTION_TEXT, .field = FIELD(on), .value = "TIME",
                                         .help = "when the meat went on: 22:10, or 20 min into the log"};
static const command_option option_reading = {.name = "reading", .kind = OPTION_TEXTS, .field = FIELD(readings), .value = "TIME=TEMP",
                                              .help = "a reading: 5h30m=149F or 04:10=155F; repeatable"};
static const command_option option_wrapped = {.name = "wrapped", .kind = OPTION_TEXTS, .field = FIELD(wrapped), .value = "TIME=WRAP",
                                              .help = "what it was wrapped in: 6h10m=paper"};
static const command_option option_pit = {.name = "pit", .kind = OPTION_TEXTS, .field = FIELD(pit), .value = "TIME=TEMP",
                                          .help = "when the pit was, or will be, set: 8h=135C"};
static const command_option option_spritzed = {.name = "spritzed", .kind = OPTION_TEXTS, .field = FIELD(spritzed), .value = "TIME",
                                               .help = "when it was spritzed; repeatable"};
static const command_option option_lid = {
    .name = "lid", .kind = OPTION_TEXTS, .field = FIELD(lid), .value = "TIME", .help = "when the lid was opened; repeatable"};
static const command_option option_serve = {.name = "serve", .kind = OPTION_TEXT, .field = FIELD(serve), .value = "CLOCK",
                                            .help = "when it is to be served; else hold.until"};
static const command_option option_follow = {
    .name = "follow", .kind = OPTION_FLAG, .field = FIELD(follow), .help = "answer again whenever the log grows, until Ctrl-C"};

static const command_option option_learn = {.name = "learn", .kind = OPTION_TEXT, .field = FIELD(learn_path), .value = "FILE",
                                            .help = "keep what the cook showed of its pit (pit.learned)"};

static const command_option *const takes[] = {&option_log,  &option_columns, &option_on,     &option_reading, &option_wrapped, &option_pit,
                                              &option_lid,  &option_spritzed, &option_serve, &option_follow,  &option_set,     &option_format_no_csv,
                                              &option_units, &option_plot, &option_page, &option_output, &option_learn, &option_force, &option_quiet,  &option_help,   &option_version, NULL};

const subcommand track_app = {
    .name = "track",
    .purpose = "The probe is in: when will it be done? Fits this cook to its readings.",
    .arguments = "[OPTIONS] [SCENARIO.yaml]",
    .options = takes,
    .options_size = sizeof(track_options),
    .examples = {"stallwright track --reading 5h30m=149F --units us",
                 "stallwright track my.yaml --log cook.csv --wrapped 6h10m=paper --follow"},
    .run = run_track,
};
