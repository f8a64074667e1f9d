/* SPDX-License-Identifier: BSD-3-Clause */
/* What surrounds the meat, against its laws written down a second time from docs/theory/surface.md, wraps.md, pit.md and
 * phases-and-events.md: every piece of surface balanced by bisection, then heat and water of pool, film, pan, pit and box
 * summed piece by piece. Of the code only the materials' properties are used, which have tests of their own. */
#include "close.h"
#include "cuts.h"
#include "run_cook.h"
#include "surround.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const double hour = 3600.0, zero_celsius = 273.15, sigma = 5.670374419e-8;

/* Enthalpy of liquid water from 5 C, the meat's initial temperature; Choi and Okos: 4.1762 - 9.0864e-5 t + 5.4731e-6 t2 kJ/kgK. */
static double heat_capacity_of_water(double temperature)
{
    const double t = temperature - zero_celsius;
    return 4176.2 - 9.0864e-2 * t + 5.4731e-3 * t * t;
}

static double enthalpy_of_water(double temperature)
{
    double sum = 0.0;
    for (int end = 0; end < 2; end++) {
        const double t = end == 0 ? temperature - zero_celsius : 5.0;
        sum += (end == 0 ? 1.0 : -1.0) * (4176.2 * t - 9.0864e-2 * t * t / 2.0 + 5.4731e-3 * t * t * t / 3.0);
    }
    return sum;
}

static double saturation(double temperature)
{
    double p;
    assert_int_equal(sw_saturation_pressure(temperature, &p), SW_OK);
    return p;
}

static double latent_heat(double temperature)
{
    double heat;
    assert_int_equal(sw_latent_heat(temperature, &heat), SW_OK);
    return heat;
}

/* A piece of surface, by the symbols of surface.md. */
typedef struct skin {
    double h, e, R, B, air, walls, P, p_v, f;
    bool vents, weakened; /* whether its vapour crosses the film that brings its heat */
    double T_s, j, q;     /* found */
} skin;

static double film_coefficient(double h)
{
    return 0.621945 * h / (1008.0 * pow(0.86, 2.0 / 3.0));
}

/* (4) and (6), with the tangent above 0.97 P. */
static double evaporation(const skin *s, double p)
{
    const double limit = 0.97 * s->P, excess = p - s->P;
    double j = 0.0;
    if (s->B > 0.0)
        j = p <= limit ? s->B * log((s->P - s->p_v) / (s->P - p))
                       : s->B * (log((s->P - s->p_v) / (s->P - limit)) + (p - limit) / (s->P - limit));
    if (s->vents && excess > 0.0)
        j += excess < 50.0 ? 1e-6 * excess * excess / 100.0 : 1e-6 * (excess - 25.0);
    return j;
}

/* (2) and (3): the heat falls as the wrap's outside warms with it. */
static double heat_from_outside(const skin *s, double surface, double j)
{
    const double x = s->weakened ? j * 1900.0 / s->h : 0.0, factor = fabs(x) > 1e-9 ? x / expm1(x) : 1.0;
    double low = -1e6, high = 1e6;
    for (int i = 0; i < 90; i++) {
        const double q = 0.5 * (low + high), outer = surface + s->R * q;
        const double found = s->h * factor * (s->air - outer) + s->e * sigma * (pow(s->walls, 4.0) - pow(fmax(outer, 0.0), 4.0));
        if (found > q)
            low = q;
        else
            high = q;
    }
    return 0.5 * (low + high);
}

/* Film and tissue together, as (12) of wraps.md says. */
static double wetted(double f, double activity)
{
    return 0.98 * f + (1.0 - f) * activity;
}

/* (1) with that. */
static void balance(skin *s, double cell, double conductance, double activity)
{
    double low = zero_celsius + 1.0, high = zero_celsius + 160.0;
    for (int i = 0; i < 60; i++) {
        s->T_s = 0.5 * (low + high);
        s->j = evaporation(s, wetted(s->f, activity) * saturation(s->T_s));
        s->q = heat_from_outside(s, s->T_s, s->j);
        if (s->q - s->j * latent_heat(s->T_s) - conductance * (s->T_s - cell) > 0.0)
            low = s->T_s;
        else
            high = s->T_s;
    }
}

/* A place as the meat meets it, and what the wrap holds. */
typedef struct setting {
    const sw_scenario *scenario;
    sw_wrap_kind wrap;
    const sw_place *place; /* NULL: the pit */
    double air, walls, h, W, p_v, P;
    double pool_temperature, pool, film, fat; /* [K], [kg] */
    double film_warming;                      /* [J kg-1] */
    double bottom, open;                      /* [m2] */
    double across, through;                   /* size of the meat over that of raw meat: areas, distances */
} setting;

typedef struct sums {
    double outside_heat, evaporated, film, warming, drip, drip_heat; /* of the whole cut [W], [kg s-1] */
    double air_heat, air_vapour, pool_heat, inside, inside_heat;
    double latent, into_cells; /* heat [W] */
} sums;

static double share_of_pool(double water)
{
    return water / (water + 0.02);
}

static bool is_closed(const setting *at)
{
    return at->wrap == SW_WRAP_CLOSED_FOIL || at->wrap == SW_WRAP_COVERED_PAN;
}

static bool in_pool(const setting *at, const sw_boundary_face *face)
{
    if (at->wrap == SW_WRAP_OPEN_TRAY || at->wrap == SW_WRAP_COVERED_PAN)
        return face->side == SW_SIDE_BOTTOM || (face->side == SW_SIDE_END && face->height < at->scenario->wrap.tray_rim);
    return at->wrap == SW_WRAP_CLOSED_FOIL && face->side == SW_SIDE_BOTTOM;
}

/* The table of wraps.md. */
static skin skin_of(const setting *at, const sw_boundary_face *face)
{
    const sw_wrap *wrap = &at->scenario->wrap;
    skin s = {.h = at->h, .e = 0.95, .B = film_coefficient(at->h), .air = at->air, .walls = at->walls, .P = at->P, .p_v = at->p_v,
              .vents = true, .weakened = true};
    if (in_pool(at, face)) {
        s.h = 1.0 / wrap->tray_resistance;
        s.e = s.B = 0.0;
        s.air = s.walls = at->pool_temperature;
        s.weakened = false;
    } else if (is_closed(at)) {
        s.e = wrap->foil_emissivity;
        s.R = at->wrap == SW_WRAP_COVERED_PAN ? wrap->lid_resistance : wrap->foil_resistance;
        s.B = film_coefficient(5.0);
        s.p_v = fmin(share_of_pool(at->pool) * saturation(at->pool_temperature), 0.99 * at->P);
        s.weakened = false;
    } else {
        const double held = at->film / at->open;
        s.f = (at->wrap == SW_WRAP_PAPER ? 1.0 : at->scenario->meat.juice.wet_share) * held / (held + at->scenario->meat.juice.half_film);
        if (at->wrap == SW_WRAP_PAPER) {
            const double left = exp(-at->fat / (at->open * 0.1));
            const double permeance = wrap->paper_permeance * (wrap->paper_greasy + (1.0 - wrap->paper_greasy) * left);
            s.e = wrap->paper_emissivity;
            s.R = wrap->paper_resistance;
            s.B = 1.0 / (1.0 / s.B + 1.0 / (permeance * at->P));
        }
    }
    return s;
}

static sums sum_over_faces(const setting *at, const sw_body *body, const double *state)
{
    sums all = {0};
    for (size_t i = 0; i < body->mesh->boundary_face_count; i++) {
        const sw_boundary_face *face = &body->mesh->boundary_faces[i];
        const sw_properties p = sw_cell_of(&body->transport->value, face->cell);
        const double cell = state[2 * face->cell], depth = face->distance * at->through;
        const double conductance = p.conductivity / depth, area = face->area * at->across;
        const bool bathed = in_pool(at, face), foil = is_closed(at);
        skin s = skin_of(at, face);
        balance(&s, cell, conductance, p.water_activity);
        const double film = s.j * 0.98 * s.f / wetted(s.f, p.water_activity);
        const double drip = p.mobility * p.juice_pressure / depth;
        const double warming = (s.j - film) * enthalpy_of_water(s.T_s) + film * at->film_warming;
        all.outside_heat += area * s.q;
        all.evaporated += area * (s.j - film);
        all.film += area * film;
        all.warming += area * warming;
        all.latent += area * s.j * latent_heat(s.T_s);
        all.drip += area * drip;
        all.drip_heat += area * drip * enthalpy_of_water(cell);
        all.into_cells += area * (conductance * (s.T_s - cell) - warming - drip * enthalpy_of_water(cell));
        *(bathed ? &all.pool_heat : &all.air_heat) += area * s.q;
        if (foil && !bathed) {
            all.inside += area * s.j;
            all.inside_heat += area * s.j * (latent_heat(s.T_s) + enthalpy_of_water(s.T_s));
        } else {
            all.air_vapour += area * s.j;
        }
    }
    for (size_t i = 0; i < body->mesh->cell_count; i++) {
        const double runoff = body->mesh->volume[i] * body->transport->value.runoff[i];
        all.drip += runoff;
        all.drip_heat += runoff * enthalpy_of_water(state[2 * i]);
    }
    return all;
}

/* (5) to (9) of wraps.md; the film has caught some of the juice. Returns how much heat comes and goes, over the pool's heat
 * capacity: what the tables are off by counts beside that, however little is left of it [K/s]. */
static double pool_rates(const setting *at, const sums *all, double caught, double *rate, double *vapour, double *from_below)
{
    const sw_wrap *wrap = &at->scenario->wrap;
    const double T = at->pool_temperature, dripped = all->drip - caught, gained = dripped + all->inside;
    const double drip_heat = all->drip_heat * dripped / all->drip;
    skin top = {.B = film_coefficient(at->h), .P = at->P, .p_v = at->p_v, .vents = true};
    if (at->wrap == SW_WRAP_OPEN_TRAY) {
        const double ring = wrap->tray_ring * at->bottom;
        top.B *= exp(-at->fat / (ring * 0.9));
        *vapour = ring * share_of_pool(at->pool) * evaporation(&top, saturation(T));
    } else {
        top.B *= wrap->foil_leak;
        *vapour = (at->bottom + at->open) * evaporation(&top, share_of_pool(at->pool) * saturation(T));
    }
    *from_below = at->bottom * (wrap->tray_convection * at->h * (at->air - T) +
                                wrap->foil_emissivity * sigma * (pow(at->walls, 4.0) - pow(T, 4.0)));
    rate[SW_AROUND_POOL_WATER] = gained - *vapour;
    const double capacity = 90.0 + at->pool * heat_capacity_of_water(T) + at->fat * 2100.0;
    rate[SW_AROUND_POOL_TEMPERATURE] =
        (*from_below - all->pool_heat + drip_heat + all->inside_heat - gained * enthalpy_of_water(T) - *vapour * latent_heat(T)) /
        capacity;
    return (fabs(*from_below) + fabs(all->pool_heat) + fabs(all->inside_heat) + fabs(*vapour * latent_heat(T))) / capacity;
}

static double dry_air(const setting *at, double volume)
{
    return (at->P - at->p_v) * volume / (461.5229 * 0.621945 * at->air);
}

/* (6) and (7) of phases-and-events.md. */
static void box_rates(const setting *at, double heat_to_meat, double vapour, double *rate, double *condensed)
{
    const sw_place *place = at->place;
    const skin wall = {.B = film_coefficient(at->h), .P = at->P, .p_v = at->p_v, .vents = true};
    *condensed = place->kind == SW_PLACE_BOX ? fmax(0.0, -1.0 * evaporation(&wall, saturation(at->air))) : 0.0;
    rate[SW_AROUND_AIR_TEMPERATURE] = (place->loss * (place->room_temperature - at->air) - heat_to_meat +
                                       *condensed * latent_heat(at->air)) / place->heat_capacity;
    if (place->kind == SW_PLACE_BOX)
        rate[SW_AROUND_AIR_HUMIDITY] = (vapour - *condensed) / dry_air(at, 0.05);
}

/* A pan of an area with this water: a wet surface above, dry metal below, both 300 W/m2K from the water. */
static void pan_rates(const setting *at, double area, double water, double T, double *rate, double *vapour)
{
    skin above = {.h = at->h, .e = 0.95, .B = film_coefficient(at->h), .air = at->air, .walls = at->walls, .P = at->P,
                  .p_v = at->p_v, .vents = true, .weakened = true};
    skin below = above;
    below.e = 0.9;
    below.B = 0.0;
    below.vents = false;
    balance(&above, T, 300.0, 1.0);
    balance(&below, T, 300.0, 1.0);
    const double depth = water / (1000.0 * area), wet = fmin(depth / 1e-3, 1.0);
    *vapour = area * wet * above.j;
    rate[SW_AROUND_PAN_WATER] = -*vapour;
    const double carried = above.j * (latent_heat(above.T_s) + enthalpy_of_water(above.T_s) - enthalpy_of_water(T));
    rate[SW_AROUND_PAN_TEMPERATURE] =
        (wet * (above.q - carried) + below.q) / (3900.0 + 1000.0 * depth * heat_capacity_of_water(T));
}

/* (5), (7) and (8) of pit.md, of a kettle: charcoal of 2.5 % hydrogen, 5 % moisture and 31 MJ/kg, 30 kg/h of air, 0.35 of the heat
 * in it, 0.12 m3. */
static double pit_humidity_rate(const setting *at, double vapour, double *fuel)
{
    const sw_pit *pit = &at->scenario->pit;
    const double p = pit->outside_relative_humidity * saturation(pit->outside_temperature);
    const double outside = 0.621945 * p / (at->P - p), flow = 30.0 / 3600.0;
    const double made = 0.95 * 0.025 * 18.015 / 2.016 + 0.05, heat = 0.95 * 31.0e6 - 0.05 * 2.442e6;
    *fuel = flow * 1008.0 * (at->air - pit->outside_temperature) / (0.35 * heat);
    return (flow * (outside - at->W) + *fuel * made + vapour) / dry_air(at, 0.12);
}

/* A cut in a wrap and a place, at a state that gives every term a size. */
typedef struct subject {
    sw_scenario scenario;
    sw_body body;
    sw_around around;
    setting at;
    double *state, *lumped, *rate;
    size_t cells;
} subject;

static const double entered = 100.0, followed = 400.0, looked = 700.0; /* [s] */

/* What the unknowns are when the laws are compared: nothing at rest, nothing at a limit. */
static void fill_unknowns(double *lumped, bool hot)
{
    lumped[SW_AROUND_AIR_TEMPERATURE] = zero_celsius + (hot ? 97.0 : 62.0);
    lumped[SW_AROUND_AIR_HUMIDITY] = 0.25;
    lumped[SW_AROUND_FILM] = 0.006;
    lumped[SW_AROUND_FILM_ADDED] = 0.0025;
    lumped[SW_AROUND_POOL_TEMPERATURE] = zero_celsius + (hot ? 101.5 : 71.0);
    lumped[SW_AROUND_POOL_WATER] = 0.15;
    lumped[SW_AROUND_PAN_TEMPERATURE] = zero_celsius + 55.0;
    lumped[SW_AROUND_PAN_WATER] = 0.035;
    lumped[SW_AROUND_LOST_WATER] = 0.2;
}

static void subject_init(subject *s, int cut, sw_wrap_kind wrap, int place, bool hot)
{
    cut_scenario(cut, &s->scenario);
    sw_scenario *c = &s->scenario;
    c->pit.kind = SW_PIT_KETTLE;
    c->pit.humidity = SW_HUMIDITY_BALANCE;
    c->pit.convection = 9.0;
    c->pit.wall_offset = 14.0;
    c->pit.pan_area = 0.05;
    c->pit.pieces = 3;
    c->pit.altitude = 300.0;
    c->spritz.amount = 0.03;
    c->wrap.tray_convection = 0.7;
    c->hold.kind = (sw_place_kind)(place > 0 ? place - 1 : 0);
    c->hold.convection = 4.0;
    assert_int_equal(sw_body_init(NULL, c, &s->body), SW_OK);
    assert_int_equal(sw_surround_init(NULL, c, &s->body, &s->around), SW_OK);
    s->cells = s->body.mesh->cell_count;
    s->state = malloc(2 * sw_transport_unknowns(s->body.transport) * sizeof *s->state);
    assert_non_null(s->state);
    s->lumped = s->state + 2 * s->cells;
    s->rate = s->state + sw_transport_unknowns(s->body.transport);
    sw_body_raw_state(&s->body, c, s->state);
    /* Drier at some places than others, warm, and where it is hot here and there past boiling. */
    for (size_t i = 0; i < s->cells; i++) {
        s->state[2 * i] = zero_celsius + (hot ? 92.0 + 0.9 * (double)(i % 13) : 64.0 + 0.9 * (double)(i % 13));
        s->state[2 * i + 1] -= s->state[2 * i + 1] * 0.05 * (double)(i % 7);
    }
    sw_around_start(&s->around, s->lumped);
    s->around.added_warming = 150e3;
    sw_around_enter(&s->around, place > 0 ? &c->hold : NULL, wrap, entered, 0.05, c->meat.initial_temperature, s->lumped);
    fill_unknowns(s->lumped, hot);
}

static void subject_free(subject *s)
{
    free(s->state);
    sw_body_free(&s->body);
}

/* The setting as the docs have it. 0.05 kg had rendered when the wrap went on; by its last step 0.08, and it goes on at that rate. */
static void describe(subject *s, sw_wrap_kind wrap, int place)
{
    const sw_scenario *c = &s->scenario;
    const bool lump = place > 1, given = place == 1;
    setting *at = &s->at;
    *at = (setting){.scenario = c, .wrap = wrap, .place = place > 0 ? &c->hold : NULL, .P = s->body.pressure};
    at->air = lump ? s->lumped[SW_AROUND_AIR_TEMPERATURE] : given ? c->hold.temperature : c->pit.steps[0].temperature;
    at->walls = place > 0 ? at->air : at->air + c->pit.wall_offset;
    at->h = place > 0 ? c->hold.convection : c->pit.convection;
    at->W = place == 1 || place == 3 ? c->hold.humidity_ratio : s->lumped[SW_AROUND_AIR_HUMIDITY];
    at->p_v = at->P * at->W / (0.621945 + at->W);
    at->pool_temperature = s->lumped[SW_AROUND_POOL_TEMPERATURE];
    at->pool = s->lumped[SW_AROUND_POOL_WATER];
    at->across = 1.0 - 0.45 * s->lumped[SW_AROUND_LOST_WATER];
    at->through = 1.0 - 0.1 * s->lumped[SW_AROUND_LOST_WATER];
    at->film = is_closed(at) ? 0.0 : s->lumped[SW_AROUND_FILM];
    at->film_warming = at->place ? 0.0 : 150e3 * s->lumped[SW_AROUND_FILM_ADDED] / (at->film + 1e-5);
    at->fat = 0.03 + 0.03 * (looked - followed) / (followed - entered);
    for (size_t i = 0; i < s->body.mesh->boundary_face_count; i++) {
        const sw_boundary_face *face = &s->body.mesh->boundary_faces[i];
        *(in_pool(at, face) ? &at->bottom : &at->open) += face->area * at->across;
    }
}

static double raw_water(const subject *s)
{
    double sum = 0.0;
    for (size_t i = 0; i < s->cells; i++) {
        const sw_material *material = s->body.materials[s->body.mesh->region[i]];
        sum += s->body.mesh->volume[i] * material->dry_density * material->initial_water;
    }
    return sum;
}

/* Rates of the unknowns and the lumped flows, as the laws have them. Returns what the pool's temperature is to be measured by. */
static double laws(const subject *s, const sums *all, double *rate, double *flows)
{
    const setting *at = &s->at;
    const bool pool = at->wrap == SW_WRAP_OPEN_TRAY || is_closed(at);
    double from_pool = 0.0, below = 0.0, caught = 0.0, runs_off = 0.0, through_pool = 0.0;
    for (int i = 0; i < SW_AROUND_COUNT; i++)
        rate[i] = 0.0;
    for (int i = 0; i < SW_LUMPED_FLOWS; i++)
        flows[i] = 0.0;
    if (at->film > 0.0) {
        const double full = at->film / ((at->wrap == SW_WRAP_PAPER ? 0.15 : 0.137) * at->open);
        caught = 0.8 * all->drip * at->open / (at->open + at->bottom) * (1.0 - full * full);
        runs_off = fmax(0.0, -all->film) * full * full;
        rate[SW_AROUND_FILM] = caught - all->film - runs_off;
        rate[SW_AROUND_FILM_ADDED] = -all->film * at->film_warming / 150e3;
        flows[SW_AROUND_JUICE_VAPOUR] = all->film + rate[SW_AROUND_FILM_ADDED];
    }
    if (pool)
        through_pool = pool_rates(at, all, caught, rate, &from_pool, &below);
    rate[SW_AROUND_LOST_WATER] = (all->evaporated + all->drip) / raw_water(s);
    const double vapour = all->air_vapour + from_pool;
    if (!at->place) {
        pan_rates(at, at->scenario->pit.pan_area, s->lumped[SW_AROUND_PAN_WATER], s->lumped[SW_AROUND_PAN_TEMPERATURE], rate,
                  &flows[SW_AROUND_PAN_VAPOUR]);
        rate[SW_AROUND_AIR_HUMIDITY] =
            pit_humidity_rate(at, at->scenario->pit.pieces * vapour + flows[SW_AROUND_PAN_VAPOUR], &flows[SW_AROUND_FUEL]);
    } else if (at->place->kind != SW_PLACE_AIR) {
        box_rates(at, all->air_heat + below, vapour, rate, &flows[SW_AROUND_CONDENSED]);
    }
    flows[SW_AROUND_POOL_VAPOUR] = from_pool;
    flows[SW_AROUND_INSIDE] = all->inside;
    flows[SW_AROUND_WETTING] = caught;
    rate[SW_AROUND_POOL_WATER] += pool ? runs_off : 0.0;
    flows[SW_AROUND_AWAY] = pool ? 0.0 : all->drip - caught + runs_off;
    return through_pool;
}

/* Heat that the meat gains by the rates of its cells, and the juice that leaves them. */
static double heat_gained(const subject *s)
{
    double sum = 0.0;
    for (size_t i = 0; i < s->cells; i++) {
        const sw_properties p = sw_cell_of(&s->body.transport->value, i);
        const double volume = s->body.mesh->volume[i], dry = volume * s->body.materials[s->body.mesh->region[i]]->dry_density;
        const double water = dry * s->rate[2 * i + 1] + volume * p.runoff;
        sum += volume * p.heat_capacity * s->rate[2 * i] + p.water_enthalpy * water;
    }
    return sum;
}

/* The tables are off by 1e-7 of what they hold at most (docs/theory/numerics.md). */
static void compare(subject *s, const char *name)
{
    static const char *const unknown[SW_AROUND_COUNT] = {"air temperature", "air humidity", "film", "film added",
                                                         "pool temperature", "pool water", "pan temperature", "pan water",
                                                         "lost water"};
    double rate[SW_AROUND_COUNT], lumped_flows[SW_LUMPED_FLOWS], flows[SW_FLOW_COUNT], worst = 0.0;
    sw_around_follow(&s->around, followed, 0.08);
    sw_surround_stretch(&s->body, &s->around, looked, s->lumped);
    assert_int_equal(sw_transport_rate(s->body.transport, looked, s->state, s->rate), 0);
    const double gained = heat_gained(s);
    assert_int_equal(sw_transport_flows(s->body.transport, looked, s->state, flows), 0);
    const sums all = sum_over_faces(&s->at, &s->body, s->state);
    double size[SW_AROUND_COUNT];
    const double through_pool = laws(s, &all, rate, lumped_flows);
    for (int i = 0; i < SW_AROUND_COUNT; i++)
        size[i] = fmax(fabs(rate[i]), i == SW_AROUND_POOL_TEMPERATURE ? through_pool : 0.0);
    for (int i = 0; i < SW_AROUND_COUNT; i++) {
        const double got = s->rate[2 * s->cells + (size_t)i];
        if (fabs(got - rate[i]) > 1e-7 * size[i])
            fail_msg("%s: the %s changes by %.9g, by its law %.9g", name, unknown[i], got, rate[i]);
        worst = fmax(worst, fabs(got - rate[i]) / (size[i] + 1e-300));
    }
    for (int i = 0; i < SW_LUMPED_FLOWS; i++)
        assert_close_rel(flows[SW_FLOW_LUMPED + i], lumped_flows[i], 1e-7);
    const double heat = fabs(all.outside_heat) + fabs(all.drip_heat) + fabs(all.warming);
    assert_close_abs(flows[SW_FLOW_CONVECTION] + flows[SW_FLOW_RADIATION], all.outside_heat, 1e-7 * heat);
    assert_close_abs(flows[SW_FLOW_EVAPORATION_HEAT], all.latent, 1e-7 * heat);
    assert_close_rel(flows[SW_FLOW_EVAPORATION], all.evaporated, 1e-7);
    assert_close_rel(flows[SW_FLOW_FILM], all.film, 1e-7);
    assert_close_abs(flows[SW_FLOW_VAPOUR_WARMING], all.warming, 1e-7 * heat);
    assert_close_rel(flows[SW_FLOW_DRIP], all.drip, 1e-12);
    assert_close_rel(flows[SW_FLOW_DRIP_HEAT], all.drip_heat, 1e-7);
    assert_close_abs(gained, all.into_cells, 1e-7 * heat);
    print_message("  %-38s rates off by %.1e at most\n", name, worst);
}

static void test_laws(void **state)
{
    (void)state;
    static const char *const places[] = {"pit", "air", "box", "cooling pit"};
    static const int cuts[] = {0, 3, 5};
    for (int cut = 0; cut < 3; cut++)
        for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++)
            for (int place = 0; place < 4; place++)
                for (int hot = 0; hot < 2; hot++) {
                    char name[80];
                    snprintf(name, sizeof name, "%s, %s, %s%s", cut_name(cuts[cut]), sw_wrap_name((sw_wrap_kind)wrap), places[place],
                             hot ? ", hot" : "");
                    subject s;
                    subject_init(&s, cuts[cut], (sw_wrap_kind)wrap, place, hot != 0);
                    describe(&s, (sw_wrap_kind)wrap, place);
                    compare(&s, name);
                    subject_free(&s);
                }
}

/* Paper goes with all it holds. What clings to bare meat goes on with it: into paper all of it, in a tray what is not under the
 * rim, under closed foil none; the rest is in the pool, as warm as the surface, and what is poured in as warm as the place. */
static void check_entering(sw_wrap_kind before, sw_wrap_kind after, bool liquid)
{
    subject s;
    subject_init(&s, 5, before, 0, false);
    s.scenario.wrap.liquid = liquid ? 0.3 : 0.0;
    sw_surround_stretch(&s.body, &s.around, entered, s.lumped);
    assert_int_equal(sw_transport_rate(s.body.transport, entered, s.state, s.rate), 0);
    describe(&s, before, 0);
    s.at.fat = 0.0;
    double surface = 0.0, area = 0.0;
    for (size_t i = 0; i < s.body.mesh->boundary_face_count; i++) {
        const sw_boundary_face *face = &s.body.mesh->boundary_faces[i];
        const sw_properties p = sw_cell_of(&s.body.transport->value, face->cell);
        skin piece = skin_of(&s.at, face);
        balance(&piece, s.state[2 * face->cell], p.conductivity / (face->distance * s.at.through), p.water_activity);
        surface += face->area * piece.T_s;
        area += face->area;
    }
    surface /= area;
    setting then = s.at;
    then.wrap = after;
    then.open = then.bottom = 0.0;
    for (size_t i = 0; i < s.body.mesh->boundary_face_count; i++)
        *(in_pool(&then, &s.body.mesh->boundary_faces[i]) ? &then.bottom : &then.open) +=
            s.body.mesh->boundary_faces[i].area * s.at.across;
    const sw_wrap_change change = sw_around_enter(&s.around, NULL, after, looked, 0.2,
                                                  sw_surround_surface_temperature(&s.body, &s.around), s.lumped);
    const bool pool = after == SW_WRAP_OPEN_TRAY || is_closed(&then);
    const double clung = before == SW_WRAP_PAPER ? 0.0 : 0.006;
    const double stays = is_closed(&then) ? 0.0 : clung * then.open / (then.open + then.bottom);
    const double poured = pool ? s.scenario.wrap.liquid : 0.0;
    assert_close_abs(change.left, 0.006 - clung, 1e-15);
    assert_close_abs(change.poured, poured, 0.0);
    assert_close_abs(s.lumped[SW_AROUND_FILM], stays, 1e-15);
    assert_close_abs(s.lumped[SW_AROUND_FILM_ADDED], 0.0025 * stays / 0.006, 1e-15);
    assert_close_abs(s.lumped[SW_AROUND_POOL_WATER], pool ? poured + clung - stays : 0.0, 1e-15);
    if (pool) {
        const double juice = clung - stays, all = juice + poured;
        const double mixed = all > 0.0 ? (juice * surface + poured * s.scenario.pit.outside_temperature) / all : surface;
        assert_close_abs(s.lumped[SW_AROUND_POOL_TEMPERATURE], mixed, 1e-5);
    }
    assert_close_abs(s.around.fat.mass, 0.0, 0.0);
    sw_around_follow(&s.around, looked + 10.0, 0.21);
    assert_close_rel(s.around.fat.mass, 0.01, 1e-12);
    assert_close_rel(s.around.fat.rate, 0.001, 1e-12);
    subject_free(&s);
}

static void test_entering_a_wrap(void **state)
{
    (void)state;
    for (int liquid = 0; liquid < 2; liquid++) {
        for (int after = SW_WRAP_PAPER; after < SW_WRAP_COUNT; after++)
            check_entering(SW_WRAP_NONE, (sw_wrap_kind)after, liquid != 0);
        check_entering(SW_WRAP_PAPER, SW_WRAP_OPEN_TRAY, liquid != 0);
        check_entering(SW_WRAP_PAPER, SW_WRAP_CLOSED_FOIL, liquid != 0);
        check_entering(SW_WRAP_PAPER, SW_WRAP_NONE, liquid != 0);
    }
}

/* A spray clings up to its limit; it takes the heat from its own temperature to that of the surface. */
static void test_spray(void **state)
{
    (void)state;
    subject s;
    subject_init(&s, 0, SW_WRAP_NONE, 0, false);
    sw_surround_stretch(&s.body, &s.around, looked, s.lumped);
    assert_int_equal(sw_transport_rate(s.body.transport, looked, s.state, s.rate), 0);
    describe(&s, SW_WRAP_NONE, 0);
    const double surface = sw_surround_surface_temperature(&s.body, &s.around), room = 0.1 * s.at.open - 0.006;
    const double warming = enthalpy_of_water(surface) - enthalpy_of_water(s.scenario.spritz.temperature);
    assert_true(room < 0.03);
    assert_close_rel(sw_around_spritz(&s.around, surface, s.lumped), 0.03 - room, 1e-12);
    assert_close_rel(s.lumped[SW_AROUND_FILM], 0.1 * s.at.open, 1e-12);
    assert_close_rel(s.lumped[SW_AROUND_FILM_ADDED], 0.0025 + room, 1e-12);
    assert_close_rel(s.around.added_warming, warming, 1e-6);
    s.lumped[SW_AROUND_FILM] = s.lumped[SW_AROUND_FILM_ADDED] = 0.0;
    s.scenario.spritz.amount = 0.001;
    assert_close_abs(sw_around_spritz(&s.around, surface, s.lumped), 0.0, 0.0);
    assert_close_abs(s.lumped[SW_AROUND_FILM], 0.001, 0.0);
    assert_close_abs(s.lumped[SW_AROUND_FILM_ADDED], 0.001, 0.0);
    subject_free(&s);
}

/* A damp box from its first minute to its last, beside a small integration of its two equations: what the meat takes from it comes
 * from the rows, sealed meat gives no vapour, so that all the damp goes to the walls and leaves its latent heat in the box. */
static void test_damp_box_of_sealed_meat(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    s.pull = (sw_ending){SW_ENDING_DURATION, 4.0 * hour};
    s.hold.kind = SW_PLACE_BOX;
    s.hold.temperature = zero_celsius + 75.0;
    s.hold.humidity_ratio = 0.35;
    s.hold.heat_capacity = 4000.0;
    s.hold.until = (sw_ending){SW_ENDING_DURATION, 2.0 * hour};
    s.solver.evaporation = false;
    s.solver.output_interval = 30.0;
    s.solver.relative_tolerance = 1e-7;
    sw_history *h;
    run_cook(&s, &h);
    setting at = {.scenario = &s, .place = &s.hold, .P = 101325.0, .h = s.hold.convection, .air = s.hold.temperature, .W = 0.35};
    double condensed = 0.0, warmest = 0.0, damp_apart = 0.0, warm_apart = 0.0;
    for (size_t row = 1; row < h->row_count; row++) {
        const double before = h->series[SW_SERIES_time][row - 1], step = h->series[SW_SERIES_time][row] - before;
        if (before < h->phases[1].start - 1e-6)
            continue;
        double heat = 0.0;
        for (int part = 0; part < 2; part++) {
            const double *series = h->series[part == 0 ? SW_SERIES_convection_heat : SW_SERIES_radiation_heat];
            heat += (series[row] - series[row - 1]) / step;
        }
        for (int k = 0; k < 300; k++) {
            double rate[SW_AROUND_COUNT] = {0.0}, flow;
            at.p_v = at.P * at.W / (0.621945 + at.W);
            box_rates(&at, heat, 0.0, rate, &flow);
            at.air += step / 300.0 * rate[SW_AROUND_AIR_TEMPERATURE];
            at.W += step / 300.0 * rate[SW_AROUND_AIR_HUMIDITY];
            condensed += step / 300.0 * flow;
        }
        warm_apart = fmax(warm_apart, fabs(at.air - h->series[SW_SERIES_air_temperature][row]));
        damp_apart = fmax(damp_apart, fabs(at.W - h->series[SW_SERIES_air_humidity_ratio][row]));
        warmest = fmax(warmest, at.air);
    }
    print_message("  %.1f g condensed; at most %.4f K and %.1e kg/kg apart\n", 1e3 * condensed, warm_apart, damp_apart);
    assert_true(condensed > 0.005);
    assert_close_abs(warm_apart, 0.0, 1e-3);
    assert_close_abs(damp_apart, 0.0, 1e-5);
    sw_history_destroy(h);
}

/* Juice poured over the meat, which no other juice wets: what clings, and no more, is the film that then evaporates; the rest is
 * in the tray. */
static void test_poured_over(void **state)
{
    (void)state;
    sw_scenario s = pit_only_scenario();
    s.wrap.kind = SW_WRAP_OPEN_TRAY;
    s.wrap.when = (sw_ending){SW_ENDING_DURATION, 4.0 * hour};
    s.wrap.pour = SW_POUR_OVER;
    s.wrap.pour_when = (sw_ending){SW_ENDING_DURATION, 4.0 * hour + 300.0};
    s.meat.juice.on_surface = 0.0;
    s.meat.shrinkage_area = 0.0;
    s.meat.has_edges = false;
    s.pull = (sw_ending){SW_ENDING_DURATION, 10.0 * hour};
    sw_food_properties raw;
    assert_int_equal(sw_mixture_properties(&s.meat.composition, s.meat.initial_temperature, &raw), SW_OK);
    const double top = s.meat.mass / (raw.density * s.meat.thickness);
    for (int much = 0; much < 2; much++) {
        s.spritz.cling = much ? 1.0 : 0.05;
        sw_history *h;
        run_cook(&s, &h);
        size_t row = 0;
        while (h->series[SW_SERIES_time][row] < 4.0 * hour + 300.0 - 1e-6)
            row++;
        const double pool = h->series[SW_SERIES_held_mass][row];
        print_message("  %.1f g in the tray, %.2f g of it evaporated from the meat\n", 1e3 * pool, 1e3 * h->budget.film_mass);
        assert_true(pool > 0.05 * top && pool < 1.0 * top);
        assert_close_rel(h->budget.film_mass, much ? pool : 0.05 * top, 1e-3);
        sw_history_destroy(h);
    }
}

/* In rest and hold the meat keeps the wrap it came off the pit in, and what is in it. */
static void test_last_wrap_stays_on(void **state)
{
    (void)state;
    for (int to_foil = 0; to_foil < 2; to_foil++) {
        sw_scenario s;
        s = reference_scenario();
        s.wrap.kind = to_foil ? SW_WRAP_PAPER : SW_WRAP_CLOSED_FOIL;
        s.rewrap.kind = to_foil ? SW_WRAP_CLOSED_FOIL : SW_WRAP_NONE;
        s.rewrap.when = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, zero_celsius + 85.0};
        sw_history *kept, *off;
        run_cook(&s, &kept);
        s.rest.keep_wrap = s.hold.keep_wrap = false;
        run_cook(&s, &off);
        const sw_budget *pull = &kept->phases[2].budget_at_end;
        if (to_foil) {
            assert_true(pull->kept_mass > 0.0 && kept->budget.kept_mass > pull->kept_mass);
            assert_close_abs(kept->budget.poured_mass, pull->poured_mass, 0.0);
            assert_close_rel(off->budget.poured_mass, pull->poured_mass + pull->kept_mass, 1e-12);
        } else {
            /* Nothing was on, so it does not matter whether it stays. */
            assert_close_abs(kept->budget.evaporated_mass, off->budget.evaporated_mass, 0.0);
            assert_close_abs(kept->budget.convection_heat, off->budget.convection_heat, 0.0);
            assert_close_abs(kept->budget.kept_mass, 0.0, 0.0);
        }
        sw_history_destroy(kept);
        sw_history_destroy(off);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_laws),
        cmocka_unit_test(test_entering_a_wrap),
        cmocka_unit_test(test_spray),
        cmocka_unit_test(test_damp_box_of_sealed_meat),
        cmocka_unit_test(test_poured_over),
        cmocka_unit_test(test_last_wrap_stays_on),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
