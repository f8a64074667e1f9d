/* SPDX-License-Identifier: BSD-3-Clause */
/* The air film on a cut in a pit whose convection is not given. Theory: docs/theory/pit.md. */
#ifndef SW_PIT_CONVECTION_H
#define SW_PIT_CONVECTION_H

#include <stallwright/scenario.h>

/* Coefficient of each side [W m-2 K-1] in air of a temperature [K] and a pressure [Pa]; the meat's dimensions are filled in,
 * density is that of raw lean meat [kg m-3]. */
void sw_pit_convection(const sw_scenario *scenario, double density, double air_temperature, double pressure,
                       double coefficients[SW_SIDE_COUNT]);

#endif
