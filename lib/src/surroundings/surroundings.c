/* SPDX-License-Identifier: BSD-3-Clause */
#include "surroundings.h"

#include "box.h"
#include "film.h"
#include "pit_convection.h"
#include "pit_schedule.h"
#include "pool.h"
#include "saturation.h"
#include "wrap.h"

#include <stallwright/wrap_traits.h>

#include <math.h>

/* Fat that has soaked paper through [kg m-2]: a guess, 0.05..0.2, some times the paper's own 0.06. */
static const double soaking_fat = 0.1;

static bool soaks(const sw_around *a)
{
    return sw_wrap_traits_of(a->wrap)->holds_film;
}

/* Most that clings to the meat, or that paper holds [kg m-2]. */
static double fullest_film(const sw_around *a)
{
    return soaks(a) ? a->scenario->wrap.paper_capacity : a->scenario->meat.juice.cling;
}

double sw_around_air_temperature(const sw_around *a, double time, const double *lumped)
{
    if (a->has_air)
        return lumped[SW_AROUND_AIR_TEMPERATURE];
    return a->place ? a->place->temperature : sw_pit_at(&a->scenario->pit, time, a->jump).air_temperature;
}

double sw_around_humidity(const sw_around *a, double time, const double *lumped)
{
    if (a->place)
        return a->has_humidity ? lumped[SW_AROUND_AIR_HUMIDITY] : a->place->humidity_ratio;
    const sw_pit *pit = &a->scenario->pit;
    const double humidity = a->has_humidity ? lumped[SW_AROUND_AIR_HUMIDITY] : pit->humidity_ratio;
    /* An open lid mixes outside air in. */
    return humidity + sw_pit_at(pit, time, a->jump).outside_share * (a->pit_air.outside_humidity - humidity);
}

sw_status sw_around_check(sw_context *context, const sw_around *a, double time, const double *lumped)
{
    if (a->place || !a->has_humidity)
        return SW_OK;
    return sw_pit_air_check(context, "the pit's air, by pit.humidity: balance,", sw_around_air_temperature(a, time, lumped),
                            sw_around_humidity(a, time, lumped), a->meat.pressure);
}

/* Of the meat's faces as it is now over that of raw meat [-]. */
static double area_scale(const sw_around *a, const double *lumped)
{
    return 1.0 - a->scenario->meat.shrinkage_area * lumped[SW_AROUND_LOST_WATER];
}

/* The meat shrinks with the share of its water that is lost, more across than through. */
static sw_meat_scale scale_of_meat(const double *lumped, void *data)
{
    const sw_around *a = data;
    return (sw_meat_scale){area_scale(a, lumped),
                           1.0 - a->scenario->meat.shrinkage_thickness * lumped[SW_AROUND_LOST_WATER]};
}

/* Area of the meat that is open to the air or covered, as it is now [m2]. */
static double open_area_now(const sw_around *a, const double *lumped)
{
    return a->open_area * area_scale(a, lumped);
}

static sw_surroundings surroundings_at(const sw_around *a, double time, const double *lumped)
{
    const sw_scenario *s = a->scenario;
    sw_surroundings around = {.pressure = a->meat.pressure};
    around.air_temperature = around.wall_temperature = sw_around_air_temperature(a, time, lumped);
    around.vapour_pressure = sw_vapour_pressure_unchecked(sw_around_humidity(a, time, lumped), around.pressure);
    if (a->place) {
        around.convection = a->place->convection;
        return around;
    }
    around.wall_temperature = sw_pit_at(&s->pit, time, a->jump).wall_temperature;
    around.convection = s->pit.convection > 0.0 ? s->pit.convection : a->side_convection[SW_SIDE_TOP];
    around.convection_of_side = s->pit.convection > 0.0 ? NULL : a->side_convection;
    return around;
}

static sw_pool pool_at(const sw_around *a, double time, const double *lumped)
{
    const double scale = area_scale(a, lumped);
    return (sw_pool){.water_table = a->meat.water,
                     .wrap = &a->scenario->wrap,
                     .kind = a->wrap,
                     .water = lumped[SW_AROUND_POOL_WATER],
                     .temperature = lumped[SW_AROUND_POOL_TEMPERATURE],
                     .fat = sw_rendered_fat_at(&a->fat, time),
                     .under_area = a->bottom_area * scale,
                     .over_area = a->open_area * scale,
                     .evaporates = a->scenario->solver.evaporation};
}

static sw_wrap_contents contents_at(const sw_around *a, double time, const double *lumped)
{
    const sw_wrap *wrap = &a->scenario->wrap;
    sw_wrap_contents c = sw_empty_wrap(wrap);
    if (a->has_pool) {
        const sw_pool pool = pool_at(a, time, lumped);
        c.has_pool = true;
        c.pool_temperature = pool.temperature;
        c.inside_vapour_pressure = fmin(sw_pool_vapour_pressure(&pool), 0.99 * a->meat.pressure);
    }
    if (a->has_film) {
        const sw_juice *juice = &a->scenario->meat.juice;
        c.film_share = sw_film_share(soaks(a) ? wrap->paper_wet_share : juice->wet_share, juice->half_film, lumped[SW_AROUND_FILM],
                                     open_area_now(a, lumped));
        if (a->in_use[SW_AROUND_FILM_ADDED])
            c.film_warming = a->added_warming * sw_film_added_share(lumped[SW_AROUND_FILM], lumped[SW_AROUND_FILM_ADDED]);
    }
    if (soaks(a) && a->open_area > 0.0) {
        double left = exp(-sw_rendered_fat_at(&a->fat, time) / (open_area_now(a, lumped) * soaking_fat));
        c.paper_permeance *= wrap->paper_greasy + (1.0 - wrap->paper_greasy) * left;
    }
    return c;
}

static void surround(double time, const double *lumped, sw_surface *surfaces, void *data)
{
    const sw_around *a = data;
    const sw_surroundings around = surroundings_at(a, time, lumped);
    const sw_wrap_contents contents = contents_at(a, time, lumped);
    sw_wrapped_surfaces(a->meat.mesh, &around, &a->scenario->wrap, a->wrap, &contents, a->scenario->solver.evaporation,
                        surfaces);
}

/* The film: of the juice that leaves the meat what runs over its open surfaces, as long as it clings, less what evaporates.
 * Returns what it takes up of it; runs_off: of what condenses on the film, what finds no room [kg s-1]. */
static double rate_film(const sw_around *a, const double *lumped, const double *exchange, double *rate, double *runs_off)
{
    const double mass = lumped[SW_AROUND_FILM], evaporation = exchange[SW_EXCHANGE_FILM_VAPOUR];
    const double offered = a->scenario->meat.juice.on_surface * exchange[SW_EXCHANGE_DRIP] * a->open_area /
                           (a->open_area + a->bottom_area);
    const double takes = sw_film_takes(mass, fullest_film(a) * open_area_now(a, lumped)), caught = offered * takes;
    *runs_off = evaporation < 0.0 ? -evaporation * (1.0 - takes) : 0.0;
    rate[SW_AROUND_FILM] = caught - evaporation - *runs_off;
    if (a->in_use[SW_AROUND_FILM_ADDED])
        rate[SW_AROUND_FILM_ADDED] = -evaporation * sw_film_added_share(mass, lumped[SW_AROUND_FILM_ADDED]);
    return caught;
}

/* What the film of the pool's wrap takes up does not drip into the pool. */
static void divert_from_pool(const double *exchange, double caught, double into_pool[SW_EXCHANGE_COUNT])
{
    const double share = exchange[SW_EXCHANGE_DRIP] > 0.0 ? 1.0 - caught / exchange[SW_EXCHANGE_DRIP] : 1.0;
    for (int i = 0; i < SW_EXCHANGE_COUNT; i++)
        into_pool[i] = exchange[i];
    into_pool[SW_EXCHANGE_DRIP] *= share;
    into_pool[SW_EXCHANGE_DRIP_HEAT] *= share;
}

static int rate_pit_air(const sw_around *a, const sw_surroundings *around, double time, const double *lumped,
                        double vapour, double *rate, double *flows)
{
    const sw_pit_moment now = sw_pit_at(&a->scenario->pit, time, a->jump);
    double sources = vapour * a->pit_air.pieces;
    if (a->has_pan) {
        const sw_pan_state pan = {lumped[SW_AROUND_PAN_WATER], lumped[SW_AROUND_PAN_TEMPERATURE]};
        sw_pan_rates of_pan;
        if (sw_pan_rates_of(&a->pit_air, a->meat.water, &pan, around->air_temperature, around->wall_temperature,
                            sw_around_humidity(a, time, lumped), around->convection, &of_pan) != 0)
            return 1;
        rate[SW_AROUND_PAN_WATER] = -of_pan.evaporation;
        rate[SW_AROUND_PAN_TEMPERATURE] = of_pan.temperature_rate;
        sources += of_pan.evaporation;
        if (flows)
            flows[SW_AROUND_PAN_VAPOUR] = of_pan.evaporation;
    }
    rate[SW_AROUND_AIR_HUMIDITY] =
        sw_pit_humidity_rate(&a->pit_air, now.air_temperature, lumped[SW_AROUND_AIR_HUMIDITY], sources);
    if (flows)
        flows[SW_AROUND_FUEL] = sw_pit_fuel_rate(&a->pit_air, now.air_temperature);
    return 0;
}

static int rate_of(double time, const double *lumped, const double exchange[SW_EXCHANGE_COUNT], double *rate,
                   double flows[SW_LUMPED_FLOWS], void *data)
{
    const sw_around *a = data;
    const sw_surroundings around = surroundings_at(a, time, lumped);
    double vapour = exchange[SW_EXCHANGE_AIR_VAPOUR], away = exchange[SW_EXCHANGE_DRIP];
    sw_pool_rates of_pool = {0};
    for (int i = 0; i < SW_AROUND_COUNT; i++)
        rate[i] = 0.0;
    for (int i = 0; flows && i < SW_LUMPED_FLOWS; i++)
        flows[i] = 0.0;
    const double water = vapour - exchange[SW_EXCHANGE_FILM_VAPOUR] + exchange[SW_EXCHANGE_INSIDE_VAPOUR] + away;
    if (a->in_use[SW_AROUND_LOST_WATER])
        rate[SW_AROUND_LOST_WATER] = water / a->meat.raw_water;
    double caught = 0.0, runs_off = 0.0;
    if (a->has_film)
        caught = rate_film(a, lumped, exchange, rate, &runs_off);
    away += runs_off - caught;
    if (a->has_pool) {
        const sw_pool pool = pool_at(a, time, lumped);
        double into_pool[SW_EXCHANGE_COUNT];
        divert_from_pool(exchange, caught, into_pool);
        of_pool = sw_pool_rates_of(&pool, &around, into_pool);
        rate[SW_AROUND_POOL_WATER] = of_pool.water + runs_off; /* which is taken to be as warm as the pool */
        rate[SW_AROUND_POOL_TEMPERATURE] = of_pool.temperature;
        vapour += of_pool.vapour;
        away = 0.0;
    }
    if (a->has_air) {
        const sw_box_rates of_box =
            sw_box_rates_of(a->place, &a->pit_air, a->meat.water, &around, a->has_humidity, lumped[SW_AROUND_AIR_HUMIDITY],
                            vapour, exchange[SW_EXCHANGE_AIR_HEAT], of_pool.outside_heat);
        rate[SW_AROUND_AIR_HUMIDITY] = of_box.humidity;
        rate[SW_AROUND_AIR_TEMPERATURE] = of_box.temperature;
        if (flows)
            flows[SW_AROUND_CONDENSED] = of_box.condensed;
    } else if (a->has_humidity && rate_pit_air(a, &around, time, lumped, vapour, rate, flows) != 0) {
        return 1;
    }
    if (flows) {
        flows[SW_AROUND_POOL_VAPOUR] = of_pool.vapour;
        flows[SW_AROUND_INSIDE] = exchange[SW_EXCHANGE_INSIDE_VAPOUR];
        flows[SW_AROUND_AWAY] = away;
        flows[SW_AROUND_WETTING] = caught;
        flows[SW_AROUND_JUICE_VAPOUR] = exchange[SW_EXCHANGE_FILM_VAPOUR] + rate[SW_AROUND_FILM_ADDED];
    }
    return 0;
}

static double longest_step(double time, void *data)
{
    const sw_around *a = data;
    return a->place ? INFINITY : sw_pit_longest_step(&a->scenario->pit, time);
}

sw_status sw_around_init(sw_context *context, sw_around *a, const sw_scenario *scenario, const sw_surrounded *meat)
{
    *a = (sw_around){.scenario = scenario, .meat = *meat, .jump = INFINITY};
    return sw_pit_air_init(context, &scenario->pit, meat->pressure, &a->pit_air);
}

void sw_around_copy(sw_around *a, const sw_around *from)
{
    const sw_around own = *a;
    *a = *from;
    a->scenario = own.scenario;
    a->meat = own.meat;
    a->pit_air = own.pit_air;
}

sw_lumped_model sw_around_model(sw_around *a)
{
    sw_lumped_model model = {.surround = surround, .rate = rate_of, .longest_step = longest_step, .in_use = a->in_use, .scale_of_meat = scale_of_meat, .data = a};
    static const double scale[SW_AROUND_COUNT] = {10.0, 0.05, 0.05, 0.05, 10.0, 0.2, 10.0, 0.5, 0.05};
    model.count = SW_AROUND_COUNT;
    for (int i = 0; i < SW_AROUND_COUNT; i++)
        model.scale[i] = scale[i];
    return model;
}

void sw_around_start(const sw_around *a, double *lumped)
{
    const sw_scenario *s = a->scenario;
    lumped[SW_AROUND_AIR_TEMPERATURE] = s->pit.steps[0].temperature;
    lumped[SW_AROUND_AIR_HUMIDITY] = sw_pit_humidity_steady(&a->pit_air, s->pit.steps[0].temperature, 0.0);
    lumped[SW_AROUND_FILM] = lumped[SW_AROUND_FILM_ADDED] = 0.0;
    lumped[SW_AROUND_POOL_TEMPERATURE] = s->meat.initial_temperature;
    lumped[SW_AROUND_POOL_WATER] = 0.0;
    lumped[SW_AROUND_PAN_TEMPERATURE] = s->pit.outside_temperature;
    lumped[SW_AROUND_PAN_WATER] = a->pit_air.pan_water;
    lumped[SW_AROUND_LOST_WATER] = 0.0;
}

static void measure_areas(sw_around *a)
{
    const sw_mesh *mesh = a->meat.mesh;
    a->open_area = a->bottom_area = 0.0;
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const sw_boundary_face *face = &mesh->boundary_faces[i];
        *(sw_lies_in_pool(face, &a->scenario->wrap, a->wrap) ? &a->bottom_area : &a->open_area) += face->area;
    }
}

double sw_around_held(const sw_around *a, const double *lumped)
{
    const double held = (a->has_pool ? lumped[SW_AROUND_POOL_WATER] : 0.0) + (a->has_film ? lumped[SW_AROUND_FILM] : 0.0);
    return fmax(held, 0.0); /* a pool that has dried up is off by the integrator's tolerance */
}

/* The air of the place; before: that round the meat until now [K]. */
static void enter_air(sw_around *a, bool was_in_pit, double before, double *lumped)
{
    const sw_place *place = a->place;
    a->has_air = place && place->kind != SW_PLACE_AIR;
    a->has_humidity = place ? place->kind == SW_PLACE_BOX : a->scenario->pit.humidity == SW_HUMIDITY_BALANCE;
    a->has_pan = !place && a->has_humidity && a->pit_air.pan_water > 0.0;
    if (!a->has_air)
        return;
    /* A pit that cools begins as hot as it was; its own temperature counts if the meat comes from elsewhere. */
    const bool goes_on = place->kind == SW_PLACE_COOLING_PIT && was_in_pit;
    lumped[SW_AROUND_AIR_TEMPERATURE] = goes_on ? before : place->temperature;
    if (a->has_humidity)
        lumped[SW_AROUND_AIR_HUMIDITY] = place->humidity_ratio;
}

/* A new wrap holds what is poured in, which is as warm as the place outside, and the film that is on the meat, as warm as its
 * surface: what lies in the pool or under a closed cover is the pool's. stays: share of the film that is not. Returns what is
 * poured in [kg]. */
static double put_wrap_on(sw_around *a, double time, double rendered, double surface_temperature, double stays, double *lumped)
{
    const sw_scenario *s = a->scenario;
    const double film = lumped[SW_AROUND_FILM], runs_off = film * (1.0 - stays);
    a->fat = sw_rendered_fat_from(time, rendered);
    lumped[SW_AROUND_FILM] *= stays;
    lumped[SW_AROUND_FILM_ADDED] *= stays;
    lumped[SW_AROUND_POOL_WATER] = 0.0;
    if (!a->has_pool)
        return 0.0;
    const double pool = s->wrap.liquid + runs_off, poured_share = pool > 0.0 ? s->wrap.liquid / pool : 0.0;
    lumped[SW_AROUND_POOL_WATER] = pool;
    lumped[SW_AROUND_POOL_TEMPERATURE] =
        surface_temperature + poured_share * (s->pit.outside_temperature - surface_temperature);
    return s->wrap.liquid;
}

bool sw_around_adds_to_film(const sw_scenario *s)
{
    const bool has_tray = sw_wrap_traits_of(s->wrap.kind)->is_open ||
                          (s->rewrap.when.kind != SW_ENDING_NONE && sw_wrap_traits_of(s->rewrap.kind)->is_open);
    return s->spritz.amount > 0.0 || (has_tray && s->wrap.pour == SW_POUR_OVER);
}

/* Which unknowns count in this place and wrap. */
static void use_unknowns(sw_around *a)
{
    a->in_use[SW_AROUND_AIR_TEMPERATURE] = a->has_air;
    a->in_use[SW_AROUND_AIR_HUMIDITY] = a->has_humidity;
    a->in_use[SW_AROUND_FILM] = a->has_film;
    /* Off the pit nothing is added, and what is left of it counts as juice: its share of a film that dries up is 0/0. */
    a->in_use[SW_AROUND_FILM_ADDED] = a->has_film && !a->place && sw_around_adds_to_film(a->scenario);
    a->in_use[SW_AROUND_POOL_TEMPERATURE] = a->in_use[SW_AROUND_POOL_WATER] = a->has_pool;
    a->in_use[SW_AROUND_LOST_WATER] = a->scenario->meat.shrinkage_area > 0.0 || a->scenario->meat.shrinkage_thickness > 0.0;
    a->in_use[SW_AROUND_PAN_TEMPERATURE] = a->in_use[SW_AROUND_PAN_WATER] = a->has_pan;
}

sw_wrap_change sw_around_enter(sw_around *a, const sw_place *place, sw_wrap_kind wrap, double time, double rendered,
                               double surface_temperature, double *lumped)
{
    const bool was_in_pit = !a->place || a->place->kind == SW_PLACE_COOLING_PIT, rewrapped = wrap != a->wrap;
    const bool was_papered = soaks(a);
    const double held = sw_around_held(a, lumped), air = sw_around_air_temperature(a, time, lumped);
    const double open_before = a->open_area;
    sw_wrap_change change = {0};
    a->place = place;
    a->jump = INFINITY;
    a->wrap = wrap;
    measure_areas(a);
    enter_air(a, was_in_pit, air, lumped);
    a->has_pool = sw_wrap_traits_of(wrap)->holds_pool;
    a->has_film = !a->has_pool || sw_wrap_traits_of(wrap)->is_open;
    use_unknowns(a);
    if (rewrapped) {
        /* Paper goes with all it holds; what clings to bare meat goes on with the meat. */
        if (was_papered)
            lumped[SW_AROUND_FILM] = lumped[SW_AROUND_FILM_ADDED] = 0.0;
        const double clung = lumped[SW_AROUND_FILM];
        const double stays = !a->has_film ? 0.0 : open_before > a->open_area ? a->open_area / open_before : 1.0;
        change.left = held - clung;
        change.poured = put_wrap_on(a, time, rendered, surface_temperature, stays, lumped);
    }
    return change;
}

double sw_around_begin_stretch(sw_around *a, double time)
{
    const sw_scenario *s = a->scenario;
    if (a->place)
        return a->jump;
    a->jump = sw_pit_next_jump(&s->pit, time);
    if (s->pit.convection == 0.0)
        sw_pit_convection(s, a->meat.density, sw_pit_at(&s->pit, time, a->jump).air_temperature, a->meat.pressure,
                          a->side_convection);
    return a->jump;
}

void sw_around_follow(sw_around *a, double time, double rendered)
{
    sw_rendered_fat_tell(&a->fat, time, rendered);
}

double sw_around_spritz(sw_around *a, double surface_temperature, double *lumped)
{
    const sw_spritz *spritz = &a->scenario->spritz;
    const double clings = sw_film_clings(spritz->amount, lumped[SW_AROUND_FILM], spritz->cling, open_area_now(a, lumped));
    lumped[SW_AROUND_FILM] += clings;
    lumped[SW_AROUND_FILM_ADDED] += clings;
    a->added_warming = fmax(0.0, sw_water_at(a->meat.water, surface_temperature, SW_WATER_LIQUID_ENTHALPY) -
                                     sw_water_at(a->meat.water, spritz->temperature, SW_WATER_LIQUID_ENTHALPY));
    return spritz->amount - clings;
}

double sw_around_pour(sw_around *a, double *lumped)
{
    double *pool = &lumped[SW_AROUND_POOL_WATER];
    if (a->scenario->wrap.pour == SW_POUR_OFF) {
        const double gone = *pool;
        *pool = 0.0;
        return gone;
    }
    const double clings = sw_film_clings(*pool, lumped[SW_AROUND_FILM], a->scenario->spritz.cling, open_area_now(a, lumped));
    lumped[SW_AROUND_FILM] += clings;
    lumped[SW_AROUND_FILM_ADDED] += clings;
    *pool -= clings;
    a->added_warming = 0.0;
    return 0.0;
}
