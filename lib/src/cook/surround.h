/* SPDX-License-Identifier: BSD-3-Clause */
/* Meat and what is around it, joined: the surroundings' model in the transport, its surfaces stretch by stretch. */
#ifndef SW_SURROUND_H
#define SW_SURROUND_H

#include "body.h"
#include "surroundings.h"

/* Surroundings of a body, whose transport gets their model, before an integrator is made for it.
 * Returns SW_OK, SW_ERR_RANGE, SW_ERR_MEMORY. */
sw_status sw_surround_init(sw_context *context, const sw_scenario *scenario, sw_body *body, sw_around *around);

/* Sets the surfaces for a stretch from a time on, after which the surroundings jump. Returns that time, INFINITY for none. */
double sw_surround_stretch(sw_body *body, sw_around *around, double time, const double *lumped);

/* Temperature of the meat's surface, mean by area; its own before the surface was ever looked at [K]. */
double sw_surround_surface_temperature(const sw_body *body, const sw_around *around);

#endif
