#include "transport.h"

#include "vector_clones.h"

#include <math.h>
#include <stdlib.h>

static size_t count_runs(const sw_mesh *mesh, size_t *starts)
{
    size_t runs = 0;
    for (size_t i = 0; i < mesh->cell_count; i++)
        if (i == 0 || mesh->region[i] != mesh->region[i - 1]) {
            if (starts)
                starts[runs] = i;
            runs++;
        }
    if (starts)
        starts[runs] = mesh->cell_count;
    return runs;
}

sw_status sw_transport_create(const sw_mesh *mesh, const sw_material *const *materials, const sw_water_table *water,
                              sw_transport **transport)
{
    sw_transport *t = calloc(1, sizeof *t);
    if (!t)
        return SW_ERR_MEMORY;
    size_t n = mesh->cell_count, m = mesh->boundary_face_count;
    t->mesh = mesh;
    t->water = water;
    t->fibre_conductivity = t->fibre_permeability = 1.0;
    for (int i = 0; i < SW_REGION_COUNT; i++)
        t->materials[i] = materials[i];
    t->run_count = count_runs(mesh, NULL);
    t->surfaces = calloc(m, sizeof *t->surfaces);
    t->value = calloc(n, sizeof *t->value);
    t->by_temperature = calloc(n, sizeof *t->by_temperature);
    t->by_water = calloc(n, sizeof *t->by_water);
    t->per_dry_mass = calloc(n, sizeof *t->per_dry_mass);
    t->per_capacity = calloc(n, sizeof *t->per_capacity);
    t->water_gain = calloc(n, sizeof *t->water_gain);
    t->heat_gain = calloc(n, sizeof *t->heat_gain);
    t->surface_guess = calloc(m, sizeof *t->surface_guess);
    t->balances = calloc(m, sizeof *t->balances);
    t->run_start = calloc(t->run_count + 1, sizeof *t->run_start);
    t->face_entries = calloc(mesh->face_count + 1, sizeof *t->face_entries);
    t->cell_entries = calloc(n, sizeof *t->cell_entries);
    if (!t->surfaces || !t->value || !t->by_temperature || !t->by_water || !t->per_dry_mass || !t->per_capacity ||
        !t->water_gain || !t->heat_gain ||
        !t->surface_guess || !t->balances || !t->run_start || !t->face_entries || !t->cell_entries) {
        sw_transport_destroy(t);
        return SW_ERR_MEMORY;
    }
    count_runs(mesh, t->run_start);
    for (size_t i = 0; i < n; i++)
        t->per_dry_mass[i] = 1.0 / (mesh->volume[i] * materials[mesh->region[i]]->dry_density);
    *transport = t;
    return SW_OK;
}

void sw_transport_destroy(sw_transport *t)
{
    if (!t)
        return;
    free(t->surfaces);
    free(t->value);
    free(t->by_temperature);
    free(t->by_water);
    free(t->per_dry_mass);
    free(t->per_capacity);
    free(t->water_gain);
    free(t->heat_gain);
    free(t->surface_guess);
    free(t->balances);
    free(t->run_start);
    free(t->face_entries);
    free(t->cell_entries);
    free(t);
}

void sw_transport_set_layout(sw_transport *t, const sw_jacobian_layout *layout)
{
    for (size_t i = 0; i < t->mesh->face_count; i++) {
        const sw_face *face = &t->mesh->faces[i];
        const size_t unknown[4] = {2 * face->a, 2 * face->a + 1, 2 * face->b, 2 * face->b + 1};
        for (int r = 0; r < 4; r++)
            for (int c = 0; c < 4; c++)
                t->face_entries[i][4 * r + c] = layout->offset(unknown[r], unknown[c], layout->layout);
    }
    for (size_t i = 0; i < t->mesh->cell_count; i++)
        for (size_t r = 0; r < 2; r++)
            for (size_t c = 0; c < 2; c++)
                t->cell_entries[i][2 * r + c] = layout->offset(2 * i + r, 2 * i + c, layout->layout);
}

static int state_is_in_range(sw_transport *t, const double *state)
{
    for (size_t i = 0; i < t->mesh->cell_count; i++) {
        double temperature = state[2 * i], water = state[2 * i + 1];
        /* Written so that NaN fails too. */
        if (!(temperature > SW_TEMPERATURE_MIN && temperature < SW_TEMPERATURE_MAX && water > -0.01)) {
            t->bad_cell = i;
            return 0;
        }
    }
    return 1;
}

static void evaluate_materials(sw_transport *t, const double *state, int derivatives)
{
    for (size_t r = 0; r < t->run_count; r++) {
        size_t first = t->run_start[r], count = t->run_start[r + 1] - first;
        const sw_material *material = t->materials[t->mesh->region[first]];
        material->functions->evaluate(material, count, state + 2 * first, t->value + first,
                                      derivatives ? t->by_temperature + first : NULL,
                                      derivatives ? t->by_water + first : NULL);
    }
    for (size_t i = 0; i < t->mesh->cell_count; i++)
        t->per_capacity[i] = 1.0 / (t->mesh->volume[i] * t->value[i].heat_capacity);
}

/* Water and heat crossing a face from a to b, and their derivatives by T_a, X_a, T_b, X_b. */
typedef struct face_flux {
    double water, heat;
    double water_by[4], heat_by[4];
} face_flux;

static SW_INTO_CLONES double harmonic(double distance_a, double value_a, double distance_b, double value_b)
{
    return value_a > 0.0 && value_b > 0.0 ? value_a * value_b / (distance_a * value_b + distance_b * value_a) : 0.0;
}

static SW_INTO_CLONES face_flux flux_through(const sw_transport *t, const sw_face *face, const double *state,
                                     const int derivatives)
{
    const sw_properties *a = &t->value[face->a], *b = &t->value[face->b];
    const double ta = state[2 * face->a], xa = state[2 * face->a + 1];
    const double tb = state[2 * face->b], xb = state[2 * face->b + 1];
    const double da = face->distance_a, db = face->distance_b, per_distance = 1.0 / (da + db);
    const int alike = t->mesh->region[face->a] == t->mesh->region[face->b];

    /* Within a material the means are arithmetic, so that a drying skin does not choke its own supply; between materials
     * the resistances add, and water content is no potential. */
    const double heat_factor = face->along_fibres ? t->fibre_conductivity : 1.0;
    const double juice_factor = face->along_fibres ? t->fibre_permeability : 1.0;
    double conductance = heat_factor * harmonic(da, a->conductivity, db, b->conductivity);
    double mobility = juice_factor * (alike ? 0.5 * (a->mobility + b->mobility) * per_distance
                                            : harmonic(da, a->mobility, db, b->mobility));
    double diffusivity = alike ? 0.5 * (a->diffusivity + b->diffusivity) * per_distance : 0.0;
    double permeability = 0.5 * (a->vapour_permeability + b->vapour_permeability) * per_distance;

    double pressure = a->juice_pressure - b->juice_pressure, content = xa - xb;
    double vapour_drop = a->vapour_pressure - b->vapour_pressure, steam_drop = a->steam_pressure - b->steam_pressure;
    double steam_permeability = 0.5 * (a->steam_permeability + b->steam_permeability) * per_distance;
    double liquid = mobility * pressure + diffusivity * content, vapour = permeability * vapour_drop + steam_permeability * steam_drop;
    double liquid_enthalpy = 0.5 * (a->water_enthalpy + b->water_enthalpy);
    double vapour_enthalpy = 0.5 * (a->vapour_enthalpy + b->vapour_enthalpy);

    face_flux f;
    f.water = face->area * (liquid + vapour);
    f.heat = face->area * (conductance * (ta - tb) + liquid * liquid_enthalpy + vapour * vapour_enthalpy);
    if (!derivatives)
        return f;

    /* A harmonic mean m of k_a and k_b over distances: dm/dk_a = m^2 d_a / k_a^2. */
    double conductance_by_own[2] = {0.0, 0.0}, mobility_by_own[2];
    if (conductance > 0.0) {
        const double scale = conductance * conductance / heat_factor;
        conductance_by_own[0] = scale * da / (a->conductivity * a->conductivity);
        conductance_by_own[1] = scale * db / (b->conductivity * b->conductivity);
    }
    if (alike) {
        mobility_by_own[0] = mobility_by_own[1] = juice_factor * 0.5 * per_distance;
    } else {
        const double scale = mobility * mobility / juice_factor;
        mobility_by_own[0] = a->mobility > 0.0 ? scale * da / (a->mobility * a->mobility) : 0.0;
        mobility_by_own[1] = b->mobility > 0.0 ? scale * db / (b->mobility * b->mobility) : 0.0;
    }
#pragma GCC unroll 4
    for (int v = 0; v < 4; v++) {
        const int of_a = v < 2;
        const sw_properties *d = v == 0   ? &t->by_temperature[face->a]
                                 : v == 1 ? &t->by_water[face->a]
                                 : v == 2 ? &t->by_temperature[face->b]
                                          : &t->by_water[face->b];
        const double sign = of_a ? 1.0 : -1.0;
        const double conductance_by = conductance_by_own[v / 2] * d->conductivity;
        const double mobility_by = mobility_by_own[v / 2] * d->mobility;
        double diffusivity_by = alike ? 0.5 * d->diffusivity * per_distance : 0.0;
        double permeability_by = 0.5 * d->vapour_permeability * per_distance;
        double liquid_by = mobility_by * pressure + mobility * sign * d->juice_pressure + diffusivity_by * content;
        double steam_permeability_by = 0.5 * d->steam_permeability * per_distance;
        double vapour_by = permeability_by * vapour_drop + permeability * sign * d->vapour_pressure +
                           steam_permeability_by * steam_drop + steam_permeability * sign * d->steam_pressure;
        double conduction_by = conductance_by * (ta - tb);
        if (v == 0 || v == 2)
            conduction_by += sign * conductance;
        else
            liquid_by += sign * diffusivity;
        f.water_by[v] = face->area * (liquid_by + vapour_by);
        f.heat_by[v] = face->area * (conduction_by + liquid_by * liquid_enthalpy + vapour_by * vapour_enthalpy +
                                     0.5 * liquid * d->water_enthalpy + 0.5 * vapour * d->vapour_enthalpy);
    }
    return f;
}

/* What crosses a boundary face out of its cell, with derivatives by the cell's T and X. */
typedef struct boundary_flux {
    double water, heat;
    double water_by[2], heat_by[2];
    double drip; /* [kg s-1] */
} boundary_flux;

/* From the last balance and what was behind it, along its tangents: most often one evaluation then does. */
static double guess_surface(const sw_behind *last, const sw_surface_balance *b, const sw_behind *behind)
{
    if (!(last->temperature > 0.0))
        return behind->temperature;
    double move = b->temperature_by_cell * (behind->temperature - last->temperature) +
                  b->temperature_by_conductance * (behind->conductance - last->conductance) +
                  b->temperature_by_activity * (behind->water_activity - last->water_activity);
    /* Far from the last balance, as after a jump of the surroundings, a tangent leads nowhere. */
    return fabs(move) < 5.0 ? b->temperature + move : b->temperature;
}

static int flux_out(sw_transport *t, size_t index, const double *state, boundary_flux *f, const int derivatives)
{
    const sw_boundary_face *face = &t->mesh->boundary_faces[index];
    const sw_surface *surface = &t->surfaces[index];
    const size_t cell = face->cell;
    const sw_properties *p = &t->value[cell];
    const double temperature = state[2 * cell];
    const double heat_factor = 1.0 + face->along_fibres * (t->fibre_conductivity - 1.0);
    const double juice_factor = 1.0 + face->along_fibres * (t->fibre_permeability - 1.0);
    const sw_behind behind = {temperature, heat_factor * p->conductivity / face->distance, p->water_activity};
    sw_surface_balance *b = &t->balances[index];
    double guess = guess_surface(&t->surface_guess[index], b, &behind);
    if (sw_surface_solve(surface, t->water, &behind, guess, b) != 0) {
        t->bad_cell = cell;
        return 1;
    }
    t->surface_guess[index] = behind;

    double per_distance = surface->drips ? juice_factor / face->distance : 0.0;
    double drip = p->mobility * p->juice_pressure * per_distance;
    double difference = b->temperature - temperature;
    f->drip = face->area * drip;
    f->water = face->area * (b->evaporation + drip);
    f->heat = face->area * (-behind.conductance * difference + b->evaporation * b->water_enthalpy +
                            drip * p->water_enthalpy);
    if (!derivatives)
        return 0;

    for (int v = 0; v < 2; v++) {
        const sw_properties *d = v == 0 ? &t->by_temperature[cell] : &t->by_water[cell];
        double conductance_by = heat_factor * d->conductivity / face->distance;
        double surface_by = b->temperature_by_conductance * conductance_by +
                            b->temperature_by_activity * d->water_activity + (v == 0 ? b->temperature_by_cell : 0.0);
        double evaporation_by = b->evaporation_by_temperature * surface_by +
                                b->evaporation_by_activity * d->water_activity;
        double drip_by = (d->mobility * p->juice_pressure + p->mobility * d->juice_pressure) * per_distance;
        f->water_by[v] = face->area * (evaporation_by + drip_by);
        f->heat_by[v] = face->area * (-conductance_by * difference -
                                      behind.conductance * (surface_by - (v == 0 ? 1.0 : 0.0)) +
                                      evaporation_by * b->water_enthalpy +
                                      b->evaporation * b->water_enthalpy_slope * surface_by +
                                      drip_by * p->water_enthalpy + drip * d->water_enthalpy);
    }
    return 0;
}

static SW_INTO_CLONES void add_face_derivatives(sw_transport *t, size_t index, const face_flux *f, double *values)
{
    const sw_face *face = &t->mesh->faces[index];
    const size_t *entry = t->face_entries[index];
    const size_t cell[2] = {face->a, face->b};
    for (int side = 0; side < 2; side++) {
        const size_t i = cell[side];
        const double sign = side == 0 ? -1.0 : 1.0;
        const double per_heat = sign * t->per_capacity[i], per_water = sign * t->per_dry_mass[i];
        const double enthalpy = t->value[i].water_enthalpy;
        for (int v = 0; v < 4; v++) {
            values[entry[8 * side + v]] += (f->heat_by[v] - enthalpy * f->water_by[v]) * per_heat;
            values[entry[8 * side + 4 + v]] += f->water_by[v] * per_water;
        }
    }
}

static void add_boundary_derivatives(sw_transport *t, size_t cell, const boundary_flux *f, double *values)
{
    const size_t *entry = t->cell_entries[cell];
    const double per_heat = -t->per_capacity[cell], per_water = -t->per_dry_mass[cell];
    for (int v = 0; v < 2; v++) {
        values[entry[v]] += (f->heat_by[v] - t->value[cell].water_enthalpy * f->water_by[v]) * per_heat;
        values[entry[2 + v]] += f->water_by[v] * per_water;
    }
}

/* The rate of a cell from its gains, and the derivatives that come from its own heat capacity and water enthalpy. */
static SW_INTO_CLONES void finish_cell(sw_transport *t, size_t i, double *rate, double *values, const int derivatives)
{
    const sw_properties *p = &t->value[i];
    const double per_capacity = t->per_capacity[i], per_volume_capacity = t->mesh->volume[i] * per_capacity;
    rate[2 * i] = (t->heat_gain[i] - p->water_enthalpy * t->water_gain[i]) * per_capacity;
    rate[2 * i + 1] = t->water_gain[i] * t->per_dry_mass[i];
    if (!derivatives)
        return;
    const size_t *entry = t->cell_entries[i];
    values[entry[0]] -= t->by_temperature[i].water_enthalpy * t->water_gain[i] * per_capacity +
                        rate[2 * i] * per_volume_capacity * t->by_temperature[i].heat_capacity;
    values[entry[1]] -= rate[2 * i] * per_volume_capacity * t->by_water[i].heat_capacity;
}

static SW_INTO_CLONES int assemble(sw_transport *t, double time, const double *state, double *rate, double *values,
                           const int derivatives)
{
    const sw_mesh *mesh = t->mesh;
    if (!state_is_in_range(t, state))
        return 1;
    if (t->update)
        t->update(time, t, t->update_data);
    evaluate_materials(t, state, derivatives);
    for (size_t i = 0; i < mesh->cell_count; i++) {
        t->water_gain[i] = 0.0;
        t->heat_gain[i] =
            t->heat_source
                ? mesh->volume[i] * t->heat_source(time, mesh->position[i], mesh->across[i], t->heat_source_data)
                : 0.0;
    }
    for (size_t i = 0; i < mesh->face_count; i++) {
        const sw_face *face = &mesh->faces[i];
        face_flux f = flux_through(t, face, state, derivatives);
        t->water_gain[face->a] -= f.water;
        t->water_gain[face->b] += f.water;
        t->heat_gain[face->a] -= f.heat;
        t->heat_gain[face->b] += f.heat;
        if (derivatives)
            add_face_derivatives(t, i, &f, values);
    }
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const size_t cell = mesh->boundary_faces[i].cell;
        boundary_flux f;
        if (flux_out(t, i, state, &f, derivatives) != 0)
            return 1;
        t->water_gain[cell] -= f.water;
        t->heat_gain[cell] -= f.heat;
        if (derivatives)
            add_boundary_derivatives(t, cell, &f, values);
    }
    for (size_t i = 0; i < mesh->cell_count; i++)
        finish_cell(t, i, rate, values, derivatives);
    return 0;
}

SW_VECTOR_CLONES
int sw_transport_rate(sw_transport *transport, double time, const double *state, double *rate)
{
    return assemble(transport, time, state, rate, NULL, 0);
}

SW_VECTOR_CLONES
int sw_transport_jacobian(sw_transport *transport, double time, const double *state, double *rate, double *values)
{
    return assemble(transport, time, state, rate, values, 1);
}

int sw_transport_flows(sw_transport *t, double time, const double *state, double flows[SW_FLOW_COUNT])
{
    const sw_mesh *mesh = t->mesh;
    for (int i = 0; i < SW_FLOW_COUNT; i++)
        flows[i] = 0.0;
    if (t->update)
        t->update(time, t, t->update_data);
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const sw_boundary_face *face = &mesh->boundary_faces[i];
        const size_t cell = face->cell;
        const sw_material *material = t->materials[mesh->region[cell]];
        material->functions->evaluate(material, 1, state + 2 * cell, t->value + cell, NULL, NULL);
        boundary_flux f;
        if (flux_out(t, i, state, &f, 0) != 0)
            return 1;
        const sw_surface_balance *b = &t->balances[i];
        flows[SW_FLOW_CONVECTION] += face->area * b->convection_heat;
        flows[SW_FLOW_RADIATION] += face->area * b->radiation_heat;
        flows[SW_FLOW_GIVEN_HEAT] += face->area * t->surfaces[i].heat_flux;
        flows[SW_FLOW_EVAPORATION_HEAT] += face->area * b->evaporation_heat;
        flows[SW_FLOW_VAPOUR_WARMING] += face->area * b->evaporation * b->water_enthalpy;
        flows[SW_FLOW_DRIP_HEAT] += f.drip * t->value[cell].water_enthalpy;
        flows[SW_FLOW_EVAPORATION] += face->area * b->evaporation;
        flows[SW_FLOW_DRIP] += f.drip;
    }
    return 0;
}

double sw_transport_enthalpy(const sw_transport *t, const double *state)
{
    double sum = 0.0;
    for (size_t i = 0; i < t->mesh->cell_count; i++) {
        const sw_material *material = t->materials[t->mesh->region[i]];
        sum += t->mesh->volume[i] * material->functions->enthalpy(material, state[2 * i], state[2 * i + 1]);
    }
    return sum;
}

double sw_transport_water(const sw_transport *t, const double *state)
{
    double sum = 0.0;
    for (size_t i = 0; i < t->mesh->cell_count; i++)
        sum += t->mesh->volume[i] * t->materials[t->mesh->region[i]]->dry_density * state[2 * i + 1];
    return sum;
}
