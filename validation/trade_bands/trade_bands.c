/* SPDX-License-Identifier: BSD-3-Clause */
/* What is said of briskets: common practice, no source. */
#include "cases.h"

#include "cook_case.h"

void validate_trade_bands(report_case *c)
{
    c->folder = "trade_bands";
    c->title = "Bands of the trade";
    add_cook_rows(c, "rows.csv");
}
