#include <stallwright/cook.h>

#include "bark.h"
#include "body.h"
#include "history.h"
#include "integrator.h"
#include "pit_air.h"
#include "pit_convection.h"
#include "pit_schedule.h"
#include "rendering.h"
#include "saturation.h"

#include <math.h>
#include <stdlib.h>

static const double day = 86400.0;

/* A cook under way. */
typedef struct cook {
    sw_context *context;
    sw_scenario *scenario; /* a copy, dimensions and probes filled in */
    sw_cook_observer observer;
    void *observer_data;
    sw_body body;
    sw_integrator *integrator;
    sw_reactions reactions;
    sw_rendering rendering;
    sw_bark bark;
    sw_history *history;
    double *state, *slope; /* scratch, one state each */
    size_t top_face, bottom_face; /* boundary faces above and below the first probe */
    double enthalpy_at_start, water_at_start;
    double time;           /* reached [s] */
    double next_row, next_field;
    double jump;           /* when the surroundings next jump [s] */
    sw_pit_air pit_air;
    double side_convection[SW_SIDE_COUNT];
} cook;

/* When a phase ends: by the probe, by time, or by whichever comes first. */
typedef struct phase_end {
    bool by_probe;
    double temperature; /* [K] */
    double time;        /* [s], INFINITY if no time ends it */
} phase_end;

/* Surroundings of a phase. The pit's temperature has steps, a place's has one. */
typedef struct phase_plan {
    sw_phase phase;
    const char *ending_name; /* of the field that ends it */
    phase_end end;
    const sw_place *place; /* NULL for the pit */
    sw_wrap_kind wrap;
} phase_plan;

/* Time at which an ending that is no probe temperature falls, counted from a moment. */
static double ending_time(const sw_scenario *s, sw_ending ending, double from)
{
    if (ending.kind == SW_ENDING_DURATION)
        return from + ending.value;
    if (ending.kind != SW_ENDING_CLOCK)
        return INFINITY;
    double wait = fmod(ending.value - (s->start_clock + from), day);
    return from + (wait > 0.0 ? wait : wait + day);
}

static void let_end(phase_end *end, const sw_scenario *s, sw_ending ending, double from)
{
    if (ending.kind == SW_ENDING_PROBE_TEMPERATURE) {
        if (!end->by_probe || ending.value < end->temperature)
            end->temperature = ending.value;
        end->by_probe = true;
    }
    end->time = fmin(end->time, ending_time(s, ending, from));
}

/* Humidity of the pit's air: given, or what outside air and fuel make of it; an open lid mixes outside air in. */
static double pit_humidity(const cook *c, const sw_pit_moment *now)
{
    const sw_pit *pit = &c->scenario->pit;
    double humidity = pit->humidity == SW_HUMIDITY_GIVEN
                          ? pit->humidity_ratio
                          : sw_pit_humidity_steady(&c->pit_air, now->air_temperature, 0.0);
    return humidity + now->outside_share * (c->pit_air.outside_humidity - humidity);
}

/* Lets the surfaces follow the pit's air within a segment. */
static void follow_pit(double time, const double *lumped, sw_transport *transport, void *data)
{
    (void)lumped;
    const cook *c = data;
    const sw_pit_moment now = sw_pit_at(&c->scenario->pit, time, c->jump);
    const double vapour = sw_vapour_pressure_unchecked(pit_humidity(c, &now), c->body.pressure);
    for (size_t i = 0; i < c->body.mesh->boundary_face_count; i++) {
        transport->surfaces[i].air_temperature = now.air_temperature;
        transport->surfaces[i].wall_temperature = now.wall_temperature;
        transport->surfaces[i].vapour_pressure = vapour;
    }
}

static double longest_step(double time, void *data)
{
    return sw_pit_longest_step(&((const cook *)data)->scenario->pit, time);
}

/* Puts the meat where the plan says, as of a time; returns when the surroundings next jump. */
static double surround(cook *c, const phase_plan *plan, double time)
{
    const sw_scenario *s = c->scenario;
    const sw_pit *pit = &s->pit;
    double humidity;
    c->jump = INFINITY;
    c->body.transport->lumped.surround = NULL;
    c->body.transport->lumped.longest_step = NULL;
    c->body.transport->lumped.data = c;
    sw_surroundings around = {.pressure = c->body.pressure, .convection = pit->convection};
    if (plan->place) {
        around.air_temperature = around.wall_temperature = plan->place->temperature;
        around.convection = plan->place->convection;
        humidity = plan->place->humidity_ratio;
    } else {
        c->jump = sw_pit_next_jump(pit, time);
        c->body.transport->lumped.surround = follow_pit;
        c->body.transport->lumped.longest_step = longest_step;
        const sw_pit_moment now = sw_pit_at(pit, time, c->jump);
        around.air_temperature = now.air_temperature;
        around.wall_temperature = now.wall_temperature;
        humidity = pit_humidity(c, &now);
        if (pit->convection == 0.0) {
            sw_pit_convection(s, sw_material_raw_density(c->body.materials[SW_REGION_LEAN]), now.air_temperature, around.pressure,
                              c->side_convection);
            around.convection_of_side = c->side_convection;
        }
    }
    around.vapour_pressure = sw_vapour_pressure_unchecked(humidity, around.pressure);
    sw_body_surround(&c->body, s, &around, plan->wrap);
    sw_bark_surround(&c->bark, !plan->place, &s->wrap, plan->wrap);
    return c->jump;
}

/* The probes as an end that waits for a temperature sees them. */
static sw_segment_end segment_end(const cook *c, const phase_end *end)
{
    return (sw_segment_end){end->by_probe, c->body.probe_count, c->body.probes, c->scenario->meat.last_probe_decides,
                            end->temperature};
}

/* The probe that decides in a state. */
static const sw_probe *deciding_probe(const cook *c, const double *state)
{
    const sw_segment_end end = segment_end(c, &(phase_end){0});
    return sw_deciding_probe(&end, state);
}

static double probe_value(const cook *c, const double *state)
{
    return sw_probe_reading(deciding_probe(c, state), state);
}

/* Share of the collagen turned to gelatin, at the probe where it is least. */
static double least_probe_collagen(const cook *c)
{
    double most_left = 0.0;
    for (size_t i = 0; i < c->body.probe_count; i++)
        most_left = fmax(most_left, sw_reactions_at_probe(&c->reactions, i)->remaining[SW_REACTION_COLLAGEN]);
    return 1.0 - most_left;
}

/* The boundary face of a side that is nearest to the first probe along the section. */
static size_t boundary_face_of(const cook *c, sw_side side)
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

static sw_status out_of_memory(cook *c)
{
    return sw_fail(c->context, SW_ERR_MEMORY, "memory for the history of the cook could not be allocated");
}

/* A row of the history for a state at a time. */
static sw_status fill_row(cook *c, double time, const double *state, double heating_rate, const double *flows,
                          double *row)
{
    const sw_mesh *mesh = c->body.mesh;
    sw_transport *transport = c->body.transport;
    double now[SW_FLOW_COUNT], lowest = HUGE_VAL, sum = 0.0, volume = 0.0;
    if (sw_transport_flows(transport, time, state, now) != 0)
        return sw_fail(c->context, SW_ERR_SOLVER, "no surface temperature was found at %.6g s", time);
    for (size_t i = 0; i < mesh->cell_count; i++) {
        lowest = fmin(lowest, state[2 * i]);
        sum += mesh->volume[i] * state[2 * i];
        volume += mesh->volume[i];
    }
    size_t top = c->top_face, bottom = c->bottom_face;
    size_t top_cell = mesh->boundary_faces[top].cell, bottom_cell = mesh->boundary_faces[bottom].cell;
    row[SW_SERIES_time] = time;
    row[SW_SERIES_probe_temperature] = probe_value(c, state);
    row[SW_SERIES_probe_heating_rate] = heating_rate;
    row[SW_SERIES_air_temperature] = transport->surfaces[top].air_temperature;
    row[SW_SERIES_top_surface_temperature] = transport->balances[top].temperature;
    row[SW_SERIES_bottom_surface_temperature] = transport->balances[bottom].temperature;
    for (size_t i = 0; i < mesh->boundary_face_count; i++)
        lowest = fmin(lowest, transport->balances[i].temperature);
    row[SW_SERIES_lowest_temperature] = lowest;
    row[SW_SERIES_mean_temperature] = sum / volume;
    row[SW_SERIES_top_water_content] = state[2 * top_cell + 1];
    row[SW_SERIES_top_water_activity] = transport->value[top_cell].water_activity;
    row[SW_SERIES_bottom_water_activity] = transport->value[bottom_cell].water_activity;
    row[SW_SERIES_evaporation_rate] = now[SW_FLOW_EVAPORATION];
    row[SW_SERIES_drip_rate] = now[SW_FLOW_DRIP];
    row[SW_SERIES_evaporated_mass] = flows[SW_FLOW_EVAPORATION];
    row[SW_SERIES_dripped_mass] = flows[SW_FLOW_DRIP];
    row[SW_SERIES_probe_collagen] = least_probe_collagen(c);
    row[SW_SERIES_rendered_mass] = c->rendering.mass;
    row[SW_SERIES_convection_heat] = flows[SW_FLOW_CONVECTION];
    row[SW_SERIES_radiation_heat] = flows[SW_FLOW_RADIATION];
    row[SW_SERIES_evaporation_heat] = flows[SW_FLOW_EVAPORATION_HEAT];
    row[SW_SERIES_vapour_warming_heat] = flows[SW_FLOW_VAPOUR_WARMING];
    row[SW_SERIES_drip_heat] = flows[SW_FLOW_DRIP_HEAT];
    row[SW_SERIES_rendered_fat_heat] = c->rendering.heat;
    row[SW_SERIES_warming_heat] = sw_transport_enthalpy(transport, state) - c->enthalpy_at_start - c->rendering.heat;
    row[SW_SERIES_melting_heat] = sw_rendering_melting_heat(&c->rendering, state);
    return SW_OK;
}

static sw_status append_row(cook *c, const double *row, const double *state)
{
    double readings[SW_PROBES_MAX];
    for (size_t i = 0; i < c->body.probe_count; i++)
        readings[i] = sw_probe_reading(&c->body.probes[i], state);
    return sw_history_append_row(c->history, row, readings) == 0 ? SW_OK : out_of_memory(c);
}

/* Appends the row of a time within the last step, and its cross-section if one is due. */
static sw_status record(cook *c, double time, bool with_field)
{
    double flows[SW_FLOW_COUNT], row[SW_SERIES_COUNT];
    sw_status status = sw_integrator_interpolate(c->integrator, time, 0, c->state);
    if (status == SW_OK)
        status = sw_integrator_interpolate(c->integrator, time, 1, c->slope);
    if (status == SW_OK)
        status = sw_integrator_interpolate_flows(c->integrator, time, flows);
    if (status == SW_OK)
        status = fill_row(c, time, c->state, sw_probe_reading(deciding_probe(c, c->state), c->slope), flows, row);
    if (status == SW_OK)
        status = append_row(c, row, c->state);
    if (status != SW_OK)
        return status;
    if (with_field && sw_history_append_field(c->history, time, c->state) != 0)
        return out_of_memory(c);
    return SW_OK;
}

static sw_status record_start(cook *c)
{
    double row[SW_SERIES_COUNT];
    const double *state = sw_integrator_state(c->integrator);
    if (sw_transport_rate(c->body.transport, 0.0, state, c->slope) != 0)
        return sw_fail(c->context, SW_ERR_SOLVER, "no surface temperature was found at the start");
    sw_status status = fill_row(c, 0.0, state, sw_probe_reading(deciding_probe(c, state), c->slope),
                                sw_integrator_flows(c->integrator), row);
    if (status == SW_OK)
        status = append_row(c, row, state);
    if (status != SW_OK)
        return status;
    if (sw_history_append_field(c->history, 0.0, state) != 0)
        return out_of_memory(c);
    c->next_row = c->scenario->solver.output_interval;
    c->next_field = c->scenario->solver.field_interval;
    return SW_OK;
}

/* Appends all rows that fall due up to the time reached. */
static sw_status record_up_to(cook *c, double time)
{
    while (c->next_row <= time) {
        double at = c->next_row;
        bool with_field = at >= c->next_field;
        sw_status status = record(c, at, with_field);
        if (status != SW_OK)
            return status;
        c->next_row += c->scenario->solver.output_interval;
        while (c->next_field <= at)
            c->next_field += c->scenario->solver.field_interval;
    }
    return SW_OK;
}

static void fill_budget(const cook *c, sw_budget *b)
{
    const double *flows = sw_integrator_flows(c->integrator);
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
    b->initial_mass = c->scenario->meat.mass;
    b->evaporated_mass = flows[SW_FLOW_EVAPORATION];
    b->dripped_mass = flows[SW_FLOW_DRIP];
    b->rendered_mass = c->rendering.mass;
    b->cap_rendered_mass = c->rendering.cap_mass;
    b->meat_mass = b->initial_mass - lost - c->rendering.mass;
    double left_over = received - b->evaporation_heat - b->vapour_warming_heat - b->drip_heat - enthalpy;
    double moved = fmax(fabs(received), fabs(b->evaporation_heat) + fabs(enthalpy));
    b->heat_residual = moved > 0.0 ? left_over / moved : 0.0;
    b->water_residual = (c->water_at_start - water - lost) / c->water_at_start;
}

static sw_status never_ends(cook *c, const phase_plan *plan)
{
    const sw_history *h = c->history;
    size_t last = h->row_count - 1, earlier = last > 30 ? last - 30 : 0;
    double probe = h->series[SW_SERIES_probe_temperature][last];
    double rise = probe - h->series[SW_SERIES_probe_temperature][earlier];
    double hours = (h->series[SW_SERIES_time][last] - h->series[SW_SERIES_time][earlier]) / 3600.0;
    if (!plan->end.by_probe)
        return sw_fail(c->context, SW_ERR_NEVER_ENDS,
                       "the phase \"%s\" does not end within solver.longest_phase, %.4g h: the time of %s comes after %.4g h",
                       sw_phase_name(plan->phase), c->scenario->solver.longest_phase / 3600.0, plan->ending_name,
                       plan->end.time / 3600.0);
    return sw_fail(c->context, SW_ERR_NEVER_ENDS,
                   "the phase \"%s\" does not end: %s waits for the probe to read %.1f C, but after %.0f h it has "
                   "levelled at %.1f C, changing by %.2g K per hour; a hotter pit, a wrap or a lower temperature would end it",
                   sw_phase_name(plan->phase), plan->ending_name, plan->end.temperature - 273.15,
                   c->scenario->solver.longest_phase / 3600.0, probe - 273.15, hours > 0.0 ? rise / hours : 0.0);
}

static sw_status run_segment(cook *c, const phase_plan *plan, double end_time, bool *by_probe)
{
    sw_segment_end end = segment_end(c, &plan->end);
    sw_status status = sw_integrator_start(c->integrator, c->time, end_time, &end);
    bool ended = false;
    while (status == SW_OK && !ended) {
        status = sw_integrator_step(c->integrator, &c->time, &ended);
        if (status != SW_OK)
            break;
        const double *state = sw_integrator_state(c->integrator);
        sw_reactions_advance(&c->reactions, c->time, state);
        sw_rendering_advance(&c->rendering);
        sw_bark_advance(&c->bark, c->time, state);
        status = record_up_to(c, c->time);
        if (status == SW_OK && c->observer && c->observer(c->time, probe_value(c, state), c->observer_data) != 0)
            status = sw_fail(c->context, SW_ERR_CANCELLED, "the cook was cancelled at %.4g h", c->time / 3600.0);
    }
    sw_integrator_add_statistics(c->integrator, &c->history->statistics);
    *by_probe = c->time < end_time;
    return status;
}

static void record_phase(cook *c, const phase_plan *plan, double start)
{
    sw_history *h = c->history;
    size_t last = h->row_count - 1;
    sw_phase_record *p = &h->phases[h->phase_count++];
    p->phase = plan->phase;
    p->start = start;
    p->end = c->time;
    p->probe_at_end = h->series[SW_SERIES_probe_temperature][last];
    p->top_surface_at_end = h->series[SW_SERIES_top_surface_temperature][last];
    p->top_water_activity_at_end = h->series[SW_SERIES_top_water_activity][last];
    fill_budget(c, &p->budget_at_end);
    sw_bark_sides(&c->bark, sw_integrator_state(c->integrator), p->sides_at_end);
}

/* How far the reactions got. */
static sw_status record_reactions(cook *c)
{
    sw_history *h = c->history;
    const sw_mesh *mesh = c->body.mesh;
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++) {
        h->cell_extent[r] = malloc(mesh->cell_count * sizeof *h->cell_extent[r]);
        if (!h->cell_extent[r])
            return out_of_memory(c);
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

static bool is_over_at_start(const cook *c, const phase_plan *plan)
{
    if (plan->end.time <= c->time)
        return true;
    if (!plan->end.by_probe)
        return false;
    /* On the pit the probe must come from below; in a rest or hold it may come from either side. */
    double above = probe_value(c, sw_integrator_state(c->integrator)) - plan->end.temperature;
    return plan->place ? fabs(above) < 1e-6 : above >= -1e-6;
}

static sw_status run_phase(cook *c, const phase_plan *plan)
{
    const double start = c->time, limit = start + c->scenario->solver.longest_phase;
    if (c->history->row_count == 0) {
        surround(c, plan, c->time);
        sw_status status = record_start(c);
        if (status != SW_OK)
            return status;
    }
    bool by_probe = is_over_at_start(c, plan);
    while (!by_probe && c->time < plan->end.time) {
        if (c->time >= limit)
            return never_ends(c, plan);
        double jump = surround(c, plan, c->time);
        sw_status status = run_segment(c, plan, fmin(fmin(plan->end.time, limit), jump), &by_probe);
        if (status != SW_OK)
            return status;
    }
    /* The end of a phase gets its own row and cross-section, unless they are there already. */
    const sw_history *h = c->history;
    if (c->time > h->series[SW_SERIES_time][h->row_count - 1]) {
        sw_status status = record(c, c->time, true);
        if (status != SW_OK)
            return status;
    } else if (c->time > h->field_time[h->field_count - 1] &&
               sw_history_append_field(c->history, c->time, sw_integrator_state(c->integrator)) != 0) {
        return out_of_memory(c);
    }
    record_phase(c, plan, start);
    return SW_OK;
}

static sw_status run_on_pit(cook *c)
{
    const sw_scenario *s = c->scenario;
    phase_plan plan = {.phase = SW_PHASE_PIT,
                       .ending_name = "pull",
                       .end = {.time = INFINITY},
                       .wrap = SW_WRAP_NONE};
    phase_end pull = {.time = INFINITY};
    let_end(&pull, s, s->pull, 0.0);
    plan.end = pull;
    if (s->wrap.kind == SW_WRAP_NONE)
        return run_phase(c, &plan);

    plan.ending_name = s->wrap.when.kind == SW_ENDING_PROBE_TEMPERATURE ? "wrap.when" : "pull";
    let_end(&plan.end, s, s->wrap.when, 0.0);
    sw_status status = run_phase(c, &plan);
    if (status != SW_OK)
        return status;
    plan.phase = SW_PHASE_WRAPPED;
    plan.ending_name = "pull";
    plan.end = pull;
    if (is_over_at_start(c, &plan))
        return SW_OK; /* pulled before the wrap went on */
    plan.wrap = s->wrap.kind;
    return run_phase(c, &plan);
}

static bool was_wrapped(const sw_history *history)
{
    for (size_t i = 0; i < history->phase_count; i++)
        if (history->phases[i].phase == SW_PHASE_WRAPPED)
            return true;
    return false;
}

static sw_status run_in_place(cook *c, sw_phase phase, const sw_place *place, const char *ending_name)
{
    if (place->until.kind == SW_ENDING_NONE)
        return SW_OK;
    bool wrapped = place->keep_wrap && was_wrapped(c->history);
    phase_plan plan = {.phase = phase,
                       .ending_name = ending_name,
                       .end = {.time = INFINITY},
                       .place = place,
                       .wrap = wrapped ? c->scenario->wrap.kind : SW_WRAP_NONE};
    let_end(&plan.end, c->scenario, place->until, c->time);
    return run_phase(c, &plan);
}

static sw_status prepare(cook *c)
{
    sw_status status = sw_body_init(c->context, c->scenario, &c->body);
    if (status == SW_OK)
        status = sw_pit_air_init(c->context, &c->scenario->pit, c->body.pressure, &c->pit_air);
    if (status == SW_OK)
        status = sw_integrator_create(c->context, c->body.transport, c->scenario->solver.relative_tolerance,
                                      &c->integrator);
    if (status != SW_OK)
        return status;
    size_t unknowns = sw_transport_unknowns(c->body.transport);
    c->top_face = boundary_face_of(c, SW_SIDE_TOP);
    c->bottom_face = boundary_face_of(c, SW_SIDE_BOTTOM);
    c->state = malloc(unknowns * sizeof *c->state);
    c->slope = malloc(unknowns * sizeof *c->slope);
    c->history = sw_history_create(c->scenario, c->body.mesh, c->body.probe_count, c->body.probe_places);
    double *state = sw_integrator_state(c->integrator);
    sw_body_raw_state(&c->body, c->scenario, state);
    if (!c->state || !c->slope || !c->history || sw_reactions_init(&c->reactions, &c->body, state) != 0 ||
        sw_rendering_init(&c->rendering, &c->reactions, c->scenario->meat.initial_temperature) != 0 ||
        sw_bark_init(&c->bark, &c->body, state) != 0)
        return out_of_memory(c);
    c->enthalpy_at_start = sw_transport_enthalpy(c->body.transport, state);
    c->water_at_start = sw_transport_water(c->body.transport, state);
    return SW_OK;
}

static sw_status run_phases(cook *c)
{
    sw_status status = run_on_pit(c);
    if (status == SW_OK)
        status = run_in_place(c, SW_PHASE_REST, &c->scenario->rest, "rest.until");
    if (status == SW_OK)
        status = run_in_place(c, SW_PHASE_HOLD, &c->scenario->hold, "hold.until");
    if (status == SW_OK)
        status = run_in_place(c, SW_PHASE_COOLING, &c->scenario->cooling, "cooling.until");
    return status;
}

sw_status sw_cook_run(sw_context *context, const sw_scenario *scenario, sw_cook_observer observer, void *data,
                      sw_history **history)
{
    sw_status status = sw_scenario_check(context, scenario);
    if (status != SW_OK)
        return status;
    sw_scenario own = *scenario;
    cook c = {.context = context, .scenario = &own, .observer = observer, .observer_data = data};
    status = prepare(&c);
    if (status == SW_OK)
        status = run_phases(&c);
    if (status == SW_OK)
        status = record_reactions(&c);
    if (status == SW_OK) {
        fill_budget(&c, &c.history->budget);
        sw_history_find_milestones(c.history);
        *history = c.history;
    } else {
        sw_history_destroy(c.history);
    }
    sw_bark_free(&c.bark);
    sw_rendering_free(&c.rendering);
    sw_reactions_free(&c.reactions);
    sw_integrator_destroy(c.integrator);
    sw_body_free(&c.body);
    free(c.state);
    free(c.slope);
    return status;
}
