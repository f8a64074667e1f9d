/* SPDX-License-Identifier: BSD-3-Clause */
/* HAMSTAD benchmark 2: isothermal drying of a homogeneous slab between two climates. */
#include "cases.h"

#include "building_material.h"
#include "wall.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdio.h>

static const double thickness = 0.2, diffusivity = 6e-10, temperature = 293.15, dry_density = 40.0;

/* w = 116 (1 - ln(humidity) / 0.118)^-0.869 */
static double log_humidity(double w, double *slope)
{
    double power = pow(w / 116.0, -1.0 / 0.869);
    *slope = 0.118 * power / (0.869 * w);
    return 0.118 * (1.0 - power);
}

static double water_at(double humidity)
{
    return 116.0 * pow(1.0 - log(humidity) / 0.118, -0.869);
}

/* By Kelvin's equation, which the material applies backwards: in an isothermal slab nothing else is left of it. */
static double suction(double w, double *slope)
{
    double per_log = -1000.0 * SW_VAPOUR_GAS_CONSTANT * temperature, s = per_log * log_humidity(w, slope);
    *slope *= per_log;
    return s;
}

static double conducts_at_once(double w, double *slope)
{
    (void)w;
    *slope = 0.0;
    return 1e6;
}

static double constant_diffusivity(double w, double *slope)
{
    (void)w;
    *slope = 0.0;
    return diffusivity;
}

static double no_vapour(double w, double *slope)
{
    (void)w;
    *slope = 0.0;
    return 0.0;
}

/* A huge heat capacity keeps it at one temperature. */
static const building_material_laws laws = {.heat_capacity = 1e15,
                                            .reference_temperature = 293.15,
                                            .saturation = 116.0,
                                            .conductivity = conducts_at_once,
                                            .suction = suction,
                                            .liquid_diffusivity = constant_diffusivity,
                                            .vapour_share = no_vapour,
                                            .air_diffusivity = 26.1e-6};

static sw_surface climate(double humidity)
{
    const double film = 1e3;
    sw_surface s = {.air_temperature = temperature, .wall_temperature = temperature, .convection = film,
                    .pressure = SW_STANDARD_PRESSURE,
                    .vapour_coefficient = sw_open_vapour_coefficient(film, 0.0, SW_STANDARD_PRESSURE)};
    double pressure;
    if (sw_saturation_pressure(temperature, &pressure) != SW_OK)
        die("no saturation pressure at 20 C");
    s.vapour_pressure = humidity * pressure;
    return s;
}

enum { POINTS = 101, TIMES = 3 };
static const double hours[TIMES] = {100.0, 300.0, 1000.0};

void validate_hamstad(report_case *c)
{
    c->folder = "hamstad_isothermal_drying";
    c->title = "HAMSTAD benchmark 2, isothermal drying";
    csv_table *reference = csv_read(c->folder, "water.csv");
    sw_material *material;
    if (building_material_create(&laws, &material) != SW_OK)
        die("memory is short");
    const wall_setup setup = {.thickness = thickness, .cells = 200, .low_cell = 2e-5, .high_cell = 2e-5,
                              .temperature = temperature, .water = water_at(0.95) / dry_density, .tolerance = 1e-7,
                              .water_reference = 293.15};
    wall w;
    wall_init(&w, &setup, material);
    *wall_surface(&w, SW_SIDE_BOTTOM) = climate(0.45);
    *wall_surface(&w, SW_SIDE_TOP) = climate(0.65);
    static double place[POINTS], water[TIMES][POINTS], marks_x[64], marks_y[64];
    size_t marks = 0;
    char quantity[TEXT_SIZE];
    for (int t = 0; t < TIMES; t++) {
        wall_run_to(&w, hours[t] * 3600.0);
        for (int i = 0; i < POINTS; i++) {
            place[i] = 200.0 * i / (POINTS - 1);
            water[t][i] = dry_density * wall_water(&w, 1e-3 * place[i]);
        }
        for (size_t i = 0; i < reference->row_count; i++) {
            if (csv_number(reference, i, "hour") != hours[t])
                continue;
            double at = csv_number(reference, i, "depth_mm"), value = csv_number(reference, i, "water");
            snprintf(quantity, sizeof quantity, "water after %g h at %g mm, kg/m3", hours[t], at);
            add_near(c, quantity, value, dry_density * wall_water(&w, 1e-3 * at), 0.2, 3);
            marks_x[marks] = at;
            marks_y[marks++] = value;
        }
    }
    const picture_curve lines[] = {{"100 h", POINTS, place, water[0], false},
                                   {"300 h", POINTS, place, water[1], false},
                                   {"1000 h", POINTS, place, water[2], false},
                                   {"exact", marks, marks_x, marks_y, true}};
    add_picture(c, "water.png", "place, mm", "water, kg/m3", 4, lines);
    wall_free(&w);
    csv_free(reference);
}
