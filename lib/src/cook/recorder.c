/* SPDX-License-Identifier: BSD-3-Clause */
#include "recorder.h"

#include "history.h"
#include "side_record.h"

#include <math.h>
#include <stdlib.h>

/* Juice that wets the surface has not dripped once it has evaporated there. */
static const int wetting = SW_FLOW_LUMPED + (int)SW_AROUND_WETTING, juice_vapour = SW_FLOW_LUMPED + (int)SW_AROUND_JUICE_VAPOUR;

sw_status sw_record_out_of_memory(sw_cook *c)
{
    return sw_fail(c->context, SW_ERR_MEMORY, "memory for the history of the cook could not be allocated");
}

const sw_probe *sw_cook_deciding_probe(const sw_cook *c, const double *state)
{
    const sw_segment_end end = {.probe_count = c->body.probe_count,
                                .probes = c->body.probes,
                                .by_last = c->scenario.meat.last_probe_decides};
    return sw_deciding_probe(&end, state);
}

/* Share of the collagen turned to gelatin, at the probe where it is least. */
static double least_probe_collagen(const sw_cook *c, double time, const double *halfway, const double *state)
{
    double most_left = 0.0;
    for (size_t i = 0; i < c->body.probe_count; i++)
        most_left = fmax(most_left, sw_reactions_remaining(&c->reactions, sw_reactions_place_of_probe(&c->reactions, i),
                                                           SW_REACTION_COLLAGEN, time, halfway, state));
    return 1.0 - most_left;
}

/* What renders, and how far the reactions are, at the time of a row. */
static void fill_reactions(const sw_cook *c, double time, const double *halfway, const double *state, double *row)
{
    sw_rendering rendering;
    sw_rendering_at(&c->rendering, time, halfway, state, &rendering);
    row[SW_SERIES_probe_collagen] = least_probe_collagen(c, time, halfway, state);
    row[SW_SERIES_rendered_mass] = rendering.mass;
    row[SW_SERIES_rendered_fat_heat] = rendering.heat;
    row[SW_SERIES_warming_heat] =
        sw_transport_enthalpy(c->body.transport, state) - c->enthalpy_at_start - rendering.heat;
    row[SW_SERIES_melting_heat] = sw_rendering_melting_heat(&rendering, state);
}

/* A row of the history for a state at a time, but for the reactions. */
static sw_status fill_row(sw_cook *c, double time, const double *state, double heating_rate, const double *flows,
                          double *row)
{
    const sw_mesh *mesh = c->body.mesh;
    sw_transport *transport = c->body.transport;
    double now[SW_FLOW_COUNT], lowest = HUGE_VAL, sum = 0.0, volume = 0.0;
    /* The integration is not to know of the rows. */
    sw_transport_swap_balances(transport);
    const int failed = sw_transport_flows(transport, time, state, now);
    row[SW_SERIES_top_surface_temperature] = sw_transport_balance(transport, c->top_face)->temperature;
    row[SW_SERIES_bottom_surface_temperature] = sw_transport_balance(transport, c->bottom_face)->temperature;
    for (size_t i = 0; i < mesh->boundary_face_count; i++)
        lowest = fmin(lowest, sw_transport_balance(transport, i)->temperature);
    sw_transport_swap_balances(transport);
    if (failed)
        return sw_fail(c->context, SW_ERR_SOLVER, "no surface temperature was found at %.6g s", time);
    sw_status status = sw_around_check(c->context, &c->around, time, state + 2 * mesh->cell_count);
    if (status != SW_OK)
        return status;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        lowest = fmin(lowest, state[2 * i]);
        sum += mesh->volume[i] * state[2 * i];
        volume += mesh->volume[i];
    }
    size_t top = c->top_face, bottom = c->bottom_face;
    const size_t top_cell = mesh->boundary_faces[top].cell;
    row[SW_SERIES_time] = time;
    row[SW_SERIES_probe_temperature] = sw_probe_reading(sw_cook_deciding_probe(c, state), state);
    row[SW_SERIES_probe_heating_rate] = heating_rate;
    const double *lumped = state + 2 * mesh->cell_count;
    row[SW_SERIES_air_temperature] = sw_around_air_temperature(&c->around, time, lumped);
    row[SW_SERIES_air_humidity_ratio] = sw_around_humidity(&c->around, time, lumped);
    row[SW_SERIES_held_mass] = sw_around_held(&c->around, lumped);
    row[SW_SERIES_lowest_temperature] = lowest;
    row[SW_SERIES_mean_temperature] = sum / volume;
    row[SW_SERIES_top_water_content] = state[2 * top_cell + 1];
    row[SW_SERIES_top_water_activity] = sw_transport_activity_outside(transport, top, state);
    row[SW_SERIES_top_film_share] = sw_transport_film_share(transport, top);
    row[SW_SERIES_bottom_water_activity] = sw_transport_activity_outside(transport, bottom, state);
    row[SW_SERIES_evaporation_rate] = now[SW_FLOW_EVAPORATION] + now[SW_FLOW_FILM];
    row[SW_SERIES_drip_rate] = now[SW_FLOW_DRIP] - now[wetting];
    row[SW_SERIES_evaporated_mass] = flows[SW_FLOW_EVAPORATION] + flows[juice_vapour];
    row[SW_SERIES_dripped_mass] = flows[SW_FLOW_DRIP] - flows[juice_vapour];
    row[SW_SERIES_convection_heat] = flows[SW_FLOW_CONVECTION];
    row[SW_SERIES_radiation_heat] = flows[SW_FLOW_RADIATION];
    row[SW_SERIES_evaporation_heat] = flows[SW_FLOW_EVAPORATION_HEAT];
    row[SW_SERIES_vapour_warming_heat] = flows[SW_FLOW_VAPOUR_WARMING];
    row[SW_SERIES_drip_heat] = flows[SW_FLOW_DRIP_HEAT];
    return SW_OK;
}

static sw_status append_row(sw_cook *c, const double *row, const double *state)
{
    double readings[SW_PROBES_MAX];
    for (size_t i = 0; i < c->body.probe_count; i++)
        readings[i] = sw_probe_reading(&c->body.probes[i], state);
    return sw_history_append_row(c->history, row, readings) == 0 ? SW_OK : sw_record_out_of_memory(c);
}

/* The state halfway to a time within the last step from where the reactions have followed temperatures to. */
static sw_status interpolate_halfway(sw_cook *c, double time)
{
    return sw_integrator_interpolate(c->integrator, 0.5 * (c->reactions.seen_time + time), 0, c->halfway);
}

sw_status sw_record_at(sw_cook *c, double time, bool with_field)
{
    double flows[SW_FLOW_COUNT], row[SW_SERIES_COUNT];
    sw_status status = sw_integrator_interpolate(c->integrator, time, 0, c->state);
    if (status == SW_OK)
        status = sw_integrator_interpolate(c->integrator, time, 1, c->slope);
    if (status == SW_OK)
        status = interpolate_halfway(c, time);
    if (status == SW_OK)
        status = sw_integrator_interpolate_sums(c->integrator, time, flows);
    if (status == SW_OK)
        status = fill_row(c, time, c->state, sw_probe_reading(sw_cook_deciding_probe(c, c->state), c->slope), flows,
                          row);
    if (status != SW_OK)
        return status;
    fill_reactions(c, time, c->halfway, c->state, row);
    status = append_row(c, row, c->state);
    if (status != SW_OK)
        return status;
    if (with_field && sw_history_append_field(c->history, time, c->state) != 0)
        return sw_record_out_of_memory(c);
    return SW_OK;
}

sw_status sw_record_start(sw_cook *c)
{
    double row[SW_SERIES_COUNT];
    const double *state = sw_integrator_state(c->integrator);
    if (sw_transport_rate(c->body.transport, 0.0, state, c->slope) != 0)
        return sw_fail(c->context, SW_ERR_SOLVER, "no surface temperature was found at the start");
    sw_status status = fill_row(c, 0.0, state, sw_probe_reading(sw_cook_deciding_probe(c, state), c->slope),
                                sw_integrator_sums(c->integrator), row);
    if (status != SW_OK)
        return status;
    fill_reactions(c, 0.0, state, state, row);
    status = append_row(c, row, state);
    if (status != SW_OK)
        return status;
    if (sw_history_append_field(c->history, 0.0, state) != 0)
        return sw_record_out_of_memory(c);
    c->next_row = c->scenario.solver.output_interval;
    c->next_field = c->scenario.solver.field_interval;
    return SW_OK;
}

/* The next row that is due, and when the one after it is. */
static sw_status record_next(sw_cook *c)
{
    const double at = c->next_row;
    const bool with_field = at >= c->next_field;
    c->next_row += c->scenario.solver.output_interval;
    while (c->next_field <= at)
        c->next_field += c->scenario.solver.field_interval;
    return sw_record_at(c, at, with_field);
}

/* Takes reactions, fat and surface on to the end of the step. */
static sw_status follow_step(sw_cook *c, bool ended)
{
    sw_status status = interpolate_halfway(c, c->time);
    if (status != SW_OK)
        return status;
    const double *state = sw_integrator_state(c->integrator);
    sw_reactions_follow(&c->reactions, c->time, c->halfway, state);
    if (ended || sw_reactions_are_due(&c->reactions)) {
        sw_reactions_advance(&c->reactions);
        sw_rendering_advance(&c->rendering);
        sw_around_follow(&c->around, c->time, c->rendering.mass);
    }
    sw_bark_advance(&c->bark, c->time, state);
    return SW_OK;
}

sw_status sw_record_step(sw_cook *c, bool ended)
{
    sw_status status = SW_OK;
    while (status == SW_OK && c->next_row < c->time) /* with the reactions as far as that row, not the step's end */
        status = record_next(c);
    if (status == SW_OK)
        status = follow_step(c, ended);
    while (status == SW_OK && c->next_row <= c->time)
        status = record_next(c);
    return status;
}

static void fill_budget(sw_cook *c, sw_budget *b)
{
    const double *flows = sw_integrator_sums(c->integrator);
    const double *state = sw_integrator_state(c->integrator);
    double enthalpy = sw_transport_enthalpy(c->body.transport, state) - c->enthalpy_at_start;
    double water = sw_transport_water(c->body.transport, state);
    double received = flows[SW_FLOW_CONVECTION] + flows[SW_FLOW_RADIATION];
    double lost = flows[SW_FLOW_EVAPORATION] + flows[SW_FLOW_DRIP];
    b->convection_heat = flows[SW_FLOW_CONVECTION];
    b->radiation_heat = flows[SW_FLOW_RADIATION];
    b->evaporation_heat = flows[SW_FLOW_EVAPORATION_HEAT];
    b->vapour_warming_heat = flows[SW_FLOW_VAPOUR_WARMING];
    b->drip_heat = flows[SW_FLOW_DRIP_HEAT];
    b->rendered_fat_heat = c->rendering.heat;
    b->warming_heat = enthalpy - c->rendering.heat;
    b->melting_heat = sw_rendering_melting_heat(&c->rendering, state);
    b->initial_mass = c->scenario.meat.mass;
    b->evaporated_mass = flows[SW_FLOW_EVAPORATION] + flows[juice_vapour];
    b->dripped_mass = flows[SW_FLOW_DRIP] - flows[juice_vapour];
    b->rendered_mass = c->rendering.mass;
    b->cap_rendered_mass = c->rendering.cap_mass;
    b->meat_mass = b->initial_mass - lost - c->rendering.mass;
    double left_over = received - b->evaporation_heat - b->vapour_warming_heat - b->drip_heat - enthalpy;
    /* What cools again has moved heat, though little is left of it. */
    c->most_heat_moved =
        fmax(c->most_heat_moved, fmax(fabs(received), fabs(b->evaporation_heat) + fabs(enthalpy)));
    b->kept_mass = sw_around_held(&c->around, state + 2 * c->body.mesh->cell_count);
    b->added_mass = c->added;
    b->poured_mass = c->poured;
    b->film_mass = flows[SW_FLOW_FILM];
    b->pool_vapour_mass = flows[SW_FLOW_LUMPED + SW_AROUND_POOL_VAPOUR];
    b->away_mass = c->spilled + flows[SW_FLOW_LUMPED + SW_AROUND_AWAY];
    b->fuel_mass = flows[SW_FLOW_LUMPED + SW_AROUND_FUEL];
    b->fuel_water_mass = b->fuel_mass * c->around.pit_air.fuel.water;
    b->pan_vapour_mass = flows[SW_FLOW_LUMPED + SW_AROUND_PAN_VAPOUR];
    const double given = flows[SW_FLOW_DRIP] + b->added_mass + flows[SW_FLOW_LUMPED + SW_AROUND_INSIDE];
    b->liquid_residual = (given - b->kept_mass - b->poured_mass - b->film_mass - b->pool_vapour_mass - b->away_mass) /
                         c->water_at_start;
    b->heat_residual = c->most_heat_moved > 0.0 ? left_over / c->most_heat_moved : 0.0;
    b->water_residual = (c->water_at_start - water - lost) / c->water_at_start;
}

/* How far the reactions got. */
static sw_status record_reactions(sw_cook *c)
{
    sw_history *h = c->history;
    const sw_mesh *mesh = c->body.mesh;
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++) {
        if (!h->cell_extent[r])
            h->cell_extent[r] = malloc(mesh->cell_count * sizeof *h->cell_extent[r]);
        if (!h->cell_extent[r])
            return sw_record_out_of_memory(c);
        for (size_t i = 0; i < mesh->cell_count; i++)
            h->cell_extent[r][i] = sw_reaction_belongs((sw_reaction)r, mesh->region[i])
                                       ? 1.0 - c->reactions.places[i].remaining[r]
                                       : SW_ABSENT;
        for (size_t i = 0; i < c->body.probe_count; i++) {
            h->probe_extent[i][r] = 1.0 - sw_reactions_at_probe(&c->reactions, i)->remaining[r];
            h->probe_outside[i][r] = sw_reactions_at_probe(&c->reactions, i)->outside[r];
        }
        h->cell_outside[r] = sw_reactions_outside(&c->reactions, (sw_reaction)r);
    }
    return SW_OK;
}

/* What a loose tolerance leaves open is heat and water that no other figure accounts for. */
sw_status sw_record_check_balances(const sw_cook *c)
{
    const sw_budget *b = &c->history->budget;
    const struct {
        const char *of;
        double open;
    } balances[] = {{"heat", fabs(b->heat_residual)},
                    {"the meat's water", fabs(b->water_residual)},
                    {"liquid outside the meat", fabs(b->liquid_residual)}};
    const double tolerance = c->scenario.solver.relative_tolerance;
    for (size_t i = 0; i < sizeof balances / sizeof *balances; i++)
        if (!(balances[i].open <= SW_OPEN_BALANCE_MAX))
            return sw_fail(c->context, SW_ERR_SOLVER,
                           "the balance of %s is left open by %.2g %%, and at most %.2g %% is let pass: "
                           "solver.relative_tolerance, %.2g, is too loose for this cook; try %.2g",
                           balances[i].of, 100.0 * balances[i].open, 100.0 * SW_OPEN_BALANCE_MAX, tolerance,
                           0.1 * tolerance);
    return SW_OK;
}

sw_status sw_record_phase(sw_cook *c, sw_phase phase, double start)
{
    sw_history *h = c->history;
    size_t last = h->row_count - 1;
    sw_phase_record *p = &h->phases[h->phase_count++];
    p->phase = phase;
    p->start = start;
    p->end = c->time;
    p->probe_at_end = h->series[SW_SERIES_probe_temperature][last];
    p->top_surface_at_end = h->series[SW_SERIES_top_surface_temperature][last];
    p->top_water_activity_at_end = h->series[SW_SERIES_top_water_activity][last];
    fill_budget(c, &p->budget_at_end);
    h->budget = p->budget_at_end;
    sw_bark_sides(&c->bark, c->time, sw_integrator_state(c->integrator), p->sides_at_end);
    return record_reactions(c);
}
