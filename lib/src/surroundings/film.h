/* Liquid from outside the meat on its open surfaces: what was sprayed, mopped or poured over, or what paper soaked up.
 * Theory: docs/theory/wraps.md. */
#ifndef SW_FILM_H
#define SW_FILM_H

#include <math.h>

/* Film that wets half of the surface [kg m-2]: a guess, 0.02..0.05. */
#define SW_WETTING_FILM 0.03

/* Share of the surface that a film wets. mass [kg] on an area [m2]. */
static inline double sw_film_share(double mass, double area)
{
    if (area <= 0.0)
        return 0.0;
    const double film = fmax(mass, 0.0) / area;
    return film / (film + SW_WETTING_FILM);
}

/* Of liquid offered what finds room in a film that clings up to a mass per area [kg]. */
static inline double sw_film_clings(double offered, double mass, double most_per_area, double area)
{
    return fmax(0.0, fmin(offered, most_per_area * area - mass));
}

/* Share of what drips into paper that it soaks up: all when empty, nothing when full. capacity [kg]. */
static inline double sw_film_soaks(double mass, double capacity)
{
    const double full = capacity > 0.0 ? fmax(0.0, fmin(mass / capacity, 1.0)) : 1.0;
    return 1.0 - full * full;
}

#endif
