/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook is the same to the bit whatever was cooked before it with the same context, whose tables it may have. */
#include "close.h"

#include "coarse_cook.h"

#include <string.h>

static const double zero_celsius = 273.15;

/* Keys that tables depend on, one by one, and a fat cap, which has tables of its own. */
static void vary(sw_scenario *s, int which)
{
    sw_meat *m = &s->meat;
    switch (which) {
    case 0: m->initial_temperature = zero_celsius + 9.0; break;
    case 1: s->pit.altitude = 800.0; break;
    case 2: m->permeability *= 3.0; break;
    case 3: m->water_holding_temperature += 3.0; break;
    case 4: m->water_holding_loss *= 0.9; break;
    case 5: m->late_water_loss *= 0.5; break;
    case 6: m->late_water_loss_temperature += 3.0; break;
    case 7: m->juice_runoff_time *= 2.0; break;
    case 8: m->bark_openness *= 2.0; break;
    case 9: m->water_diffusivity *= 2.0; break;
    case 10: m->fat_rendering = 2.0; break;
    case 11: m->composition = (sw_composition){.water = 0.66, .protein = 0.19, .fat = 0.14, .ash = 0.01}; break;
    case 12: m->fat_cap_thickness = 0.006; break;
    default: break;
    }
}

enum { VARIATIONS = 13 };

static sw_history *cook(sw_context *context, const sw_scenario *s)
{
    sw_history *made = NULL;
    if (sw_cook_run(context, s, NULL, NULL, &made) != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return made;
}

static bool are_same(const sw_history *a, const sw_history *b)
{
    bool same = a->row_count == b->row_count;
    for (int i = 0; same && i < SW_SERIES_COUNT; i++)
        same = memcmp(a->series[i], b->series[i], a->row_count * sizeof(double)) == 0;
    return same && memcmp(&a->budget, &b->budget, sizeof a->budget) == 0;
}

static void test_same_cook_with_any_context(void **state)
{
    (void)state;
    sw_context *used;
    assert_int_equal(sw_context_create(&used), SW_OK);
    const sw_scenario base = coarse_scenario();
    sw_history *first = cook(used, &base);
    for (int i = 0; i < VARIATIONS; i++) {
        sw_scenario varied = base;
        vary(&varied, i);
        sw_context *fresh;
        assert_int_equal(sw_context_create(&fresh), SW_OK);
        sw_history *alone = cook(fresh, &varied), *after = cook(used, &varied), *again = cook(used, &base);
        if (!are_same(alone, after))
            fail_msg("variation %d is another cook after others", i);
        if (are_same(alone, first))
            fail_msg("variation %d changes nothing", i);
        if (!are_same(first, again))
            fail_msg("the first cook is another one after variation %d", i);
        sw_context_destroy(fresh); /* the history does not need it */
        sw_history_destroy(alone);
        sw_history_destroy(after);
        sw_history_destroy(again);
    }
    sw_context_destroy(used);
    sw_history_destroy(first);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_same_cook_with_any_context)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
