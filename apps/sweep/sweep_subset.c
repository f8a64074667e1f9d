/* SPDX-License-Identifier: BSD-3-Clause */
#include "sweep_subset.h"

/* Thins the longest axis value by value. */
static void thin(sweep_subset *s, size_t most)
{
    for (;;) {
        double product = 1.0;
        size_t longest = 0;
        for (size_t i = 0; i < s->axis_count; i++) {
            product *= (double)s->kept[i];
            longest = s->kept[i] > s->kept[longest] ? i : longest;
        }
        if (product <= (double)most || s->kept[longest] <= 1) {
            s->count = (size_t)product;
            return;
        }
        s->kept[longest]--;
    }
}

sweep_subset sweep_subset_of(const sw_study *study, size_t most, size_t most_of_an_axis)
{
    sweep_subset s = {.axis_count = 1};
    s.all[0] = sw_study_run_count(study);
    if (sw_study_design(study) == SW_DESIGN_GRID && sw_study_factor_count(study) > 0) {
        s.axis_count = sw_study_factor_count(study);
        for (size_t i = 0; i < s.axis_count; i++)
            s.all[i] = sw_study_factor(study, i).value_count;
    }
    for (size_t i = 0; i < s.axis_count; i++)
        s.kept[i] = s.all[i] < most_of_an_axis ? s.all[i] : most_of_an_axis;
    thin(&s, most);
    return s;
}

sweep_subset sweep_subset_thin(const sweep_subset *whole, size_t most)
{
    sweep_subset s = {.axis_count = whole->axis_count};
    for (size_t i = 0; i < s.axis_count; i++)
        s.all[i] = s.kept[i] = whole->kept[i];
    thin(&s, most);
    return s;
}

size_t sweep_subset_value(const sweep_subset *s, size_t axis, size_t number)
{
    const size_t kept = s->kept[axis], all = s->all[axis];
    return kept > 1 ? (number * (all - 1) + (kept - 1) / 2) / (kept - 1) : 0;
}

size_t sweep_subset_member(const sweep_subset *s, size_t number)
{
    size_t member = 0, weight = 1;
    for (size_t i = s->axis_count; i-- > 0; weight *= s->all[i], number /= s->kept[i])
        member += weight * sweep_subset_value(s, i, number % s->kept[i]);
    return member;
}
