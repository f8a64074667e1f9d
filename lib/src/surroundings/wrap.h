/* SPDX-License-Identifier: BSD-3-Clause */
/* What a side of the cut meets in a place, bare or wrapped. Theory: docs/theory/wraps.md. */
#ifndef SW_WRAP_H
#define SW_WRAP_H

#include "mesh.h"
#include "surface.h"

/* Air and walls of a place. */
typedef struct sw_surroundings {
    double air_temperature;  /* [K] */
    double wall_temperature; /* [K] */
    double pressure;         /* [Pa] */
    double vapour_pressure;  /* [Pa] */
    double convection;       /* [W m-2 K-1] */
    const double *convection_of_side; /* by sw_side; NULL: convection on all */
} sw_surroundings;

/* What a wrap holds, as its surfaces feel it. */
typedef struct sw_wrap_contents {
    bool has_pool;                 /* tray or foil with a pool of juice; otherwise it only covers */
    double pool_temperature;       /* [K] */
    double inside_vapour_pressure; /* of the gas inside closed foil [Pa] */
    double paper_permeance;        /* as it is now, fat soaking in [kg s-1 m-2 Pa-1] */
    double film_share;             /* of open or papered surfaces, wetted by a film [-] */
    double film_warming;           /* heat that liquid takes to reach the surface temperature [J kg-1] */
} sw_wrap_contents;

/* Contents of a wrap that holds nothing. */
sw_wrap_contents sw_empty_wrap(const sw_wrap *wrap);

/* The side as which a piece of surface counts under a wrap: below its rim a tray covers the ends as it covers the bottom. */
sw_side sw_side_under_wrap(const sw_boundary_face *face, const sw_wrap *wrap, sw_wrap_kind kind);

/* Whether a piece of surface lies in the pool of a wrap that holds one. */
bool sw_lies_in_pool(const sw_boundary_face *face, const sw_wrap *wrap, sw_wrap_kind kind);

/* The surface of one side under a wrap. evaporation: false seals it. */
sw_surface sw_wrapped_surface(const sw_surroundings *surroundings, const sw_wrap *wrap, sw_wrap_kind kind, sw_side side,
                              const sw_wrap_contents *contents, bool evaporation);

/* The surfaces of all boundary faces of a mesh. */
void sw_wrapped_surfaces(const sw_mesh *mesh, const sw_surroundings *surroundings, const sw_wrap *wrap, sw_wrap_kind kind,
                         const sw_wrap_contents *contents, bool evaporation, sw_surface *surfaces);

/* The outside of tray or foil under the pool: heat from air and walls, no vapour. */
sw_surface sw_pool_outside(const sw_surroundings *surroundings, const sw_wrap *wrap);

/* The free surface of the pool beside the meat, under the open sky of the place. */
sw_surface sw_pool_top(const sw_surroundings *surroundings);

#endif
