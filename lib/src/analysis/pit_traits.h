/* SPDX-License-Identifier: BSD-3-Clause */
/* What is a pit's own of what differs from cook to cook: its gauge's offset [K], and the logarithms of its air film [W m-2 K-1] and humidity
 * ratio. */
#ifndef SW_PIT_TRAITS_H
#define SW_PIT_TRAITS_H

#include <stallwright/population.h>

enum { SW_PIT_TRAITS = 3 };

/* Share of the variance from cook to cook that lies between pits; the rest comes again with each cook in a pit. */
extern const double sw_share_between_pits;

/* Which of them a key is; SW_PIT_TRAITS if it is none. */
size_t sw_pit_trait_number(const sw_scenario_key *key);

/* Middle and covariance, SW_PIT_TRAITS square, of what was learned of a pit. */
void sw_pit_traits_of(const sw_pit_learned *learned, double middle[SW_PIT_TRAITS], double covariance[SW_PIT_TRAITS * SW_PIT_TRAITS]);

#endif
