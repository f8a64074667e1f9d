/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/scenario.h>

#include "tissue.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

double sw_ending_clock_time(double start_clock, sw_ending ending)
{
    static const double day = 86400.0;
    if (ending.kind == SW_ENDING_CLOCK_ON_DAY)
        return ending.value - start_clock;
    if (ending.kind != SW_ENDING_CLOCK)
        return INFINITY;
    double wait = ending.value - start_clock;
    return wait > 0.0 ? wait : wait + day;
}

const char *sw_shape_name(sw_shape shape)
{
    static const char *const names[SW_SHAPE_COUNT] = {"slab", "cylinder", "sphere", "section", "taper",
                                                      "short-cylinder", "flat", "point", "packer", "outline"};
    return shape >= 0 && shape < SW_SHAPE_COUNT ? names[shape] : "unknown shape";
}

bool sw_shape_is_section(sw_shape shape)
{
    return shape >= SW_SHAPE_SECTION;
}

bool sw_shape_is_crosswise(sw_shape shape)
{
    return shape == SW_SHAPE_SECTION || shape == SW_SHAPE_FLAT || shape == SW_SHAPE_POINT;
}

const char *sw_side_name(sw_side side)
{
    return side == SW_SIDE_BOTTOM ? "bottom" : side == SW_SIDE_END ? "end" : "top";
}

const char *sw_fuel_name(sw_fuel fuel)
{
    static const char *const names[SW_FUEL_COUNT] = {"usual", "wood", "pellets", "charcoal", "propane", "none"};
    return fuel >= 0 && fuel < SW_FUEL_COUNT ? names[fuel] : "unknown fuel";
}

const char *sw_pit_humidity_name(sw_pit_humidity humidity)
{
    return humidity == SW_HUMIDITY_GIVEN ? "given" : humidity == SW_HUMIDITY_BALANCE ? "balance" : "unknown";
}

const char *sw_pour_name(sw_pour pour)
{
    return pour == SW_POUR_OFF ? "off" : pour == SW_POUR_OVER ? "over" : "no";
}

const char *sw_place_kind_name(sw_place_kind kind)
{
    return kind == SW_PLACE_BOX ? "box" : kind == SW_PLACE_COOLING_PIT ? "cooling-pit" : "air";
}

static const double hour = 3600.0;

static double celsius(double degrees)
{
    return degrees + 273.15;
}

/* Sources of the default values: docs/theory/parameters.md; each field there by its name in a scenario file. */
static void init_meat(sw_meat *meat)
{
    sw_tissue_parameters lean;
    sw_lean_parameters(&lean);
    snprintf(meat->name, sizeof meat->name, "%s", SW_USUAL_WORD);
    meat->cut = SW_CUT_PACKER;
    meat->shape = SW_SHAPE_SLAB;
    meat->mass = 6.5;
    meat->initial_temperature = celsius(5);
    meat->composition = (sw_composition){.water = SW_USUAL,
                                         .protein = SW_USUAL,
                                         .fat = SW_USUAL,
                                         .carbohydrate = SW_USUAL,
                                         .ash = SW_USUAL};
    meat->bone = SW_USUAL;
    meat->fat_cap_thickness = 0.0;
    meat->fat_cap_side = SW_SIDE_TOP;
    meat->permeability = lean.permeability;
    meat->water_holding_temperature = lean.holding_temperature;
    meat->water_holding_loss = lean.holding_loss;
    meat->late_water_loss = lean.late_loss;
    meat->late_water_loss_temperature = lean.late_temperature;
    meat->juice_runoff_time = lean.runoff_time;
    meat->juice = (sw_juice){.on_surface = 0.8, .cling = 0.137, .wet_share = 0.51, .half_film = 0.0084};
    meat->shrinkage_area = 0.45;
    meat->shrinkage_thickness = 0.1;
    meat->fat_rendering = 1.0;
    meat->bark_openness = lean.vapour_openness;
    meat->water_diffusivity = lean.diffusivity;
    meat->fibre_conductivity = 1.0;
    meat->fibre_permeability = 1.0;
    meat->has_edges = true;
    meat->last_probe_decides = true;
}

static void init_pit(sw_pit *pit)
{
    pit->step_count = 1;
    pit->steps[0] = (sw_pit_step){.start = 0.0, .temperature = celsius(121)};
    pit->humidity_ratio = SW_USUAL;
    pit->convection = SW_USUAL;
    pit->wall_offset = SW_USUAL;
    pit->draught = 1.0;
    pit->kind = SW_PIT_OFFSET;
    pit->cycle_period = 0.25 * hour;
    pit->lid_duration = 60.0;
    pit->lid_drop = 0.5;
    pit->lid_recovery = 300.0;
    pit->fuel_moisture = 0.2;
    pit->outside_temperature = celsius(20);
    pit->outside_relative_humidity = 0.6;
    pit->height = 0.5;
    pit->pan_depth = 0.05;
    pit->pieces = 1.0;
    pit->heat_up = SW_USUAL;
}

static void init_wrap(sw_wrap *wrap)
{
    wrap->kind = SW_WRAP_NONE;
    wrap->when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, celsius(71)};
    wrap->paper_permeance = 4.0e-9;
    wrap->paper_resistance = 0.003;
    wrap->paper_emissivity = 0.9;
    wrap->foil_emissivity = 0.1;
    wrap->foil_resistance = 0.069;
    wrap->lid_resistance = 0.3;
    wrap->foil_leak = 0.001;
    wrap->tray_resistance = 0.007;
    wrap->tray_convection = 1.0;
    wrap->tray_rim = 0.05;
    wrap->tray_ring = 0.05;
    wrap->paper_capacity = 0.15;
    wrap->paper_wet_share = 1.0;
    wrap->paper_greasy = 0.4;
    wrap->bark_set = 0.2;
    /* A guess, 2 min to 15 min: lift it off, wrap it, put it back. */
    wrap->off_pit = 300.0;
    wrap->pour_when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, celsius(90)};
}

/* A place in which the wrap stays on and which, if it is a box or the pit, is like any other. */
static sw_place place_of(double temperature, double humidity_ratio, sw_ending until)
{
    return (sw_place){.temperature = temperature,
                      .humidity_ratio = humidity_ratio,
                      .room_temperature = celsius(20),
                      .heat_capacity = 5e3,
                      .loss = 0.8,
                      .convection = 5.0,
                      .keep_wrap = true,
                      .until = until};
}

static void init_solver(sw_solver_settings *solver)
{
    solver->cells = 60;
    solver->rows = 36;
    solver->columns = 28;
    solver->surface_cell = 0.0003;
    solver->relative_tolerance = 1e-5;
    solver->output_interval = 300.0;
    solver->field_interval = 900.0;
    solver->longest_phase = 96 * hour;
    solver->evaporation = true;
}

void sw_scenario_init(sw_scenario *scenario)
{
    sw_scenario s;
    memset(&s, 0, sizeof s);
    snprintf(s.title, sizeof s.title, "Village hall supper");
    s.start_clock = 22.0 * hour;
    init_meat(&s.meat);
    init_pit(&s.pit);
    init_wrap(&s.wrap);
    s.rewrap = (sw_rewrap){SW_WRAP_OPEN_TRAY, {SW_ENDING_NONE, 0.0}};
    s.spritz = (sw_spritz){.every = 0.5 * hour, .from = 2 * hour, .temperature = celsius(20), .cling = 0.1};
    s.pull = (sw_ending){SW_ENDING_USUAL, 0.0};
    s.rest = place_of(celsius(22), 0.008, (sw_ending){SW_ENDING_DURATION, 0.25 * hour});
    s.hold = place_of(celsius(66), 0.1, (sw_ending){SW_ENDING_DURATION, 4 * hour});
    s.cooling = place_of(celsius(3), 0.004, (sw_ending){SW_ENDING_NONE, 0.0});
    s.stall = (sw_stall_definition){.above = celsius(55),
                                    .rate = 3.0 / hour,
                                    .window = hour,
                                    .duration = 0.75 * hour,
                                    .below = celsius(85)};
    s.serving = (sw_serving){.size = 0.15, .people = 24, .temperature = celsius(65), .trimming = SW_USUAL};
    /* Choices. An hour in the warm lets the juice thicken and is what a late cook can eat up; past eight the meat goes on
     * softening and drying. How long it stays safe is judged apart. */
    s.serving.time = 13.0 * hour;
    s.serving.hold_at_least = hour;
    s.serving.hold_at_most = 8.0 * hour;
    init_solver(&s.solver);
    *scenario = s;
}
