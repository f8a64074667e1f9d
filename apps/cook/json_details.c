/* SPDX-License-Identifier: BSD-3-Clause */
#include "json_details.h"

#include "json_output.h"

void json_add_details(json_t *object, const sw_run *run)
{
    const sw_history *h = run->history;
    json_t *phases = json_array(), *probes = json_array();
    for (size_t i = 0; i < h->phase_count; i++) {
        json_t *phase = json_object();
        json_put_text(phase, "phase", sw_phase_name(h->phases[i].phase));
        json_put_number(phase, "start_s", h->phases[i].start);
        json_put_number(phase, "end_s", h->phases[i].end);
        json_put_number(phase, "probe_at_end_k", h->phases[i].probe_at_end);
        json_object_set_new(phase, "budget_at_end", json_budget(&h->phases[i].budget_at_end));
        json_array_append_new(phases, phase);
    }
    for (size_t i = 0; i < h->probe_count; i++) {
        json_t *probe = json_object();
        json_put_text(probe, "name", h->probes[i].name);
        json_put_number(probe, "along_m", h->probes[i].across);
        json_put_number(probe, "up_m", h->probes[i].height);
        json_t *extents = json_object();
        for (int r = 0; r < SW_INNER_REACTION_COUNT; r++)
            json_put_number(extents, sw_reaction_law_of((sw_reaction)r)->name, h->probe_extent[i][r]);
        json_object_set_new(probe, "reactions", extents);
        json_put_number(probe, "last_k", h->probe_series[i][h->row_count - 1]);
        json_array_append_new(probes, probe);
    }
    json_object_set_new(object, "phases", phases);
    json_object_set_new(object, "milestones", json_milestones(h->milestones, h->milestone_count));
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
