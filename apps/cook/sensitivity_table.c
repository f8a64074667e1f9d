/* SPDX-License-Identifier: BSD-3-Clause */
#include "sensitivity_table.h"

#include "input_range.h"
#include "quantity.h"
#include "table.h"

#include <math.h>
#include <stdio.h>

/* "+0.42" hours or per cent; what rounds to nothing is "0.00". */
static const char *show_change(double value, int figure, char *text)
{
    const double shown = figure == SW_SENSITIVE_yield ? 100.0 * value : value / 3600.0;
    const int decimals = figure == SW_SENSITIVE_yield ? 1 : 2;
    if (SW_IS_ABSENT(value))
        snprintf(text, QUANTITY_SIZE, "-");
    else if (fabs(shown) < 0.5 * pow(10.0, -decimals))
        snprintf(text, QUANTITY_SIZE, "%.*f", decimals, 0.0);
    else
        snprintf(text, QUANTITY_SIZE, "%+.*f", decimals, shown);
    return text;
}

static const char *show_straightness(const sw_sensitivity_row *row)
{
    for (int f = 0; f < SW_SENSITIVE_COUNT; f++) {
        const sw_change *c = &row->changes[f];
        if (!SW_IS_ABSENT(c->slope) && !SW_IS_ABSENT(c->half_slope) && !sw_change_is_straight(c, (sw_sensitive)f))
            return "bent";
    }
    return "straight";
}

void print_sensitivity(const sw_sensitivity *s, sw_unit_system units)
{
    static const char *const headings[] = {"input", "range", "done, h", "", "stall, h", "", "yield, %", "", "answer"};
    table t = {0};
    char text[QUANTITY_SIZE];
    t.has_heading = true;
    for (size_t i = 0; i < sizeof headings / sizeof *headings; i++)
        table_set(&t, 0, i, headings[i]);
    for (size_t i = 0; i < s->row_count; i++) {
        const sw_sensitivity_row *row = &s->rows[i];
        table_set(&t, i + 1, 0, row->input->name);
        table_set(&t, i + 1, 1, show_input_range(row, units, text));
        for (size_t f = 0; f < SW_SENSITIVE_COUNT; f++) {
            table_set(&t, i + 1, 2 + 2 * f, show_change(row->changes[f].low, (int)f, text));
            table_set(&t, i + 1, 3 + 2 * f, show_change(row->changes[f].high, (int)f, text));
        }
        table_set(&t, i + 1, 8, show_straightness(row));
    }
    size_t last = s->row_count + 1;
    table_set(&t, last, 0, "together, if independent");
    for (size_t f = 0; f < SW_SENSITIVE_COUNT; f++)
        table_set(&t, last, 3 + 2 * f, show_change(s->together[f], (int)f, text));
    printf("\nHow uncertain this is: change at the pull with each input one standard range\n"
           "lower (left) and higher (right). bent: half the range does not change half as much.\n\n");
    table_print(&t, false, stdout);
    printf("\nThe ranges say how well each input is known, not how wrong the model is.\n");
}
