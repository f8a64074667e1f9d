/* SPDX-License-Identifier: BSD-3-Clause */
/* What the pit's air does over time: steps, ramps and logs, a controller's swing, openings of the lid.
 * Theory: docs/theory/pit.md. */
#ifndef SW_PIT_SCHEDULE_H
#define SW_PIT_SCHEDULE_H

#include <stallwright/scenario.h>

typedef struct sw_pit_moment {
    double air_temperature;  /* [K] */
    double wall_temperature; /* [K] */
    double outside_share;    /* of outside air that an open lid let in [-] */
} sw_pit_moment;

/* The pit at a time after the meat went on, before end: the end of the stretch that is being integrated. At end itself the
 * values are those before a jump there; INFINITY for none. The steps are those sw_scenario_check lets pass. */
sw_pit_moment sw_pit_at(const sw_pit *pit, double time, double end);

/* The next time at which the air's temperature jumps: a step without a ramp before it, the lid opened; INFINITY for none. */
double sw_pit_next_jump(const sw_pit *pit, double time);

/* The longest step from a time on that sees what the air does: a quarter of a swing, and never past two bends of its line
 * (where steps begin, ramps end, the lid shuts); INFINITY for any [s]. */
double sw_pit_longest_step(const sw_pit *pit, double time);

#endif
