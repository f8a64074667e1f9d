/* SPDX-License-Identifier: BSD-3-Clause */
/* The juice that tray, foil or pan catches: water at one temperature under the meat, with fat on it.
 * Theory: docs/theory/wraps.md. */
#ifndef SW_POOL_H
#define SW_POOL_H

#include "exchange.h"
#include "wrap.h"

/* A pool at a moment, and what it meets. */
typedef struct sw_pool {
    const sw_water_table *water_table;
    const sw_wrap *wrap;
    sw_wrap_kind kind;
    double water;       /* [kg] */
    double temperature; /* [K] */
    double fat;         /* rendered into it [kg] */
    double under_area;  /* of the meat that lies in it [m2] */
    double over_area;   /* of the meat above it [m2] */
    bool evaporates;
} sw_pool;

/* Vapour pressure that the pool keeps up: its own where it is open, that of the gas inside a closed wrap [Pa]. */
double sw_pool_vapour_pressure(const sw_pool *pool);

/* What becomes of the pool, per second. */
typedef struct sw_pool_rates {
    double water;        /* [kg s-1] */
    double temperature;  /* [K s-1] */
    double vapour;       /* given to the air of the place [kg s-1] */
    double outside_heat; /* received through tray, foil or pan [W] */
} sw_pool_rates;

/* exchange: of the meat with its surroundings. */
sw_pool_rates sw_pool_rates_of(const sw_pool *pool, const sw_surroundings *around,
                               const double exchange[SW_EXCHANGE_COUNT]);

#endif
