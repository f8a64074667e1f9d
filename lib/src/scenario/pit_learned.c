#include "pit_learned.h"

#include "scenario_check.h"

#include <stdio.h>

#define FIELD(field) #field, offsetof(sw_pit_learned, field)
#define CORRELATION {-0.999, 0.999}

const sw_learned_number sw_learned_numbers[SW_LEARNED_NUMBERS] = {
    {FIELD(offset), SW_QUANTITY_TEMPERATURE_DIFFERENCE, "K", "F", {-60.0, 60.0}, "the pit as the meat feels it, less its gauge"},
    {FIELD(offset_spread), SW_QUANTITY_TEMPERATURE_DIFFERENCE, "K", "F", {1e-3, 30.0}, "one deviation of it"},
    {FIELD(convection), SW_QUANTITY_HEAT_TRANSFER, "W/m2/K", "W/m2/K", {1.0, 100.0}, "heat transfer coefficient of its air at the meat"},
    {FIELD(convection_spread), SW_QUANTITY_NUMBER, "", "", {1.0001, 4.0}, "times or over this, one deviation"},
    {FIELD(humidity_ratio), SW_QUANTITY_HUMIDITY_RATIO, "", "", {1e-4, 1.0}, "vapour per dry air in it, by mass"},
    {FIELD(humidity_ratio_spread), SW_QUANTITY_NUMBER, "", "", {1.0001, 4.0}, "times or over this, one deviation"},
    {FIELD(offset_with_convection), SW_QUANTITY_NUMBER, "", "", CORRELATION, "correlations: two that make up for each other have a negative one"},
    {FIELD(offset_with_humidity_ratio), SW_QUANTITY_NUMBER, "", "", CORRELATION, ""},
    {FIELD(convection_with_humidity_ratio), SW_QUANTITY_NUMBER, "", "", CORRELATION, ""},
};

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
