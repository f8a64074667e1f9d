/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * All of the library, for the programs of this project; what others may build on is <stallwright/stallwright.h>. */
#ifndef STALLWRIGHT_EVERYTHING_H
#define STALLWRIGHT_EVERYTHING_H

#include <stallwright/band.h>
#include <stallwright/composition.h>
#include <stallwright/cook.h>
#include <stallwright/cook_grid.h>
#include <stallwright/cook_log.h>
#include <stallwright/cut_traits.h>
#include <stallwright/explanation.h>
#include <stallwright/heat_budget.h>
#include <stallwright/kinetics.h>
#include <stallwright/moist_air.h>
#include <stallwright/outcome.h>
#include <stallwright/part_file.h>
#include <stallwright/plan.h>
#include <stallwright/plan_pieces.h>
#include <stallwright/plateau.h>
#include <stallwright/population.h>
#include <stallwright/ranking.h>
#include <stallwright/results_file.h>
#include <stallwright/run.h>
#include <stallwright/safety.h>
#include <stallwright/scenario.h>
#include <stallwright/scenario_file.h>
#include <stallwright/scenario_keys.h>
#include <stallwright/sensitivity.h>
#include <stallwright/setup_scenario.h>
#include <stallwright/side_by_side.h>
#include <stallwright/study.h>
#include <stallwright/study_file.h>
#include <stallwright/text.h>
#include <stallwright/track.h>
#include <stallwright/track_file.h>
#include <stallwright/uncertain_input.h>
#include <stallwright/wrap_traits.h>

#include <stallwright/stallwright.h>

#endif
