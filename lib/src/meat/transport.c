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
    t->other_guess = calloc(m, sizeof *t->other_guess);
    t->other_balances = calloc(m, sizeof *t->other_balances);
    t->run_start = calloc(t->run_count + 1, sizeof *t->run_start);
    t->face_entries = calloc(mesh->face_count + 1, sizeof *t->face_entries);
    t->cell_entries = calloc(n, sizeof *t->cell_entries);
    t->face_water = calloc(m, sizeof *t->face_water);
    t->face_heat = calloc(m, sizeof *t->face_heat);
    if (!t->surfaces || !t->value || !t->by_temperature || !t->by_water || !t->per_dry_mass || !t->per_capacity ||
        !t->water_gain || !t->heat_gain || !t->surface_guess || !t->balances || !t->other_guess || !t->other_balances || !t->run_start || !t->face_entries ||
        !t->cell_entries || !t->face_water || !t->face_heat) {
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
    free(t->other_balances);
    free(t->other_guess);
    free(t->balances);
    free(t->run_start);
    free(t->face_entries);
    free(t->cell_entries);
    free(t->face_water);
    free(t->face_heat);
    free(t->exchange_by);
    free(t);
}

sw_status sw_transport_set_lumped(sw_transport *t, const sw_lumped_model *model)
{
    double *exchange_by = NULL;
    if (model->count > 0) {
        exchange_by = malloc(SW_EXCHANGE_COUNT * 2 * t->mesh->cell_count * sizeof *exchange_by);
        if (!exchange_by)
            return SW_ERR_MEMORY;
    }
    free(t->exchange_by);
    t->exchange_by = exchange_by;
    t->lumped = *model;
    return SW_OK;
}

void sw_transport_surround(sw_transport *t, double time, const double *lumped, bool moves)
{
    t->follows = moves;
    t->lumped.surround(time, lumped, t->surfaces, t->lumped.data);
}

size_t sw_transport_unknowns(const sw_transport *t)
{
    return 2 * t->mesh->cell_count + t->lumped.count;
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
    double drip, drip_enthalpy; /* [kg s-1], [J kg-1] */
    double outside_heat;        /* received from outside [W] */
    double evaporation, film;   /* in all, and from the film [kg s-1] */
    double vapour_enthalpy;     /* of all that evaporates [W] */
    double warming;             /* heat in what evaporates beyond its latent heat [W] */
    double water_by[2], heat_by[2], drip_by[2], drip_enthalpy_by[2], outside_by[2], evaporation_by[2], film_by[2],
        vapour_enthalpy_by[2];
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

static SW_INTO_CLONES int flux_out(sw_transport *t, size_t index, const double *state, boundary_flux *f,
                                   const int derivatives)
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

    const double area = face->area;
    double per_distance = surface->drips ? juice_factor / face->distance : 0.0;
    double drip = p->mobility * p->juice_pressure * per_distance;
    double difference = b->temperature - temperature;
    double film = b->evaporation * b->film_part, own = b->evaporation - film;
    double warming = own * b->water_enthalpy + film * surface->film_warming;
    f->drip = area * drip;
    f->drip_enthalpy = p->water_enthalpy;
    f->evaporation = area * b->evaporation;
    f->film = area * film;
    f->water = area * (own + drip);
    f->warming = area * warming;
    f->heat = area * (-behind.conductance * difference + warming + drip * p->water_enthalpy);
    f->outside_heat = area * (b->evaporation_heat + behind.conductance * difference);
    f->vapour_enthalpy = area * (b->evaporation_heat + b->evaporation * b->water_enthalpy);
    if (!derivatives)
        return 0;

    for (int v = 0; v < 2; v++) {
        const sw_properties *d = v == 0 ? &t->by_temperature[cell] : &t->by_water[cell];
        double conductance_by = heat_factor * d->conductivity / face->distance;
        double surface_by = b->temperature_by_conductance * conductance_by +
                            b->temperature_by_activity * d->water_activity + (v == 0 ? b->temperature_by_cell : 0.0);
        double evaporation_by = b->evaporation_by_temperature * surface_by +
                                b->evaporation_by_activity * d->water_activity;
        double film_by = evaporation_by * b->film_part + b->evaporation * b->film_part_by_activity * d->water_activity;
        double own_by = evaporation_by - film_by, enthalpy_by = b->water_enthalpy_slope * surface_by;
        double drip_by = (d->mobility * p->juice_pressure + p->mobility * d->juice_pressure) * per_distance;
        double passed_by = conductance_by * difference + behind.conductance * (surface_by - (v == 0 ? 1.0 : 0.0));
        double latent_by = evaporation_by * b->latent_heat + b->evaporation * b->latent_heat_slope * surface_by;
        double warming_by = own_by * b->water_enthalpy + own * enthalpy_by + film_by * surface->film_warming;
        f->drip_by[v] = area * drip_by;
        f->drip_enthalpy_by[v] = d->water_enthalpy;
        f->evaporation_by[v] = area * evaporation_by;
        f->film_by[v] = area * film_by;
        f->water_by[v] = area * (own_by + drip_by);
        f->heat_by[v] = area * (-passed_by + warming_by + drip_by * p->water_enthalpy + drip * d->water_enthalpy);
        f->outside_by[v] = area * (latent_by + passed_by);
        f->vapour_enthalpy_by[v] = area * (latent_by + evaporation_by * b->water_enthalpy + b->evaporation * enthalpy_by);
    }
    return 0;
}

/* Adds what a face exchanges with its surroundings to the sums. */
static void add_exchange(const sw_surface *surface, const boundary_flux *f, double exchange[SW_EXCHANGE_COUNT])
{
    exchange[SW_EXCHANGE_DRIP] += f->drip;
    exchange[SW_EXCHANGE_DRIP_HEAT] += f->drip * f->drip_enthalpy;
    exchange[surface->contact == SW_CONTACT_POOL ? SW_EXCHANGE_POOL_HEAT : SW_EXCHANGE_AIR_HEAT] += f->outside_heat;
    if (surface->contact == SW_CONTACT_INSIDE) {
        exchange[SW_EXCHANGE_INSIDE_VAPOUR] += f->evaporation;
        exchange[SW_EXCHANGE_INSIDE_HEAT] += f->vapour_enthalpy;
    } else {
        exchange[SW_EXCHANGE_AIR_VAPOUR] += f->evaporation;
        exchange[SW_EXCHANGE_FILM_VAPOUR] += f->film;
    }
}

static void add_exchange_derivatives(sw_transport *t, size_t index, const boundary_flux *f)
{
    const size_t cell = t->mesh->boundary_faces[index].cell, n = 2 * t->mesh->cell_count;
    const sw_contact contact = t->surfaces[index].contact;
    for (size_t v = 0; v < 2; v++) {
        double *by = t->exchange_by + 2 * cell + v;
        by[SW_EXCHANGE_DRIP * n] += f->drip_by[v];
        by[SW_EXCHANGE_DRIP_HEAT * n] += f->drip_by[v] * f->drip_enthalpy + f->drip * f->drip_enthalpy_by[v];
        by[(contact == SW_CONTACT_POOL ? SW_EXCHANGE_POOL_HEAT : SW_EXCHANGE_AIR_HEAT) * n] += f->outside_by[v];
        if (contact == SW_CONTACT_INSIDE) {
            by[SW_EXCHANGE_INSIDE_VAPOUR * n] += f->evaporation_by[v];
            by[SW_EXCHANGE_INSIDE_HEAT * n] += f->vapour_enthalpy_by[v];
        } else {
            by[SW_EXCHANGE_AIR_VAPOUR * n] += f->evaporation_by[v];
            by[SW_EXCHANGE_FILM_VAPOUR * n] += f->film_by[v];
        }
    }
}

/* Runoff of a cell, as part of the drip. */
static void add_runoff(const sw_transport *t, size_t i, double exchange[SW_EXCHANGE_COUNT])
{
    double runoff = t->mesh->volume[i] * t->value[i].runoff;
    exchange[SW_EXCHANGE_DRIP] += runoff;
    exchange[SW_EXCHANGE_DRIP_HEAT] += runoff * t->value[i].water_enthalpy;
}

static void add_runoff_derivatives(sw_transport *t, size_t i)
{
    const size_t n = 2 * t->mesh->cell_count;
    for (size_t v = 0; v < 2; v++) {
        const sw_properties *d = v == 0 ? &t->by_temperature[i] : &t->by_water[i];
        double runoff_by = t->mesh->volume[i] * d->runoff;
        double *by = t->exchange_by + 2 * i + v;
        by[SW_EXCHANGE_DRIP * n] += runoff_by;
        by[SW_EXCHANGE_DRIP_HEAT * n] += runoff_by * t->value[i].water_enthalpy +
                                         t->mesh->volume[i] * t->value[i].runoff * d->water_enthalpy;
    }
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
    /* Juice let go into channels leaves with its own enthalpy: it takes water, and no heat from what stays. */
    const double volume_per_dry_mass = t->mesh->volume[i] * t->per_dry_mass[i];
    rate[2 * i + 1] = t->water_gain[i] * t->per_dry_mass[i] - volume_per_dry_mass * p->runoff;
    if (!derivatives)
        return;
    const size_t *entry = t->cell_entries[i];
    values[entry[0]] -= t->by_temperature[i].water_enthalpy * t->water_gain[i] * per_capacity +
                        rate[2 * i] * per_volume_capacity * t->by_temperature[i].heat_capacity;
    values[entry[2]] -= volume_per_dry_mass * t->by_temperature[i].runoff;
    values[entry[3]] -= volume_per_dry_mass * t->by_water[i].runoff;
    values[entry[1]] -= rate[2 * i] * per_volume_capacity * t->by_water[i].heat_capacity;
}

static void surround(sw_transport *t, double time, const double *lumped)
{
    if (t->follows)
        t->lumped.surround(time, lumped, t->surfaces, t->lumped.data);
}

static SW_INTO_CLONES int assemble(sw_transport *t, double time, const double *state, double *rate, double *values,
                                   double exchange[SW_EXCHANGE_COUNT], const int derivatives)
{
    const sw_mesh *mesh = t->mesh;
    const int with_lumped = t->lumped.count > 0;
    if (!state_is_in_range(t, state))
        return 1;
    surround(t, time, state + 2 * mesh->cell_count);
    evaluate_materials(t, state, derivatives);
    for (int i = 0; i < SW_EXCHANGE_COUNT; i++)
        exchange[i] = 0.0;
    if (derivatives && with_lumped)
        for (size_t i = 0; i < SW_EXCHANGE_COUNT * 2 * mesh->cell_count; i++)
            t->exchange_by[i] = 0.0;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        t->water_gain[i] = 0.0;
        t->heat_gain[i] =
            t->heat_source
                ? mesh->volume[i] * t->heat_source(time, mesh->position[i], mesh->across[i], t->heat_source_data)
                : 0.0;
        if (with_lumped) {
            add_runoff(t, i, exchange);
            if (derivatives)
                add_runoff_derivatives(t, i);
        }
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
        t->face_water[i] = f.water;
        t->face_heat[i] = f.heat;
        if (derivatives)
            add_boundary_derivatives(t, cell, &f, values);
        if (with_lumped) {
            add_exchange(&t->surfaces[i], &f, exchange);
            if (derivatives)
                add_exchange_derivatives(t, i, &f);
        }
    }
    for (size_t i = 0; i < mesh->cell_count; i++)
        finish_cell(t, i, rate, values, derivatives);
    if (!with_lumped)
        return 0;
    return t->lumped.rate(time, state + 2 * mesh->cell_count, exchange, rate + 2 * mesh->cell_count, NULL, t->lumped.data);
}

SW_VECTOR_CLONES
int sw_transport_rate(sw_transport *transport, double time, const double *state, double *rate)
{
    double exchange[SW_EXCHANGE_COUNT];
    return assemble(transport, time, state, rate, NULL, exchange, 0);
}

/* Rows of the border: rates of the lumped unknowns by the cells', through the exchanges, in which they are smooth. */
static int fill_border_rows(sw_transport *t, double time, const double *lumped, const double *exchange,
                             const double *rate, double *rows)
{
    const size_t n = 2 * t->mesh->cell_count, count = t->lumped.count;
    /* Sizes of the exchanges: watts, and kilograms per second. */
    static const double size[SW_EXCHANGE_COUNT] = {100.0, 1e-4, 1e-4, 100.0, 1e-4, 100.0, 1e-4, 100.0};
    for (size_t i = 0; i < count * n; i++)
        rows[i] = 0.0;
    for (int e = 0; e < SW_EXCHANGE_COUNT; e++) {
        double moved[SW_EXCHANGE_COUNT], moved_rate[SW_LUMPED_MAX];
        const double step = 1e-5 * size[e];
        for (int i = 0; i < SW_EXCHANGE_COUNT; i++)
            moved[i] = exchange[i];
        moved[e] += step;
        if (t->lumped.rate(time, lumped, moved, moved_rate, NULL, t->lumped.data) != 0)
            return 1;
        for (size_t j = 0; j < count; j++) {
            double by_exchange = (moved_rate[j] - rate[j]) / step;
            if (by_exchange == 0.0)
                continue;
            for (size_t i = 0; i < n; i++)
                rows[j * n + i] += by_exchange * t->exchange_by[(size_t)e * n + i];
        }
    }
    return 0;
}

/* Columns and corner of the border, by differences: only boundary faces feel the lumped unknowns. */
static int fill_border_columns(sw_transport *t, double time, const double *state, const double *rate,
                               const sw_border *border)
{
    const sw_mesh *mesh = t->mesh;
    const size_t n = 2 * mesh->cell_count, count = t->lumped.count;
    double lumped[SW_LUMPED_MAX], cells_exchange[SW_EXCHANGE_COUNT] = {0.0};
    for (size_t j = 0; j < count; j++)
        lumped[j] = state[n + j];
    for (size_t i = 0; i < mesh->cell_count; i++)
        add_runoff(t, i, cells_exchange);
    for (size_t j = 0; j < count; j++) {
        double *column = border->columns + j * n, moved_rate[SW_LUMPED_MAX], moved_exchange[SW_EXCHANGE_COUNT];
        const double step = 1e-4 * t->lumped.scale[j]; /* large beside what the surfaces are solved to */
        for (size_t i = 0; i < n; i++)
            column[i] = 0.0;
        for (int e = 0; e < SW_EXCHANGE_COUNT; e++)
            moved_exchange[e] = cells_exchange[e];
        lumped[j] += step;
        surround(t, time, lumped);
        for (size_t i = 0; i < mesh->boundary_face_count; i++) {
            const size_t cell = mesh->boundary_faces[i].cell;
            boundary_flux f;
            if (flux_out(t, i, state, &f, 0) != 0)
                return 1;
            add_exchange(&t->surfaces[i], &f, moved_exchange);
            double water = (f.water - t->face_water[i]) / step, heat = (f.heat - t->face_heat[i]) / step;
            column[2 * cell] -= (heat - t->value[cell].water_enthalpy * water) * t->per_capacity[cell];
            column[2 * cell + 1] -= water * t->per_dry_mass[cell];
        }
        if (t->lumped.rate(time, lumped, moved_exchange, moved_rate, NULL, t->lumped.data) != 0)
            return 1;
        for (size_t r = 0; r < count; r++)
            border->corner[r * count + j] = (moved_rate[r] - rate[n + r]) / step;
        lumped[j] = state[n + j];
    }
    surround(t, time, lumped);
    return 0;
}

SW_VECTOR_CLONES
int sw_transport_jacobian(sw_transport *t, double time, const double *state, double *rate, double *values,
                          const sw_border *border)
{
    double exchange[SW_EXCHANGE_COUNT];
    if (assemble(t, time, state, rate, values, exchange, 1) != 0)
        return 1;
    if (t->lumped.count == 0)
        return 0;
    const size_t n = 2 * t->mesh->cell_count;
    if (fill_border_rows(t, time, state + n, exchange, rate + n, border->rows) != 0)
        return 1;
    return fill_border_columns(t, time, state, rate, border);
}

void sw_transport_swap_balances(sw_transport *t)
{
    sw_surface_balance *const balances = t->balances;
    sw_behind *const guess = t->surface_guess;
    t->balances = t->other_balances;
    t->surface_guess = t->other_guess;
    t->other_balances = balances;
    t->other_guess = guess;
}

int sw_transport_flows(sw_transport *t, double time, const double *state, double flows[SW_FLOW_COUNT])
{
    const sw_mesh *mesh = t->mesh;
    const double *lumped = state + 2 * mesh->cell_count;
    double exchange[SW_EXCHANGE_COUNT] = {0.0};
    for (int i = 0; i < SW_FLOW_COUNT; i++)
        flows[i] = 0.0;
    surround(t, time, lumped);
    evaluate_materials(t, state, 0);
    for (size_t i = 0; i < mesh->cell_count; i++)
        add_runoff(t, i, exchange);
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const sw_boundary_face *face = &mesh->boundary_faces[i];
        boundary_flux f;
        if (flux_out(t, i, state, &f, 0) != 0)
            return 1;
        add_exchange(&t->surfaces[i], &f, exchange);
        const sw_surface_balance *b = &t->balances[i];
        flows[SW_FLOW_CONVECTION] += face->area * b->convection_heat;
        flows[SW_FLOW_RADIATION] += face->area * b->radiation_heat;
        flows[SW_FLOW_GIVEN_HEAT] += face->area * t->surfaces[i].heat_flux;
        flows[SW_FLOW_EVAPORATION_HEAT] += face->area * b->evaporation_heat;
        flows[SW_FLOW_VAPOUR_WARMING] += f.warming;
        flows[SW_FLOW_EVAPORATION] += f.evaporation - f.film;
        flows[SW_FLOW_FILM] += f.film;
    }
    flows[SW_FLOW_DRIP] = exchange[SW_EXCHANGE_DRIP];
    flows[SW_FLOW_DRIP_HEAT] = exchange[SW_EXCHANGE_DRIP_HEAT];
    if (t->lumped.count > 0) {
        double rate[SW_LUMPED_MAX];
        return t->lumped.rate(time, lumped, exchange, rate, flows + SW_FLOW_LUMPED, t->lumped.data);
    }
    return 0;
}

const sw_surface_balance *sw_transport_balance(const sw_transport *t, size_t boundary_face)
{
    return &t->balances[boundary_face];
}

double sw_transport_last_activity(const sw_transport *t, size_t cell)
{
    return t->value[cell].water_activity;
}

double sw_transport_surface_temperature(const sw_transport *t)
{
    double sum = 0.0, area = 0.0;
    for (size_t i = 0; i < t->mesh->boundary_face_count; i++) {
        sum += t->mesh->boundary_faces[i].area * t->balances[i].temperature;
        area += t->mesh->boundary_faces[i].area;
    }
    return sum / area;
}

double sw_transport_activity(const sw_transport *t, size_t cell, const double *state)
{
    const sw_material *material = t->materials[t->mesh->region[cell]];
    sw_properties properties;
    material->functions->evaluate(material, 1, state + 2 * cell, &properties, NULL, NULL);
    return properties.water_activity;
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
