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

const char *sw_side_name(sw_side side)
{
    return side == SW_SIDE_BOTTOM ? "bottom" : side == SW_SIDE_END ? "end" : "top";
}

const char *sw_pit_kind_name(sw_pit_kind kind)
{
    static const char *const names[SW_PIT_KIND_COUNT] = {"offset", "kettle", "ceramic", "pellet", "electric", "gas"};
    return kind >= 0 && kind < SW_PIT_KIND_COUNT ? names[kind] : "unknown kind of pit";
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
void sw_scenario_init(sw_scenario *scenario)
{
    sw_scenario s;
    sw_tissue_parameters lean;
    memset(&s, 0, sizeof s);
    sw_lean_parameters(&lean);
    snprintf(s.title, sizeof s.title, "Village hall supper");
    s.start_clock = 22.0 * hour;

    snprintf(s.meat.name, sizeof s.meat.name, "whole trimmed brisket");
    s.meat.shape = SW_SHAPE_SLAB;
    s.meat.mass = 6.5;
    s.meat.initial_temperature = celsius(5);
    s.meat.composition = (sw_composition){.water = 0.703, .protein = 0.207, .fat = 0.08, .ash = 0.01};
    s.meat.fat_cap_thickness = 0.0;
    s.meat.fat_cap_side = SW_SIDE_TOP;
    s.meat.permeability = lean.permeability;
    s.meat.water_holding_temperature = lean.holding_temperature;
    s.meat.water_holding_loss = lean.holding_loss;
    s.meat.shrinkage_area = 0.45;
    s.meat.shrinkage_thickness = 0.1;
    s.meat.late_water_loss = lean.late_loss;
    s.meat.late_water_loss_temperature = lean.late_temperature;
    s.meat.juice_runoff_time = lean.runoff_time;
    s.meat.juice = (sw_juice){.on_surface = 0.8, .cling = 0.137, .wet_share = 0.5, .half_film = 0.012};
    s.meat.fat_rendering = 1.0;
    s.meat.bark_openness = lean.vapour_openness;
    s.meat.water_diffusivity = lean.diffusivity;
    s.meat.fibre_conductivity = 1.0;
    s.meat.fibre_permeability = 1.0;
    s.meat.has_edges = true;
    s.meat.last_probe_decides = true;

    s.pit.step_count = 1;
    s.pit.steps[0] = (sw_pit_step){.start = 0.0, .temperature = celsius(121)};
    s.pit.humidity_ratio = 0.02;
    s.pit.convection = 6.5;
    s.pit.kind = SW_PIT_OFFSET;
    s.pit.cycle_period = 0.25 * hour;
    s.pit.lid_duration = 60.0;
    s.pit.lid_drop = 0.5;
    s.pit.lid_recovery = 300.0;
    s.pit.fuel_moisture = 0.2;
    s.pit.outside_temperature = celsius(20);
    s.pit.outside_relative_humidity = 0.6;
    s.pit.height = 0.5;
    s.pit.pan_depth = 0.05;
    s.pit.pieces = 1;

    s.wrap.kind = SW_WRAP_NONE;
    s.wrap.when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, celsius(71)};
    s.wrap.paper_permeance = 3.2e-9;
    s.wrap.paper_resistance = 0.003;
    s.wrap.paper_emissivity = 0.9;
    s.wrap.foil_emissivity = 0.1;
    s.wrap.foil_resistance = 0.09;
    s.wrap.lid_resistance = 0.3;
    s.wrap.foil_leak = 0.001;
    s.wrap.tray_resistance = 0.007;
    s.wrap.tray_convection = 1.0;
    s.wrap.tray_rim = 0.05;
    s.wrap.tray_ring = 0.05;
    s.wrap.paper_capacity = 0.15;
    s.wrap.paper_greasy = 0.4;
    s.wrap.bark_set = 0.2;
    s.wrap.pour_when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, celsius(90)};

    s.rewrap = (sw_rewrap){SW_WRAP_OPEN_TRAY, {SW_ENDING_NONE, 0.0}};

    s.spritz = (sw_spritz){.every = 0.5 * hour, .from = 2 * hour, .temperature = celsius(20), .cling = 0.1};

    s.pull = (sw_ending){SW_ENDING_USUAL, SW_USUAL_PULL};

    s.rest = (sw_place){.temperature = celsius(22),
                        .humidity_ratio = 0.008,
                        .room_temperature = celsius(20),
                        .heat_capacity = 5e3,
                        .loss = 0.8,
                        .convection = 5.0,
                        .keep_wrap = true,
                        .until = {SW_ENDING_DURATION, 0.25 * hour}};
    s.hold = (sw_place){.temperature = celsius(66),
                        .humidity_ratio = 0.1,
                        .room_temperature = celsius(20),
                        .heat_capacity = 5e3,
                        .loss = 0.8,
                        .convection = 5.0,
                        .keep_wrap = true,
                        .until = {SW_ENDING_DURATION, 4 * hour}};

    s.cooling = (sw_place){.temperature = celsius(3),
                           .humidity_ratio = 0.004,
                           .room_temperature = celsius(20),
                           .heat_capacity = 5e3,
                           .loss = 0.8,
                           .convection = 5.0,
                           .keep_wrap = true,
                           .until = {SW_ENDING_NONE, 0.0}};

    s.stall = (sw_stall_definition){.above = celsius(55),
                                    .rate = 3.0 / hour,
                                    .window = hour,
                                    .duration = 0.75 * hour,
                                    .below = celsius(85)};

    s.serving = (sw_serving){.size = 0.15, .people = 24, .temperature = celsius(65), .trimming = 0.18};

    s.solver.cells = 60;
    s.solver.rows = 24;
    s.solver.columns = 40;
    s.solver.surface_cell = 0.0003;
    s.solver.relative_tolerance = 1e-5;
    s.solver.output_interval = 300.0;
    s.solver.field_interval = 900.0;
    s.solver.longest_phase = 96 * hour;
    s.solver.evaporation = true;
    *scenario = s;
}
