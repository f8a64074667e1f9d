/* SPDX-License-Identifier: BSD-3-Clause */
#include "page.h"

#include "probe_table.h"

static void put_cell(page_text *t, prose_kind kind, double value, const char *absent)
{
    page_markup(t, "<td>");
    if (SW_IS_ABSENT(value))
        page_markup(t, "%s", absent);
    else
        page_quantity(t, kind, value);
    page_markup(t, "</td>");
}

static void put_headings(page_text *t)
{
    page_markup(t, "<div class=\"scroll\"><table class=\"probes\"><thead><tr><th scope=\"col\">probe</th>"
                   "<th scope=\"col\">stall after</th><th scope=\"col\">lasts</th>");
    for (size_t i = 0; i < PROBE_MILESTONE_COUNT; i++) {
        page_markup(t, "<th scope=\"col\">");
        page_quantity(t, PROSE_TEMPERATURE, probe_milestones[i]);
        page_markup(t, "</th>");
    }
    page_markup(t, "<th scope=\"col\">done after</th><th scope=\"col\">at the pull</th>"
                   "<th scope=\"col\">pulled by it</th></tr></thead><tbody>\n");
}

void page_probes(page *p, const page_row *rows, size_t count)
{
    page_text *t = page_begin(p, "probes");
    bool any = false;
    for (size_t i = 0; i < count; i++) {
        const sw_run *run = rows[i].run;
        if (run->status != SW_OK || !run->history || run->outcome.probe_count < 2)
            continue;
        if (!any)
            put_headings(t);
        any = true;
        for (size_t number = 0; number < run->outcome.probe_count; number++) {
            const sw_probe_outcome *o = &run->outcome.probes[number];
            const bool pulls = pulling_probe(run) && sw_history_deciding_probe(run->history, run->outcome.done_time) == number;
            page_markup(t, "<tr><th scope=\"row\">");
            page_escaped(t, rows[i].words);
            page_markup(t, ", ");
            page_escaped(t, run->history->probes[number].name);
            page_markup(t, "</th>");
            put_cell(t, PROSE_DURATION, o->stall_start, "no stall");
            put_cell(t, PROSE_DURATION, o->stall_length, "-");
            for (size_t k = 0; k < PROBE_MILESTONE_COUNT; k++)
                put_cell(t, PROSE_DURATION, first_reading(o, probe_milestones[k]), "-");
            put_cell(t, PROSE_DURATION, rows[i].never_ends ? SW_ABSENT : o->done_time, "-");
            put_cell(t, PROSE_TEMPERATURE, rows[i].never_ends ? SW_ABSENT : o->at_pull, "-");
            page_markup(t, "<td>%s</td></tr>\n", pulls && !rows[i].never_ends ? "yes" : "");
        }
    }
    if (any)
        page_markup(t, "</tbody></table></div>");
}
