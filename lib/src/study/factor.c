#include "factor.h"

#include <stdlib.h>
#include <string.h>

/* Where the value of a key stands in a scenario. */
typedef struct span {
    size_t offset, size;
} span;

/* Fields that belong to one key lie side by side. */
_Static_assert(offsetof(sw_pit, steps) > offsetof(sw_pit, step_count) &&
                   offsetof(sw_pit, openings) > offsetof(sw_pit, opening_count) &&
                   offsetof(sw_meat, outline) > offsetof(sw_meat, outline_count) &&
                   offsetof(sw_meat, probes) > offsetof(sw_meat, probe_count),
               "a list follows its length");

/* A list from its length to its end, both counted from the key's field. */
static span list_span(const sw_scenario_key *key, size_t from, size_t end)
{
    return (span){key->offset + from, end - from};
}

static span span_of(const sw_scenario_key *key)
{
    switch (key->type) {
    case SW_KEY_TEXT:
        return (span){key->offset, SW_TEXT_MAX};
    case SW_KEY_CHOICE:
    case SW_KEY_WHOLE:
        return (span){key->offset, sizeof(int)};
    case SW_KEY_SWITCH:
        return (span){key->offset, sizeof(bool)};
    case SW_KEY_VALUE:
        return (span){key->offset, sizeof(double)};
    case SW_KEY_ENDING:
        return (span){key->offset, sizeof(sw_ending)};
    case SW_KEY_SCHEDULE:
        return list_span(key, offsetof(sw_pit, step_count), offsetof(sw_pit, steps) + sizeof((sw_pit *)0)->steps);
    case SW_KEY_TIMES:
        return list_span(key, offsetof(sw_pit, opening_count), offsetof(sw_pit, openings) + sizeof((sw_pit *)0)->openings);
    case SW_KEY_OUTLINE:
        return list_span(key, offsetof(sw_meat, outline_count), offsetof(sw_meat, outline) + sizeof((sw_meat *)0)->outline);
    case SW_KEY_PROBES:
        break;
    }
    return list_span(key, offsetof(sw_meat, probe_count), offsetof(sw_meat, probes) + sizeof((sw_meat *)0)->probes);
}

static const unsigned char *value_at(const sw_factor *f, size_t value)
{
    return f->values + value * span_of(f->key).size;
}

void sw_factor_free(sw_factor *f)
{
    for (size_t i = 0; i < f->count; i++)
        free(f->labels[i]);
    free(f->labels);
    free(f->values);
    *f = (sw_factor){0};
}

static bool grow(sw_factor *f)
{
    size_t room = f->room ? 2 * f->room : 8;
    unsigned char *values = realloc(f->values, room * span_of(f->key).size);
    if (values)
        f->values = values;
    char **labels = realloc(f->labels, room * sizeof *labels);
    if (labels)
        f->labels = labels;
    if (!values || !labels)
        return false;
    f->room = room;
    return true;
}

/* Whether a listed value is the one a holder has; an ending has bytes between its members that mean nothing. */
static bool is_same(const sw_factor *f, size_t value, const unsigned char *bytes)
{
    if (f->key->type != SW_KEY_ENDING)
        return memcmp(value_at(f, value), bytes, span_of(f->key).size) == 0;
    sw_ending a, b;
    memcpy(&a, value_at(f, value), sizeof a);
    memcpy(&b, bytes, sizeof b);
    return a.kind == b.kind && a.value == b.value;
}

sw_status sw_factor_add(sw_context *context, sw_factor *f, const sw_scenario *holder, const char *label)
{
    const span s = span_of(f->key);
    const unsigned char *bytes = (const unsigned char *)holder + s.offset;
    if (f->count == SW_STUDY_VALUES_MAX)
        return sw_fail(context, SW_ERR_ARGUMENT, "%s has more than %d values", f->key->name, SW_STUDY_VALUES_MAX);
    for (size_t i = 0; i < f->count; i++)
        if (is_same(f, i, bytes))
            return sw_fail(context, SW_ERR_ARGUMENT, "%s has the value %.80s twice", f->key->name, label);
    char *copy = strdup(label);
    if (!copy || (f->count == f->room && !grow(f))) {
        free(copy);
        return sw_fail(context, SW_ERR_MEMORY, "memory for the values of %s could not be allocated", f->key->name);
    }
    memcpy(f->values + f->count * s.size, bytes, s.size);
    f->labels[f->count++] = copy;
    return SW_OK;
}

static sw_ending ending_at(const sw_factor *f, size_t value)
{
    sw_ending ending;
    memcpy(&ending, value_at(f, value), sizeof ending);
    return ending;
}

/* Number of steps of a schedule. */
static size_t step_count_at(const sw_factor *f, size_t value)
{
    size_t count;
    memcpy(&count, value_at(f, value), sizeof count);
    return count;
}

static bool ending_quantity(const sw_factor *f, sw_quantity *quantity)
{
    static const sw_quantity quantities[] = {[SW_ENDING_PROBE_TEMPERATURE] = SW_QUANTITY_TEMPERATURE,
                                             [SW_ENDING_DURATION] = SW_QUANTITY_DURATION,
                                             [SW_ENDING_CLOCK] = SW_QUANTITY_CLOCK,
                                             [SW_ENDING_CLOCK_ON_DAY] = SW_QUANTITY_CLOCK};
    sw_ending_kind kind = ending_at(f, 0).kind;
    for (size_t i = 0; i < f->count; i++)
        if (ending_at(f, i).kind != kind || kind == SW_ENDING_NONE || kind == SW_ENDING_BARK || kind == SW_ENDING_USUAL)
            return false;
    *quantity = quantities[kind];
    return true;
}

bool sw_factor_quantity(const sw_factor *f, sw_quantity *quantity)
{
    switch (f->key->type) {
    case SW_KEY_WHOLE:
        *quantity = SW_QUANTITY_NUMBER;
        return true;
    case SW_KEY_VALUE:
        *quantity = f->key->quantity;
        return true;
    case SW_KEY_ENDING:
        return ending_quantity(f, quantity);
    case SW_KEY_SCHEDULE:
        for (size_t i = 0; i < f->count; i++)
            if (step_count_at(f, i) != 1)
                return false;
        *quantity = f->key->quantity;
        return true;
    default:
        return false;
    }
}

double sw_factor_number(const sw_factor *f, size_t value)
{
    sw_quantity quantity;
    sw_pit_step step;
    double number;
    int whole;
    if (!sw_factor_quantity(f, &quantity))
        return (double)value;
    switch (f->key->type) {
    case SW_KEY_WHOLE:
        memcpy(&whole, value_at(f, value), sizeof whole);
        return whole;
    case SW_KEY_ENDING:
        return ending_at(f, value).value;
    case SW_KEY_SCHEDULE:
        memcpy(&step, value_at(f, value) + offsetof(sw_pit, steps) - offsetof(sw_pit, step_count), sizeof step);
        return step.temperature;
    default:
        memcpy(&number, value_at(f, value), sizeof number);
        return number;
    }
}

void sw_factor_apply(const sw_factor *f, size_t value, sw_scenario *scenario)
{
    const span s = span_of(f->key);
    memcpy((unsigned char *)scenario + s.offset, value_at(f, value), s.size);
    sw_scenario_key_given(f->key, scenario);
}

void sw_factor_apply_number(const sw_factor *f, double number, sw_scenario *scenario)
{
    sw_factor_apply(f, 0, scenario);
    void *field = (unsigned char *)scenario + f->key->offset;
    if (f->key->type == SW_KEY_ENDING)
        ((sw_ending *)field)->value = number;
    else if (f->key->type == SW_KEY_SCHEDULE)
        ((sw_pit *)field)->steps[0].temperature = number;
    else
        *(double *)field = number;
}
