/* SPDX-License-Identifier: BSD-3-Clause */
#include "cook_state.h"

#include "history.h"
#include "surround.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The boundary face of a side that is nearest to the first probe along the section. */
static size_t boundary_face_of(const sw_cook *c, sw_side side)
{
    const sw_mesh *mesh = c->body.mesh;
    size_t found = 0;
    double nearest = HUGE_VAL;
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        double distance = fabs(mesh->boundary_faces[i].across - c->body.probe_places[0].across);
        if (mesh->boundary_faces[i].side == side && distance < nearest) {
            nearest = distance;
            found = i;
        }
    }
    return found;
}

static sw_status prepare(sw_cook *c)
{
    sw_status status = sw_body_init(c->context, &c->scenario, &c->body);
    if (status == SW_OK)
        status = sw_surround_init(c->context, &c->scenario, &c->body, &c->around);
    if (status == SW_OK)
        status = sw_transport_integrator(c->context, c->body.transport, c->scenario.solver.relative_tolerance,
                                         &c->integrator);
    if (status != SW_OK)
        return status;
    size_t unknowns = sw_transport_unknowns(c->body.transport);
    c->top_face = boundary_face_of(c, SW_SIDE_TOP);
    c->bottom_face = boundary_face_of(c, SW_SIDE_BOTTOM);
    c->state = malloc(unknowns * sizeof *c->state);
    c->slope = malloc(unknowns * sizeof *c->slope);
    c->halfway = malloc(unknowns * sizeof *c->halfway);
    c->history = sw_history_create(&c->scenario, c->body.mesh, c->body.probe_count, c->body.probe_places);
    double *state = sw_integrator_state(c->integrator);
    sw_body_raw_state(&c->body, &c->scenario, state);
    sw_around_start(&c->around, state + 2 * c->body.mesh->cell_count);
    /* Still air, as in a rest: a guess, as what the scenario has for that is. */
    c->bench = (sw_place){.kind = SW_PLACE_AIR,
                          .temperature = c->scenario.pit.outside_temperature,
                          .humidity_ratio = c->around.pit_air.outside_humidity,
                          .convection = c->scenario.rest.convection};
    c->next_spritz = c->scenario.spritz.amount > 0.0 ? c->scenario.spritz.from : INFINITY;
    if (!c->state || !c->slope || !c->halfway || !c->history || sw_reactions_init(c->context, &c->reactions, &c->body, state, c->scenario.meat.fat_rendering) != 0 ||
        sw_rendering_init(&c->rendering, &c->reactions, c->scenario.meat.initial_temperature) != 0 ||
        sw_bark_init(&c->bark, &c->body, state) != 0)
        return sw_record_out_of_memory(c);
    c->enthalpy_at_start = sw_transport_enthalpy(c->body.transport, state);
    c->water_at_start = sw_transport_water(c->body.transport, state);
    return SW_OK;
}

sw_status sw_cook_prepare(sw_context *context, const sw_scenario *scenario, sw_cook *c)
{
    *c = (sw_cook){.context = context, .scenario = *scenario};
    sw_scenario_settle(&c->scenario);
    const sw_status status = prepare(c);
    if (status != SW_OK)
        sw_cook_release(c);
    return status;
}

void sw_cook_release(sw_cook *c)
{
    sw_history_destroy(c->history);
    sw_bark_free(&c->bark);
    sw_rendering_free(&c->rendering);
    sw_reactions_free(&c->reactions);
    sw_integrator_destroy(c->integrator);
    sw_body_free(&c->body);
    free(c->state);
    free(c->slope);
    free(c->halfway);
    *c = (sw_cook){.context = c->context};
}

sw_status sw_cook_copy_progress(sw_cook *c, const sw_cook *from, double time)
{
    c->time = time;
    c->next_row = from->next_row;
    c->next_field = from->next_field;
    c->next_spritz = from->next_spritz;
    c->added = from->added;
    c->poured = from->poured;
    c->spilled = from->spilled;
    sw_transport_copy_surfaces(c->body.transport, from->body.transport);
    sw_reactions_copy(&c->reactions, &from->reactions);
    sw_rendering_copy(&c->rendering, &from->rendering);
    sw_bark_copy(&c->bark, &from->bark);
    sw_around_copy(&c->around, &from->around);
    c->history->statistics = from->history->statistics;
    return sw_history_append_all(c->history, from->history) == 0 ? SW_OK : sw_record_out_of_memory(c);
}
