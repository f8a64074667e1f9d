/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/track_file.h>

#include "hdf5_file.h"
#include "results_heading.h"
#include "whole_file.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* The layout of a track's results file, as docs/results-file.md has it. */

#define TRACK_FORMAT "track 1.0"

static const char described_as[] = "the results file";

typedef struct contents {
    const sw_track_question *question;
    const sw_track *track;
    const sw_provenance *from;
} contents;

/* One number of each of count structs: what does not exist, or never comes, is missing. */
static void put_numbers(sw_hdf5_writer *w, sw_hdf5_object group, const char *name, const sw_hdf5_axis *axis, const void *first, size_t stride,
                        const char *unit, const char *long_name)
{
    const sw_hdf5_axis *axes[] = {axis};
    double *values = malloc((axis->length + 1) * sizeof *values);
    if (!values) {
        sw_hdf5_fail(w, name, NULL);
        return;
    }
    for (size_t i = 0; i < axis->length; i++) {
        memcpy(&values[i], (const char *)first + i * stride, sizeof *values);
        values[i] = isfinite(values[i]) ? values[i] : SW_ABSENT;
    }
    sw_hdf5_dataset(w, group, name, 1, axes, values, unit, long_name);
    free(values);
}

/* The three numbers of bands. */
static void put_bands(sw_hdf5_writer *w, sw_hdf5_object group, const char *name, const sw_hdf5_axis *axis, const sw_track_band *first, size_t stride,
                      const char *unit, const char *long_name)
{
    static const char *const parts[] = {"low", "middle", "high"}, *const shares[] = {"10 %", "50 %", "90 %"};
    for (size_t i = 0; i < 3; i++) {
        char called[80], said[160];
        snprintf(called, sizeof called, "%s_%s", name, parts[i]);
        snprintf(said, sizeof said, "%s, %s of the cooks", long_name, shares[i]);
        put_numbers(w, group, called, axis, (const char *)first + i * sizeof(double), stride, unit, said);
    }
}

static void put_heading(sw_hdf5_writer *w, sw_hdf5_object root, const contents *c)
{
    char date[32] = "";
    const time_t now = time(NULL);
    struct tm utc;
    if (gmtime_r(&now, &utc))
        strftime(date, sizeof date, "%Y-%m-%dT%H:%M:%SZ", &utc);
    sw_hdf5_text(w, root, "Conventions", "CF-1.8");
    sw_hdf5_text(w, root, "title", c->track->population.stated.title);
    sw_hdf5_text(w, root, "source", c->from->program ? c->from->program : "stallwright");
    sw_hdf5_text(w, root, "date_created", date);
    sw_hdf5_text(w, root, "sw_file_format", TRACK_FORMAT);
    sw_hdf5_text(w, root, "sw_run_status", "complete");
    sw_hdf5_number(w, root, "sw_now_s", c->track->now);
    sw_hdf5_number(w, root, "sw_pull_k", c->track->population.stated.pull.value);
    sw_hdf5_number(w, root, "sw_effective_draws", c->track->effective);
}

static void put_readings(sw_hdf5_writer *w, sw_hdf5_object root, const sw_readings *r)
{
    sw_hdf5_object group = sw_hdf5_group(w, root, "readings");
    const sw_hdf5_axis axis = sw_hdf5_numbered(w, group, "reading", r->count, "number of the reading"), *axes[] = {&axis};
    double *probes = malloc(r->count * sizeof *probes);
    if (!probes)
        sw_hdf5_fail(w, "readings", NULL);
    for (size_t i = 0; probes && i < r->count; i++)
        probes[i] = (double)r->list[i].probe + 1.0;
    put_numbers(w, group, "reading_time", &axis, &r->list->time, sizeof *r->list, "s", "time since the meat went on the pit");
    put_numbers(w, group, "probe_temperature", &axis, &r->list->temperature, sizeof *r->list, "K", "what the probe read");
    if (probes)
        sw_hdf5_dataset(w, group, "probe", 1, axes, probes, "1", "number of the probe, from 1");
    free(probes);
    sw_hdf5_close(axis.scale);
    sw_hdf5_close(group);
}

static void put_likeliest(sw_hdf5_writer *w, sw_hdf5_object root, const sw_track *t)
{
    sw_hdf5_object group = sw_hdf5_group(w, root, "likeliest");
    const sw_hdf5_axis axis = sw_hdf5_coordinate(w, group, "time", t->curve_count, t->curve_time, "s", "time since the meat went on the pit");
    put_numbers(w, group, "probe_temperature", &axis, t->curve, sizeof *t->curve, "K", "probe of the likeliest cook");
    sw_hdf5_close(axis.scale);
    sw_hdf5_close(group);
}

static void put_fan(sw_hdf5_writer *w, sw_hdf5_object root, const sw_track *t)
{
    sw_hdf5_object group = sw_hdf5_group(w, root, "fan");
    const sw_hdf5_axis axis = sw_hdf5_coordinate(w, group, "time", SW_TRACK_MOMENTS, t->moments, "s", "time since the meat went on the pit");
    put_bands(w, group, "probe_temperature", &axis, t->fan, sizeof *t->fan, "K", "what the probe will read");
    sw_hdf5_close(axis.scale);
    sw_hdf5_close(group);
}

static void put_choices(sw_hdf5_writer *w, sw_hdf5_object root, const sw_track *t)
{
    sw_hdf5_object group = sw_hdf5_group(w, root, "choices");
    const sw_hdf5_axis axis = sw_hdf5_numbered(w, group, "choice", t->choice_count, "number of the choice");
    const sw_track_choice *c = t->choices;
    const char *names[SW_TRACK_CHOICE_COUNT];
    for (size_t i = 0; i < t->choice_count; i++)
        names[i] = sw_track_choice_name(c[i].kind);
    sw_hdf5_texts(w, group, "name", &axis, names, "way to go on");
    put_bands(w, group, "done_time", &axis, &c->done, sizeof *c, "s", "when the probe reads the pull temperature");
    put_bands(w, group, "yield_at_pull", &axis, &c->yield, sizeof *c, "1", "mass left at the pull over raw mass");
    put_bands(w, group, "bark", &axis, &c->bark, sizeof *c, "1", "bark index at the pull");
    put_numbers(w, group, "in_time_share", &axis, &c->odds, sizeof *c, "1", "odds that it is off the pit in time");
    put_numbers(w, group, "never_share", &axis, &c->never, sizeof *c, "1", "share of cooks that level off below the pull temperature");
    sw_hdf5_close(axis.scale);
    sw_hdf5_close(group);
}

/* Cooks that agree with the readings: their weights, what they are, and when they are done going on as planned. */
static void put_ensemble(sw_hdf5_writer *w, sw_hdf5_object root, const sw_track *t)
{
    sw_hdf5_object group = sw_hdf5_group(w, root, "ensemble");
    const sw_hdf5_axis axis = sw_hdf5_numbered(w, group, "draw", t->draw_count, "number of the draw"), *axes[] = {&axis};
    double *values = malloc((t->draw_count + 1) * sizeof *values);
    if (!values)
        sw_hdf5_fail(w, "ensemble", NULL);
    for (size_t k = 0; values && k < t->population.count; k++) {
        const sw_scenario_key *key = t->population.inputs[k].key;
        char name[SW_KEY_NAME_SIZE];
        snprintf(name, sizeof name, "%s", key->name);
        for (char *at = name; *at; at++)
            *at = isalnum((unsigned char)*at) ? *at : '_';
        for (size_t i = 0; i < t->draw_count; i++)
            values[i] = sw_population_value(&t->population, k, t->draws[i].normal);
        sw_hdf5_dataset(w, group, name, 1, axes, values, sw_quantity_si_unit(key->quantity), key->name);
    }
    put_numbers(w, group, "weight", &axis, &t->draws->weight, sizeof *t->draws, "1", "weight of the draw; they sum to 1");
    put_numbers(w, group, "done_time", &axis, &t->draws->done, sizeof *t->draws, "s", "when the probe reads the pull temperature");
    free(values);
    sw_hdf5_close(axis.scale);
    sw_hdf5_close(group);
}

static void put_contents(sw_hdf5_writer *w, sw_hdf5_object root, const void *data)
{
    const contents *c = data;
    put_heading(w, root, c);
    if (c->question->readings.count > 0)
        put_readings(w, root, &c->question->readings);
    put_likeliest(w, root, c->track);
    put_fan(w, root, c->track);
    put_choices(w, root, c->track);
    put_ensemble(w, root, c->track);
    sw_put_provenance(w, root, c->from);
}

sw_status sw_track_write(sw_context *context, const char *path, const sw_track_question *question, const sw_track *track,
                         const sw_provenance *provenance, bool overwrite)
{
    const contents c = {question, track, provenance};
    const sw_status status = sw_whole_file_check(context, described_as, path, overwrite);
    return status == SW_OK ? sw_hdf5_write_file(context, described_as, path, overwrite, put_contents, &c) : status;
}
