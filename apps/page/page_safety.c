#include "page.h"

#include "food_safety.h"
#include "missing.h"

static void put_warning(page_text *t, const page_row *row, sw_safety_rule rule, bool is_alone)
{
    char si[SAFETY_TEXT_SIZE], us[SAFETY_TEXT_SIZE];
    const sw_safety_finding *f = &row->run->safety.findings[rule];
    const char *label = is_alone ? NULL : row->words;
    page_markup(t, "<li>");
    page_worded(t, show_safety_finding(rule, f, label, SW_UNITS_SI, si), show_safety_finding(rule, f, label, SW_UNITS_US, us));
    page_markup(t, "</li>\n");
}

/* Of one cook; how many warnings. */
static size_t put_warnings(page_text *t, const page_row *row, bool is_alone)
{
    sw_safety_rule rules[SW_SAFETY_RULE_COUNT];
    const size_t count = safety_warnings(&row->run->safety, rules);
    for (size_t i = 0; i < count; i++)
        put_warning(t, row, rules[i], is_alone);
    return count;
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

void page_safety(page *p, const page_row *rows, size_t count)
{
    size_t judged = 0, warnings = 0, warned = 0;
    page_text *t = page_begin(p, "safety");
    page_markup(t, "<ul class=\"warnings\">\n");
    for (size_t i = 0; i < count; i++) {
        const bool is_judged = rows[i].run->history && !rows[i].never_ends;
        const size_t of_this = is_judged ? put_warnings(t, &rows[i], count == 1) : 0;
        judged += is_judged;
        warnings += of_this;
        warned += of_this > 0;
    }
    if (judged == 0)
        page_markup(t, "<li>Nothing was judged: no cook was finished.</li>\n");
    else if (warnings == 0)
        page_markup(t, "<li>Of the rules that were judged, none is broken by what was computed. "
                       "<code>stallwright cook --verbose</code> tells each, and which could not be judged.</li>\n");
    page_markup(t, "</ul>\n");
    t = page_begin(p, "safety-note");
    for (size_t i = 0; i < count; i++)
        put_missing(t, &rows[i], count == 1);
    if (warnings == 0)
        return;
    page_markup(t, "<p class=\"notice\"><strong>Food safety:</strong> ");
    if (count == 1)
        page_markup(t, "this cook does not meet a rule. ");
    else if (warned == judged)
        page_markup(t, "every one of these cooks breaks a rule. ");
    else
        page_markup(t, "some of these cooks break a rule. ");
    page_markup(t, "<a href=\"#food-safety\">Read which</a>.</p>\n");
}
