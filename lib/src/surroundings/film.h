/* SPDX-License-Identifier: BSD-3-Clause */
/* Liquid on the meat's open surfaces: juice that the protein lets go and that runs over them, what was sprayed, mopped or
 * poured over, what paper soaked up. Theory: docs/theory/wraps.md. */
#ifndef SW_FILM_H
#define SW_FILM_H

#include <math.h>

/* A film with less than this keeps what was added to it ever longer, so that a dry one has a share of it too [kg]: a choice. */
#define SW_DRY_FILM 1e-5

/* Share of the surface that a film wets, up to the share a thick one does. mass [kg] on an area [m2]; half: film that wets
 * half as much [kg m-2]. */
static inline double sw_film_share(double most, double half, double mass, double area)
{
    if (area <= 0.0)
        return 0.0;
    const double film = fmax(mass, 0.0) / area;
    return most * film / (film + half);
}

/* Share of a film that was added to it: sprayed or poured on, not fresh juice. */
static inline double sw_film_added_share(double mass, double added)
{
    return added / (fmax(mass, 0.0) + SW_DRY_FILM);
}

/* Of liquid offered what finds room in a film that clings up to a mass per area [kg]. */
static inline double sw_film_clings(double offered, double mass, double most_per_area, double area)
{
    return fmax(0.0, fmin(offered, most_per_area * area - mass));
}

/* Share of the juice running over a surface that its film takes up: all when there is none, nothing when full. capacity [kg]. */
static inline double sw_film_takes(double mass, double capacity)
{
    const double full = capacity > 0.0 ? fmax(0.0, fmin(mass / capacity, 1.0)) : 1.0;
    return 1.0 - full * full;
}

#endif
