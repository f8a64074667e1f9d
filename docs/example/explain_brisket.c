/* SPDX-License-Identifier: BSD-3-Clause */
/* Says why a brisket stalls, through the interface that lasts: the heat of each hour, what ends the stall, and the same cook with one
 * cause changed at a time. */
#include <stallwright/stallwright.h>

#include <math.h>
#include <stdio.h>

enum { HOURS = 48 };

static sw_status print_hours(sw_context *context, const sw_account *account)
{
    static const char *const names[] = {"end", "probe", "air", "radiation", "evaporation"};
    double told[5][HOURS];
    size_t count = 0;
    for (int i = 0; i < 5; i++) {
        const sw_status status = sw_account_hours(context, account, names[i], HOURS, told[i], &count);
        if (status != SW_OK)
            return status;
    }
    printf("until   probe    heat in   evaporates\n");
    for (size_t i = 0; i < count && count <= HOURS; i++) {
        const double received = told[2][i] + told[3][i];
        printf("%4.1f h  %5.1f C  %5.0f kJ  %5.0f %%\n", told[0][i] / 3600.0, told[1][i] - 273.15, received / 1000.0,
               100.0 * told[4][i] / received);
    }
    return SW_OK;
}

static sw_status print_cook(sw_context *context, const char *name, const sw_cooked *cooked)
{
    double done, stall;
    sw_status status = sw_cooked_figure(context, cooked, "done_time", &done);
    if (status == SW_OK)
        status = sw_cooked_figure(context, cooked, "stall_length", &stall);
    if (status != SW_OK)
        return status;
    if (isnan(stall))
        printf("%-24s done after %4.1f h, no stall\n", name, done / 3600.0);
    else
        printf("%-24s done after %4.1f h, stall of %.1f h\n", name, done / 3600.0, stall / 3600.0);
    return SW_OK;
}

static sw_status print_account(sw_context *context, const sw_account *account)
{
    sw_status status = print_hours(context, account);
    printf("what ends the stall: %s\n\n", sw_account_ending(account));
    for (size_t i = 0; i < sw_account_cook_count() && status == SW_OK; i++) {
        const sw_cooked *cooked;
        const char *name = sw_account_cook_name(i);
        status = sw_account_cook(context, account, name, &cooked);
        if (status == SW_OK && cooked)
            status = print_cook(context, name, cooked);
    }
    return status;
}

int main(void)
{
    sw_context *context;
    sw_setup *setup = NULL;
    sw_account *account = NULL;
    if (sw_context_create(&context) != SW_OK)
        return 1;
    sw_status status = sw_setup_create(context, &setup);
    if (status == SW_OK)
        status = sw_setup_explain(context, setup, &account);
    if (status == SW_OK)
        status = print_account(context, account);
    if (status != SW_OK)
        fprintf(stderr, "%s\n", sw_context_message(context));
    sw_account_destroy(account);
    sw_setup_destroy(setup);
    sw_context_destroy(context);
    return status == SW_OK ? 0 : 1;
}
