/* SPDX-License-Identifier: BSD-3-Clause */
/* The physical model of a scenario's cut: mesh, materials and transport, ready to integrate. */
#ifndef SW_BODY_H
#define SW_BODY_H

#include "transport.h"

#include <stallwright/context.h>

typedef struct sw_body {
    sw_water_table water;
    sw_material *materials[SW_REGION_COUNT]; /* lean, fat cap (NULL without one) */
    sw_mesh *mesh;
    sw_transport *transport;
    double pressure;       /* of the air at the place's altitude [Pa] */
    size_t probe_count;    /* 1 or more */
    sw_probe_place probe_places[SW_PROBES_MAX];
    sw_probe probes[SW_PROBES_MAX];
} sw_body;

/* Builds the model; release with sw_body_free, also after an error. The scenario is settled; thickness and width that are left
 * to the mass and usual proportions, and probes left to the shape, are filled in in it.
 * Returns SW_OK, SW_ERR_RANGE, SW_ERR_MEMORY. */
sw_status sw_body_init(sw_context *context, sw_scenario *scenario, sw_body *body);
void sw_body_free(sw_body *body);

/* Fills the raw state: T0, X0, T1, X1, ... */
void sw_body_raw_state(const sw_body *body, const sw_scenario *scenario, double *state);

#endif
