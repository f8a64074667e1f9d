/* SPDX-License-Identifier: BSD-3-Clause */
#include "json_ranking.h"

#include "json_output.h"

/* The figures of the paragraph: as each is written, and where it stands. */
static json_t *json_figures(const recommendation_words *words)
{
    json_t *list = json_array();
    char text[QUANTITY_SIZE];
    const prose *said = &words->paragraph;
    for (size_t i = 0, number = 0; i < said->count; i++) {
        if (said->pieces[i].kind == PROSE_TEXT)
            continue;
        const quoted_figure *from = &words->figures[number++];
        json_t *entry = json_object();
        json_put_text(entry, "text", prose_show(said, &said->pieces[i], SW_UNITS_SI, text));
        json_put_text(entry, "label", from->label);
        json_put_text(entry, "key", from->key);
        json_put_number(entry, "value", said->pieces[i].value);
        json_array_append_new(list, entry);
    }
    return list;
}

json_t *json_ranking(const sw_ranking *ranking, const recommendation_words *words, const sw_run *runs)
{
    json_t *object = json_object(), *order = json_array(), *numbers = json_figures(words);
    char text[2 * PROSE_TEXT_SIZE];
    json_put_text(object, "by", sw_criterion_name(ranking->by));
    json_put_text(object, "key", criterion_key(ranking->by));
    json_put_text(object, "recommended", ranking->count > 0 ? runs[ranking->order[0]].label : NULL);
    for (size_t i = 0; i < ranking->count; i++) {
        json_t *entry = json_object();
        json_put_text(entry, "label", runs[ranking->order[i]].label);
        json_object_set_new(entry, "place", json_integer((json_int_t)ranking->place[i]));
        json_put_number(entry, "value", sw_criterion_value(ranking->by, &runs[ranking->order[i]]));
        json_array_append_new(order, entry);
    }
    json_object_set_new(object, "order", order);
    json_put_text(object, "paragraph", prose_plain(&words->paragraph, SW_UNITS_SI, text, sizeof text));
    json_object_set_new(object, "numbers", numbers);
    return object;
}
