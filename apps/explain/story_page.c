#include "story_page.h"

#include "json_explanation.h"
#include "page_cook.h"

static void put_paragraph(page *p, const char *name, const explanation *e, void (*say)(const explanation *, prose *))
{
    prose words;
    say(e, &words);
    page_prose(page_begin(p, name), &words);
}

static void put_changes(page *p, const explanation *e)
{
    page_row rows[CAUSE_COUNT + 1] = {{"as planned", &e->cook, e->never_ends}};
    size_t count = 1;
    for (int i = 0; i < CAUSE_COUNT; i++)
        if (!e->changed[i].is_no_change)
            rows[count++] = (page_row){cause_words((cause)i), &e->changed[i].run, false};
    page_cooks_table(page_begin(p, "changes-table"), rows, count);
    page_text *t = page_begin(p, "changes-list");
    for (int i = 0; i < CAUSE_COUNT; i++) {
        prose words;
        say_change(e, (cause)i, &words);
        page_markup(t, "<li><strong>%s</strong>: ", cause_words((cause)i));
        page_prose(t, &words);
        page_markup(t, "</li>\n");
    }
}

static void put_common(page *p, const explanation *e)
{
    prose words;
    prose_clear(&words);
    prose_add(&words, "evaporation takes {heat}", e->total.item[HEAT_evaporation]);
    page_prose(page_begin(p, "evaporation-heat"), &words);
    page_text *t = page_begin(p, "common-list");
    for (size_t i = 0; i < COMMON_EXPLANATIONS; i++) {
        say_common(e, i, &words);
        page_markup(t, "<li><strong>%s</strong>: ", e->common[i].name);
        page_prose(t, &words);
        page_markup(t, " <small>(");
        page_escaped(t, e->common[i].source);
        page_markup(t, ")</small></li>\n");
    }
}

static void put_story_data(page *p, const explanation *e)
{
    json_t *story = json_object(), *changes = json_array();
    json_add_explanation(story, e);
    page_data(p, "explanation", story);
    page_data(p, "planned", page_cook(&e->cook, e->never_ends, (page_detail){120, 0}));
    for (int i = 0; i < CAUSE_COUNT; i++)
        if (!e->changed[i].is_no_change) {
            json_t *cook = page_cook(&e->changed[i].run, false, (page_detail){60, 0});
            json_object_set_new(cook, "words", json_string(cause_words((cause)i)));
            json_array_append_new(changes, cook);
        }
    page_data(p, "changes", changes);
}

/* How the laboratory was computed. */
static void put_method(page *p, const cook_grid *g)
{
    page_text *t = page_begin(p, "lab-method");
    page_markup(t, g->is_coarse ? "They are computed more coarsely than the cook of the story, so their figures differ a little "
                                  "from it."
                                : "They are computed as finely as the cook of the story.");
}

int story_page_write(const command_options *o, const explanation *e, const cook_grid *g)
{
    page *p = page_create(o);
    if (!p) {
        print_error("the page could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    page_common(p, &e->cook.history->scenario);
    page_meat(p, &e->cook.history->scenario, &e->cook.scenario.meat);
    page_probes(p, &(page_row){"as planned", &e->cook, e->never_ends}, 1);
    page_safety(p, &(page_row){"as planned", &e->cook, e->never_ends}, 1);
    put_paragraph(p, "course", e, say_course);
    put_paragraph(p, "heat", e, say_heat);
    put_paragraph(p, "share", e, say_share);
    put_paragraph(p, "plateau", e, say_plateau);
    put_paragraph(p, "water", e, say_water);
    put_paragraph(p, "ending", e, say_ending);
    put_common(p, e);
    put_changes(p, e);
    put_story_data(p, e);
    put_method(p, g);
    page_lab(p, g->axes, g->axis_count, g->runs, g->never_ends);
    return page_write(p, "explain.html");
}
