/* SPDX-License-Identifier: BSD-3-Clause */
#include "drivers_page.h"

#include "input_range.h"

#include <math.h>
#include <stdlib.h>

enum { DRIVERS_MAX = 8 };

/* The figure that is moved: the stall, if there is one. */
static sw_sensitive moved_figure(const sw_outcome *planned)
{
    return SW_IS_ABSENT(planned->stall_length) ? SW_SENSITIVE_done : SW_SENSITIVE_stall;
}

static double size_of(const sw_sensitivity_row *row, sw_sensitive figure)
{
    const double slope = row->changes[figure].slope;
    return SW_IS_ABSENT(slope) ? 0.0 : fabs(slope);
}

/* The inputs that move it by more than two minutes, the largest first; how many. */
static size_t choose(const sw_sensitivity *s, sw_sensitive figure, const sw_sensitivity_row *chosen[DRIVERS_MAX])
{
    size_t count = 0;
    for (size_t i = 0; i < s->row_count; i++) {
        const sw_sensitivity_row *row = &s->rows[i];
        size_t at = count;
        if (size_of(row, figure) < 120.0)
            continue;
        while (at > 0 && size_of(row, figure) > size_of(chosen[at - 1], figure))
            at--;
        if (at == DRIVERS_MAX)
            continue;
        if (count < DRIVERS_MAX)
            count++;
        for (size_t k = count - 1; k > at; k--)
            chosen[k] = chosen[k - 1];
        chosen[at] = row;
    }
    return count;
}

static void put_change(page_text *t, double change)
{
    page_markup(t, "<td>%s", change > 0.0 ? "+" : "");
    page_quantity(t, PROSE_DURATION, change);
    page_markup(t, "</td>");
}

static void put_driver(page_text *t, const sw_sensitivity_row *row, sw_sensitive figure)
{
    char si[QUANTITY_SIZE], us[QUANTITY_SIZE];
    page_markup(t, "<tr><th scope=\"row\"><code>");
    page_escaped(t, row->input->name);
    page_markup(t, "</code></th><td>");
    page_worded(t, show_input_range(row, SW_UNITS_SI, si), show_input_range(row, SW_UNITS_US, us));
    page_markup(t, "</td>");
    put_change(t, row->changes[figure].low);
    put_change(t, row->changes[figure].high);
    page_markup(t, "<td class=\"words\">");
    page_escaped(t, row->known->source);
    page_markup(t, "</td></tr>\n");
}

void put_drivers(page *p, const sw_sensitivity *s, const sw_outcome *planned)
{
    const sw_sensitive figure = moved_figure(planned);
    const char *what = figure == SW_SENSITIVE_stall ? "stall" : "done time";
    const sw_sensitivity_row *chosen[DRIVERS_MAX];
    const size_t count = choose(s, figure, chosen);
    page_text *t = page_begin(p, "drivers");
    page_markup(t, "<h3>Which settings drive it, and how well they are known</h3>\n");
    if (count == 0) {
        page_markup(t, "<p>No setting moves it by more than two minutes within its range.</p>\n");
        return;
    }
    page_markup(t, "<p>Each setting moved by one standard range, down and up, the rest as planned: what moves most comes first."
                   "</p>\n<div class=\"scroll\"><table class=\"drivers quality\"><thead><tr><th scope=\"col\">setting</th>"
                   "<th scope=\"col\">its range</th><th scope=\"col\">%s with it lower</th>"
                   "<th scope=\"col\">%s with it higher</th><th scope=\"col\" class=\"words\">the range is</th>"
                   "</tr></thead><tbody>\n", what, what);
    for (size_t i = 0; i < count; i++)
        put_driver(t, chosen[i], figure);
    page_markup(t, "</tbody></table></div>\n<p class=\"hint\">The ranges say how well each setting is known, not how wrong "
                   "the model is. <code>stallwright cook --sensitivity</code> has all of them.</p>\n");
}
