#include "json_output.h"

#include "output_file.h"

#include <math.h>
#include <string.h>

const char *json_key(const char *name, const char *unit, char *key)
{
    static const struct {
        const char *unit, *suffix;
    } suffixes[] = {{"s", "_s"},       {"K", "_k"},        {"K s-1", "_k_per_s"}, {"kg", "_kg"},
                    {"J", "_j"},       {"kg s-1", "_kg_per_s"}, {"kg kg-1", "_kg_per_kg"}, {"1", ""}};
    const char *suffix = "";
    for (size_t i = 0; i < sizeof suffixes / sizeof *suffixes; i++)
        if (strcmp(suffixes[i].unit, unit) == 0)
            suffix = suffixes[i].suffix;
    size_t length = strlen(name);
    /* "done_time" in seconds is "done_s". */
    if (strcmp(unit, "s") == 0 && length > 5 && strcmp(name + length - 5, "_time") == 0)
        length -= 5;
    snprintf(key, JSON_KEY_SIZE, "%.*s%s", (int)length, name, suffix);
    if (strcmp(name, "done_probe") == 0)
        snprintf(key, JSON_KEY_SIZE, "probe_k");
    return key;
}

/* A number, or null if the figure does not exist. */
static void put_number(json_t *object, const char *key, double value)
{
    json_object_set_new(object, key, isfinite(value) ? json_real(value) : json_null());
}

static void put_figure(json_t *object, const char *name, const char *unit, double value)
{
    char key[JSON_KEY_SIZE];
    put_number(object, json_key(name, unit, key), value);
}

static json_t *json_budget(const sw_budget *budget)
{
    json_t *object = json_object();
#define PUT(name, unit, long_name) put_figure(object, #name, unit, budget->name);
    SW_BUDGET_LIST(PUT)
#undef PUT
    return object;
}

json_t *json_choice(const cook_run *run, double unwrapped_done)
{
    json_t *object = json_object();
    const sw_wrap *wrap = &run->scenario.wrap;
    json_object_set_new(object, "label", json_string(run->label));
    json_object_set_new(object, "wrap", json_string(sw_wrap_name(wrap->kind)));
    bool by_probe = wrap->kind != SW_WRAP_NONE && wrap->when.kind == SW_ENDING_PROBE_TEMPERATURE;
    put_number(object, "wrap_at_k", by_probe ? wrap->when.value : SW_ABSENT);
    json_object_set_new(object, "error", run->status == SW_OK ? json_null() : json_string(run->failure));
    const bool failed = run->status != SW_OK;
#define PUT(name, unit, long_name) put_figure(object, #name, unit, failed ? SW_ABSENT : run->outcome.name);
    SW_OUTCOME_LIST(PUT)
#undef PUT
    put_number(object, "saved_s", failed ? SW_ABSENT : unwrapped_done - run->outcome.done_time);
    put_number(object, "evaporated_kg", failed ? SW_ABSENT : run->outcome.at_end.evaporated_mass);
    put_number(object, "dripped_kg", failed ? SW_ABSENT : run->outcome.at_end.dripped_mass);
    put_number(object, "rendered_kg", failed ? SW_ABSENT : run->outcome.at_end.rendered_mass);
    json_object_set_new(object, "top_state_at_pull",
                        failed ? json_null() : json_string(sw_surface_state_name(run->outcome.top_state_at_pull)));
    json_object_set_new(object, "budget_at_pull", failed ? json_null() : json_budget(&run->outcome.at_pull));
    json_object_set_new(object, "budget_at_end", failed ? json_null() : json_budget(&run->outcome.at_end));
    return object;
}

json_t *json_heading(const sw_scenario *s)
{
    json_t *object = json_object();
    json_object_set_new(object, "program", json_string("stallwright"));
    json_object_set_new(object, "version", json_string(sw_version()));
    json_object_set_new(object, "title", json_string(s->title));
    put_number(object, "start_clock_s", s->start_clock);
    json_t *meat = json_object();
    json_object_set_new(meat, "name", json_string(s->meat.name));
    json_object_set_new(meat, "shape", json_string(sw_shape_name(s->meat.shape)));
    put_number(meat, "mass_kg", s->meat.mass);
    put_number(meat, "thickness_m", s->meat.thickness);
    put_number(meat, "width_m", s->meat.width);
    json_object_set_new(object, "meat", meat);
    json_t *stall = json_object();
    put_number(stall, "above_k", s->stall.above);
    put_number(stall, "rate_k_per_s", s->stall.rate);
    put_number(stall, "duration_s", s->stall.duration);
    json_object_set_new(object, "stall_definition", stall);
    return object;
}

json_t *json_details(const cook_run *run)
{
    const sw_history *h = run->history;
    json_t *object = json_object(), *phases = json_array(), *milestones = json_array(), *probes = json_array();
    for (size_t i = 0; i < h->phase_count; i++) {
        json_t *phase = json_object();
        json_object_set_new(phase, "phase", json_string(sw_phase_name(h->phases[i].phase)));
        put_number(phase, "start_s", h->phases[i].start);
        put_number(phase, "end_s", h->phases[i].end);
        put_number(phase, "probe_at_end_k", h->phases[i].probe_at_end);
        json_object_set_new(phase, "budget_at_end", json_budget(&h->phases[i].budget_at_end));
        json_array_append_new(phases, phase);
    }
    for (size_t i = 0; i < h->milestone_count; i++) {
        json_t *milestone = json_object();
        put_number(milestone, "probe_k", h->milestones[i].probe_temperature);
        put_number(milestone, "time_s", h->milestones[i].time);
        json_array_append_new(milestones, milestone);
    }
    for (size_t i = 0; i < h->probe_count; i++) {
        json_t *probe = json_object();
        json_object_set_new(probe, "name", json_string(h->probes[i].name));
        put_number(probe, "along_m", h->probes[i].across);
        put_number(probe, "up_m", h->probes[i].height);
        put_number(probe, "last_k", h->probe_series[i][h->row_count - 1]);
        json_array_append_new(probes, probe);
    }
    json_object_set_new(object, "phases", phases);
    json_object_set_new(object, "milestones", milestones);
    json_object_set_new(object, "probes", probes);
    json_t *solver = json_object();
    json_object_set_new(solver, "cells", json_integer((json_int_t)h->cell_count));
    json_object_set_new(solver, "steps", json_integer(h->statistics.steps));
    json_object_set_new(solver, "right_hand_sides", json_integer(h->statistics.right_hand_sides));
    json_object_set_new(solver, "jacobians", json_integer(h->statistics.jacobians));
    json_object_set_new(solver, "error_test_failures", json_integer(h->statistics.error_test_failures));
    json_object_set_new(solver, "convergence_failures", json_integer(h->statistics.convergence_failures));
    json_object_set_new(object, "solver", solver);
    return object;
}

int json_print(json_t *document)
{
    int failed = json_dumpf(document, stdout, JSON_INDENT(2) | JSON_REAL_PRECISION(17));
    json_decref(document);
    if (failed == 0)
        putchar('\n');
    return flush_standard_output() && failed == 0 ? EXIT_DONE : EXIT_FAILED;
}
