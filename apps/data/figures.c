/* SPDX-License-Identifier: BSD-3-Clause */
#include "figures.h"

#include <stdio.h>
#include <string.h>

/* Keys that do not follow from the name and the unit: short for what is asked for most. */
static const char *const special_keys[][2] = {
    {"wrap_time", "wrap_time_s"},
    {"pour_time", "pour_time_s"},
    {"done_probe", "probe_k"},
    {"top_surface_at_pull", "top_surface_k"},
    {"top_water_activity_at_pull", "top_water_activity"},
    {"top_film_share_at_pull", "top_film_share"},
};

/* The end of the key, and the end of the name that it makes superfluous. */
static const struct {
    const char *unit, *suffix, *word;
} key_endings[] = {
    {"s", "_s", "_time"},        {"K", "_k", "_temperature"},    {"kg", "_kg", NULL},             {"J", "_j", NULL},
    {"K s-1", "_k_per_s", NULL}, {"kg s-1", "_kg_per_s", NULL}, {"kg kg-1", "_kg_per_kg", NULL}, {"1", "", NULL},
    {"m", "_m", NULL}, {"m2", "_m2", NULL},
};

const char *figure_key(const char *name, const char *unit, char *key)
{
    for (size_t i = 0; i < sizeof special_keys / sizeof *special_keys; i++)
        if (strcmp(special_keys[i][0], name) == 0) {
            snprintf(key, FIGURE_KEY_SIZE, "%s", special_keys[i][1]);
            return key;
        }
    size_t length = strlen(name);
    const char *suffix = "";
    for (size_t i = 0; i < sizeof key_endings / sizeof *key_endings; i++) {
        if (strcmp(key_endings[i].unit, unit) != 0)
            continue;
        const char *word = key_endings[i].word;
        suffix = key_endings[i].suffix;
        if (word && length > strlen(word) && strcmp(name + length - strlen(word), word) == 0)
            length -= strlen(word);
    }
    snprintf(key, FIGURE_KEY_SIZE, "%.*s%s", (int)length, name, suffix);
    return key;
}

double wrap_at_probe(const sw_wrap *wrap)
{
    bool by_probe = wrap->kind != SW_WRAP_NONE && wrap->when.kind == SW_ENDING_PROBE_TEMPERATURE;
    return by_probe ? wrap->when.value : SW_ABSENT;
}

static void add(figure *figures, size_t *count, const char *name, const char *unit, double value)
{
    figure_key(name, unit, figures[*count].key);
    figures[(*count)++].value = value;
}

size_t choice_figures(const sw_run *run, double unwrapped_done, figure *figures)
{
    size_t count = 0;
    bool failed = run->status != SW_OK;
    const sw_outcome *o = &run->outcome;
    add(figures, &count, "wrap_at_temperature", "K", wrap_at_probe(&run->scenario.wrap));
#define ADD(name, unit, long_name) add(figures, &count, #name, unit, failed ? SW_ABSENT : o->name);
    SW_OUTCOME_LIST(ADD)
#undef ADD
    add(figures, &count, "saved_time", "s", failed ? SW_ABSENT : unwrapped_done - o->done_time);
    add(figures, &count, "evaporated", "kg", failed ? SW_ABSENT : o->at_end.evaporated_mass);
    add(figures, &count, "dripped", "kg", failed ? SW_ABSENT : o->at_end.dripped_mass);
    add(figures, &count, "rendered", "kg", failed ? SW_ABSENT : o->at_end.rendered_mass);
    return count;
}
