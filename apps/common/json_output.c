#include "json_output.h"

#include "figures.h"
#include "output_file.h"

#include <math.h>
#include <string.h>

/* A number, or null if the figure does not exist. */
static void put_number(json_t *object, const char *key, double value)
{
    json_object_set_new(object, key, isfinite(value) ? json_real(value) : json_null());
}

/* A text, or null for NULL. Bytes that are no UTF-8, which JSON cannot hold, become question marks. */
static void put_text(json_t *object, const char *key, const char *text)
{
    json_t *value = text ? json_string(text) : json_null();
    if (!value) {
        char plain[FAILURE_SIZE];
        snprintf(plain, sizeof plain, "%s", text);
        for (char *at = plain; *at; at++)
            *at = (unsigned char)*at < 128 ? *at : '?';
        value = json_string(plain);
    }
    json_object_set_new(object, key, value);
}

void json_put_number(json_t *object, const char *key, double value)
{
    put_number(object, key, value);
}

void json_put_text(json_t *object, const char *key, const char *text)
{
    put_text(object, key, text);
}

static json_t *json_budget(const sw_budget *budget)
{
    json_t *object = json_object();
    char key[FIGURE_KEY_SIZE];
#define PUT(name, unit, long_name) put_number(object, figure_key(#name, unit, key), budget->name);
    SW_BUDGET_LIST(PUT)
#undef PUT
    return object;
}

json_t *json_choice(const cook_run *run, double unwrapped_done)
{
    const bool failed = run->status != SW_OK;
    json_t *object = json_object();
    figure figures[FIGURES_MAX];
    size_t count = choice_figures(run, unwrapped_done, figures);
    put_text(object, "label", run->label);
    put_text(object, "wrap", sw_wrap_name(run->scenario.wrap.kind));
    put_text(object, "error", failed ? run->failure : NULL);
    for (size_t i = 0; i < count; i++)
        put_number(object, figures[i].key, figures[i].value);
    put_text(object, "top_state", failed ? NULL : sw_surface_state_name(run->outcome.top_state_at_pull));
    json_object_set_new(object, "budget_at_pull", failed ? json_null() : json_budget(&run->outcome.at_pull));
    json_object_set_new(object, "budget_at_end", failed ? json_null() : json_budget(&run->outcome.at_end));
    return object;
}

json_t *json_heading(const sw_scenario *s)
{
    json_t *object = json_object();
    put_text(object, "program", "stallwright");
    put_text(object, "version", sw_version());
    put_text(object, "title", s->title);
    put_number(object, "start_clock_s", s->start_clock);
    json_t *meat = json_object();
    put_text(meat, "name", s->meat.name);
    put_text(meat, "shape", sw_shape_name(s->meat.shape));
    put_number(meat, "mass_kg", s->meat.mass);
    put_number(meat, "thickness_m", s->meat.thickness);
    put_number(meat, "width_m", s->meat.width);
    json_object_set_new(object, "meat", meat);
    json_t *stall = json_object();
    put_number(stall, "above_k", s->stall.above);
    put_number(stall, "below_k", s->stall.below);
    put_number(stall, "rate_k_per_s", s->stall.rate);
    put_number(stall, "duration_s", s->stall.duration);
    json_object_set_new(object, "stall_definition", stall);
    return object;
}

void json_add_details(json_t *object, const cook_run *run)
{
    const sw_history *h = run->history;
    json_t *phases = json_array(), *milestones = json_array(), *probes = json_array();
    for (size_t i = 0; i < h->phase_count; i++) {
        json_t *phase = json_object();
        put_text(phase, "phase", sw_phase_name(h->phases[i].phase));
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
        put_text(probe, "name", h->probes[i].name);
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
}

int json_print(json_t *document)
{
    /* A document jansson could not make or write whole is reported by the stream or here, never cut short in silence. */
    int failed = document ? json_dumpf(document, stdout, JSON_INDENT(2) | JSON_REAL_PRECISION(17)) : -1;
    json_decref(document);
    putchar('\n');
    int status = flush_standard_output();
    if (failed && status == EXIT_DONE) {
        print_error("the JSON output could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        status = EXIT_FAILED;
    }
    return status;
}
