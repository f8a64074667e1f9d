/* SPDX-License-Identifier: BSD-3-Clause */
/* What a study holds. Read only once it is described. */
#ifndef SW_STUDY_STUDY_INTERNAL_H
#define SW_STUDY_STUDY_INTERNAL_H

#include "factor.h"

struct sw_study {
    sw_scenario base;
    size_t factor_count;
    sw_factor factors[SW_STUDY_FACTORS_MAX];
    sw_design design;
    size_t run_count;
    uint64_t seed;
};

#endif
