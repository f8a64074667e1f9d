/* SPDX-License-Identifier: BSD-3-Clause */
#include "coarse_cook.h"

#include "run_cook.h"

sw_scenario coarse_scenario(void)
{
    sw_scenario s = pit_only_scenario();
    s.solver.cells = 12;
    s.solver.relative_tolerance = 1e-4;
    s.solver.surface_cell = 0.002;
    s.solver.output_interval = 300.0;
    return s;
}
