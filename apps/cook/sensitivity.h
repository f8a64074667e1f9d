/* What a cook's answer owes to each uncertain input, by two-sided differences. */
#ifndef SW_APPS_SENSITIVITY_H
#define SW_APPS_SENSITIVITY_H

#include "cook_run.h"
#include "input_ranges.h"

/* Figures whose change is shown. */
enum { CHANGE_DONE, CHANGE_STALL, CHANGE_YIELD, CHANGE_COUNT };

/* Of one figure, for one standard deviation of an input [SI]; SW_ABSENT where a cook fails or lacks the figure. */
typedef struct change {
    double low, high;  /* with the input one deviation lower, higher, less the figure itself */
    double slope;      /* half of high less low */
    double half_slope; /* the same from steps half as wide, doubled: near the slope where the answer is straight */
} change;

typedef struct sensitivity_row {
    const input_range *input;
    double value, low, high; /* of the input [SI] */
    change changes[CHANGE_COUNT];
} sensitivity_row;

enum { SENSITIVITY_ROWS_MAX = 32 };

typedef struct sensitivity {
    size_t row_count;
    sensitivity_row rows[SENSITIVITY_ROWS_MAX];
    double together[CHANGE_COUNT]; /* root of the sum of squared slopes, absent ones left out; inputs taken as independent */
} sensitivity;

/* Runs four cooks an input. base is the cook as it is, already run. Returns an exit status: EXIT_INTERRUPTED, else
 * EXIT_DONE; a cook that fails leaves its figures absent. */
int sensitivity_run(const cook_run *run, sw_context *context, progress *progress, sensitivity *result);

/* Whether the answer is straight over the range: slopes of both steps agree within a fifth, or within the least that
 * matters (2 min; 0.1 % of the raw mass). */
bool change_is_straight(const change *c, int figure);

void sensitivity_print(const sensitivity *s, sw_unit_system units);

#endif
