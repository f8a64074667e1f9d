#include "json_ranking.h"

#include "json_output.h"

json_t *json_ranking(const sw_ranking *ranking, const recommendation_text *recommendation, const cook_run *runs)
{
    json_t *object = json_object(), *order = json_array(), *numbers = json_array();
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
    for (size_t i = 0; i < recommendation->count; i++) {
        const quoted_number *n = &recommendation->numbers[i];
        json_t *entry = json_object();
        json_put_text(entry, "text", n->text);
        json_put_text(entry, "label", n->label);
        json_put_text(entry, "key", n->key);
        json_put_number(entry, "value", n->value);
        json_array_append_new(numbers, entry);
    }
    json_object_set_new(object, "order", order);
    json_put_text(object, "paragraph", recommendation->paragraph);
    json_object_set_new(object, "numbers", numbers);
    return object;
}
