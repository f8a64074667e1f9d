/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * What is usual for each cut of meat, in one table: defaults for what a scenario leaves open, with where they are from.
 * A cut says nothing of how it is modelled (sw_shape), and promises no stall. */
#ifndef STALLWRIGHT_CUT_TRAITS_H
#define STALLWRIGHT_CUT_TRAITS_H

#include <stallwright/scenario.h>

SW_BEGIN_DECLARATIONS

/** Usual values of a cut; sources of each beside them in the table, lib/src/scenario/cut_traits.c. */
typedef struct sw_cut_traits {
    const char *name;           /**< in scenario files: "pork-butt" */
    const char *description;    /**< in results: "pork butt" */
    sw_composition composition; /**< of the lean part, raw mass fractions that sum to 1 [kg kg-1] */
    double length, width, thickness; /**< of a usual piece, trimmed: a block of these sides gives proportions [m] */
    double stoutness;           /**< slab whose centre warms as that block's does, at the same volume: over that of a packer [-] */
    double trimming;            /**< share of the cut as bought that is trimmed off [-] */
    double bone;                /**< share of the trimmed cut that is bone [-] */
    double pull;                /**< probe temperature [K] */
} sw_cut_traits;

/** The traits of a cut, one of those below SW_CUT_COUNT; of a packer for any other. */
SW_API const sw_cut_traits *sw_cut_traits_of(sw_cut cut);

/** Thickness of the slab that stands for the part of a cut over the probe: 6.4 cm for a whole brisket of 6.5 kg as bought
 * (6.1 to 6.7 cm, fitted to measured cooks), the cube root of the trimmed mass scaling it. Other cuts are scaled by their
 * stoutness: with the surface of its ends (sw_meat.has_edges) such a slab warms to its middle as fast as the cut's usual block.
 * @param bought_mass before trimming [kg]
 * @return [m] */
SW_API double sw_slab_thickness(sw_cut cut, double bought_mass);

SW_END_DECLARATIONS

#endif
