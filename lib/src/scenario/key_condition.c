/* SPDX-License-Identifier: BSD-3-Clause */
#include "key_condition.h"

#include "pit_usual.h"

#include <stdio.h>
#include <string.h>

#define CONDITION(name, words_, ...)                                                                                             \
    static bool name##_holds(const sw_scenario *s)                                                                               \
    {                                                                                                                            \
        return __VA_ARGS__;                                                                                                      \
    }                                                                                                                            \
    const sw_key_condition sw_key_##name = {.words = words_, .holds = name##_holds}

/* What one of the wraps must be like; the words, if any, say what else must hold. */
#define WRAP_CONDITION(name, trait, words_, ...)                                                                                 \
    static bool name##_is(const sw_wrap_traits *t)                                                                               \
    {                                                                                                                            \
        return trait;                                                                                                            \
    }                                                                                                                            \
    static bool name##_holds(const sw_scenario *s)                                                                               \
    {                                                                                                                            \
        (void)s;                                                                                                                 \
        return __VA_ARGS__;                                                                                                      \
    }                                                                                                                            \
    const sw_key_condition sw_key_##name = {.words = words_, .holds = name##_holds, .wrap = name##_is}

static bool rewraps(const sw_scenario *s)
{
    return s->wrap.kind != SW_WRAP_NONE && s->rewrap.when.kind != SW_ENDING_NONE && s->rewrap.kind != s->wrap.kind;
}

static bool some_wrap(const sw_scenario *s, bool (*is)(const sw_wrap_traits *))
{
    return is(sw_wrap_traits_of(s->wrap.kind)) || (rewraps(s) && is(sw_wrap_traits_of(s->rewrap.kind)));
}

/* ---- the meat ---- */

/* A long cylinder and a sphere have no top, bottom or ends. */
static bool is_round(const sw_scenario *s)
{
    return s->meat.shape == SW_SHAPE_CYLINDER || s->meat.shape == SW_SHAPE_SPHERE;
}

CONDITION(outline, "meat.shape is outline", s->meat.shape == SW_SHAPE_OUTLINE);
CONDITION(not_outline, "meat.shape is not outline", s->meat.shape != SW_SHAPE_OUTLINE);
CONDITION(slab, "meat.shape is slab", s->meat.shape == SW_SHAPE_SLAB);
CONDITION(taper, "meat.shape is taper", s->meat.shape == SW_SHAPE_TAPER);
CONDITION(packer, "meat.shape is packer", s->meat.shape == SW_SHAPE_PACKER);
CONDITION(one_dimension, "meat.shape is slab, cylinder or sphere", !sw_shape_is_section(s->meat.shape));
CONDITION(two_dimensions, "meat.shape is in two dimensions", sw_shape_is_section(s->meat.shape));
CONDITION(has_width, "meat.shape is in two dimensions but not outline, or cylinder with meat.thickness 0",
          s->meat.shape == SW_SHAPE_CYLINDER ? s->meat.thickness <= 0.0
                                             : sw_shape_is_section(s->meat.shape) && s->meat.shape != SW_SHAPE_OUTLINE);
CONDITION(may_have_cap, "meat.shape is not cylinder or sphere", !is_round(s));
CONDITION(has_cap, "meat.fat_cap.thickness is above 0", s->meat.fat_cap_thickness > 0.0);
CONDITION(late_loss, "meat.late_water_loss is above 0", s->meat.late_water_loss > 0.0);
CONDITION(lengthwise, "meat.shape is taper, short-cylinder, packer or outline",
          sw_shape_is_section(s->meat.shape) && !sw_shape_is_crosswise(s->meat.shape));
CONDITION(several_probes, "there are several probes: places of meat.probes, or meat.shape is taper or packer",
          s->meat.probe_count > 1 ||
              (s->meat.probe_count == 0 && (s->meat.shape == SW_SHAPE_TAPER || s->meat.shape == SW_SHAPE_PACKER)));

/* ---- the pit ---- */

static bool is_balance(const sw_scenario *s)
{
    return s->pit.humidity == SW_HUMIDITY_BALANCE;
}

static bool lid_mixes(const sw_scenario *s)
{
    return s->pit.opening_count > 0 && s->pit.lid_drop > 0.0;
}

/* Whether the damp is worked out, as a balance or as what is usual, and does not stand in the scenario. */
static bool works_out_damp(const sw_scenario *s)
{
    return is_balance(s) || s->pit.humidity_ratio == SW_USUAL;
}

/* Whether the air film goes by the kind of pit. */
static bool takes_film(const sw_pit *pit)
{
    return pit->convection == SW_USUAL || (pit->convection == 0.0 && pit->air_speed <= 0.0);
}

static bool takes_walls(const sw_scenario *s)
{
    return s->pit.wall_offset == SW_USUAL;
}

static bool holds_pool(const sw_wrap_traits *t)
{
    return t->holds_pool;
}

#define WORKS_OUT "pit.humidity is balance or pit.humidity_ratio usual"
#define TAKES_WALLS "pit.wall_offset is usual"
#define TAKES_FILM "pit.convection is usual or, with pit.air_speed, 0"

CONDITION(pit_by_kind, WORKS_OUT ", " TAKES_WALLS ", or " TAKES_FILM,
          works_out_damp(s) || takes_walls(s) || takes_film(&s->pit));
CONDITION(draught, TAKES_FILM ", or pit.air_flow is 0 and " WORKS_OUT,
          takes_film(&s->pit) || (s->pit.air_flow <= 0.0 && works_out_damp(s)));
CONDITION(cycle, "pit.cycle.swing is above 0", s->pit.cycle_swing > 0.0);
CONDITION(lid, "pit.lid.openings has a time", s->pit.opening_count > 0);
CONDITION(lid_drops, "pit.lid.openings has a time and pit.lid.drop is above 0", lid_mixes(s));
CONDITION(given_humidity, "pit.humidity is given", !is_balance(s));
CONDITION(air_speed, "pit.convection is 0", s->pit.convection == 0.0);
CONDITION(damp, WORKS_OUT, works_out_damp(s));
CONDITION(burns, WORKS_OUT ", and there is a fuel, not electric heat",
          works_out_damp(s) && sw_pit_fuel_of(&s->pit) != SW_FUEL_NONE);
CONDITION(burns_wood, WORKS_OUT ", and the fuel is wood", works_out_damp(s) && sw_pit_fuel_of(&s->pit) == SW_FUEL_WOOD);
CONDITION(outside_heat,
          WORKS_OUT ", " TAKES_WALLS ", pit.lid.openings has a time with pit.lid.drop above 0, or wrap.liquid is poured in",
          works_out_damp(s) || takes_walls(s) || lid_mixes(s) || (s->wrap.liquid > 0.0 && some_wrap(s, holds_pool)));
CONDITION(outside_damp, WORKS_OUT ", or pit.lid.openings has a time with pit.lid.drop above 0",
          works_out_damp(s) || lid_mixes(s));
CONDITION(pan, "pit.pan.area is above 0: the pan must fit in", s->pit.pan_area > 0.0);
CONDITION(pan_area, WORKS_OUT ", and pit.pan.depth is above 0", works_out_damp(s) && s->pit.pan_depth > 0.0);
CONDITION(pan_depth, WORKS_OUT ", and pit.pan.area is above 0", works_out_damp(s) && s->pit.pan_area > 0.0);

/* ---- wraps ---- */

CONDITION(wrapped, "wrap.kind is not none", s->wrap.kind != SW_WRAP_NONE);
CONDITION(bark, "wrap.when is bark, or rewrap.when is",
          s->wrap.kind != SW_WRAP_NONE &&
              (s->wrap.when.kind == SW_ENDING_BARK || (rewraps(s) && s->rewrap.when.kind == SW_ENDING_BARK)));
CONDITION(rewrap_kind, "wrap.kind is not none and rewrap.when is not none",
          s->wrap.kind != SW_WRAP_NONE && s->rewrap.when.kind != SW_ENDING_NONE);
CONDITION(rewrap_when, "wrap.kind is not none and rewrap.kind is another",
          s->wrap.kind != SW_WRAP_NONE && s->rewrap.kind != s->wrap.kind);

static bool pours(const sw_scenario *s)
{
    return s->wrap.pour != SW_POUR_NO;
}

WRAP_CONDITION(pool, t->holds_pool, "", true);
WRAP_CONDITION(open_tray, t->is_open, "", true);
WRAP_CONDITION(pours, t->is_open, "wrap.pour is not no and ", pours(s));
WRAP_CONDITION(paper, t->cover == SW_COVER_PAPER, "", true);
WRAP_CONDITION(film, t->holds_film, "", true);
WRAP_CONDITION(foil, t->cover == SW_COVER_FOIL, "", true);
WRAP_CONDITION(foil_or_tray, t->cover == SW_COVER_FOIL || t->cover == SW_COVER_LID || t->holds_pool || t->has_rim, "", true);
WRAP_CONDITION(closed, t->cover == SW_COVER_FOIL || t->cover == SW_COVER_LID, "", true);
WRAP_CONDITION(lid_over_pan, t->cover == SW_COVER_LID, "", true);
WRAP_CONDITION(under, t->holds_pool || t->has_rim, "meat.shape is not cylinder or sphere and ", !is_round(s));
WRAP_CONDITION(rim, t->has_rim, "meat.shape is in two dimensions and ", sw_shape_is_section(s->meat.shape));
WRAP_CONDITION(ring, t->holds_pool && t->is_open, "meat.shape is not cylinder or sphere and ", !is_round(s));

CONDITION(spritz, "spritz.amount is above 0", s->spritz.amount > 0.0);
CONDITION(cling, "spritz.amount is above 0, or wrap.pour is over",
          s->spritz.amount > 0.0 || (s->wrap.pour == SW_POUR_OVER && some_wrap(s, open_tray_is)));

/* ---- places after the pull ---- */

/* Whether the meat comes to a place from the pit itself, in which it then cools where it was. */
static bool comes_from_pit(const sw_scenario *s, const sw_place *place)
{
    const sw_place *before = NULL, *const places[] = {&s->rest, &s->hold, &s->cooling};
    for (size_t i = 0; places[i] != place; i++)
        if (places[i]->until.kind != SW_ENDING_NONE)
            before = places[i];
    return !before || before->kind == SW_PLACE_COOLING_PIT;
}

#define PLACE_CONDITIONS(place)                                                                                                  \
    CONDITION(place, #place ".until is not none", s->place.until.kind != SW_ENDING_NONE);                                        \
    CONDITION(place##_cools, #place ".until is not none and " #place ".kind is box or cooling-pit",                              \
              s->place.until.kind != SW_ENDING_NONE && s->place.kind != SW_PLACE_AIR);                                           \
    CONDITION(place##_wrap, #place ".until is not none and wrap.kind is not none",                                               \
              s->place.until.kind != SW_ENDING_NONE && s->wrap.kind != SW_WRAP_NONE)

#define TEMPERATURE_CONDITION(place)                                                                                             \
    CONDITION(place##_temperature,                                                                                               \
              #place ".until is not none, unless it is the pit that cools, begun as hot as it was",                              \
              s->place.until.kind != SW_ENDING_NONE &&                                                                           \
                  !(s->place.kind == SW_PLACE_COOLING_PIT && comes_from_pit(s, &s->place)))

PLACE_CONDITIONS(rest);
PLACE_CONDITIONS(hold);
PLACE_CONDITIONS(cooling);
TEMPERATURE_CONDITION(rest);
TEMPERATURE_CONDITION(hold);
TEMPERATURE_CONDITION(cooling);

CONDITION(trimming, "serving.people is above 0, or meat.bought_mass, or meat.shape is slab with meat.thickness 0",
          s->serving.people > 0 || s->meat.bought_mass > 0.0 || (s->meat.shape == SW_SHAPE_SLAB && s->meat.thickness <= 0.0));

/* A cook begins at a start; what a plan reckons with changes nothing in it. */
CONDITION(plan, "it is a plan: stallwright plan", ((void)s, false));

/* ---- asking ---- */

bool sw_key_condition_holds(const sw_key_condition *condition, const sw_scenario *scenario)
{
    return condition->holds(scenario) && (!condition->wrap || some_wrap(scenario, condition->wrap));
}

const char *sw_key_condition_words(const sw_key_condition *condition, char *text, size_t size)
{
    snprintf(text, size, "%s%s", condition->words, condition->wrap ? "wrap.kind or rewrap.kind is " : "");
    int left = 0, named = 0;
    for (int kind = 0; condition->wrap && kind < SW_WRAP_COUNT; kind++)
        left += condition->wrap(sw_wrap_traits_of((sw_wrap_kind)kind));
    for (int kind = 0; condition->wrap && kind < SW_WRAP_COUNT; kind++) {
        if (!condition->wrap(sw_wrap_traits_of((sw_wrap_kind)kind)))
            continue;
        const size_t used = strlen(text);
        const char *before = named++ == 0 ? "" : left == 1 ? " or " : ", ";
        snprintf(text + used, size - used, "%s%s", before, sw_wrap_name((sw_wrap_kind)kind));
        left--;
    }
    return text;
}
