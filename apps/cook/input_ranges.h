/* How uncertain each input of a cook is: one table, one standard deviation each. */
#ifndef SW_APPS_INPUT_RANGES_H
#define SW_APPS_INPUT_RANGES_H

#include <stallwright/stallwright.h>

#include <stdbool.h>

typedef enum range_kind {
    RANGE_DIFFERENCE, /* value +- deviation */
    RANGE_SHARE,      /* value times 1 +- deviation */
    RANGE_FACTOR      /* value times or over deviation */
} range_kind;

typedef struct input_range {
    const char *key;       /* its name in a scenario file */
    size_t field;          /* offset of the double in sw_scenario */
    range_kind kind;
    double deviation;      /* one standard deviation; of a factor the factor [SI] */
    sw_quantity quantity;  /* how a difference is shown */
    sw_wrap_kind only_with; /* the wrap it belongs to; SW_WRAP_COUNT: any cook */
} input_range;

size_t input_range_count(void);
const input_range *input_range_at(size_t number);

/* Whether this input plays a part in this cook: a fat cap that is there, a wrap that goes on. */
bool input_range_counts(const input_range *range, const sw_scenario *scenario);

double input_value(const input_range *range, const sw_scenario *scenario);

/* Moves an input by so many standard deviations. */
void input_range_move(const input_range *range, double deviations, sw_scenario *scenario);

#endif
