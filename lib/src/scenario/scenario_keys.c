/* SPDX-License-Identifier: BSD-3-Clause */
#include "key_table.h"

#include <string.h>

static const char *shape_choice(int choice)
{
    return sw_shape_name((sw_shape)choice);
}

static const char *cut_choice(int choice)
{
    return sw_cut_name((sw_cut)choice);
}

static const char *side_choice(int choice)
{
    return sw_side_name((sw_side)choice);
}

static const char *pour_choice(int choice)
{
    return sw_pour_name((sw_pour)choice);
}

static const char *place_kind_choice(int choice)
{
    return sw_place_kind_name((sw_place_kind)choice);
}

static const char *wrap_choice(int choice)
{
    return sw_wrap_name((sw_wrap_kind)choice);
}

static const char *pit_kind_choice(int choice)
{
    return sw_pit_kind_name((sw_pit_kind)choice);
}

static const char *fuel_choice(int choice)
{
    return sw_fuel_name((sw_fuel)choice);
}

static const char *humidity_choice(int choice)
{
    return sw_pit_humidity_name((sw_pit_humidity)choice);
}

/* A row of the table, and what of it the library keeps to itself. */
typedef struct table_row {
    sw_scenario_key key; /* first: a key is found in its row */
    size_t offset;       /* of its field in sw_scenario */
    const sw_key_condition *counts; /* NULL: always */
} table_row;

#define FIELD(field) .offset = offsetof(sw_scenario, field)
#define CELSIUS(degrees) ((degrees) + 273.15)
#define HOURS(hours) ((hours)*3600.0)
#define PER_HOUR(kelvin) ((kelvin) / 3600.0)

/* Behind the meaning of a key may stand when it counts, and how well it is known. */
#define COUNTS_IF(condition) .counts = &sw_key_##condition
#define KNOWN_TO(place_, kind_, deviation_) .key.uncertain = {place_, SW_UNCERTAINTY_##kind_, deviation_, KNOWN_BY_COOKS}
#define SPREAD(place_, kind_, deviation_) .key.uncertain = {place_, SW_UNCERTAINTY_##kind_, deviation_, SPREAD_OVER_RANGE}
#define LEFT_OPEN(kind_, deviation_) .key.left_open = {0, SW_UNCERTAINTY_##kind_, deviation_, FROM_COOK_TO_COOK}

/* What a cook measures or sets: how well cooks know it. What nobody measures: the standard deviation of an even spread over
 * the published or usual range, its width over the root of twelve; for ranges over decades of the logarithm. */
#define KNOWN_BY_COOKS "how well cooks know it: common practice, no source"
#define FROM_COOK_TO_COOK "from cook to cook, as in measured cooks: docs/theory/population.md"
#define SPREAD_OVER_RANGE "an even spread over its range in docs/theory/parameters.md"

#define KEY(key_, type_, field_, ...) .key.name = key_, .key.type = SW_KEY_##type_, FIELD(field_), .key.meaning = __VA_ARGS__
#define TEXT(key_, field_, ...) {KEY(key_, TEXT, field_, __VA_ARGS__)}
#define SWITCH(key_, field_, ...) {KEY(key_, SWITCH, field_, __VA_ARGS__)}
#define CHOICE(key_, field_, names, count, ...)                                                                        \
    {                                                                                                                  \
        .key.choice_name = names, .key.choice_count = count, KEY(key_, CHOICE, field_, __VA_ARGS__)                    \
    }
#define WHOLE(key_, field_, low, high, ...)                                                                            \
    {                                                                                                                  \
        .key.range = {low, high}, KEY(key_, WHOLE, field_, __VA_ARGS__)                                                \
    }
#define OF_QUANTITY(type_, key_, field_, kind, low, high, si, us, ...)                                                 \
    {                                                                                                                  \
        .key.quantity = SW_QUANTITY_##kind, .key.range = {low, high}, .key.si_unit = si, .key.us_unit = us,            \
        KEY(key_, type_, field_, __VA_ARGS__)                                                                          \
    }
#define VALUE(key_, field_, kind, low, high, si, us, ...)                                                              \
    OF_QUANTITY(VALUE, key_, field_, kind, low, high, si, us, __VA_ARGS__)
/* A number that may be left to the cut or the kind of pit. */
#define USUAL_VALUE(key_, field_, kind, low, high, si, us, ...)                                                        \
    {                                                                                                                  \
        .key.quantity = SW_QUANTITY_##kind, .key.range = {low, high}, .key.si_unit = si, .key.us_unit = us,            \
        .key.may_be_usual = true, KEY(key_, VALUE, field_, __VA_ARGS__)                                                \
    }
#define USUAL_FRACTION(key_, field_, low, high, ...) USUAL_VALUE(key_, field_, NUMBER, low, high, "", "", __VA_ARGS__)
#define FRACTION(key_, field_, low, high, ...) VALUE(key_, field_, NUMBER, low, high, "", "", __VA_ARGS__)

/* Endings: where the probe can get, and from the shortest phase to the longest. */
#define ENDING_FROM(key_, field_, coldest, shortest, none, ...)                                                        \
    {                                                                                                                  \
        .key.ending = {{CELSIUS(coldest), CELSIUS(110.0)}, {shortest, SW_LONGEST_PHASE}, none, false, false},          \
        KEY(key_, ENDING, field_, __VA_ARGS__)                                                                         \
    }

#define ENDING(key_, field_, shortest, none, ...) ENDING_FROM(key_, field_, 10.0, shortest, none, __VA_ARGS__)

/* The ending of a phase that a wrap ends: the bark may end it too. */
#define WRAPPING(key_, field_, ...)                                                                                    \
    {                                                                                                                  \
        .key.ending = {{CELSIUS(10.0), CELSIUS(110.0)}, {0.0, SW_LONGEST_PHASE}, true, true, false},                   \
        KEY(key_, ENDING, field_, __VA_ARGS__)                                                                         \
    }

/* A place has the same keys for rest, hold and cooling; coldest: the lowest probe temperature that may end it [C]. */
#define PLACE(key, field, coldest, temperature_meaning, until_meaning)                                                 \
    CHOICE(key ".kind", field.kind, place_kind_choice, SW_PLACE_KIND_COUNT,                                            \
           "air: a room, oven or cabinet; box: insulated, preheated; cooling-pit: the pit with its fire out",          \
           COUNTS_IF(field)),                                                                                          \
        VALUE(key ".temperature", field.temperature, TEMPERATURE, CELSIUS(0.0), CELSIUS(150.0), "C", "F",              \
              temperature_meaning, COUNTS_IF(field##_temperature)),                                                    \
        VALUE(key ".humidity_ratio", field.humidity_ratio, HUMIDITY_RATIO, 0.0, 1.0, "", "",                           \
              "vapour per dry air around the meat, by mass; a room has about 0.008, a closed moist box 0.1",           \
              COUNTS_IF(field)),                                                                                       \
        VALUE(key ".convection", field.convection, HEAT_TRANSFER, 0.5, 100.0, "W/m2/K", "W/m2/K",                      \
              "heat transfer coefficient of the air at the meat; still air has about 5", COUNTS_IF(field)),            \
        VALUE(key ".room_temperature", field.room_temperature, TEMPERATURE, CELSIUS(-20.0), CELSIUS(50.0), "C", "F",   \
              "around a box or a cooling pit", COUNTS_IF(field##_cools)),                                              \
        VALUE(key ".heat_capacity", field.heat_capacity, HEAT_CAPACITY, 500.0, 1e6, "kJ/K", "kJ/K",                    \
              "of the box or cooling pit; a box with towels has about 2 to 10, a steel pit 10 to 60",                  \
              COUNTS_IF(field##_cools)),                                                                               \
        VALUE(key ".loss", field.loss, HEAT_LOSS, 0.0, 50.0, "W/K", "W/K",                                             \
              "of the box or cooling pit to the room; a box has about 0.5 to 1.5, a steel pit 3 to 10",                \
              COUNTS_IF(field##_cools)),                                                                               \
        SWITCH(key ".keep_wrap", field.keep_wrap, "whether the wrap stays on", COUNTS_IF(field##_wrap)),               \
        ENDING_FROM(key ".until", field.until, coldest, 60.0, true, until_meaning)

/* Ranges are those in which the physics holds or a cook could mean it; typical values are common practice (no source)
 * or come with their sources in docs/theory/parameters.md. */
static const table_row rows[] = {
    TEXT("title", title, "what this cook is called above its results"),
    VALUE("start", start_clock, CLOCK, 0.0, 86400.0, "", "", "time of day the meat goes on the pit, 24-hour clock"),

    {.key.may_be_usual = true, KEY("meat.name", TEXT, meat.name, "what the cut is called in the results; usual is as meat.cut has it")},
    CHOICE("meat.cut", meat.cut, cut_choice, SW_CUT_COUNT,
           "sets what is left usual or 0: name, composition, bone, proportions, trimming, pull; never meat.shape or the mass"),
    CHOICE("meat.shape", meat.shape, shape_choice, SW_SHAPE_COUNT,
           "how the cut is modelled, whatever meat.cut is: in one dimension slab, cylinder, sphere; in two section, taper, short-cylinder, flat, point, packer, outline"),
    VALUE("meat.mass", meat.mass, MASS, 0.0, 30.0, "kg", "lb",
          "of the whole trimmed raw cut, 0.2 kg (0.44 lb) or more; 0 takes it from meat.bought_mass",
          KNOWN_TO(1, SHARE, 0.05)),
    VALUE("meat.bought_mass", meat.bought_mass, MASS, 0.0, 60.0, "kg", "lb",
          "of the cut as bought, of which serving.trimming is trimmed off, in place of meat.mass; 0 if that is given"),
    VALUE("meat.thickness", meat.thickness, LENGTH, 0.0, 0.4, "cm", "in",
          "at its thickest, fat cap included, or diameter; 0 takes it from mass, shape and meat.cut: a slab for a packer of "
          "6.5 kg (14.3 lb) as bought is 6.35 cm (2.5 in), and the cube root of the mass scales it", COUNTS_IF(not_outline), KNOWN_TO(2, SHARE, 0.06),
          LEFT_OPEN(FACTOR, 1.14)),
    VALUE("meat.width", meat.width, LENGTH, 0.0, 1.0, "cm", "in",
          "of a section: its other side, or a short cylinder's height; 0 takes it from the usual proportions of meat.cut",
          COUNTS_IF(has_width)),
    VALUE("meat.end_thickness", meat.end_thickness, LENGTH, 0.0, 0.4, "cm", "in",
          "of a taper, at its thin end; 0 takes half the thickness", COUNTS_IF(taper)),
    OF_QUANTITY(OUTLINE, "meat.outline", meat, LENGTH, -1.0, 2.0, "cm", "in",
                "of the shape outline: a CSV file, or a list of corners such as - {x: 3 cm, y: 0 cm} that ends where it "
                "began; x runs along the section, y up", COUNTS_IF(outline)),
    OF_QUANTITY(PROBES, "meat.probes", meat, LENGTH, -1.0, 2.0, "cm", "in",
                "of a section: usual, or a list of places such as - {name: flat, along: 17 cm, up: 3 cm}", COUNTS_IF(two_dimensions)),
    VALUE("meat.initial_temperature", meat.initial_temperature, TEMPERATURE, CELSIUS(0.0), CELSIUS(40.0), "C", "F",
          "when the meat goes on; raw meat belongs in the refrigerator, at 5 C (41 F) or less, until then",
          KNOWN_TO(3, DIFFERENCE, 2.0)),
    USUAL_FRACTION("meat.composition.water", meat.composition.water, 0.0, 1.0,
                   "mass fraction; raw lean brisket has about 0.70; usual takes that of meat.cut"),
    USUAL_FRACTION("meat.composition.protein", meat.composition.protein, 0.0, 1.0,
                   "mass fraction; about 0.21; usual takes that of meat.cut"),
    USUAL_FRACTION("meat.composition.fat", meat.composition.fat, 0.0, 1.0,
                   "mass fraction, within the lean; about 0.04 to 0.13 by grade; usual takes that of meat.cut",
                   KNOWN_TO(4, DIFFERENCE, 0.02)),
    USUAL_FRACTION("meat.composition.carbohydrate", meat.composition.carbohydrate, 0.0, 1.0, "mass fraction; usual is 0"),
    USUAL_FRACTION("meat.composition.ash", meat.composition.ash, 0.0, 1.0,
                   "mass fraction of minerals; about 0.01; usual takes that of meat.cut"),
    USUAL_FRACTION("meat.bone", meat.bone, 0.0, 0.6,
                   "share of the trimmed cut that is bone: cooked as if it were meat, left out of the servings; usual takes that of "
                   "meat.cut"),
    VALUE("meat.fat_cap.thickness", meat.fat_cap_thickness, LENGTH, 0.0, 0.05, "mm", "in",
          "of the layer of fat left on one side of a slab or section; 0 for none", COUNTS_IF(may_have_cap),
          KNOWN_TO(5, DIFFERENCE, 0.002)),
    CHOICE("meat.fat_cap.side", meat.fat_cap_side, side_choice, SW_SIDE_BOTTOM + 1, "side the fat cap lies on",
           COUNTS_IF(has_cap)),
    VALUE("meat.permeability", meat.permeability, AREA, 1e-19, 1e-13, "m2", "m2",
          "of lean meat to its own juice, raw; published 1e-17 m2 to 3e-16 m2, whole cuts by calibration up to 3e-15 m2",
          SPREAD(12, FACTOR, 2.67)),
    VALUE("meat.water_holding_temperature", meat.water_holding_temperature, TEMPERATURE, CELSIUS(40.0), CELSIUS(95.0),
          "C", "F", "middle of the range in which the protein releases its water; about 62 C to 70 C",
          SPREAD(13, DIFFERENCE, 2.3)),
    FRACTION("meat.water_holding_loss", meat.water_holding_loss, 0.0, 0.95,
             "fraction of the raw water the fully cooked protein cannot hold; about 0.3 to 0.6",
             SPREAD(14, DIFFERENCE, 0.087)),
    FRACTION("meat.late_water_loss", meat.late_water_loss, 0.0, 0.5,
             "further fraction of the raw water that the protein releases late in the cook; about 0.05 to 0.12, 0 for none"),
    VALUE("meat.late_water_loss_temperature", meat.late_water_loss_temperature, TEMPERATURE, CELSIUS(60.0), CELSIUS(120.0),
          "C", "F", "middle of the range in which it does; about 84 C to 90 C", COUNTS_IF(late_loss)),
    VALUE("meat.juice_runoff_time", meat.juice_runoff_time, DURATION, 60.0, HOURS(1e5), "h", "h",
          "in which released juice runs off through channels and drips, at 70 C; about 0.3 h to 4 h",
          SPREAD(15, FACTOR, 3.1)),
    FRACTION("meat.juice.on_surface", meat.juice.on_surface, 0.0, 1.0,
             "share of the released juice that runs over the surface and wets it; the rest drips off; about 0.6 to 0.9"),
    VALUE("meat.juice.cling", meat.juice.cling, MASS_PER_AREA, 0.0, 1.0, "g/m2", "oz/ft2",
          "what of it clings to the surface at most; about 100 g/m2 to 230 g/m2 (0.33 oz/ft2 to 0.75 oz/ft2)"),
    FRACTION("meat.juice.wet_share", meat.juice.wet_share, 0.0, 1.0,
             "share of the surface that a thick film of juice keeps wet; about 0.4 to 0.6, 0 for a surface that juice never wets"),
    VALUE("meat.juice.half_film", meat.juice.half_film, MASS_PER_AREA, 1e-4, 1.0, "g/m2", "oz/ft2",
          "the film that wets half of that; about 5 g/m2 to 12 g/m2 (0.016 oz/ft2 to 0.04 oz/ft2)"),
    FRACTION("meat.shrinkage.area", meat.shrinkage_area, 0.0, 0.8,
             "share of its surface that meat loses, over the share of its water lost; about 0.3 to 0.6, 0 for none"),
    FRACTION("meat.shrinkage.thickness", meat.shrinkage_thickness, 0.0, 0.8,
             "the same of its thickness; about 0 to 0.2"),
    FRACTION("meat.fat_rendering", meat.fat_rendering, 0.0, 50.0,
             "how fast fat renders, over the usual rate; about 0.2 to 4"),
    FRACTION("meat.bark_openness", meat.bark_openness, 0.0, 1.0,
             "of dry meat to vapour, porosity over tortuosity; about 0.005 to 0.2", SPREAD(16, FACTOR, 2.9)),
    VALUE("meat.water_diffusivity", meat.water_diffusivity, DIFFUSIVITY, 1e-11, 1e-7, "m2/s", "m2/s",
          "of water in lean meat at 60 C; about 3e-10 m2/s to 5e-9 m2/s", SPREAD(17, FACTOR, 2.25)),
    VALUE("meat.seam_thickness", meat.seam_thickness, LENGTH, 0.0, 0.05, "mm", "in",
          "of the seam of fat between flat and point of a packer; 0 for none", COUNTS_IF(packer)),
    FRACTION("meat.fibre_conductivity", meat.fibre_conductivity, 0.5, 3.0,
             "heat conductivity along the fibres over across them; about 1.0 to 1.2", COUNTS_IF(lengthwise)),
    FRACTION("meat.fibre_permeability", meat.fibre_permeability, 0.1, 100.0,
             "permeability to juice along the fibres over across them; 1 if not known", COUNTS_IF(lengthwise)),
    SWITCH("meat.edges", meat.has_edges,
           "whether heat and water also pass the ends of a slab, through its two faces; no for a slab without ends",
           COUNTS_IF(slab)),
    SWITCH("meat.last_probe_decides", meat.last_probe_decides,
           "with several probes: yes waits for the last one to reach a temperature, no for the first",
           COUNTS_IF(several_probes)),

    CHOICE("pit.kind", pit.kind, pit_kind_choice, SW_PIT_KIND_COUNT,
           "sets what is left to the kind of pit: air film, humidity, fuel, air flow, share of heat in the air, air speed",
           COUNTS_IF(pit_by_kind)),
    OF_QUANTITY(SCHEDULE, "pit.temperature", pit, TEMPERATURE, CELSIUS(40.0), CELSIUS(190.0), "C", "F",
                "of the air at the meat: one value, a list of steps such as - {from: 6 h, temperature: 135 C}, or a CSV "
                "file of a measured log", KNOWN_TO(6, DIFFERENCE, 2.0), LEFT_OPEN(DIFFERENCE, 6.0)),
    VALUE("pit.cycle.swing", pit.cycle_swing, TEMPERATURE_DIFFERENCE, 0.0, 40.0, "K", "F",
          "how far a controller lets the air swing, as a sine, above and below the set temperature; 0 for none"),
    VALUE("pit.cycle.period", pit.cycle_period, DURATION, 60.0, HOURS(4.0), "h", "h", "from one swing to the next",
          COUNTS_IF(cycle)),
    OF_QUANTITY(TIMES, "pit.lid.openings", pit, DURATION, 0.0, SW_LONGEST_PHASE, "h", "h",
                "when the lid is opened, after the meat went on: none, one time, or a list such as [2 h, 4 h 30 min]"),
    VALUE("pit.lid.duration", pit.lid_duration, DURATION, 1.0, HOURS(1.0), "h", "h", "how long it stays open each time",
          COUNTS_IF(lid_drops)),
    FRACTION("pit.lid.drop", pit.lid_drop, 0.0, 1.0,
             "how far the air falls towards outside air while the lid is open; 1 all the way", COUNTS_IF(lid)),
    VALUE("pit.lid.recovery", pit.lid_recovery, DURATION, 1.0, HOURS(4.0), "h", "h",
          "time in which all but 37 % of the drop is made up once the lid is shut", COUNTS_IF(lid_drops)),
    CHOICE("pit.humidity", pit.humidity, humidity_choice, SW_HUMIDITY_COUNT,
           "given takes pit.humidity_ratio; balance computes it from outside air, fuel, pan and meat"),
    USUAL_VALUE("pit.humidity_ratio", pit.humidity_ratio, HUMIDITY_RATIO, 0.0, 1.0, "", "",
                "vapour per dry air in the pit, by mass; an open draught has about 0.01 to 0.04, a tight or watered pit 0.05 to 0.2; "
                "usual takes it from pit.kind, air flow, fuel, weather, pan and load",
                COUNTS_IF(given_humidity), KNOWN_TO(7, FACTOR, 1.3), LEFT_OPEN(FACTOR, 1.5)),
    USUAL_VALUE("pit.convection", pit.convection, HEAT_TRANSFER, 0.0, 100.0, "W/m2/K", "W/m2/K",
                "heat transfer coefficient of the air at the meat; 5 to 12 in a slow pit, 15 to 25 with a fan; usual takes it from "
                "pit.kind and pit.draught, 0 from pit.air_speed and the cut's size",
                KNOWN_TO(11, FACTOR, 1.15), LEFT_OPEN(FACTOR, 1.24)),
    FRACTION("pit.draught", pit.draught, 0.1, 10.0,
             "air through the pit and past the meat, over what is usual for pit.kind: above 1 in wind or with a fan, below 1 with "
             "the vents shut; it moves what is left to the kind",
             COUNTS_IF(draught)),
    VALUE("pit.air_speed", pit.air_speed, SPEED, 0.0, 10.0, "m/s", "ft/min",
          "of the air at the meat; 0 takes that of pit.kind and pit.draught", COUNTS_IF(air_speed)),
    USUAL_VALUE("pit.wall_offset", pit.wall_offset, TEMPERATURE_DIFFERENCE, -50.0, 60.0, "K", "F",
                "how much hotter the walls are than the air: below 0 as walls lose heat, above 0 over open coals; usual takes it "
                "from pit.kind and the weather",
                KNOWN_TO(8, DIFFERENCE, 10.0)),
    VALUE("pit.altitude", pit.altitude, LENGTH, -430.0, 5000.0, "m", "ft",
          "of the place above the sea; it sets the air pressure and so where water boils"),
    USUAL_VALUE("pit.heat_up", pit.heat_up, DURATION, 0.0, HOURS(12.0), "h", "h",
                "from lighting the fire until the meat may go on; usual takes it from pit.kind", COUNTS_IF(plan)),
    {KEY("pit.learned", LEARNED, pit.learned,
         "what cooks in this pit showed of it: a file that track --learn writes, a group of its values, or none; taken for "
         "the gauge's "
         "offset, and for air film and humidity that are usual")},

    CHOICE("pit.fuel", pit.fuel, fuel_choice, SW_FUEL_COUNT,
           "usual takes that of pit.kind, none is electric heat", COUNTS_IF(damp)),
    FRACTION("pit.fuel_moisture", pit.fuel_moisture, 0.0, 0.6, "of wood: water by mass of the wet wood; seasoned about 0.2",
             COUNTS_IF(burns_wood)),
    VALUE("pit.air_flow", pit.air_flow, MASS_FLOW, 0.0, 1000.0 / 3600.0, "kg/h", "lb/h",
          "dry air through the pit; 0 takes that of pit.kind and pit.draught", COUNTS_IF(damp)),
    FRACTION("pit.air_heat_share", pit.air_heat_share, 0.0, 0.95,
             "share of the fuel's heat that leaves as warm air; 0 takes that of pit.kind", COUNTS_IF(burns)),
    VALUE("pit.outside.temperature", pit.outside_temperature, TEMPERATURE, CELSIUS(-30.0), CELSIUS(50.0), "C", "F",
          "of the air outside", COUNTS_IF(outside_heat)),
    FRACTION("pit.outside.relative_humidity", pit.outside_relative_humidity, 0.0, 1.0, "of the air outside",
             COUNTS_IF(outside_damp)),
    VALUE("pit.height", pit.height, LENGTH, 0.05, 3.0, "cm", "in", "of the chamber, inside; a pan must fit into it",
          COUNTS_IF(pan)),
    VALUE("pit.pan.area", pit.pan_area, SURFACE, 0.0, 2.0, "cm2", "in2", "of the water in a pan; 0 for no pan",
          COUNTS_IF(pan_area)),
    VALUE("pit.pan.depth", pit.pan_depth, LENGTH, 0.0, 1.0, "cm", "in", "of the water in the pan at the start",
          COUNTS_IF(pan_depth)),
    FRACTION("pit.pieces", pit.pieces, 1, 100, "pieces of meat like this one in the pit, which damp its air; one of another mass counts "
             "by the power 2/3 of its mass over this one's",
             COUNTS_IF(damp)),

    CHOICE("wrap.kind", wrap.kind, wrap_choice, SW_WRAP_COUNT, "what the meat is wrapped in on the pit"),
    WRAPPING("wrap.when", wrap.when, "when the wrap goes on; none only if there is no wrap",
             COUNTS_IF(wrapped), KNOWN_TO(9, DIFFERENCE, 2.0)),
    VALUE("wrap.off_pit", wrap.off_pit, DURATION, 0.0, HOURS(1.0), "h", "h",
          "how long the meat is off the pit, in outside air, each time a wrap goes on or comes off; about 0.03 h to 0.25 h",
          COUNTS_IF(wrapped)),
    VALUE("wrap.bark_set", wrap.bark_set, NUMBER, 0.05, 0.99, "", "",
          "water activity of the top at which the bark counts as set, for wrap.when: bark; below about 0.23 it dries for good",
          COUNTS_IF(bark)),
    VALUE("wrap.liquid", wrap.liquid, MASS, 0.0, 2.0, "kg", "lb", "poured into tray or closed foil as it goes on",
          COUNTS_IF(pool)),
    CHOICE("wrap.pour", wrap.pour, pour_choice, SW_POUR_COUNT, "what is done with the juice in a tray: no, off, over the meat",
           COUNTS_IF(open_tray)),
    ENDING("wrap.pour_when", wrap.pour_when, 0.0, true, "when that is done", COUNTS_IF(pours)),
    VALUE("wrap.paper.permeance", wrap.paper_permeance, PERMEANCE, 1e-12, 1e-6, "kg/s/m2/Pa", "kg/s/m2/Pa",
          "of the paper to water vapour; uncertain, about 6e-10 to 1e-8 and falling as it soaks up fat",
          COUNTS_IF(paper), SPREAD(18, FACTOR, 2.25)),
    VALUE("wrap.paper.resistance", wrap.paper_resistance, THERMAL_RESISTANCE, 0.0, 0.5, "m2 K/W", "m2 K/W",
          "thermal, of the paper and the air under it; about 0.003 to 0.01", COUNTS_IF(paper),
          SPREAD(19, DIFFERENCE, 0.002)),
    FRACTION("wrap.paper.emissivity", wrap.paper_emissivity, 0.01, 1.0, "of the paper's outside; about 0.9",
             COUNTS_IF(paper)),
    VALUE("wrap.paper.capacity", wrap.paper_capacity, MASS_PER_AREA, 0.0, 1.0, "g/m2", "oz/ft2",
          "juice the paper holds before it drips; about 100 g/m2 to 300 g/m2 (0.33 oz/ft2 to 0.98 oz/ft2)",
          COUNTS_IF(film)),
    FRACTION("wrap.paper.greasy", wrap.paper_greasy, 0.01, 1.0,
             "share of its permeance that paper soaked with fat keeps; about 0.2 to 0.5", COUNTS_IF(film)),
    FRACTION("wrap.paper.wet_share", wrap.paper_wet_share, 0.0, 1.0,
             "share of the surface that paper full of juice wets: it spreads what runs over bare meat; about 0.7 to 1",
             COUNTS_IF(paper)),
    FRACTION("wrap.foil.emissivity", wrap.foil_emissivity, 0.01, 1.0,
             "of the outside of foil and tray; bright about 0.04 to 0.1, more when sooty", COUNTS_IF(foil_or_tray),
             SPREAD(21, FACTOR, 2.2)),
    VALUE("wrap.foil.resistance", wrap.foil_resistance, THERMAL_RESISTANCE, 0.0, 0.5, "m2 K/W", "m2 K/W",
          "thermal, of the gap under closed foil; about 0.04 to 0.17", COUNTS_IF(foil), SPREAD(20, FACTOR, 2.67)),
    FRACTION("wrap.foil.leak", wrap.foil_leak, 0.0, 1.0,
             "share of an open surface's vapour that escapes from closed foil; small when folded well",
             COUNTS_IF(closed)),
    VALUE("wrap.lid.resistance", wrap.lid_resistance, THERMAL_RESISTANCE, 0.0, 2.0, "m2 K/W", "m2 K/W",
          "thermal, of the still gap under a pan's lid; about 0.15 to 0.6", COUNTS_IF(lid_over_pan)),
    VALUE("wrap.tray.resistance", wrap.tray_resistance, THERMAL_RESISTANCE, 0.0, 0.5, "m2 K/W", "m2 K/W",
          "thermal, of the juice between meat and tray; about 0.005 to 0.01", COUNTS_IF(under),
          SPREAD(22, DIFFERENCE, 0.0014)),
    FRACTION("wrap.tray.convection", wrap.tray_convection, 0.0, 1.0,
             "share of the pit's convection that reaches the outside of the tray", COUNTS_IF(under),
             SPREAD(23, DIFFERENCE, 0.29)),
    VALUE("wrap.tray.rim", wrap.tray_rim, LENGTH, 0.0, 0.4, "cm", "in",
          "height up to which the tray covers the ends of a section", COUNTS_IF(rim)),
    FRACTION("wrap.tray.ring", wrap.tray_ring, 0.0, 3.0, "free surface of the juice beside the meat, over the meat's underside",
             COUNTS_IF(ring)),

    CHOICE("rewrap.kind", rewrap.kind, wrap_choice, SW_WRAP_COUNT, "what the first wrap is changed for; none takes it off",
           COUNTS_IF(rewrap_kind)),
    WRAPPING("rewrap.when", rewrap.when, "when that is done; none leaves the first wrap on", COUNTS_IF(rewrap_when)),

    VALUE("spritz.amount", spritz.amount, MASS, 0.0, 1.0, "g", "oz",
          "sprayed or mopped on the open surfaces each time, on the pit until a wrap goes on; 0 for none"),
    VALUE("spritz.every", spritz.every, DURATION, 60.0, HOURS(24.0), "min", "min", "time between", COUNTS_IF(spritz)),
    VALUE("spritz.from", spritz.from, DURATION, 0.0, SW_LONGEST_PHASE, "h", "h", "the first time, after the meat went on",
          COUNTS_IF(spritz)),
    VALUE("spritz.temperature", spritz.temperature, TEMPERATURE, CELSIUS(0.0), CELSIUS(90.0), "C", "F", "of the liquid",
          COUNTS_IF(spritz)),
    VALUE("spritz.cling", spritz.cling, MASS_PER_AREA, 0.001, 1.0, "g/m2", "oz/ft2",
          "what clings to the surface at most; the rest drips off", COUNTS_IF(cling)),

    {.key.ending = {{CELSIUS(10.0), CELSIUS(110.0)}, {60.0, SW_LONGEST_PHASE}, false, false, true},
     KEY("pull", ENDING, pull,
         "when the meat comes off the pit; usual is that of meat.cut, 95 C (203 F) of a packer, or 2 K (3.6 F) under the boiling point where that is lower"),
         KNOWN_TO(10, DIFFERENCE, 1.5)},

    PLACE("rest", rest, 10.0, "of the air where the meat rests; a kitchen has about 22 C (72 F)",
          "when the rest ends; none leaves it out"),
    PLACE("hold", hold, 10.0,
          "of the air where the meat is held; keep hot food above 60 C (140 F) and follow the local food code",
          "when the hold ends and the meat is sliced; none leaves it out"),
    PLACE("cooling", cooling, 0.0, "of the air that cools what is not eaten at once; a refrigerator has about 3 C (37 F)",
          "when the cooling ends, for instance when the probe reads 4 C (39 F); none leaves it out"),

    VALUE("stall.above", stall.above, TEMPERATURE, CELSIUS(30.0), CELSIUS(95.0), "C", "F",
          "a stall may begin once the probe is above this"),
    VALUE("stall.below", stall.below, TEMPERATURE, CELSIUS(30.0), CELSIUS(110.0), "C", "F",
          "it ends at the latest when the probe passes this, where the last approach to the pit's temperature begins"),
    VALUE("stall.rate", stall.rate, HEATING_RATE, PER_HOUR(0.01), PER_HOUR(60.0), "K/h", "F/h",
          "a probe that heats slower than this, on the mean over stall.window, stalls"),
    VALUE("stall.window", stall.window, DURATION, 300.0, HOURS(6.0), "h", "h",
          "half before and half after; longer than the time between sprays and openings of the lid, shorter than a stall"),
    VALUE("stall.duration", stall.duration, DURATION, 60.0, HOURS(24.0), "h", "h",
          "if it does so for at least this long"),

    VALUE("serving.size", serving.size, MASS, 0.02, 1.0, "g", "oz", "sliced meat for each person; about 100 g to 250 g"),
    WHOLE("serving.people", serving.people, 0, 100000, "how many people eat; 0 leaves out what to buy"),
    VALUE("serving.temperature", serving.temperature, TEMPERATURE, CELSIUS(20.0), CELSIUS(95.0), "C", "F",
          "at the probe, at which the meat is sliced; about 60 C to 68 C (140 F to 155 F)"),
    USUAL_FRACTION("serving.trimming", serving.trimming, 0.0, 0.6,
                   "share of the cut as bought that is trimmed off before it goes on; about 0.10 to 0.25 of a brisket; usual takes "
                   "that of meat.cut",
                   COUNTS_IF(trimming)),
    VALUE("serving.time", serving.time, CLOCK, 0.0, (SW_ENDING_DAYS_MAX + 1) * 86400.0, "", "",
          "time of day the people are served, 24-hour clock; a plan counts back from it to when the meat goes on, whatever day is "
          "given with it",
          COUNTS_IF(plan)),
    VALUE("serving.hold_at_least", serving.hold_at_least, DURATION, 0.0, HOURS(48.0), "h", "h",
          "least time in the hold, after the rest: juice thickens, and a late cook has time in hand; 0 h to 2 h", COUNTS_IF(plan)),
    VALUE("serving.hold_at_most", serving.hold_at_most, DURATION, 0.0, HOURS(48.0), "h", "h",
          "longest time in the hold: held on, meat softens and dries; 4 h to 12 h; safety is judged "
          "separately", COUNTS_IF(plan)),

    WHOLE("solver.cells", solver.cells, 10, 2000,
          "in one dimension: number of layers across the thickness; more is finer and slower",
          COUNTS_IF(one_dimension)),
    WHOLE("solver.rows", solver.rows, 8, 400, "of a section: number of layers across its thickness",
          COUNTS_IF(two_dimensions)),
    WHOLE("solver.columns", solver.columns, 8, 400, "of a section: number of columns along it",
          COUNTS_IF(two_dimensions)),
    VALUE("solver.surface_cell", solver.surface_cell, LENGTH, 2e-5, 0.01, "mm", "mm",
          "thickness of the outermost layer; 0.1 mm to 0.5 mm resolves the bark"),
    FRACTION("solver.relative_tolerance", solver.relative_tolerance, 1e-10, 1e-3,
             "of the integration in time; 1e-5 keeps temperatures to a few hundredths of a degree"),
    VALUE("solver.output_interval", solver.output_interval, DURATION, 1.0, 300.0, "h", "h",
          "between rows of the history, by which stall and safety are judged"),
    VALUE("solver.field_interval", solver.field_interval, DURATION, 1.0, HOURS(24.0), "h", "h",
          "between stored cross-sections"),
    VALUE("solver.longest_phase", solver.longest_phase, DURATION, HOURS(1.0), SW_LONGEST_PHASE, "h", "h",
          "a phase that lasts longer is reported as never ending"),
    SWITCH("solver.evaporation", solver.evaporation, "no seals every surface, to see the cook without evaporation"),
};

static const sw_group_of_keys groups[] = {
    {"meat", "The meat: mass and composition of the trimmed raw cut."},
    {"meat.composition", "of the lean part; the fractions sum to 1"},
    {"meat.fat_cap", "slab and sections only"},
    {"meat.shrinkage", "meat shrinks as its water leaves"},
    {"meat.juice", "juice that the protein releases, on its way over the surface"},
    {"pit", "The pit, while the meat is on it."},
    {"pit.cycle", "a controller that lets the temperature swing"},
    {"pit.lid", "opening the lid"},
    {"pit.outside", "the weather"},
    {"pit.pan", "a pan of water"},
    {"wrap", "The wrap: numbers of wraps that are not used do no harm."},
    {"wrap.paper", "used by paper"},
    {"wrap.foil", "used by closed-foil and covered-pan, and by open-tray for the outside of the tray"},
    {"wrap.lid", "used by covered-pan"},
    {"wrap.tray", "used by open-tray and covered-pan, and by closed-foil for its underside"},
    {"rewrap", "A second wrap, or the first taken off again."},
    {"spritz", "Liquid sprayed or mopped on while the meat is open on the pit."},
    {"rest", "The rest after the pull: the meat cools in a room."},
    {"hold", "The hold after the rest: the meat is kept warm until it is sliced."},
    {"cooling", "The cooling after the hold: what is not eaten at once; none by default."},
    {"stall", "What counts as a stall."},
    {"serving", "Who eats, and how much each."},
    {"solver", "How finely and for how long to compute; rarely changed."},
};

enum { KEY_COUNT = sizeof rows / sizeof *rows, GROUP_COUNT = sizeof groups / sizeof *groups };
_Static_assert((int)KEY_COUNT <= (int)SW_SCENARIO_NAMES_MAX, "the keys fit their limit");
_Static_assert((int)GROUP_COUNT <= (int)SW_SCENARIO_NAMES_MAX, "the groups fit their limit");

size_t sw_scenario_key_count(void)
{
    return KEY_COUNT;
}

const sw_scenario_key *sw_scenario_key_at(size_t number)
{
    return &rows[number].key;
}

static const table_row *row_of(const sw_scenario_key *key)
{
    return (const table_row *)(const void *)key;
}

size_t sw_scenario_key_number(const sw_scenario_key *key)
{
    return (size_t)(row_of(key) - rows);
}

const sw_scenario_key *sw_scenario_key_find(const char *name)
{
    for (size_t i = 0; i < KEY_COUNT; i++)
        if (strcmp(rows[i].key.name, name) == 0)
            return &rows[i].key;
    return NULL;
}

void *sw_key_field(const sw_scenario_key *key, sw_scenario *scenario)
{
    return (char *)scenario + row_of(key)->offset;
}

const void *sw_key_value(const sw_scenario_key *key, const sw_scenario *scenario)
{
    return (const char *)scenario + row_of(key)->offset;
}

const sw_key_condition *sw_key_condition_of(const sw_scenario_key *key)
{
    return row_of(key)->counts;
}

int sw_scenario_group_number(const char *name)
{
    for (int i = 0; i < GROUP_COUNT; i++)
        if (strcmp(groups[i].name, name) == 0)
            return i;
    return -1;
}

const sw_group_of_keys *sw_scenario_group_at(size_t number)
{
    return number < GROUP_COUNT ? &groups[number] : NULL;
}

sw_ending_limits sw_ending_limits_default(void)
{
    return (sw_ending_limits){{CELSIUS(10.0), CELSIUS(110.0)}, {0.0, SW_LONGEST_PHASE}, true, false, false};
}
