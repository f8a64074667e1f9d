/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/explanation.h>

#include <stdio.h>
#include <stdlib.h>

static void name_after(sw_run *run, sw_cause cause)
{
    snprintf(run->label, sizeof run->label, "%s", sw_cause_name(cause));
    for (char *at = run->label; *at; at++)
        *at = *at == '_' ? '-' : *at;
}

static sw_status run_change(sw_context *context, const sw_explanation *e, const sw_scenario *planned, sw_cause cause,
                            const sw_watch *watch, sw_changed_cook *c)
{
    c->run.scenario = *planned;
    name_after(&c->run, cause);
    c->is_no_change = !sw_cause_change(cause, &e->cook.history->scenario, &c->run.scenario);
    if (c->is_no_change)
        return SW_OK;
    c->run.status = sw_scenario_check(context, &c->run.scenario);
    c->is_impossible = c->run.status != SW_OK;
    if (!c->is_impossible)
        return sw_run_cook(context, &c->run, watch);
    snprintf(c->run.failure, sizeof c->run.failure, "%s", sw_context_message(context));
    return c->run.status;
}

static void size_common_explanations(sw_explanation *e)
{
    const double mass = e->cook.history->scenario.meat.mass;
    e->common[0] = (sw_common_explanation){
        .name = "fat melting and rendering",
        .source = "computed: the heat that melts the cut's fat, and all that rendered fat carries off",
        .low = e->heat.total.item[SW_HEAT_fat],
        .high = e->heat.total.item[SW_HEAT_fat]};
    /* The whole cut is counted as lean: more than there is. */
    e->common[1] = (sw_common_explanation){
        .name = "protein changing its form",
        .source = "3.0 to 3.9 J/g of wet muscle: Findlay and Stanley, J. Food Sci. 49 (1984) 1513, abstract",
        .low = 3.0e3 * mass, .high = 3.9e3 * mass};
    e->common[2] = (sw_common_explanation){
        .name = "collagen melting to gelatine",
        .source = "5 to 12 mg/g of muscle times 20 to 60 J/g of collagen: from memory, a range",
        .low = 5e-3 * 20e3 * mass, .high = 12e-3 * 60e3 * mass};
}

static void read_history(sw_explanation *e)
{
    const sw_history *h = e->cook.history;
    const sw_outcome *o = &e->cook.outcome;
    sw_heat_by_hour(h, o->done_time, &e->heat);
    sw_plateau_evaluate(h, o, &e->plateau);
    e->ending = sw_stall_ending_find(h, o, &e->plateau);
    e->slowest_rate = sw_slowest_mean_rate(h, o->done_time);
    size_common_explanations(e);
}

/* Only the end of all work ends the explanation: other failures are what it tells. */
static bool ends_work(sw_status status)
{
    return status == SW_ERR_CANCELLED || status == SW_ERR_MEMORY;
}

static sw_status explain(sw_context *context, const sw_scenario *scenario, const sw_watch *watch, sw_explanation *e)
{
    e->cook.scenario = *scenario;
    snprintf(e->cook.label, sizeof e->cook.label, "as-planned");
    sw_status status = sw_run_or_follow(context, &e->cook, watch, &e->never_ends, e->never_ends_reason);
    if (status != SW_OK)
        return status;
    read_history(e);
    for (int i = 0; i < SW_CAUSE_COUNT; i++) {
        status = run_change(context, e, scenario, (sw_cause)i, watch, &e->changed[i]);
        if (ends_work(status))
            return status;
    }
    return SW_OK;
}

sw_status sw_explain(sw_context *context, const sw_scenario *scenario, const sw_watch *watch, sw_explanation **explanation)
{
    sw_explanation *made = calloc(1, sizeof *made);
    if (!made)
        return sw_fail(context, SW_ERR_MEMORY, "memory for an explanation could not be allocated");
    sw_status status = explain(context, scenario, watch, made);
    if (status == SW_OK)
        *explanation = made;
    else
        sw_explanation_destroy(made);
    return status;
}

void sw_explanation_destroy(sw_explanation *explanation)
{
    if (!explanation)
        return;
    sw_run_free(&explanation->cook);
    for (int i = 0; i < SW_CAUSE_COUNT; i++)
        sw_run_free(&explanation->changed[i].run);
    free(explanation);
}
