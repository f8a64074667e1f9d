/* SPDX-License-Identifier: BSD-3-Clause */
#include "page.h"

#include "food_safety.h"
#include "missing.h"

static void put_warning(page_text *t, const safety_warning *w)
{
    char si[SAFETY_TEXT_SIZE], us[SAFETY_TEXT_SIZE];
    const char *label = w->label[0] ? w->label : NULL;
    page_markup(t, "<li>");
    page_worded(t, show_safety_finding(w->rule, w->safety, label, SW_UNITS_SI, si),
                show_safety_finding(w->rule, w->safety, label, SW_UNITS_US, us));
    page_markup(t, "</li>\n");
}

/* Hours that were missed and phases that do not end. */
static void put_missing(page_text *t, const page_row *row, bool is_alone)
{
    const sw_history *h = row->run->history;
    prose said;
    for (size_t i = 0; h && i < h->missing_count; i++) {
        page_markup(t, "<p class=\"notice\">");
        if (!is_alone) {
            page_markup(t, "<strong>");
            page_escaped(t, row->words);
            page_markup(t, "</strong>: ");
        }
        say_missing(&h->scenario, &h->missing[i], &said);
        page_prose(t, &said);
        page_markup(t, "</p>\n");
    }
}

/* Which cooks break a rule, in a few words. */
static const char *tell_broken(const judged_cook *judged, size_t count, const safety_warning *warnings, size_t found)
{
    safety_warning of_one[SW_SAFETY_RULE_COUNT];
    size_t warned = 0;
    bool only_oven = true;
    for (size_t i = 0; i < found; i++)
        only_oven = only_oven && is_oven_only(&warnings[i]);
    if (only_oven)
        return "one rule is not met, that of the Food Code on the oven. ";
    for (size_t i = 0; i < count; i++)
        warned += safety_warnings(&judged[i], 1, of_one) > 0;
    return count == 1          ? "this cook does not meet a rule. "
           : warned == count ? "every one of these cooks breaks a rule. "
                             : "some of these cooks break a rule. ";
}

void page_safety(page *p, const page_row *rows, size_t count)
{
    static safety_warning warnings[JUDGED_MAX * SW_SAFETY_RULE_COUNT];
    judged_cook judged[JUDGED_MAX] = {{NULL, NULL}};
    size_t judged_count = 0;
    for (size_t i = 0; i < count && judged_count < JUDGED_MAX; i++)
        if (rows[i].run->history && !rows[i].never_ends)
            judged[judged_count++] = (judged_cook){rows[i].words, &rows[i].run->safety};
    const size_t found = safety_warnings(judged, judged_count, warnings);
    page_text *t = page_begin(p, "safety");
    page_markup(t, "<ul class=\"warnings\">\n");
    for (size_t i = 0; i < found; i++)
        put_warning(t, &warnings[i]);
    if (judged_count == 0)
        page_markup(t, "<li>Nothing was judged: no cook was finished.</li>\n");
    else if (found == 0)
        page_markup(t, "<li>Of the rules that were judged, none is broken by what was computed. "
                       "<code>stallwright cook --verbose</code> shows each, and which could not be judged.</li>\n");
    page_markup(t, "</ul>\n");
    t = page_begin(p, "safety-note");
    for (size_t i = 0; i < count; i++)
        put_missing(t, &rows[i], count == 1);
    if (found == 0)
        return;
    page_markup(t, "<p class=\"notice\"><strong>Food safety:</strong> %s",
                tell_broken(judged, judged_count, warnings, found));
    page_markup(t, "<a href=\"#food-safety\">Read which</a>.</p>\n");
}
