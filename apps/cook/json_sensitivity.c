/* SPDX-License-Identifier: BSD-3-Clause */
#include "json_sensitivity.h"

#include "figures.h"
#include "json_output.h"

static void put_change(json_t *object, const char *name, const char *unit, const sw_change *c)
{
    char key[FIGURE_KEY_SIZE];
    const struct {
        const char *which;
        double value;
    } parts[] = {{"low", c->low}, {"high", c->high}, {"slope", c->slope}, {"half_slope", c->half_slope}};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        snprintf(key, sizeof key, "%s_%s%s", name, parts[i].which, unit);
        json_put_number(object, key, parts[i].value);
    }
}

void json_add_sensitivity(json_t *object, const sw_sensitivity *s)
{
    json_t *inputs = json_array(), *document = json_object();
    for (size_t i = 0; i < s->row_count; i++) {
        const sw_sensitivity_row *row = &s->rows[i];
        json_t *input = json_object();
        json_put_text(input, "key", row->input->name);
        json_put_number(input, "value_si", row->value);
        json_put_number(input, "low_si", row->low);
        json_put_number(input, "high_si", row->high);
        put_change(input, "done", "_s", &row->changes[SW_SENSITIVE_done]);
        put_change(input, "stall_length", "_s", &row->changes[SW_SENSITIVE_stall]);
        put_change(input, "yield_at_pull", "", &row->changes[SW_SENSITIVE_yield]);
        json_array_append_new(inputs, input);
    }
    json_object_set_new(document, "inputs", inputs);
    json_put_number(document, "done_together_s", s->together[SW_SENSITIVE_done]);
    json_put_number(document, "stall_length_together_s", s->together[SW_SENSITIVE_stall]);
    json_put_number(document, "yield_at_pull_together", s->together[SW_SENSITIVE_yield]);
    json_object_set_new(object, "sensitivity", document);
}
