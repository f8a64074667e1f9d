/* SPDX-License-Identifier: BSD-3-Clause */
#include "cooked.h"

#include <stallwright/explanation.h>

#include <stdlib.h>
#include <string.h>

enum { COOKS = SW_CAUSE_COUNT + 1 };

struct sw_account {
    sw_explanation *explanation;
    sw_cooked cooks[COOKS]; /* borrowed from it; without a history where there is none */
};

static void view(const sw_run *run, sw_cooked *cooked)
{
    if (run->status != SW_OK || !run->history)
        return;
    cooked->history = run->history;
    cooked->outcome = run->outcome;
}

sw_status sw_setup_explain(sw_context *context, const sw_setup *setup, sw_account **account)
{
    sw_account *made = calloc(1, sizeof *made);
    if (!made)
        return sw_fail(context, SW_ERR_MEMORY, "memory for an explanation could not be allocated");
    const sw_status status = sw_explain(context, &setup->scenario, NULL, &made->explanation);
    if (status != SW_OK) {
        free(made);
        return status;
    }
    view(&made->explanation->cook, &made->cooks[0]);
    for (int cause = 0; cause < SW_CAUSE_COUNT; cause++)
        view(&made->explanation->changed[cause].run, &made->cooks[cause + 1]);
    *account = made;
    return SW_OK;
}

void sw_account_destroy(sw_account *account)
{
    if (!account)
        return;
    sw_explanation_destroy(account->explanation);
    free(account);
}

const char *sw_account_ending(const sw_account *account)
{
    return sw_stall_ending_name(account->explanation->ending);
}

size_t sw_account_cook_count(void)
{
    return COOKS;
}

const char *sw_account_cook_name(size_t number)
{
    return number == 0 ? "planned" : number < COOKS ? sw_cause_name((sw_cause)(number - 1)) : NULL;
}

sw_status sw_account_cook(sw_context *context, const sw_account *account, const char *name, const sw_cooked **cooked)
{
    for (size_t i = 0; i < COOKS; i++)
        if (strcmp(sw_account_cook_name(i), name) == 0) {
            *cooked = account->cooks[i].history ? &account->cooks[i] : NULL;
            return SW_OK;
        }
    return sw_fail(context, SW_ERR_ARGUMENT, "\"%.60s\" is no cook of an explanation", name);
}

sw_status sw_account_hours(sw_context *context, const sw_account *account, const char *name, size_t room, double *values,
                           size_t *count)
{
    const sw_heat_hours *hours = &account->explanation->heat;
    const double *plain = strcmp(name, "start") == 0   ? hours->start
                          : strcmp(name, "end") == 0   ? hours->end
                          : strcmp(name, "probe") == 0 ? hours->probe
                                                       : NULL;
    int item = 0;
    while (item < SW_HEAT_ITEM_COUNT && strcmp(sw_heat_name((sw_heat_item)item), name) != 0)
        item++;
    if (!plain && item == SW_HEAT_ITEM_COUNT)
        return sw_fail(context, SW_ERR_ARGUMENT, "\"%.60s\" is no figure of an hour", name);
    *count = hours->count;
    for (size_t i = 0; room >= hours->count && i < hours->count; i++)
        values[i] = plain ? plain[i] : hours->heat[i].item[item];
    return SW_OK;
}
