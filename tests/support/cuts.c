/* SPDX-License-Identifier: BSD-3-Clause */
#include "cuts.h"

#include <stallwright/moist_air.h>

#include "close.h"
#include "run_cook.h"

#include <math.h>

static const char *const names[CUT_COUNT] = {"slab",     "slab with a fat cap on top", "slab with a fat cap below",
                                             "cylinder", "sphere",                     "section with a fat cap",
                                             "whole brisket"};

const char *cut_name(int number)
{
    return names[number];
}

void cut_scenario(int number, sw_scenario *s)
{
    *s = reference_scenario();
    switch (number) {
    case 1:
    case 2:
        s->meat.fat_cap_thickness = 0.006;
        s->meat.fat_cap_side = number == 1 ? SW_SIDE_TOP : SW_SIDE_BOTTOM;
        break;
    case 3:
        s->meat.shape = SW_SHAPE_CYLINDER;
        break;
    case 4:
        s->meat.shape = SW_SHAPE_SPHERE;
        s->meat.mass = 3.0;
        s->meat.thickness = 0.175;
        break;
    case 5:
        s->meat.shape = SW_SHAPE_SECTION;
        s->meat.fat_cap_thickness = 0.006;
        break;
    case 6:
        s->meat.shape = SW_SHAPE_PACKER;
        s->meat.fat_cap_thickness = 0.006;
        s->meat.seam_thickness = 0.008;
        break;
    default:
        break;
    }
    if (number >= 5) {
        s->solver.rows = 14;
        s->solver.columns = 20;
    }
}

sw_surroundings pit_air(const sw_scenario *scenario, const sw_body *body)
{
    const double air = scenario->pit.steps[0].temperature;
    sw_surroundings around = {.air_temperature = air,
                              .wall_temperature = air + scenario->pit.wall_offset,
                              .pressure = body->pressure,
                              .convection = scenario->pit.convection};
    assert_int_equal(sw_vapour_pressure(scenario->pit.humidity_ratio, body->pressure, &around.vapour_pressure), SW_OK);
    return around;
}

void surround_body(sw_body *body, const sw_scenario *scenario, const sw_surroundings *around, sw_wrap_kind wrap)
{
    const sw_wrap_contents empty = sw_empty_wrap(&scenario->wrap);
    sw_wrapped_surfaces(body->mesh, around, &scenario->wrap, wrap, &empty, scenario->solver.evaporation,
                        body->transport->surfaces);
}

double random_share(unsigned long long *seed)
{
    /* The 64-bit linear congruential generator of D. E. Knuth's MMIX (from memory). */
    *seed = *seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(*seed >> 11) / 9007199254740992.0;
}

void random_state(const sw_body *body, unsigned long long *seed, double *state)
{
    const sw_mesh *mesh = body->mesh;
    double highest = 0.0, core = 5.0 + 70.0 * random_share(seed), skin = core + (112.0 - core) * random_share(seed);
    double dryness = random_share(seed);
    for (size_t i = 0; i < mesh->cell_count; i++)
        highest = fmax(highest, mesh->position[i]);
    for (size_t i = 0; i < mesh->cell_count; i++) {
        double outward = fabs(2.0 * mesh->position[i] / highest - 1.0);
        double raw = body->materials[mesh->region[i]]->initial_water;
        state[2 * i] = 273.15 + core + (skin - core) * outward * outward + 3.0 * random_share(seed);
        state[2 * i + 1] = raw * (1.0 - 0.95 * dryness * pow(outward, 4.0)) * (0.9 + 0.1 * random_share(seed));
    }
}
