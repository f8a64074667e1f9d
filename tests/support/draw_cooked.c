/* SPDX-License-Identifier: BSD-3-Clause */
#include "draw_cooked.h"

#include "close.h"
#include "shared_context.h"

sw_outcome draw_cooked(sw_scenario scenario, bool coarse)
{
    sw_run run = {.label = ""};
    if (coarse)
        sw_population_coarsen(&scenario);
    run.scenario = scenario;
    for (int tries = 0; sw_run_cook(context, &run, NULL) == SW_ERR_SOLVER && tries < 2; tries++)
        run.scenario.solver.relative_tolerance *= 0.1;
    assert_int_equal(run.status, SW_OK);
    const sw_outcome outcome = run.outcome;
    sw_run_free(&run);
    return outcome;
}
