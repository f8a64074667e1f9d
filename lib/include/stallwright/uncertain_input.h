/** @file
 * How uncertain each input of a cook is: one table, one standard deviation each. */
#ifndef STALLWRIGHT_UNCERTAIN_INPUT_H
#define STALLWRIGHT_UNCERTAIN_INPUT_H

#include <stallwright/scenario.h>

#include <stddef.h>

SW_BEGIN_DECLARATIONS

/** What one standard deviation does to a value. */
typedef enum sw_uncertainty {
    SW_UNCERTAINTY_DIFFERENCE, /**< value +- deviation */
    SW_UNCERTAINTY_SHARE,      /**< value times 1 +- deviation */
    SW_UNCERTAINTY_FACTOR      /**< value times or over deviation */
} sw_uncertainty;

/** An input that cooks do not know exactly. */
typedef struct sw_uncertain_input {
    const char *key;     /**< its name in a scenario file; one of a number, an ending or the pit's temperature */
    sw_uncertainty kind;
    double deviation;    /**< one standard deviation; of a share and a factor without unit [SI unit of the key] */
    const char *source;
    sw_wrap_kind only_with; /**< the wrap it belongs to; SW_WRAP_COUNT: any cook */
} sw_uncertain_input;

SW_API size_t sw_uncertain_input_count(void);

/** number 0..count - 1. */
SW_API const sw_uncertain_input *sw_uncertain_input_at(size_t number);

/** What the value measures: of an ending or schedule its temperature. */
SW_API sw_quantity sw_uncertain_input_quantity(const sw_uncertain_input *input);

/** Whether this input plays a part in this cook: a fat cap that is there, a wrap that goes on, an ending by temperature. */
SW_API bool sw_uncertain_input_counts(const sw_uncertain_input *input, const sw_scenario *scenario);

/** Its value; of a schedule that of the first step [SI unit of the key]. */
SW_API double sw_uncertain_input_value(const sw_uncertain_input *input, const sw_scenario *scenario);

/** Moves it by so many standard deviations, up or down; the scenario may then be one that sw_scenario_check refuses. Fat takes
 * the place of water; every step of the pit's temperature moves alike, as with a thermometer that reads wrong. */
SW_API void sw_uncertain_input_move(const sw_uncertain_input *input, double deviations, sw_scenario *scenario);

SW_END_DECLARATIONS

#endif
