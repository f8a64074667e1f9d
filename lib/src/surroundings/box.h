/* SPDX-License-Identifier: BSD-3-Clause */
/* The air of an insulated box, or of a pit that cools. Theory: docs/theory/phases-and-events.md. */
#ifndef SW_BOX_H
#define SW_BOX_H

#include "pit_air.h"
#include "wrap.h"

/* What becomes of the air, per second. */
typedef struct sw_box_rates {
    double humidity;    /* [s-1] */
    double temperature; /* [K s-1] */
    double condensed;   /* on the walls of a box [kg s-1] */
} sw_box_rates;

/* is_damp: a box, whose air keeps its vapour up to what condenses on its walls. humidity: ratio. vapour: given to the air
 * [kg s-1]; meat_heat, pool_heat: taken from it [W]. */
sw_box_rates sw_box_rates_of(const sw_place *place, const sw_pit_air *pit, const sw_water_table *water,
                             const sw_surroundings *around, bool is_damp, double humidity, double vapour, double meat_heat,
                             double pool_heat);

#endif
