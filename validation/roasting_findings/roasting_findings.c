/* SPDX-License-Identifier: BSD-3-Clause */
/* What roasting studies found in kind: more or less, before or after. */
#include "cases.h"

#include "cook_case.h"

void validate_roasting_findings(report_case *c)
{
    c->folder = "roasting_findings";
    c->title = "Findings of roasting studies, in kind";
    add_cook_rows(c, "rows.csv");
}
