/* What is around the meat as a cook goes on: the air of pit or place, the wrap and what it holds. It sets the surfaces and
 * has unknowns of its own, which follow the cells in the state. Theory: docs/theory/wraps.md, pit.md, phases-and-events.md. */
#ifndef SW_SURROUNDINGS_H
#define SW_SURROUNDINGS_H

#include "body.h"
#include "pit_air.h"

/* Unknowns. Those not in use at the time stay as they are. */
enum {
    SW_AROUND_AIR_TEMPERATURE, /* of a box or a pit that cools [K] */
    SW_AROUND_AIR_HUMIDITY,    /* of pit or box [kg per kg dry air] */
    SW_AROUND_FILM,            /* liquid on open surfaces, or held by paper [kg] */
    SW_AROUND_POOL_TEMPERATURE, /* of the juice in tray or foil [K] */
    SW_AROUND_POOL_WATER,      /* in tray or foil [kg] */
    SW_AROUND_PAN_TEMPERATURE, /* [K] */
    SW_AROUND_PAN_WATER,       /* [kg] */
    SW_AROUND_COUNT
};

/* Lumped flows, summed by the integrator [kg]. */
enum {
    SW_AROUND_POOL_VAPOUR, /* from tray or foil to the air of the place */
    SW_AROUND_INSIDE,      /* from the meat to the gas inside foil, and so to the pool; negative: condensed on the meat */
    SW_AROUND_AWAY,        /* juice that nothing catches */
    SW_AROUND_PAN_VAPOUR,
    SW_AROUND_FUEL,        /* burnt */
    SW_AROUND_CONDENSED    /* on the walls of a box */
};
_Static_assert((int)SW_AROUND_CONDENSED < (int)SW_LUMPED_FLOWS && (int)SW_AROUND_COUNT <= (int)SW_LUMPED_MAX,
               "there is room");

typedef struct sw_around {
    const sw_scenario *scenario;
    sw_body *body;
    sw_pit_air pit_air;
    /* Since the last sw_around_enter. */
    const sw_place *place; /* NULL: on the pit */
    sw_wrap_kind wrap;
    double jump;           /* when the surroundings next jump [s] */
    double side_convection[SW_SIDE_COUNT];
    double open_area, bottom_area; /* of the meat: open to the air or papered; in the pool [m2] */
    bool has_air, has_humidity, has_film, has_pool, has_pan; /* unknowns in use */
    double film_warming;   /* [J kg-1] */
    double fat_before;     /* rendered before the wrap went on [kg] */
    double fat, fat_rate, fat_time; /* rendered since, its rate and when that was [kg], [kg s-1], [s] */
} sw_around;

/* Puts the lumped model into the body's transport, before an integrator is made; it has no unknowns if the scenario needs
 * none. Returns SW_OK, SW_ERR_RANGE, SW_ERR_MEMORY. */
sw_status sw_around_init(sw_context *context, sw_around *around, const sw_scenario *scenario, sw_body *body);

/* Values of the unknowns at the start. */
void sw_around_start(const sw_around *around, double *lumped);

/* The meat goes to a place (NULL: the pit), with or without a wrap. rendered: fat so far [kg]. What the wrap and the place
 * hold at first is put into lumped. Returns the liquid that was left behind in the wrap before, less that added [kg]. */
double sw_around_enter(sw_around *around, const sw_place *place, sw_wrap_kind wrap, double time, double rendered,
                       double *lumped);

/* Sets the surfaces for a stretch from a time on, after which the surroundings jump. Returns that time, INFINITY for none. */
double sw_around_surround(sw_around *around, double time, const double *lumped);

/* Fat that has rendered goes into pool or paper; between calls it goes on at the last rate. */
void sw_around_follow(sw_around *around, double time, double rendered);

/* Liquid is sprayed or mopped on the open surfaces. Returns what does not cling [kg]. */
double sw_around_spritz(sw_around *around, double *lumped);

/* Temperature of the meat's surface as last found, mean by area; before that the meat's own [K]. */
double sw_around_surface_temperature(const sw_around *around);

/* Liquid the wrap holds now: pool and paper [kg]. */
double sw_around_held(const sw_around *around, const double *lumped);

/* Refuses air of the pit's balance that is damper than air of its temperature can be. Returns SW_OK, SW_ERR_RANGE. */
sw_status sw_around_check(sw_context *context, const sw_around *around, double time, const double *lumped);

/* Humidity ratio and temperature of the air around the meat. */
double sw_around_humidity(const sw_around *around, double time, const double *lumped);
double sw_around_air_temperature(const sw_around *around, double time, const double *lumped);

#endif
