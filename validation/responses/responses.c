/* SPDX-License-Identifier: BSD-3-Clause */
/* What a cook does when one thing is changed. */
#include "cases.h"

#include "cook_case.h"

void validate_responses(report_case *c)
{
    c->folder = "responses";
    c->title = "Responses";
    add_cook_rows(c, "rows.csv");
}
