/* SPDX-License-Identifier: BSD-3-Clause */
#include "track_files.h"

#include "output_file.h"
#include "outputs.h"

#include <unistd.h>

int track_write_results(session *s, const track_options *o, const track_input *in, const sw_track *t)
{
    outputs_origin origin;
    if (!outputs_origin_begin(s, o->argc, o->argv, &origin))
        return EXIT_FAILED;
    const sw_status written = sw_track_write(s->context, o->shared.output_path, &in->question, t, &origin.from, o->shared.force);
    outputs_origin_end(&origin);
    if (written != SW_OK)
        return report(s, written);
    print_note(&o->shared, "results written to \"%s\"", o->shared.output_path);
    return EXIT_DONE;
}

int track_learn_check(session *s, const track_options *o, sw_pit_learned *learned)
{
    sw_scenario_reader *reader = session_reader(s);
    *learned = (sw_pit_learned){0};
    if (!reader)
        return EXIT_FAILED;
    if (access(o->learn_path, F_OK) != 0)
        return output_file_check(o->learn_path, false);
    const sw_status status = sw_pit_learned_read(s->context, reader, o->learn_path, learned);
    return status == SW_OK ? output_file_check(o->learn_path, true) : report(s, status);
}

static int write_learned(session *s, const track_options *o, const sw_pit_learned *learned)
{
    output_file file;
    /* A file that is there was read: this is what it becomes. */
    int status = output_file_begin(&file, o->learn_path, "# What cooks in one pit showed of it", true);
    if (status != EXIT_DONE)
        return status;
    FILE *stream = fopen(file.temporary, "w");
    const sw_status written = stream ? sw_pit_learned_write(s->context, session_reader(s), learned, o->shared.units, stream)
                                     : sw_fail(s->context, SW_ERR_FILE, "\"%.300s\" cannot be written", file.temporary);
    const bool is_closed = !stream || fclose(stream) == 0;
    if (written != SW_OK || !is_closed) {
        status = written != SW_OK ? report(s, written) : EXIT_FAILED;
        if (written == SW_OK)
            print_error("\"%s\" could not be written whole: is the disk full?", o->learn_path);
        output_file_abandon(&file);
        return status;
    }
    return output_file_finish(&file);
}

int track_learn(session *s, const track_options *o, const track_input *in, const sw_track *t)
{
    sw_pit_learned learned;
    int status = track_learn_check(s, o, &learned);
    if (status != EXIT_DONE)
        return status;
    const sw_status learns = sw_track_learn(s->context, &in->question, t, &learned);
    if (learns != SW_OK)
        return report(s, learns);
    status = write_learned(s, o, &learned);
    if (status == EXIT_DONE)
        print_note(&o->shared, "what %d cook%s showed of this pit is in \"%s\"; a scenario uses it with pit.learned. Learn "
                               "from each cook only once",
                   learned.cooks, learned.cooks == 1 ? "" : "s", o->learn_path);
    return status;
}
