/* SPDX-License-Identifier: BSD-3-Clause */
/* The cooks of a sweep that a page has room for, chosen evenly: of a grid fewer values of its longest factors, so that it
 * stays a grid; of a random design fewer cooks. */
#ifndef SW_APPS_SWEEP_SUBSET_H
#define SW_APPS_SWEEP_SUBSET_H

#include <stallwright/everything.h>

typedef struct sweep_subset {
    size_t axis_count;
    size_t all[SW_STUDY_FACTORS_MAX], kept[SW_STUDY_FACTORS_MAX]; /* values of each axis */
    size_t count;                                                 /* product of those kept */
} sweep_subset;

/* Of a study: the axes are the factors of a grid; a random design has one, its runs. */
sweep_subset sweep_subset_of(const sw_study *study, size_t most, size_t most_of_an_axis);

/* Of a subset, further thinned. */
sweep_subset sweep_subset_thin(const sweep_subset *whole, size_t most);

/* The place among all of an axis of one that is kept. */
size_t sweep_subset_value(const sweep_subset *subset, size_t axis, size_t number);

/* The number, in the whole that was thinned, of one that is kept; the last axis runs fastest in both. */
size_t sweep_subset_member(const sweep_subset *subset, size_t number);

#endif
