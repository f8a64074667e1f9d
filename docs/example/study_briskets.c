/* SPDX-License-Identifier: BSD-3-Clause */
/* Cooks the same brisket at several pit temperatures side by side, through the interface that lasts; a callback takes each as it is
 * done. */
#include <stallwright/stallwright.h>

#include <stdio.h>

enum { COOKS = 5, THREADS = 2 };

typedef struct answers {
    sw_context *context;
    double hours[COOKS];
    int failed;
} answers;

/* Called for one cook at a time, from either thread; the order is that in which they finish. */
static int take(size_t number, const sw_cooked *cooked, const char *failure, void *data)
{
    answers *a = (answers *)data;
    double done;
    if (failure) {
        fprintf(stderr, "cook %zu: %s\n", number, failure);
        a->failed++;
        return 0;
    }
    if (sw_cooked_figure(NULL, cooked, "done_time", &done) != SW_OK)
        return 1; /* stops the study */
    a->hours[number] = done / 3600.0;
    return 0;
}

static double pit_of(int number)
{
    return 110.0 + 10.0 * number + 273.15; /* [K] */
}

static sw_status make_setups(sw_context *context, sw_setup **setups)
{
    sw_status status = sw_setup_create(context, &setups[0]);
    if (status == SW_OK)
        status = sw_setup_set_number(context, setups[0], "solver.cells", 40.0);
    for (int i = 1; i < COOKS && status == SW_OK; i++)
        status = sw_setup_clone(context, setups[0], &setups[i]);
    for (int i = 0; i < COOKS && status == SW_OK; i++)
        status = sw_setup_set_number(context, setups[i], "pit.temperature", pit_of(i));
    return status;
}

int main(void)
{
    sw_setup *setups[COOKS] = {NULL, NULL, NULL, NULL, NULL};
    answers a = {NULL, {0.0, 0.0, 0.0, 0.0, 0.0}, 0};
    if (sw_context_create(&a.context) != SW_OK)
        return 1;
    sw_status status = make_setups(a.context, setups);
    if (status == SW_OK)
        status = sw_setups_cook(a.context, COOKS, (const sw_setup *const *)setups, THREADS, take, &a);
    if (status != SW_OK)
        fprintf(stderr, "%s\n", sw_context_message(a.context));
    for (int i = 0; i < COOKS && status == SW_OK; i++)
        printf("pit at %.0f C: done after %.1f h\n", pit_of(i) - 273.15, a.hours[i]);
    for (int i = 0; i < COOKS; i++)
        sw_setup_destroy(setups[i]);
    sw_context_destroy(a.context);
    return status == SW_OK && a.failed == 0 ? 0 : 1;
}
