/* SPDX-License-Identifier: BSD-3-Clause */
#include "run_cook.h"

#include "close.h"

sw_scenario reference_scenario(void)
{
    sw_scenario scenario;
    sw_scenario_init(&scenario);
    scenario.meat.thickness = 0.075;
    scenario.wrap.off_pit = 0.0;
    scenario.pit.convection = 6.5;
    scenario.pit.humidity_ratio = 0.02;
    sw_scenario_settle(&scenario);
    return scenario;
}

sw_scenario pit_only_scenario(void)
{
    sw_scenario scenario = reference_scenario();
    scenario.rest.until.kind = scenario.hold.until.kind = SW_ENDING_NONE;
    return scenario;
}

sw_outcome run_cook(const sw_scenario *scenario, sw_history **history)
{
    sw_context *context;
    sw_history *made = NULL;
    sw_outcome outcome;
    assert_int_equal(sw_context_create(&context), SW_OK);
    if (sw_cook_run(context, scenario, NULL, NULL, &made) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    sw_outcome_evaluate(made, &outcome);
    if (history)
        *history = made;
    else
        sw_history_destroy(made);
    sw_context_destroy(context);
    return outcome;
}
