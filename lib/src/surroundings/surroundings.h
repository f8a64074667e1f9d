/* SPDX-License-Identifier: BSD-3-Clause */
/* What is around the meat as a cook goes on: the air of pit or place, the wrap and what it holds. It sets the surfaces and
 * has unknowns of its own, which follow the cells in the state. Theory: docs/theory/wraps.md, pit.md, phases-and-events.md. */
#ifndef SW_SURROUNDINGS_H
#define SW_SURROUNDINGS_H

#include "exchange.h"
#include "mesh.h"
#include "pit_air.h"
#include "rendered_fat.h"

/* Unknowns. Those not in use at the time stay as they are. */
enum {
    SW_AROUND_AIR_TEMPERATURE, /* of a box or a pit that cools [K] */
    SW_AROUND_AIR_HUMIDITY,    /* of pit or box [kg per kg dry air] */
    SW_AROUND_FILM,            /* liquid on open surfaces, or held by paper [kg] */
    SW_AROUND_FILM_ADDED,      /* of it, what was sprayed or poured on [kg] */
    SW_AROUND_POOL_TEMPERATURE, /* of the juice in tray or foil [K] */
    SW_AROUND_POOL_WATER,      /* in tray or foil [kg] */
    SW_AROUND_PAN_TEMPERATURE, /* [K] */
    SW_AROUND_PAN_WATER,       /* [kg] */
    SW_AROUND_LOST_WATER,      /* share of the raw meat's water that has left it; the meat shrinks with it [-] */
    SW_AROUND_COUNT
};

/* Lumped flows, summed by the integrator [kg]. */
enum {
    SW_AROUND_POOL_VAPOUR, /* from tray or foil to the air of the place */
    SW_AROUND_INSIDE,      /* from the meat to the gas inside foil, and so to the pool; negative: condensed on the meat */
    SW_AROUND_AWAY,        /* juice that nothing catches */
    SW_AROUND_PAN_VAPOUR,
    SW_AROUND_FUEL,        /* burnt */
    SW_AROUND_CONDENSED,   /* on the walls of a box */
    SW_AROUND_WETTING,     /* juice that the film takes up, of that which leaves the meat */
    SW_AROUND_JUICE_VAPOUR /* from the film, but for what was added to it */
};
_Static_assert((int)SW_AROUND_JUICE_VAPOUR < (int)SW_LUMPED_FLOWS && (int)SW_AROUND_COUNT <= (int)SW_LUMPED_MAX,
               "there is room");

/* What is surrounded; the pointers are borrowed. */
typedef struct sw_surrounded {
    const sw_mesh *mesh;
    const sw_water_table *water;
    double pressure; /* of the air at the place's altitude [Pa] */
    double density;  /* of raw lean meat [kg m-3] */
    double raw_water; /* of the whole meat [kg] */
} sw_surrounded;

typedef struct sw_around {
    const sw_scenario *scenario;
    sw_surrounded meat;
    sw_pit_air pit_air;
    /* Since the last sw_around_enter. */
    const sw_place *place; /* NULL: on the pit */
    sw_wrap_kind wrap;
    double jump;           /* when the surroundings next jump [s] */
    double side_convection[SW_SIDE_COUNT];
    double open_area, bottom_area; /* of the meat: open to the air or covered; in the pool; raw [m2] */
    bool has_air, has_humidity, has_film, has_pool, has_pan;
    bool in_use[SW_AROUND_COUNT];
    double added_warming;  /* heat that liquid added to the film takes to reach the surface temperature [J kg-1] */
    sw_rendered_fat fat;
} sw_around;

/* The dimensions of the scenario's meat are filled in. Returns SW_OK, SW_ERR_RANGE. */
sw_status sw_around_init(sw_context *context, sw_around *around, const sw_scenario *scenario, const sw_surrounded *meat);

/* The lumped model; it borrows around. */
sw_lumped_model sw_around_model(sw_around *around);

/* Values of the unknowns at the start. */
void sw_around_start(const sw_around *around, double *lumped);

/* Takes over how those of the same meat are, on the pit and bare. */
void sw_around_copy(sw_around *around, const sw_around *from);

/* Whether what is sprayed or poured over the meat is ever told apart from its juice. */
bool sw_around_adds_to_film(const sw_scenario *scenario);

/* Liquid that changes hands as the meat goes to another place [kg]. */
typedef struct sw_wrap_change {
    double left;   /* behind, in the wrap before */
    double poured; /* into the new one */
} sw_wrap_change;

/* The meat goes to a place (NULL: the pit), with or without a wrap, its surface at a mean temperature [K]. rendered: fat so
 * far [kg]. What the wrap and the place hold at first is put into lumped. */
sw_wrap_change sw_around_enter(sw_around *around, const sw_place *place, sw_wrap_kind wrap, double time, double rendered,
                               double surface_temperature, double *lumped);

/* Begins a stretch at a time, after which the surroundings jump. Returns when that is, INFINITY for never. */
double sw_around_begin_stretch(sw_around *around, double time);

/* Fat that has rendered goes into pool or paper; between calls it goes on at the last rate. */
void sw_around_follow(sw_around *around, double time, double rendered);

/* Liquid is sprayed or mopped on the open surfaces, at a mean temperature [K]. Returns what does not cling [kg]. */
double sw_around_spritz(sw_around *around, double surface_temperature, double *lumped);

/* The juice in an open tray is poured off, or over the meat, where what does not cling runs back. Returns what is gone [kg]. */
double sw_around_pour(sw_around *around, double *lumped);

/* Liquid on the meat and in its wrap now: film and pool [kg]. */
double sw_around_held(const sw_around *around, const double *lumped);

/* Refuses air of the pit's balance that is damper than air of its temperature can be. Returns SW_OK, SW_ERR_RANGE. */
sw_status sw_around_check(sw_context *context, const sw_around *around, double time, const double *lumped);

/* Humidity ratio and temperature of the air around the meat. */
double sw_around_humidity(const sw_around *around, double time, const double *lumped);
double sw_around_air_temperature(const sw_around *around, double time, const double *lumped);

#endif
