#include <stallwright/cook.h>

#include "bark.h"
#include "body.h"
#include "history.h"
#include "integrator.h"
#include "rendering.h"
#include "saturation.h"
#include "surroundings.h"

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
    sw_around around;
    double next_spritz;    /* [s], INFINITY for none */
    double added, poured, spilled; /* liquid poured or sprayed on, taken out of a wrap, sprayed and not clinging [kg] */
} cook;

/* When a phase ends: by the probe, by time, or by whichever comes first. */
typedef struct phase_end {
    bool by_bark;
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
    if (ending.kind == SW_ENDING_BARK)
        end->by_bark = true;
    end->time = fmin(end->time, ending_time(s, ending, from));
}

static double *lumped_of(const cook *c)
{
    return sw_integrator_state(c->integrator) + 2 * c->body.mesh->cell_count;
}

/* Puts the meat where the plan says. */
static void enter(cook *c, const phase_plan *plan)
{
    const double change = sw_around_enter(&c->around, plan->place, plan->wrap, c->time, c->rendering.mass, lumped_of(c));
    const bool poured_in = c->around.has_pool && c->scenario->wrap.liquid > 0.0 && change != 0.0;
    c->poured += change + (poured_in ? c->scenario->wrap.liquid : 0.0);
    c->added += poured_in ? c->scenario->wrap.liquid : 0.0;
    sw_bark_surround(&c->bark, !plan->place, &c->scenario->wrap, plan->wrap);
}

/* The probes as an end that waits for a temperature sees them. */
static sw_segment_end segment_end(const cook *c, const phase_end *end)
{
    return (sw_segment_end){.by_bark = end->by_bark,
                            .bark_cell = c->body.mesh->boundary_faces[c->top_face].cell,
                            .bark_activity = c->scenario->wrap.bark_set,
                            .by_probe = end->by_probe,
                            .probe_count = c->body.probe_count,
                            .probes = c->body.probes,
                            .by_last = c->scenario->meat.last_probe_decides,
                            .temperature = end->temperature};
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
    const double *lumped = state + 2 * mesh->cell_count;
    row[SW_SERIES_air_temperature] = sw_around_air_temperature(&c->around, time, lumped);
    row[SW_SERIES_air_humidity_ratio] = sw_around_humidity(&c->around, time, lumped);
    row[SW_SERIES_held_mass] = sw_around_held(&c->around, lumped);
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
    b->kept_mass = sw_around_held(&c->around, state + 2 * c->body.mesh->cell_count);
    b->added_mass = c->added;
    b->poured_mass = c->poured;
    b->film_mass = flows[SW_FLOW_FILM];
    b->pool_vapour_mass = flows[SW_FLOW_LUMPED + SW_AROUND_POOL_VAPOUR];
    b->away_mass = c->spilled + flows[SW_FLOW_LUMPED + SW_AROUND_AWAY];
    if (c->body.transport->lumped.count == 0)
        b->away_mass = b->dripped_mass;
    b->fuel_mass = flows[SW_FLOW_LUMPED + SW_AROUND_FUEL];
    b->fuel_water_mass = b->fuel_mass * c->around.pit_air.fuel.water;
    b->pan_vapour_mass = flows[SW_FLOW_LUMPED + SW_AROUND_PAN_VAPOUR];
    const double given = b->dripped_mass + b->added_mass + flows[SW_FLOW_LUMPED + SW_AROUND_INSIDE];
    b->liquid_residual = (given - b->kept_mass - b->poured_mass - b->film_mass - b->pool_vapour_mass - b->away_mass) /
                         c->water_at_start;
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

static sw_status run_segment(cook *c, const phase_plan *plan, double end_time, bool *early)
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
        sw_around_follow(&c->around, c->time, c->rendering.mass);
        sw_bark_advance(&c->bark, c->time, state);
        status = record_up_to(c, c->time);
        if (status == SW_OK && c->observer && c->observer(c->time, probe_value(c, state), c->observer_data) != 0)
            status = sw_fail(c->context, SW_ERR_CANCELLED, "the cook was cancelled at %.4g h", c->time / 3600.0);
    }
    sw_integrator_add_statistics(c->integrator, &c->history->statistics);
    *early = c->time < end_time;
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

static bool is_over(const cook *c, const phase_end *end, bool from_below)
{
    const double *state = sw_integrator_state(c->integrator);
    if (end->time <= c->time)
        return true;
    if (end->by_bark && sw_transport_activity(c->body.transport, c->body.mesh->boundary_faces[c->top_face].cell, state) <=
                            c->scenario->wrap.bark_set)
        return true;
    if (!end->by_probe)
        return false;
    /* On the pit the probe must come from below; in a rest or hold it may come from either side. */
    double above = probe_value(c, state) - end->temperature;
    return from_below ? above >= -1e-6 : fabs(above) < 1e-6;
}

static void spritz(cook *c)
{
    c->added += c->scenario->spritz.amount;
    c->spilled += sw_around_spritz(&c->around, lumped_of(c));
    c->next_spritz += c->scenario->spritz.every;
}

/* Integrates to the end of a plan, from jump to jump of the surroundings. */
static sw_status run_stretch(cook *c, const phase_plan *plan, double limit)
{
    const bool sprays = plan->phase == SW_PHASE_PIT; /* until a wrap goes on; not again once it is off */
    bool over = is_over(c, &plan->end, !plan->place);
    while (!over && c->time < plan->end.time) {
        if (c->time >= limit)
            return never_ends(c, plan);
        if (sprays && c->time >= c->next_spritz)
            spritz(c);
        double jump = sw_around_surround(&c->around, c->time, lumped_of(c));
        if (sprays)
            jump = fmin(jump, c->next_spritz);
        sw_status status = run_segment(c, plan, fmin(fmin(plan->end.time, limit), jump), &over);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}

static sw_status begin_phase(cook *c, const phase_plan *plan)
{
    enter(c, plan);
    if (c->history->row_count > 0)
        return SW_OK;
    sw_around_surround(&c->around, c->time, lumped_of(c));
    return record_start(c);
}

/* The end of a phase gets its own row and cross-section, unless they are there already. */
static sw_status end_phase(cook *c, const phase_plan *plan, double start)
{
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

static sw_status run_phase(cook *c, const phase_plan *plan)
{
    const double start = c->time;
    sw_status status = begin_phase(c, plan);
    if (status == SW_OK)
        status = run_stretch(c, plan, start + c->scenario->solver.longest_phase);
    return status == SW_OK ? end_phase(c, plan, start) : status;
}

/* The juice in the tray is poured off, or over the meat, where what does not cling runs back. */
static void pour(cook *c)
{
    double *lumped = lumped_of(c), *pool = &lumped[SW_AROUND_POOL_WATER];
    if (c->scenario->wrap.pour == SW_POUR_OFF) {
        c->poured += *pool;
        *pool = 0.0;
        return;
    }
    double room = c->scenario->spritz.cling * c->around.open_area - lumped[SW_AROUND_FILM];
    double clings = fmax(0.0, fmin(*pool, room));
    lumped[SW_AROUND_FILM] += clings;
    *pool -= clings;
    c->around.has_film = true;
    c->around.film_warming = 0.0;
}

/* A phase in a wrap, during which its juice may be poured. */
static sw_status run_in_wrap(cook *c, const phase_plan *plan)
{
    const sw_wrap *wrap = &c->scenario->wrap;
    const double start = c->time, limit = start + c->scenario->solver.longest_phase;
    sw_status status = begin_phase(c, plan);
    if (status == SW_OK && wrap->pour != SW_POUR_NO && plan->wrap == SW_WRAP_OPEN_TRAY) {
        phase_plan until = *plan;
        phase_end when = {.time = INFINITY};
        let_end(&when, c->scenario, wrap->pour_when, 0.0);
        let_end(&until.end, c->scenario, wrap->pour_when, 0.0);
        if (wrap->pour_when.kind == SW_ENDING_PROBE_TEMPERATURE)
            until.ending_name = "wrap.pour_when";
        status = run_stretch(c, &until, limit);
        if (status == SW_OK && is_over(c, &when, true))
            pour(c);
    }
    if (status == SW_OK)
        status = run_stretch(c, plan, limit);
    return status == SW_OK ? end_phase(c, plan, start) : status;
}

static const char *name_of_end(sw_ending ending, const char *name)
{
    return ending.kind == SW_ENDING_PROBE_TEMPERATURE ? name : "pull";
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

    plan.ending_name = name_of_end(s->wrap.when, "wrap.when");
    let_end(&plan.end, s, s->wrap.when, 0.0);
    sw_status status = run_phase(c, &plan);
    if (status != SW_OK || is_over(c, &pull, true))
        return status; /* pulled before the wrap went on */
    const bool rewraps = s->rewrap.when.kind != SW_ENDING_NONE && s->rewrap.kind != s->wrap.kind;
    plan = (phase_plan){.phase = SW_PHASE_WRAPPED, .ending_name = "pull", .end = pull, .wrap = s->wrap.kind};
    if (rewraps) {
        plan.ending_name = name_of_end(s->rewrap.when, "rewrap.when");
        let_end(&plan.end, s, s->rewrap.when, 0.0);
    }
    status = run_in_wrap(c, &plan);
    if (status != SW_OK || !rewraps || is_over(c, &pull, true))
        return status;
    plan = (phase_plan){.phase = SW_PHASE_REWRAPPED, .ending_name = "pull", .end = pull, .wrap = s->rewrap.kind};
    return run_in_wrap(c, &plan);
}

/* What the meat is wrapped in when it comes off the pit. */
static sw_wrap_kind last_wrap(const cook *c)
{
    sw_wrap_kind wrap = SW_WRAP_NONE;
    for (size_t i = 0; i < c->history->phase_count; i++) {
        if (c->history->phases[i].phase == SW_PHASE_WRAPPED)
            wrap = c->scenario->wrap.kind;
        if (c->history->phases[i].phase == SW_PHASE_REWRAPPED)
            wrap = c->scenario->rewrap.kind;
    }
    return wrap;
}

static sw_status run_in_place(cook *c, sw_phase phase, const sw_place *place, const char *ending_name)
{
    if (place->until.kind == SW_ENDING_NONE)
        return SW_OK;
    phase_plan plan = {.phase = phase,
                       .ending_name = ending_name,
                       .end = {.time = INFINITY},
                       .place = place,
                       .wrap = place->keep_wrap ? last_wrap(c) : SW_WRAP_NONE};
    let_end(&plan.end, c->scenario, place->until, c->time);
    return run_phase(c, &plan);
}

static sw_status prepare(cook *c)
{
    sw_status status = sw_body_init(c->context, c->scenario, &c->body);
    if (status == SW_OK)
        status = sw_around_init(c->context, &c->around, c->scenario, &c->body);
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
    sw_around_start(&c->around, lumped_of(c));
    c->next_spritz = c->scenario->spritz.amount > 0.0 ? c->scenario->spritz.from : INFINITY;
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
