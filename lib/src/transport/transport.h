/* SPDX-License-Identifier: BSD-3-Clause */
/* Heat and moisture on a mesh: the right-hand side and its Jacobian, and what crosses the boundary.
 * State: temperature and water content of each cell, T0, X0, T1, X1, ...
 * Theory: docs/theory/numerics.md. */
#ifndef SW_TRANSPORT_H
#define SW_TRANSPORT_H

#include "exchange.h"
#include "face_columns.h"
#include "material.h"
#include "mesh.h"

enum { SW_REGION_LEAN, SW_REGION_FAT, SW_REGION_COUNT };

/* What crosses the boundary per second, or has crossed it, for the whole body. */
enum {
    SW_FLOW_CONVECTION,     /* heat received [W] */
    SW_FLOW_RADIATION,      /* heat received [W] */
    SW_FLOW_GIVEN_HEAT,     /* heat received by a given flux [W] */
    SW_FLOW_EVAPORATION_HEAT,
    SW_FLOW_VAPOUR_WARMING, /* enthalpy, as liquid, of the water that evaporates [W] */
    SW_FLOW_DRIP_HEAT,      /* enthalpy of the juice that drips [W] */
    SW_FLOW_EVAPORATION,    /* water of the meat [kg s-1] */
    SW_FLOW_DRIP,           /* water [kg s-1] */
    SW_FLOW_FILM,           /* liquid from outside that evaporates from the surface [kg s-1] */
    SW_FLOW_LUMPED,         /* the first of SW_LUMPED_FLOWS flows the lumped model defines */
    SW_FLOW_COUNT = SW_FLOW_LUMPED + (int)SW_LUMPED_FLOWS
};

/* Heat source of a cell [W m-3] at a height (or radius) and a place along the section, for manufactured solutions. */
typedef double (*sw_heat_source)(double time, double position, double across, void *data);

typedef struct sw_transport {
    const sw_mesh *mesh;
    const sw_material *materials[SW_REGION_COUNT];
    const sw_water_table *water;
    sw_surface *surfaces; /* one a boundary face */
    double fibre_conductivity;  /* along the fibres over across them [-] */
    double fibre_permeability;  /* the same for juice [-] */
    sw_heat_source heat_source; /* NULL for none */
    void *heat_source_data;
    sw_lumped_model lumped;
    sw_meat_scale meat_scale;   /* 1, 1 until a lumped model says otherwise */
    bool follows;               /* the lumped model sets the surfaces before each evaluation */

    /* Work space. */
    sw_face_columns faces;
    size_t room;            /* numbers in a column of cells: their count as whole lanes, the last ones without a cell */
    double *columns;        /* all of those below */
    sw_property_columns value, by_temperature, by_water;
    double *temperature, *content; /* of each cell, T [K] and X [kg kg-1] */
    double *volume;         /* of each cell, as the mesh has it [m3] */
    double *per_dry_mass;   /* 1 / dry matter of each cell [kg-1] */
    double *per_capacity;   /* 1 / heat capacity of each cell [K J-1] */
    double *water_gain;     /* of each cell [kg s-1] */
    double *heat_gain;      /* of each cell [W] */
    double *through_water, *through_heat; /* each face, from a to b [kg s-1], [W] */
    sw_surface_balance *balances; /* of the last evaluation, one a boundary face */
    sw_behind *surface_guess;     /* what was behind them; all zero before the first */
    sw_surface_balance *other_balances; /* two more of the kind, for evaluations that are not to be known of */
    sw_behind *other_guess;
    size_t run_count;       /* runs of cells of one region */
    size_t *run_start;
    /* Where blocks of the Jacobian begin: four numbers, T and X of one cell by T and X of another, row by row. */
    size_t (*face_blocks)[4];     /* of a and b by a and b, row by row */
    size_t (*triangle_blocks)[9]; /* of the three cells of a fibre triangle */
    size_t *cell_block;           /* of a cell by itself */
    double *face_water, *face_heat;  /* out through each boundary face [kg s-1], [W] */
    double *boundary_water, *boundary_heat; /* the same, summed over each cell's, for the border */
    double *exchange_by; /* derivatives of the exchanges by each unknown of the cells; NULL without lumped unknowns */
    size_t bad_cell; /* of the last failed evaluation */
} sw_transport;

/* mesh, materials and water are borrowed, and the mesh changes no more. Returns SW_OK, SW_ERR_MEMORY. */
sw_status sw_transport_create(const sw_mesh *mesh, const sw_material *const *materials, const sw_water_table *water,
                              sw_transport **transport);
void sw_transport_destroy(sw_transport *transport);

/* Fixes where Jacobian entries lie. */
void sw_transport_set_layout(sw_transport *transport, const sw_jacobian_layout *layout);

/* d(state)/dt. Returns 0, or 1 if the state is outside the range of the tables (bad_cell says where). */
int sw_transport_rate(sw_transport *transport, double time, const double *state, double *rate);

/* Puts a lumped model in place; before an integrator is made for the transport. Returns SW_OK, SW_ERR_MEMORY. */
sw_status sw_transport_set_lumped(sw_transport *transport, const sw_lumped_model *model);

/* Has the lumped model set the surfaces for a time, and before each evaluation from now on. */
void sw_transport_surround(sw_transport *transport, double time, const double *lumped);

/* Unknowns of the state: two a cell, and the lumped ones. */
size_t sw_transport_unknowns(const sw_transport *transport);

/* Adds the Jacobian of the rate into zeroed values, and writes the rate and, with lumped unknowns, the border too. Same
 * return value. */
int sw_transport_jacobian(sw_transport *transport, double time, const double *state, double *rate, double *values,
                          const sw_border *border);

/* Changes the balances for the others, from which the next evaluation's then start. Where they start decides on their last
 * digits: what is evaluated between two calls leaves no trace in later evaluations. */
void sw_transport_swap_balances(sw_transport *transport);

/* Takes over from a transport of the same body how its surfaces are and what was found at them. */
void sw_transport_copy_surfaces(sw_transport *transport, const sw_transport *from);

/* What crosses the boundary now; leaves the balances. Same return value. */
int sw_transport_flows(sw_transport *transport, double time, const double *state, double flows[SW_FLOW_COUNT]);

/* The balance of a boundary face as the last evaluation left it. */
const sw_surface_balance *sw_transport_balance(const sw_transport *transport, size_t boundary_face);

/* Surface temperature as last found, mean by area [K]; 0 before the first evaluation. */
double sw_transport_surface_temperature(const sw_transport *transport);

/* Water activity of the outside of a boundary face, film and tissue together, at a time in a state. */
double sw_transport_surface_activity(sw_transport *transport, size_t boundary_face, double time, const double *state);

/* The same with the surfaces as they were set last. */
double sw_transport_activity_outside(const sw_transport *transport, size_t boundary_face, const double *state);

/* Share of a boundary face that a film wets, as the surfaces were set last. */
double sw_transport_film_share(const sw_transport *transport, size_t boundary_face);

/* Water activity of a cell in a state. */
double sw_transport_activity(const sw_transport *transport, size_t cell, const double *state);

/* Enthalpy above the reference temperature [J] and water [kg] of the whole body. */
double sw_transport_enthalpy(const sw_transport *transport, const double *state);
double sw_transport_water(const sw_transport *transport, const double *state);

#endif
