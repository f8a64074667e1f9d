/* SPDX-License-Identifier: BSD-3-Clause */
/* Cooks a brisket in paper through the interface that lasts and prints its probe curve and outcome. */
#include <stallwright/stallwright.h>

#include <math.h>
#include <stdio.h>

static sw_status print_curve(sw_context *context, const sw_cooked *cooked)
{
    const double *time, *probe;
    size_t length;
    double next = 0.0;
    sw_status status = sw_cooked_curve(context, cooked, "time", &time, &length);
    if (status == SW_OK)
        status = sw_cooked_curve(context, cooked, "probe_temperature", &probe, &length);
    for (size_t i = 0; status == SW_OK && i < length; i++)
        if (time[i] >= next) {
            printf("%5.1f h  %5.1f C\n", time[i] / 3600.0, probe[i] - 273.15);
            next += 3600.0;
        }
    return status;
}

static sw_status print_outcome(sw_context *context, const sw_cooked *cooked)
{
    static const char *const names[] = {"stall_length", "done_time", "yield_fraction", "unmet_rules"};
    double figures[4];
    for (int i = 0; i < 4; i++) {
        const sw_status status = sw_cooked_figure(context, cooked, names[i], &figures[i]);
        if (status != SW_OK)
            return status;
    }
    /* A figure that does not exist is NaN. */
    if (isnan(figures[0]))
        printf("no stall\n");
    else
        printf("stall of %.1f h\n", figures[0] / 3600.0);
    printf("done after %.1f h, yield %.0f %%, rules of food safety not met: %.0f\n", figures[1] / 3600.0, 100.0 * figures[2],
           figures[3]);
    return SW_OK;
}

static sw_status cook(sw_context *context, sw_setup *setup)
{
    sw_cooked *cooked;
    sw_status status = sw_setup_set_word(context, setup, "wrap.kind", "paper");
    if (status == SW_OK)
        status = sw_setup_set_ending(context, setup, "wrap.when", "temperature", 71.0 + 273.15);
    if (status == SW_OK)
        status = sw_setup_set_number(context, setup, "meat.mass", 6.5);
    if (status == SW_OK)
        status = sw_setup_cook(context, setup, NULL, NULL, &cooked);
    if (status != SW_OK)
        return status;
    status = print_curve(context, cooked);
    if (status == SW_OK)
        status = print_outcome(context, cooked);
    sw_cooked_destroy(cooked);
    return status;
}

int main(void)
{
    sw_context *context;
    sw_setup *setup = NULL;
    if (sw_context_create(&context) != SW_OK)
        return 1;
    sw_status status = sw_setup_create(context, &setup);
    if (status == SW_OK)
        status = cook(context, setup);
    if (status != SW_OK)
        fprintf(stderr, "%s\n", sw_context_message(context));
    sw_setup_destroy(setup);
    sw_context_destroy(context);
    return status == SW_OK ? 0 : 1;
}
