/* SPDX-License-Identifier: BSD-3-Clause */
#include "story_page.h"

#include "drivers_page.h"
#include "explanation_words.h"
#include "json_explanation.h"
#include "page.h"
#include "page_cook.h"

static void put_paragraph(page *p, const char *name, const sw_explanation *e, void (*say)(const sw_explanation *, prose *))
{
    prose words;
    say(e, &words);
    page_prose(page_begin(p, name), &words);
}

static void put_changes(page *p, const sw_explanation *e)
{
    page_row rows[SW_CAUSE_COUNT + 1] = {{"as planned", &e->cook, e->never_ends, NULL}};
    size_t count = 1;
    for (int i = 0; i < SW_CAUSE_COUNT; i++)
        if (!e->changed[i].is_no_change)
            rows[count++] = (page_row){sw_cause_long_name((sw_cause)i), &e->changed[i].run, false, NULL};
    page_cooks_table(page_begin(p, "changes-table"), rows, count);
    page_text *t = page_begin(p, "changes-list");
    for (int i = 0; i < SW_CAUSE_COUNT; i++) {
        prose words;
        say_change(e, (sw_cause)i, &words);
        page_markup(t, "<li><strong>%s</strong>: ", sw_cause_long_name((sw_cause)i));
        page_prose(t, &words);
        page_markup(t, "</li>\n");
    }
}

static void put_common(page *p, const sw_explanation *e)
{
    prose words;
    prose_clear(&words);
    prose_add(&words, "evaporation takes {heat}", e->heat.total.item[SW_HEAT_evaporation]);
    page_prose(page_begin(p, "evaporation-heat"), &words);
    page_text *t = page_begin(p, "common-list");
    for (size_t i = 0; i < SW_COMMON_EXPLANATIONS; i++) {
        say_common(e, i, &words);
        page_markup(t, "<li><strong>%s</strong>: ", e->common[i].name);
        page_prose(t, &words);
        page_markup(t, " <small>(");
        page_escaped(t, e->common[i].source);
        page_markup(t, ")</small></li>\n");
    }
}

static void put_story_data(page *p, const sw_explanation *e)
{
    json_t *story = json_object(), *changes = json_array();
    json_add_explanation(story, e);
    page_data(p, "explanation", story);
    page_data(p, "planned", page_cook(&e->cook, e->never_ends, (page_detail){120, 0, false}));
    for (int i = 0; i < SW_CAUSE_COUNT; i++)
        if (!e->changed[i].is_no_change) {
            json_t *cook = page_cook(&e->changed[i].run, false, (page_detail){60, 0, false});
            json_object_set_new(cook, "words", json_string(sw_cause_long_name((sw_cause)i)));
            json_array_append_new(changes, cook);
        }
    page_data(p, "changes", changes);
}

/* The laboratory: what its controls are called. */
static void put_lab(page *p, const sw_cook_grid *g)
{
    static const struct {
        const char *label;
        prose_kind kind;
    } shown[SW_GRID_AXIS_COUNT] = {[SW_GRID_PIT] = {"Pit temperature", PROSE_TEMPERATURE},
                                   [SW_GRID_THICKNESS] = {"Thickness", PROSE_LENGTH},
                                   [SW_GRID_HUMIDITY] = {"Humidity ratio of the pit", PROSE_NUMBER},
                                   [SW_GRID_WRAP] = {"Wrap", PROSE_TEXT}};
    page_axis axes[SW_GRID_AXIS_COUNT];
    for (size_t i = 0; i < SW_GRID_AXIS_COUNT; i++) {
        const sw_grid_values *from = &g->axes[i];
        axes[i] = (page_axis){.label = shown[i].label, .kind = shown[i].kind, .count = from->count, .planned = from->planned};
        for (size_t k = 0; k < from->count; k++) {
            axes[i].values[k] = from->values[k];
            axes[i].words[k] = i == SW_GRID_WRAP ? sw_wrap_name((sw_wrap_kind)k) : NULL;
        }
    }
    page_lab(p, axes, SW_GRID_AXIS_COUNT, g->runs, g->never_ends);
}

/* How the laboratory was computed. */
static void put_method(page *p, const sw_cook_grid *g)
{
    page_text *t = page_begin(p, "lab-method");
    page_markup(t, g->is_coarse ? "They are computed more coarsely than the cook of the story, so their figures differ a little "
                                  "from it."
                                : "They are computed as finely as the cook of the story.");
}

int story_page_write(const command_options *o, const sw_explanation *e, const sw_cook_grid *g,
                     const sw_sensitivity *inputs)
{
    page *p = page_create(o);
    if (!p) {
        print_error("the page could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    page_common(p, &e->cook.history->scenario);
    page_meat(p, &e->cook.history->scenario, &e->cook.scenario.meat);
    page_probes(p, &(page_row){"as planned", &e->cook, e->never_ends, NULL}, 1);
    page_safety(p, &(page_row){"as planned", &e->cook, e->never_ends, NULL}, 1);
    put_paragraph(p, "course", e, say_course);
    put_paragraph(p, "heat", e, say_heat);
    put_paragraph(p, "share", e, say_share);
    put_paragraph(p, "plateau", e, say_plateau);
    put_paragraph(p, "water", e, say_water);
    put_paragraph(p, "ending", e, say_ending);
    if (inputs)
        put_drivers(p, inputs, &e->cook.outcome);
    put_common(p, e);
    put_changes(p, e);
    put_story_data(p, e);
    put_method(p, g);
    put_lab(p, g);
    return page_write(p, "explain.html");
}
