/* SPDX-License-Identifier: BSD-3-Clause */
/* One value on its own. */
#include "pit_learned.h"
#include "scenario_check.h"

#include "key_table.h"
#include "say.h"

#include <stdio.h>
#include <string.h>

sw_status sw_check_range(sw_context *context, const char *name, sw_quantity quantity, sw_range range, double value)
{
    if (value >= range.minimum && value <= range.maximum) /* NaN fails */
        return SW_OK;
    char a[SW_SAY_SIZE], b[SW_SAY_SIZE], c[SW_SAY_SIZE];
    return sw_fail(context, SW_ERR_RANGE, "%s is %s; allowed %s to %s", name, sw_say(context, quantity, value, a),
                   sw_say(context, quantity, range.minimum, b), sw_say(context, quantity, range.maximum, c));
}

sw_status sw_check_ending(sw_context *context, const sw_scenario_key *key, const sw_ending *ending)
{
    switch (ending->kind) {
    case SW_ENDING_NONE:
        return SW_OK;
    case SW_ENDING_USUAL:
        if (!key->ending.may_be_usual)
            return sw_fail(context, SW_ERR_ARGUMENT, "%s is usual, which only pull may be", key->name);
        return SW_OK;
    case SW_ENDING_PROBE_TEMPERATURE:
        return sw_check_range(context, key->name, SW_QUANTITY_TEMPERATURE, key->ending.temperature, ending->value);
    case SW_ENDING_DURATION:
        return sw_check_range(context, key->name, SW_QUANTITY_DURATION, key->ending.duration, ending->value);
    case SW_ENDING_BARK:
        if (!key->ending.may_be_bark)
            return sw_fail(context, SW_ERR_ARGUMENT, "%s is bark, which only wrap.when and rewrap.when may be", key->name);
        return SW_OK;
    case SW_ENDING_CLOCK:
        return sw_check_range(context, key->name, SW_QUANTITY_CLOCK, (sw_range){0.0, 86400.0}, ending->value);
    case SW_ENDING_CLOCK_ON_DAY:
        return sw_check_range(context, key->name, SW_QUANTITY_CLOCK,
                           (sw_range){86400.0, 86400.0 * (SW_ENDING_DAYS_MAX + 1)}, ending->value);
    }
    return sw_fail(context, SW_ERR_ARGUMENT, "%s has %d for its kind of ending; allowed %d to %d", key->name, (int)ending->kind,
                   SW_ENDING_NONE, SW_ENDING_USUAL);
}

/* Only a caller from C can get a choice wrong: a file has names. */
static sw_status check_choice(sw_context *context, const sw_scenario_key *key, int choice)
{
    char names[256] = "";
    if (choice >= 0 && choice < key->choice_count)
        return SW_OK;
    for (int i = 0; i < key->choice_count; i++) {
        const size_t used = strlen(names);
        snprintf(names + used, sizeof names - used, "%s%s", i > 0 ? ", " : "", key->choice_name(i));
    }
    return sw_fail(context, SW_ERR_ARGUMENT, "%s is choice number %d; allowed 0 to %d: %s", key->name, choice,
                   key->choice_count - 1, names);
}

static sw_status check_text(sw_context *context, const char *name, const char *text, size_t size)
{
    if (memchr(text, '\0', size))
        return SW_OK;
    return sw_fail(context, SW_ERR_ARGUMENT, "%s begins \"%.20s\" and does not end; allowed are %zu bytes and a NUL", name, text,
                   size - 1);
}

sw_status sw_check_learned(sw_context *context, const char *name, const sw_pit_learned *l)
{
    char called[SW_KEY_NAME_SIZE];
    sw_status status = SW_OK;
    if (l->cooks == 0)
        return SW_OK;
    if (l->cooks < 0 || l->cooks > SW_LEARNED_COOKS_MAX)
        return sw_fail(context, SW_ERR_RANGE, "%s is of %d cooks; 0 to %d are allowed", name, l->cooks, SW_LEARNED_COOKS_MAX);
    for (size_t i = 0; i < SW_LEARNED_NUMBERS && status == SW_OK; i++) {
        const sw_learned_number *n = &sw_learned_numbers[i];
        snprintf(called, sizeof called, "%s, %s", name, n->name);
        status = sw_check_range(context, called, n->quantity, n->range, *(const double *)((const char *)l + n->offset));
    }
    const double a = l->offset_with_convection, b = l->offset_with_humidity_ratio, c = l->convection_with_humidity_ratio;
    if (status == SW_OK && 1.0 + 2.0 * a * b * c - a * a - b * b - c * c < 1e-9)
        return sw_fail(context, SW_ERR_RANGE, "%s: the correlations %g, %g and %g cannot be together", name, a, b, c);
    return status;
}

sw_status sw_check_key(sw_context *context, const sw_scenario *s, const sw_scenario_key *key)
{
    const void *field = sw_key_value(key, s);
    if (key->type == SW_KEY_VALUE && sw_scenario_key_is_usual(key, s))
        return SW_OK;
    switch (key->type) {
    case SW_KEY_WHOLE:
        return sw_check_range(context, key->name, SW_QUANTITY_NUMBER, key->range, (double)*(const int *)field);
    case SW_KEY_VALUE:
        return sw_check_range(context, key->name, key->quantity, key->range, *(const double *)field);
    case SW_KEY_ENDING:
        return sw_check_ending(context, key, field);
    case SW_KEY_SCHEDULE:
        for (size_t i = 0; i < s->pit.step_count && i < SW_PIT_STEPS_MAX; i++) {
            sw_status status = sw_check_range(context, key->name, key->quantity, key->range, s->pit.steps[i].temperature);
            if (status != SW_OK)
                return status;
        }
        return SW_OK;
    case SW_KEY_CHOICE:
        return check_choice(context, key, *(const int *)field);
    case SW_KEY_LEARNED:
        return sw_check_learned(context, key->name, field);
    case SW_KEY_TEXT:
        return check_text(context, key->name, field, SW_TEXT_MAX);
    default:
        return SW_OK; /* switches, and lists, which have checks of their own */
    }
}
