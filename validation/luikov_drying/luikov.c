/* SPDX-License-Identifier: BSD-3-Clause */
/* Luikov's coupled drying of a slab: heat, moisture and the thermal gradient that drives moisture.
 *     rho c_q T_t = k_q T_xx + e l rho c_m u_t,     rho c_m u_t = k_m u_xx + k_m d T_xx
 * The solver carries water as liquid (enthalpy 0) and as vapour (enthalpy l) and stores it as liquid: with the share e of
 * the flow as vapour its balances are these equations. */
#include "cases.h"

#include "wall.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The equations know no weakening of the air film by the vapour that leaves, the solver does, by its mass. Mass appears only
 * as mass times latent heat and in ratios, so it is counted in a unit a thousand times larger: the weakening vanishes. */
#define MASS_UNIT 1000.0 /* [kg] */

static const double half_thickness = 0.012, density = 370.0, heat_capacity = 2500.0, moisture_capacity = 0.01 / MASS_UNIT,
                    conductivity = 0.65, moisture_conductivity = 2.2e-8 / MASS_UNIT, vapour_share = 0.3,
                    latent = 2.5e6 * MASS_UNIT, thermal_gradient = 2.0, film = 22.5, moisture_film = 2.5e-6 / MASS_UNIT,
                    first_temperature = 283.15, air_temperature = 383.15, first_moisture = 86.0, air_moisture = 4.0;

/* Vapour pressures small beside the air's make the law of evaporation straight; the unit is then a matter of choice [Pa]. */
static const double pressure_per_moisture = 0.01;
static const double saturation = 1000.0;

static void constant_water(const void *parameters, double temperature, double *values)
{
    (void)parameters;
    (void)temperature;
    values[SW_WATER_SATURATION_PRESSURE] = saturation;
    values[SW_WATER_LATENT_HEAT] = latent;
    values[SW_WATER_LIQUID_ENTHALPY] = 0.0;
}

static void evaluate(const sw_material *material, size_t first, size_t n, const double *state, const sw_property_columns *value,
                     const sw_property_columns *by_temperature, const sw_property_columns *by_water)
{
    (void)material;
    for (size_t i = first; i < first + n; i++) {
        double t = state[2 * i] - first_temperature, u = state[2 * i + 1];
        const sw_properties at = {.heat_capacity = density * heat_capacity,
                                  .conductivity = conductivity,
                                  .diffusivity = (1.0 - vapour_share) * moisture_conductivity,
                                  .mobility = (1.0 - vapour_share) * moisture_conductivity,
                                  .juice_pressure = thermal_gradient * t,
                                  .vapour_permeability = vapour_share * moisture_conductivity,
                                  .vapour_pressure = u + thermal_gradient * t,
                                  .water_activity = u * pressure_per_moisture / saturation,
                                  .vapour_enthalpy = latent};
        sw_set_cell(value, i, at);
        if (!by_temperature)
            continue;
        const sw_properties by_t = {.juice_pressure = thermal_gradient, .vapour_pressure = thermal_gradient};
        const sw_properties by_x = {.vapour_pressure = 1.0, .water_activity = pressure_per_moisture / saturation};
        sw_set_cell(by_temperature, i, by_t);
        sw_set_cell(by_water, i, by_x);
    }
}

static double enthalpy(const sw_material *material, double temperature, double water)
{
    (void)material;
    (void)water;
    return density * heat_capacity * (temperature - first_temperature);
}

static void destroy(sw_material *material)
{
    free(material);
}

static const sw_material_functions functions = {evaluate, NULL, enthalpy, NULL, destroy};

static sw_material *spruce(void)
{
    sw_material *material = calloc(1, sizeof *material);
    if (!material)
        die("memory is short");
    material->functions = &functions;
    material->dry_density = density * moisture_capacity;
    material->initial_water = 1.0;
    return material;
}

static sw_surface kiln(void)
{
    return (sw_surface){.air_temperature = air_temperature, .wall_temperature = air_temperature, .convection = film,
                        .pressure = SW_STANDARD_PRESSURE, .vapour_pressure = air_moisture * pressure_per_moisture,
                        .vapour_coefficient = moisture_film * SW_STANDARD_PRESSURE / pressure_per_moisture};
}

static double computed(wall *w, const char *quantity)
{
    const double centre = w->mesh->position[0], last = w->mesh->position[w->mesh->cell_count - 1];
    if (strcmp(quantity, "temperature centre") == 0)
        return wall_temperature(w, centre) - 273.15;
    if (strcmp(quantity, "temperature surface") == 0)
        return wall_surface_temperature(w, SW_SIDE_TOP) - 273.15;
    return wall_water(w, strcmp(quantity, "moisture centre") == 0 ? centre : last);
}

void validate_luikov(report_case *c)
{
    c->folder = "luikov_drying";
    c->title = "Luikov's coupled drying of a slab";
    csv_table *reference = csv_read(c->folder, "reference.csv");
    const wall_setup setup = {.thickness = half_thickness, .cells = 100, .high_cell = 5e-6, .sealed_low = true,
                              .temperature = first_temperature, .water = first_moisture, .tolerance = 1e-7,
                              .water_reference = first_temperature, .water_functions = constant_water};
    wall w;
    wall_init(&w, &setup, spruce());
    *wall_surface(&w, SW_SIDE_TOP) = kiln();
    char quantity[TEXT_SIZE];
    static double hour[64], exact[64], model[64];
    size_t count = 0;
    double highest = first_moisture;
    for (size_t first = 0; first < reference->row_count && csv_number(reference, first, "hour") > w.time / 3600.0; first++) {
        double now = csv_number(reference, first, "hour");
        wall_run_to(&w, now * 3600.0);
        for (size_t i = 0; i < reference->row_count; i++) {
            if (csv_number(reference, i, "hour") != now)
                continue;
            const char *what = csv_text(reference, i, "quantity");
            double value = computed(&w, what);
            snprintf(quantity, sizeof quantity, "%s after %g h, %s", what, now, what[0] == 't' ? "C" : "M");
            add_near(c, quantity, csv_number(reference, i, "value"), value, 0.1, 3);
            if (strcmp(what, "moisture centre") == 0) {
                highest = fmax(highest, value);
                hour[count] = now;
                exact[count] = csv_number(reference, i, "value");
                model[count++] = value;
            }
        }
    }
    add_note(c, "The thermal gradient first drives moisture inwards: the centre rises above its initial %g M, here to %.2f M.",
             first_moisture, highest);
    const picture_curve lines[] = {{"moisture at the centre", count, hour, model, false}, {"exact", count, hour, exact, true}};
    add_picture(c, "moisture.png", "time, h", "moisture, M", 2, lines);
    wall_free(&w);
    csv_free(reference);
}
