/* Heat and moisture on a mesh: the right-hand side and its Jacobian, and what crosses the boundary.
 * State: temperature and water content of each cell, T0, X0, T1, X1, ...
 * Theory: docs/theory/numerics.md. */
#ifndef SW_TRANSPORT_H
#define SW_TRANSPORT_H

#include "material.h"
#include "mesh.h"
#include "surface.h"

enum { SW_REGION_LEAN, SW_REGION_FAT, SW_REGION_COUNT };

/* What crosses the boundary per second, or has crossed it, for the whole body. */
enum {
    SW_FLOW_CONVECTION,     /* heat received [W] */
    SW_FLOW_RADIATION,      /* heat received [W] */
    SW_FLOW_GIVEN_HEAT,     /* heat received by a given flux [W] */
    SW_FLOW_EVAPORATION_HEAT,
    SW_FLOW_VAPOUR_WARMING, /* enthalpy, as liquid, of the water that evaporates [W] */
    SW_FLOW_DRIP_HEAT,      /* enthalpy of the juice that drips [W] */
    SW_FLOW_EVAPORATION,    /* water [kg s-1] */
    SW_FLOW_DRIP,           /* water [kg s-1] */
    SW_FLOW_COUNT
};

/* Heat source of a cell [W m-3] at a height (or radius) and a place along the section, for manufactured solutions. */
typedef double (*sw_heat_source)(double time, double position, double across, void *data);

/* Called before each evaluation with the time, for surroundings that change smoothly; may change the surfaces. */
typedef struct sw_transport sw_transport;
typedef void (*sw_surroundings_update)(double time, sw_transport *transport, void *data);

/* The matrix the Jacobian goes to: entry (row, column) of the matrix is values[offset]; offsets follow from the layout,
 * which the integrator sets. */
typedef struct sw_jacobian_layout {
    size_t (*offset)(size_t row, size_t column, const void *layout);
    const void *layout;
} sw_jacobian_layout;

struct sw_transport {
    const sw_mesh *mesh;
    const sw_material *materials[SW_REGION_COUNT];
    const sw_water_table *water;
    sw_surface *surfaces; /* one a boundary face */
    double fibre_conductivity;  /* along the fibres over across them [-] */
    double fibre_permeability;  /* the same for juice [-] */
    sw_heat_source heat_source; /* NULL for none */
    void *heat_source_data;
    sw_surroundings_update update; /* NULL for none */
    void *update_data;
    /* The longest step from a time on that does not leap over what those surroundings do; NULL for any [s]. */
    double (*longest_step)(double time, void *data);

    /* Work space. */
    sw_properties *value, *by_temperature, *by_water;
    double *water_gain;     /* of each cell [kg s-1] */
    double *heat_gain;      /* of each cell [W] */
    double *surface_guess;  /* last surface temperature of each boundary face [K] */
    sw_surface_balance *balances; /* of the last evaluation */
    size_t run_count;       /* runs of cells of one region */
    size_t *run_start;
    /* Where a face's 16 and a cell's 4 Jacobian entries lie: rows T_a, X_a, T_b, X_b by the same columns. */
    size_t (*face_entries)[16];
    size_t (*cell_entries)[4];
    size_t bad_cell; /* of the last failed evaluation */
};

/* mesh, materials and water are borrowed. Returns SW_OK, SW_ERR_MEMORY. */
sw_status sw_transport_create(const sw_mesh *mesh, const sw_material *const *materials, const sw_water_table *water,
                              sw_transport **transport);
void sw_transport_destroy(sw_transport *transport);

/* Fixes where Jacobian entries lie. */
void sw_transport_set_layout(sw_transport *transport, const sw_jacobian_layout *layout);

/* d(state)/dt. Returns 0, or 1 if the state is outside the range of the tables (bad_cell says where). */
int sw_transport_rate(sw_transport *transport, double time, const double *state, double *rate);

/* Adds the Jacobian of the rate into zeroed values, and writes the rate too. Same return value. */
int sw_transport_jacobian(sw_transport *transport, double time, const double *state, double *rate, double *values);

/* What crosses the boundary now; leaves the balances. Same return value. */
int sw_transport_flows(sw_transport *transport, double time, const double *state, double flows[SW_FLOW_COUNT]);

/* Enthalpy above the reference temperature [J] and water [kg] of the whole body. */
double sw_transport_enthalpy(const sw_transport *transport, const double *state);
double sw_transport_water(const sw_transport *transport, const double *state);

#endif
