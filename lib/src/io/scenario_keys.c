#include "scenario_keys.h"

#include "near_miss.h"

#include <stdio.h>
#include <string.h>

static const char *shape_choice(int choice)
{
    return sw_shape_name((sw_shape)choice);
}

static const char *side_choice(int choice)
{
    return sw_side_name((sw_side)choice);
}

static const char *wrap_choice(int choice)
{
    return sw_wrap_name((sw_wrap_kind)choice);
}

#define FIELD(field) offsetof(sw_scenario, field)
#define CELSIUS(degrees) ((degrees) + 273.15)
#define HOURS(hours) ((hours)*3600.0)
#define PER_HOUR(kelvin) ((kelvin) / 3600.0)

#define TEXT(key, field, meaning_)                                                                                     \
    {                                                                                                                  \
        .name = key, .type = SW_KEY_TEXT, .offset = FIELD(field), .meaning = meaning_                                  \
    }
#define CHOICE(key, field, names, count, meaning_)                                                                     \
    {                                                                                                                  \
        .name = key, .type = SW_KEY_CHOICE, .offset = FIELD(field), .meaning = meaning_, .choice_name = names,         \
        .choice_count = count                                                                                          \
    }
#define SWITCH(key, field, meaning_)                                                                                   \
    {                                                                                                                  \
        .name = key, .type = SW_KEY_SWITCH, .offset = FIELD(field), .meaning = meaning_                                \
    }
#define WHOLE(key, field, low, high, meaning_)                                                                         \
    {                                                                                                                  \
        .name = key, .type = SW_KEY_WHOLE, .offset = FIELD(field), .meaning = meaning_, .range = { low, high }         \
    }
#define VALUE(key, field, kind, low, high, si, us, meaning_)                                                           \
    {                                                                                                                  \
        .name = key, .type = SW_KEY_VALUE, .offset = FIELD(field), .meaning = meaning_,                                \
        .quantity = SW_QUANTITY_##kind, .range = {low, high}, .si_unit = si, .us_unit = us                             \
    }
#define FRACTION(key, field, low, high, meaning_) VALUE(key, field, NUMBER, low, high, "", "", meaning_)

/* Endings: where the probe can get, and from the shortest phase to the longest. */
#define ENDING(key, field, shortest, none, meaning_)                                                                   \
    {                                                                                                                  \
        .name = key, .type = SW_KEY_ENDING, .offset = FIELD(field), .meaning = meaning_, .ending = {                   \
            {CELSIUS(10.0), CELSIUS(110.0)},                                                                           \
            {shortest, SW_LONGEST_PHASE},                                                                              \
            none                                                                                                       \
        }                                                                                                              \
    }

/* A place has the same keys for rest and hold. */
#define PLACE(key, field, temperature_meaning, until_meaning)                                                          \
    VALUE(key ".temperature", field.temperature, TEMPERATURE, CELSIUS(0.0), CELSIUS(150.0), "C", "F",                  \
          temperature_meaning),                                                                                        \
        VALUE(key ".humidity_ratio", field.humidity_ratio, HUMIDITY_RATIO, 0.0, 1.0, "", "",                           \
              "vapour per dry air around the meat, by mass; a room has about 0.008, a closed moist box 0.1"),          \
        VALUE(key ".convection", field.convection, HEAT_TRANSFER, 0.5, 100.0, "W/m2/K", "W/m2/K",                      \
              "heat transfer coefficient of the air at the meat; still air has about 5"),                              \
        SWITCH(key ".keep_wrap", field.keep_wrap, "whether the wrap stays on"),                                        \
        ENDING(key ".until", field.until, 60.0, true, until_meaning)

/* Ranges are those in which the physics holds or a cook could mean it; typical values are common practice (no source)
 * or come with their sources in docs/theory/parameters.md. */
static const sw_scenario_key keys[] = {
    TEXT("title", title, "what this cook is called above its results"),
    VALUE("start", start_clock, CLOCK, 0.0, 86400.0, "", "", "time of day the meat goes on the pit, 24-hour clock"),

    TEXT("meat.name", meat.name, "what the cut is called in the results"),
    CHOICE("meat.shape", meat.shape, shape_choice, SW_SHAPE_SPHERE + 1,
           "slab for a brisket, cylinder for a long round cut, sphere for a round one"),
    VALUE("meat.mass", meat.mass, MASS, 0.2, 30.0, "kg", "lb", "of the whole trimmed raw cut"),
    VALUE("meat.thickness", meat.thickness, LENGTH, 0.01, 0.4, "cm", "in",
          "of the slab with its fat cap, at its thickest; or diameter of the cylinder or sphere"),
    VALUE("meat.initial_temperature", meat.initial_temperature, TEMPERATURE, CELSIUS(0.0), CELSIUS(40.0), "C", "F",
          "when the meat goes on; raw meat belongs in the refrigerator, at 5 C (41 F) or less, until then"),
    FRACTION("meat.composition.water", meat.composition.water, 0.0, 1.0,
             "mass fraction; raw lean brisket has about 0.70"),
    FRACTION("meat.composition.protein", meat.composition.protein, 0.0, 1.0, "mass fraction; about 0.21"),
    FRACTION("meat.composition.fat", meat.composition.fat, 0.0, 1.0,
             "mass fraction, within the lean; about 0.04 to 0.13 by grade"),
    FRACTION("meat.composition.carbohydrate", meat.composition.carbohydrate, 0.0, 1.0, "mass fraction; about 0"),
    FRACTION("meat.composition.ash", meat.composition.ash, 0.0, 1.0, "mass fraction of minerals; about 0.01"),
    VALUE("meat.fat_cap.thickness", meat.fat_cap_thickness, LENGTH, 0.0, 0.05, "mm", "in",
          "of the layer of fat left on one side of a slab; 0 for none"),
    CHOICE("meat.fat_cap.side", meat.fat_cap_side, side_choice, SW_SIDE_COUNT, "side the fat cap lies on"),
    VALUE("meat.permeability", meat.permeability, AREA, 1e-19, 1e-13, "m2", "m2",
          "of lean meat to its own juice, raw; published values run from 1e-17 m2 to 3e-16 m2"),
    VALUE("meat.water_holding_temperature", meat.water_holding_temperature, TEMPERATURE, CELSIUS(40.0), CELSIUS(95.0),
          "C", "F", "middle of the range in which the protein lets its water go; about 62 C to 70 C"),
    FRACTION("meat.water_holding_loss", meat.water_holding_loss, 0.0, 0.95,
             "fraction of the raw water the fully cooked protein cannot hold; about 0.3 to 0.6"),
    VALUE("meat.water_diffusivity", meat.water_diffusivity, DIFFUSIVITY, 1e-11, 1e-7, "m2/s", "m2/s",
          "of water in lean meat at 60 C; about 3e-10 m2/s to 5e-9 m2/s"),

    {.name = "pit.temperature",
     .type = SW_KEY_SCHEDULE,
     .offset = FIELD(pit),
     .meaning = "of the air at the meat: one value, or a list of steps such as - {from: 6 h, temperature: 135 C}",
     .quantity = SW_QUANTITY_TEMPERATURE,
     .range = {CELSIUS(40.0), CELSIUS(300.0)},
     .si_unit = "C",
     .us_unit = "F"},
    VALUE(
        "pit.humidity_ratio", pit.humidity_ratio, HUMIDITY_RATIO, 0.0, 1.0, "", "",
        "vapour per dry air in the pit, by mass; an open draught has about 0.01, a tight or watered pit 0.05 to 0.15"),
    VALUE("pit.convection", pit.convection, HEAT_TRANSFER, 1.0, 100.0, "W/m2/K", "W/m2/K",
          "heat transfer coefficient of the air at the meat; 5 to 12 in a slow pit, 15 to 25 with a fan"),
    VALUE("pit.wall_offset", pit.wall_offset, TEMPERATURE_DIFFERENCE, -100.0, 200.0, "K", "F",
          "how much hotter the walls are than the air; more than 0 over open coals"),
    VALUE("pit.altitude", pit.altitude, LENGTH, -430.0, 5000.0, "m", "ft",
          "of the place above the sea; it sets the air pressure and so where water boils"),

    CHOICE("wrap.kind", wrap.kind, wrap_choice, SW_WRAP_COUNT, "what the meat is wrapped in on the pit"),
    ENDING("wrap.when", wrap.when, 0.0, true, "when the wrap goes on; none only if there is no wrap"),
    VALUE("wrap.paper.permeance", wrap.paper_permeance, PERMEANCE, 1e-12, 1e-6, "kg/s/m2/Pa", "kg/s/m2/Pa",
          "of the paper to water vapour; uncertain, about 6e-10 to 1e-8 and falling as it soaks up fat"),
    VALUE("wrap.paper.resistance", wrap.paper_resistance, THERMAL_RESISTANCE, 0.0, 0.5, "m2 K/W", "m2 K/W",
          "thermal, of the paper and the air under it; about 0.003 to 0.01"),
    FRACTION("wrap.paper.emissivity", wrap.paper_emissivity, 0.01, 1.0, "of the paper's outside; about 0.9"),
    FRACTION("wrap.foil.emissivity", wrap.foil_emissivity, 0.01, 1.0,
             "of the outside of foil and tray; bright about 0.04 to 0.1, more when sooty"),
    VALUE("wrap.foil.resistance", wrap.foil_resistance, THERMAL_RESISTANCE, 0.0, 0.5, "m2 K/W", "m2 K/W",
          "thermal, of the gap under closed foil"),
    FRACTION("wrap.foil.leak", wrap.foil_leak, 0.0, 1.0,
             "share of an open surface's vapour that escapes from closed foil; small when folded well"),
    VALUE("wrap.tray.resistance", wrap.tray_resistance, THERMAL_RESISTANCE, 0.0, 0.5, "m2 K/W", "m2 K/W",
          "thermal, of the juice between meat and tray; about 0.005 to 0.01"),
    FRACTION("wrap.tray.convection", wrap.tray_convection, 0.0, 1.0,
             "share of the pit's convection that reaches the outside of the tray"),

    ENDING("pull", pull, 60.0, false, "when the meat comes off the pit"),

    PLACE("rest", rest, "of the air where the meat rests; a kitchen has about 22 C (72 F)",
          "when the rest ends; none leaves it out"),
    PLACE("hold", hold,
          "of the air where the meat is held; keep hot food above 60 C (140 F) and follow the local food code",
          "when the hold ends and the meat is sliced; none leaves it out"),

    VALUE("stall.above", stall.above, TEMPERATURE, CELSIUS(30.0), CELSIUS(95.0), "C", "F",
          "a stall is looked for once the probe is above this"),
    VALUE("stall.rate", stall.rate, HEATING_RATE, PER_HOUR(0.01), PER_HOUR(60.0), "K/h", "F/h",
          "a probe that heats slower than this stalls"),
    VALUE("stall.duration", stall.duration, DURATION, 60.0, HOURS(24.0), "h", "h",
          "if it does so for at least this long"),

    WHOLE("solver.cells", solver.cells, 10, 2000, "number of layers across the thickness; more is finer and slower"),
    VALUE("solver.surface_cell", solver.surface_cell, LENGTH, 2e-5, 0.01, "mm", "mm",
          "thickness of the outermost layer; 0.1 mm to 0.5 mm resolves the bark"),
    FRACTION("solver.relative_tolerance", solver.relative_tolerance, 1e-10, 1e-2,
             "of the integration in time; 1e-5 keeps temperatures to a few hundredths of a degree"),
    VALUE("solver.output_interval", solver.output_interval, DURATION, 1.0, HOURS(1.0), "h", "h",
          "between rows of the history"),
    VALUE("solver.field_interval", solver.field_interval, DURATION, 1.0, HOURS(24.0), "h", "h",
          "between stored cross-sections"),
    VALUE("solver.longest_phase", solver.longest_phase, DURATION, HOURS(1.0), SW_LONGEST_PHASE, "h", "h",
          "a phase that lasts longer is reported as never ending"),
    SWITCH("solver.evaporation", solver.evaporation, "no seals every surface, to see the cook without evaporation"),
};

static const struct {
    const char *name;
    const char *meaning;
} groups[] = {
    {"meat", "The meat: mass and composition of the trimmed raw cut."},
    {"meat.composition", "of the lean part; the fractions sum to 1"},
    {"meat.fat_cap", "slab only"},
    {"pit", "The pit, while the meat is on it."},
    {"wrap", "The wrap: numbers of wraps that are not used do no harm."},
    {"wrap.paper", "used by paper"},
    {"wrap.foil", "used by closed-foil, and by open-tray for the outside of the tray"},
    {"wrap.tray", "used by open-tray"},
    {"rest", "The rest after the pull: the meat cools in a room."},
    {"hold", "The hold after the rest: the meat is kept warm until it is sliced."},
    {"stall", "What counts as a stall."},
    {"solver", "How finely and for how long to compute; rarely changed."},
};

enum { KEY_COUNT = sizeof keys / sizeof *keys, GROUP_COUNT = sizeof groups / sizeof *groups };
_Static_assert((int)KEY_COUNT <= (int)SW_SCENARIO_NAMES_MAX, "the keys fit their limit");
_Static_assert((int)GROUP_COUNT <= (int)SW_SCENARIO_NAMES_MAX, "the groups fit their limit");

size_t sw_scenario_key_count(void)
{
    return KEY_COUNT;
}

const sw_scenario_key *sw_scenario_key_at(size_t number)
{
    return &keys[number];
}

size_t sw_scenario_key_number(const sw_scenario_key *key)
{
    return (size_t)(key - keys);
}

const sw_scenario_key *sw_scenario_key_find(const char *name)
{
    for (size_t i = 0; i < KEY_COUNT; i++)
        if (strcmp(keys[i].name, name) == 0)
            return &keys[i];
    return NULL;
}

int sw_scenario_group_number(const char *name)
{
    for (int i = 0; i < GROUP_COUNT; i++)
        if (strcmp(groups[i].name, name) == 0)
            return i;
    return -1;
}

const char *sw_scenario_group_meaning(int group_number)
{
    return groups[group_number].meaning;
}

const char *sw_scenario_group_names(const char *group, char *text, size_t size)
{
    size_t prefix = strlen(group), written = 0;
    const char *before = "";
    size_t before_length = 0;
    text[0] = '\0';
    for (size_t i = 0; i < KEY_COUNT; i++) {
        const char *name = keys[i].name;
        if (prefix > 0 && (strncmp(name, group, prefix) != 0 || name[prefix] != '.'))
            continue;
        name += prefix > 0 ? prefix + 1 : 0;
        size_t length = strcspn(name, ".");
        if (length == before_length && strncmp(name, before, length) == 0)
            continue;
        int added = snprintf(text + written, size - written, "%s%.*s", written ? ", " : "", (int)length, name);
        written += (size_t)added;
        if (written >= size)
            break;
        before = name;
        before_length = length;
    }
    return text;
}

static const char *last_part(const char *name)
{
    const char *dot = strrchr(name, '.');
    return dot ? dot + 1 : name;
}

const char *sw_scenario_key_near(const char *name)
{
    sw_near_miss miss = sw_near_miss_of(name, strlen(last_part(name)));
    for (size_t i = 0; i < KEY_COUNT; i++)
        sw_near_miss_offer(&miss, keys[i].name);
    for (size_t i = 0; i < GROUP_COUNT; i++)
        sw_near_miss_offer(&miss, groups[i].name);
    if (miss.best)
        return miss.best;
    /* A key in the wrong group, or in none. */
    for (size_t i = 0; i < KEY_COUNT; i++)
        if (strcmp(last_part(keys[i].name), last_part(name)) == 0)
            return keys[i].name;
    return NULL;
}

sw_ending_limits sw_ending_limits_default(void)
{
    return (sw_ending_limits){{CELSIUS(10.0), CELSIUS(110.0)}, {0.0, SW_LONGEST_PHASE}, true};
}

static void write_choices(const sw_scenario_key *key, char text[SW_KEY_ALLOWED_SIZE])
{
    int written = snprintf(text, SW_KEY_ALLOWED_SIZE, "one of ");
    for (int i = 0; i < key->choice_count; i++)
        written += snprintf(text + written, (size_t)(SW_KEY_ALLOWED_SIZE - written), "%s%s", i ? ", " : "",
                            key->choice_name(i));
}

static sw_status write_ending_ranges(sw_context *context, const sw_units *units, const sw_scenario_key *key,
                                     sw_unit_system system, char text[SW_KEY_ALLOWED_SIZE])
{
    char temperature[SW_VALUE_TEXT_SIZE], duration[SW_VALUE_TEXT_SIZE];
    sw_status status = sw_range_write(context, units, SW_QUANTITY_TEMPERATURE, system == SW_UNITS_US ? "F" : "C",
                                      key->ending.temperature, temperature);
    if (status == SW_OK)
        status = sw_range_write(context, units, SW_QUANTITY_DURATION, "h", key->ending.duration, duration);
    if (status == SW_OK)
        snprintf(text, SW_KEY_ALLOWED_SIZE, "probe temperature %s, duration %s, or time of day%s", temperature,
                 duration, key->ending.may_be_none ? ", or none" : "");
    return status;
}

sw_status sw_scenario_key_allowed(sw_context *context, const sw_units *units, const sw_scenario_key *key,
                                  sw_unit_system system, char text[SW_KEY_ALLOWED_SIZE])
{
    char range[SW_VALUE_TEXT_SIZE];
    sw_status status = SW_OK;
    switch (key->type) {
    case SW_KEY_TEXT:
        snprintf(text, SW_KEY_ALLOWED_SIZE, "text of at most %d bytes", SW_TEXT_MAX - 1);
        return SW_OK;
    case SW_KEY_CHOICE:
        write_choices(key, text);
        return SW_OK;
    case SW_KEY_SWITCH:
        snprintf(text, SW_KEY_ALLOWED_SIZE, "yes or no");
        return SW_OK;
    case SW_KEY_WHOLE:
        snprintf(text, SW_KEY_ALLOWED_SIZE, "%.0f to %.0f", key->range.minimum, key->range.maximum);
        return SW_OK;
    case SW_KEY_ENDING:
        return write_ending_ranges(context, units, key, system, text);
    case SW_KEY_VALUE:
    case SW_KEY_SCHEDULE:
        break;
    }
    if (key->quantity == SW_QUANTITY_CLOCK) {
        snprintf(text, SW_KEY_ALLOWED_SIZE, "00:00 to 23:59");
        return SW_OK;
    }
    status = sw_range_write(context, units, key->quantity, system == SW_UNITS_US ? key->us_unit : key->si_unit,
                            key->range, range);
    if (status == SW_OK)
        snprintf(text, SW_KEY_ALLOWED_SIZE, "%s", range);
    return status;
}
