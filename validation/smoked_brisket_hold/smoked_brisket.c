/* SPDX-License-Identifier: BSD-3-Clause */
/* Whole briskets smoked to a core of 85 C and held for 3 h. */
#include "cases.h"

#include "cook_case.h"

void validate_smoked_brisket(report_case *c)
{
    c->folder = "smoked_brisket_hold";
    c->title = "Smoked whole briskets, held 3 h";
    add_cook_rows(c, "rows.csv");
}
