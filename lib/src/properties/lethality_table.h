/* SPDX-License-Identifier: BSD-3-Clause */
/* Published tables of how long meat must stay at a temperature to be safe from Salmonella. Between rows nothing is
 * published: the row below counts. Below the first row no time is enough. */
#ifndef SW_LETHALITY_TABLE_H
#define SW_LETHALITY_TABLE_H

#include <stddef.h>

typedef struct sw_dwell {
    double temperature; /* [K] */
    double time;        /* to be kept there or above without a break [s]; 0: reached is enough */
} sw_dwell;

typedef struct sw_dwell_table {
    const sw_dwell *rows; /* temperatures rise, times do not */
    size_t count;
} sw_dwell_table;

/* FSIS Appendix A, columns of 6.5 and of 7 powers of ten. */
extern const sw_dwell_table sw_appendix_a_6_5_log;
extern const sw_dwell_table sw_appendix_a_7_log;

/* FDA Food Code 3-401.11(B)(2), whole meat roasts. */
extern const sw_dwell_table sw_food_code_roasts;

#endif
