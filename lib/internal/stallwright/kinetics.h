/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * How fast what heat does to meat goes on: first-order reactions whose rate depends on temperature, with their sources, and
 * how far they get in a temperature history. Theory: docs/theory/doneness.md. */
#ifndef STALLWRIGHT_KINETICS_H
#define STALLWRIGHT_KINETICS_H

#include <stallwright/export.h>
#include <stallwright/status.h>

#include <stdbool.h>
#include <stddef.h>

SW_BEGIN_DECLARATIONS

/** The reactions that are followed. All but the last go on throughout the meat, the last on its surface. */
typedef enum sw_reaction {
    SW_REACTION_MYOSIN,    /**< myosin denatures: the meat sets and turns opaque */
    SW_REACTION_ACTIN,     /**< actin denatures: the meat turns firm and dry */
    SW_REACTION_MYOGLOBIN, /**< myoglobin denatures: the meat loses its red */
    SW_REACTION_COLLAGEN,  /**< collagen turns to gelatin: the meat turns tender */
    SW_REACTION_RENDERING, /**< fat leaves its cells */
    SW_REACTION_BROWNING,  /**< a dry surface browns */
    SW_REACTION_COUNT
} sw_reaction;

/** Reactions that go on throughout the meat. */
enum { SW_INNER_REACTION_COUNT = SW_REACTION_BROWNING };

typedef enum sw_rate_form {
    SW_RATE_ARRHENIUS, /**< rate exp(-(E/R)(1/T - 1/T_reference)) */
    SW_RATE_Z_VALUE    /**< rate 10^((T - T_reference)/z) */
} sw_rate_form;

/** A first-order law: the share that has not reacted falls at the rate times itself. */
typedef struct sw_reaction_law {
    const char *name; /**< "collagen" */
    const char *meaning;
    sw_rate_form form;
    double rate;                  /**< at the reference temperature [s-1]; with a D-value it is ln(10)/D */
    double reference_temperature; /**< [K] */
    double sensitivity;           /**< Arrhenius: activation energy E [J mol-1]; z-value: z [K] */
    double uncertainty;           /**< the rate may be so many times higher or lower [-] */
    double lowest_temperature;    /**< of the data it was fitted to [K] */
    double highest_temperature;   /**< [K] */
    const char *source;
} sw_reaction_law;

/** The law of a reaction. Values, ranges and sources: docs/theory/doneness.md. */
SW_API const sw_reaction_law *sw_reaction_law_of(sw_reaction reaction);

/** Rate at a temperature above 0 K [s-1]. */
SW_API double sw_reaction_rate(const sw_reaction_law *law, double temperature);

/** Logarithm of the rate at the second temperature over that at the first [-]. */
SW_API double sw_reaction_log_ratio(const sw_reaction_law *law, double first, double second);

/** Share of a straight rise or fall between two temperatures that lies outside the range the law was fitted to [-]; of equal
 * temperatures, 0 or 1. */
SW_API double sw_reaction_share_outside(const sw_reaction_law *law, double first, double second);

/** Integral of the rate while the temperature runs straight from one value to another. Exact for a z-value; for an
 * Arrhenius law too low by about E (T2 - T1)^2 / (6 R T^3): 5e-5 for collagen and 4e-4 for myosin, per kelvin squared.
 * @param duration [s]
 * @return [-] */
SW_API double sw_reaction_exposure(const sw_reaction_law *law, double first, double second, double duration);

/** How far a reaction got. */
typedef struct sw_reaction_progress {
    double exposure; /**< integral of the rate [-] */
    double extent;   /**< share that has reacted: 1 - exp(-exposure) */
    double outside;  /**< the part of the extent gained outside the range the law was fitted to */
} sw_reaction_progress;

/** Follows a reaction through a temperature history that runs straight between its points; each piece is divided so that it
 * spans at most 1 K.
 * @param count of points, 1 or more
 * @param times rising [s]
 * @param temperatures above 0 K [K]
 * @param progress out
 * @return SW_OK, or SW_ERR_RANGE if there is no point, times do not rise or a temperature is not above 0 K; progress is
 * unchanged then */
SW_API sw_status sw_reaction_follow(const sw_reaction_law *law, size_t count, const double *times,
                                    const double *temperatures, sw_reaction_progress *progress);

/** How strongly a surface's water slows its browning, 0 to 1: nothing up to a water activity of 0.75, then straight down to
 * a standstill at 1. A guess: browning is known to be fastest at 0.6 to 0.8 (from memory). */
SW_API double sw_browning_share(double water_activity);

SW_END_DECLARATIONS

#endif
