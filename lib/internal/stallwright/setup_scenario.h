/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * The scenario behind the handle of a setup, for what in this project reads and fills its fields. */
#ifndef STALLWRIGHT_SETUP_SCENARIO_H
#define STALLWRIGHT_SETUP_SCENARIO_H

#include <stallwright/handles.h>
#include <stallwright/scenario.h>

SW_BEGIN_DECLARATIONS

/** The scenario inside; it goes with the setup. */
SW_API sw_scenario *sw_setup_scenario(sw_setup *setup);

SW_END_DECLARATIONS

#endif
