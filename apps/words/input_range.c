/* SPDX-License-Identifier: BSD-3-Clause */
#include "input_range.h"

#include <stdio.h>

const char *show_input_range(const sw_sensitivity_row *row, sw_unit_system units, char *text)
{
    char figure[QUANTITY_SIZE];
    const sw_uncertainty *by = row->known;
    const sw_quantity quantity = sw_uncertain_input_quantity(row->input);
    if (by->kind == SW_UNCERTAINTY_FACTOR)
        snprintf(text, QUANTITY_SIZE, "x or / %.3g", by->deviation);
    else if (by->kind == SW_UNCERTAINTY_SHARE)
        snprintf(text, QUANTITY_SIZE, "+- %.3g %%", 100.0 * by->deviation);
    else if (quantity == SW_QUANTITY_TEMPERATURE || quantity == SW_QUANTITY_TEMPERATURE_DIFFERENCE)
        snprintf(text, QUANTITY_SIZE, "+- %.40s", show_temperature_difference(by->deviation, units, figure));
    else if (quantity == SW_QUANTITY_LENGTH)
        snprintf(text, QUANTITY_SIZE, "+- %.40s", show_length(by->deviation, units, figure));
    else
        snprintf(text, QUANTITY_SIZE, "+- %.3g", by->deviation);
    return text;
}
