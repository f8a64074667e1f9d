/* SPDX-License-Identifier: BSD-3-Clause */
#include "page.h"

#include "food_safety.h"
#include "quality_table.h"

static void put_cell(page_text *t, prose_kind kind, double value)
{
    page_markup(t, "<td>");
    page_quantity(t, kind, value);
    page_markup(t, "</td>");
}

/* Which rules are not met, by what they are about; the sentences stand in the section on food safety. */
static void put_safety(page_text *t, const sw_safety *safety)
{
    safety_warning warnings[SW_SAFETY_RULE_COUNT];
    const size_t found = safety_warnings(&(judged_cook){"", safety}, 1, warnings);
    page_markup(t, "<td class=\"words\">");
    for (size_t i = 0; i < found; i++)
        page_markup(t, "%s%s", i == 0 ? "<a href=\"#food-safety\">not met</a>: " : ", ", safety_subject(warnings[i].rule));
    page_markup(t, found == 0 ? "no rule is broken</td>" : "</td>");
}

static void put_choice(page_text *t, const page_row *row)
{
    const sw_outcome *o = &row->run->outcome;
    char words[QUANTITY_SIZE];
    page_markup(t, "<tr><th scope=\"row\">");
    page_escaped(t, row->words);
    page_markup(t, "</th>");
    put_cell(t, PROSE_NUMBER, o->bark);
    page_markup(t, "<td>");
    page_worded(t, show_tenderness(o, words), words);
    page_markup(t, "</td>");
    put_cell(t, PROSE_SHARE, o->yield_fraction);
    put_cell(t, PROSE_MASS, o->kept_juice_mass + o->kept_fat_mass);
    put_safety(t, &row->run->safety);
    page_markup(t, "</tr>\n");
}

void page_quality(page *p, const page_row *rows, size_t count)
{
    page_text *t = page_begin(p, "quality");
    page_markup(t, "<div class=\"scroll\"><table class=\"quality\"><thead><tr><th scope=\"col\">how it turns out</th>"
                   "<th scope=\"col\">bark index</th><th scope=\"col\">tender, collagen</th>"
                   "<th scope=\"col\">yield when sliced</th><th scope=\"col\">kept in the wrap</th>"
                   "<th scope=\"col\" class=\"words\">food safety</th></tr></thead><tbody>\n");
    for (size_t i = 0; i < count; i++)
        if (rows[i].run->status == SW_OK)
            put_choice(t, &rows[i]);
    page_markup(t, "</tbody></table></div>\n"
                   "<p class=\"hint\">The bark index runs from 0 to 1, to compare choices with: no measure of taste or "
                   "colour.</p>\n");
}
