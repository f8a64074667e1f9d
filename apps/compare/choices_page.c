/* SPDX-License-Identifier: BSD-3-Clause */
#include "choices_page.h"

#include "page.h"
#include "json_output.h"
#include "page_cook.h"

int choices_page_write(const command_options *o, const sw_scenario *modelled, const sw_run *runs, const sw_band *const *bands,
                       size_t count)
{
    page *p = page_create(o);
    page_row rows[CHOICES_PAGE_MAX];
    page_axis choice = {.label = "Choice", .kind = PROSE_TEXT, .count = count};
    if (!p) {
        print_error("the page could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    json_t *changes = json_array();
    /* The page opens with the first choice that there is something to show of. */
    while (choice.planned + 1 < count && !runs[choice.planned].history)
        choice.planned++;
    page_common(p, modelled);
    page_meat(p, modelled, &runs[0].scenario.meat);
    for (size_t i = 0; i < count && i < CHOICES_PAGE_MAX; i++) {
        rows[i] = (page_row){runs[i].label, &runs[i], false, bands[i]};
        choice.words[i] = runs[i].label;
        json_t *cook = page_cook(&runs[i], false, (page_detail){60, 0, false});
        json_object_set_new(cook, "words", json_string(runs[i].label));
        json_object_set_new(cook, "band", json_band(bands[i]));
        json_array_append_new(changes, cook);
    }
    page_data(p, "changes", changes);
    page_cooks_table(page_begin(p, "changes-table"), rows, count);
    page_text *band = page_begin(p, "band");
    if (bands[0])
        page_markup(band, "<p>Four in five: no two cooks are alike, and four of five stated like these are done within these hours. "
                          "That is how cooks differ in what is not stated; the error of the model comes on top.</p>");
    page_quality(p, rows, count);
    page_probes(p, rows, count);
    page_safety(p, rows, count);
    page_text *t = page_begin(p, "failures");
    for (size_t i = 0; i < count; i++)
        if (runs[i].status != SW_OK) {
            page_markup(t, "<p><strong>");
            page_escaped(t, runs[i].label);
            page_markup(t, "</strong> failed: ");
            page_escaped(t, runs[i].failure);
            page_markup(t, ".</p>\n");
        }
    page_markup(page_begin(p, "lab-method"), "They are the choices of the table.");
    page_lab(p, &choice, 1, runs, NULL);
    return page_write(p, "compare.html");
}
