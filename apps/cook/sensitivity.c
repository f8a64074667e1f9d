#include "sensitivity.h"

#include "quantity.h"
#include "table.h"

#include <math.h>
#include <stdio.h>

/* Steps of the differences [deviations]. */
enum { LOW, HALF_LOW, HALF_HIGH, HIGH, STEP_COUNT };
static const double steps[STEP_COUNT] = {-1.0, -0.5, 0.5, 1.0};

static const double negligible[CHANGE_COUNT] = {120.0, 120.0, 0.001};

static void read_figures(const cook_run *run, double figures[CHANGE_COUNT])
{
    const bool failed = run->status != SW_OK;
    figures[CHANGE_DONE] = failed ? SW_ABSENT : run->outcome.done_time;
    figures[CHANGE_STALL] = failed ? SW_ABSENT : run->outcome.stall_length;
    figures[CHANGE_YIELD] = failed ? SW_ABSENT : run->outcome.yield_at_pull;
}

/* The figures with one input moved; absent if the scenario then makes no sense, as a share above 1. */
static void figures_at(const cook_run *base, const input_range *input, double deviations, sw_context *context, progress *p,
                       double figures[CHANGE_COUNT])
{
    cook_run run = {.scenario = base->scenario};
    snprintf(run.label, sizeof run.label, "%.40s", input->key);
    /* Nothing after the pull matters here. */
    run.scenario.rest.until.kind = run.scenario.hold.until.kind = SW_ENDING_NONE;
    input_range_move(input, deviations, &run.scenario);
    cook_run_do(&run, context, p);
    read_figures(&run, figures);
    cook_run_free(&run);
}

static change change_of(double base, const double at[STEP_COUNT])
{
    return (change){.low = at[LOW] - base,
                    .high = at[HIGH] - base,
                    .slope = 0.5 * (at[HIGH] - at[LOW]),
                    .half_slope = at[HALF_HIGH] - at[HALF_LOW]};
}

static int run_input(const cook_run *base, const input_range *input, sw_context *context, progress *p, sensitivity_row *row)
{
    double figures[CHANGE_COUNT], at[STEP_COUNT][CHANGE_COUNT];
    sw_scenario moved = base->scenario;
    *row = (sensitivity_row){.input = input, .value = input_value(input, &moved)};
    input_range_move(input, -1.0, &moved);
    row->low = input_value(input, &moved);
    moved = base->scenario;
    input_range_move(input, 1.0, &moved);
    row->high = input_value(input, &moved);
    read_figures(base, figures);
    for (int step = 0; step < STEP_COUNT; step++) {
        figures_at(base, input, steps[step], context, p, at[step]);
        if (was_interrupted())
            return EXIT_INTERRUPTED;
    }
    for (int f = 0; f < CHANGE_COUNT; f++) {
        const double of_figure[STEP_COUNT] = {at[LOW][f], at[HALF_LOW][f], at[HALF_HIGH][f], at[HIGH][f]};
        row->changes[f] = change_of(figures[f], of_figure);
    }
    return EXIT_DONE;
}

int sensitivity_run(const cook_run *run, sw_context *context, progress *p, sensitivity *s)
{
    /* Each input moves alone: a thickness that follows from the mass stays when the mass moves. */
    cook_run settled = *run;
    const cook_run *base = &settled;
    sw_scenario_settle(&settled.scenario);
    double squares[CHANGE_COUNT] = {0.0};
    int status = EXIT_DONE;
    s->row_count = 0;
    for (size_t i = 0; i < input_range_count() && s->row_count < SENSITIVITY_ROWS_MAX && status == EXIT_DONE; i++) {
        const input_range *input = input_range_at(i);
        if (!input_range_counts(input, &base->scenario))
            continue;
        sensitivity_row *row = &s->rows[s->row_count++];
        status = run_input(base, input, context, p, row);
        for (int f = 0; f < CHANGE_COUNT && status == EXIT_DONE; f++)
            if (!SW_IS_ABSENT(row->changes[f].slope))
                squares[f] += row->changes[f].slope * row->changes[f].slope;
    }
    for (int f = 0; f < CHANGE_COUNT; f++)
        s->together[f] = sqrt(squares[f]);
    return status;
}

bool change_is_straight(const change *c, int figure)
{
    double difference = fabs(c->slope - c->half_slope);
    return difference <= fmax(0.2 * fabs(c->slope), negligible[figure]);
}

static const char *show_range(const input_range *input, sw_unit_system units, char *text)
{
    char figure[QUANTITY_SIZE];
    if (input->kind == RANGE_FACTOR)
        snprintf(text, QUANTITY_SIZE, "x or / %.3g", input->deviation);
    else if (input->kind == RANGE_SHARE)
        snprintf(text, QUANTITY_SIZE, "+- %.3g %%", 100.0 * input->deviation);
    else if (input->quantity == SW_QUANTITY_TEMPERATURE)
        snprintf(text, QUANTITY_SIZE, "+- %.40s", show_temperature_difference(input->deviation, units, figure));
    else if (input->quantity == SW_QUANTITY_LENGTH)
        snprintf(text, QUANTITY_SIZE, "+- %.40s", show_length(input->deviation, units, figure));
    else
        snprintf(text, QUANTITY_SIZE, "+- %.3g", input->deviation);
    return text;
}

/* "+0.42" hours or per cent; what rounds to nothing is "0.00". */
static const char *show_change(double value, int figure, char *text)
{
    const double shown = figure == CHANGE_YIELD ? 100.0 * value : value / 3600.0;
    const int decimals = figure == CHANGE_YIELD ? 1 : 2;
    if (SW_IS_ABSENT(value))
        snprintf(text, QUANTITY_SIZE, "-");
    else if (fabs(shown) < 0.5 * pow(10.0, -decimals))
        snprintf(text, QUANTITY_SIZE, "%.*f", decimals, 0.0);
    else
        snprintf(text, QUANTITY_SIZE, "%+.*f", decimals, shown);
    return text;
}

static const char *show_straightness(const sensitivity_row *row)
{
    for (int f = 0; f < CHANGE_COUNT; f++) {
        const change *c = &row->changes[f];
        if (!SW_IS_ABSENT(c->slope) && !SW_IS_ABSENT(c->half_slope) && !change_is_straight(c, f))
            return "bent";
    }
    return "straight";
}

void sensitivity_print(const sensitivity *s, sw_unit_system units)
{
    static const char *const headings[] = {"input", "range", "done, h", "", "stall, h", "", "yield, %", "", "answer"};
    table t = {0};
    char text[QUANTITY_SIZE];
    t.has_heading = true;
    for (size_t i = 0; i < sizeof headings / sizeof *headings; i++)
        table_set(&t, 0, i, headings[i]);
    for (size_t i = 0; i < s->row_count; i++) {
        const sensitivity_row *row = &s->rows[i];
        table_set(&t, i + 1, 0, row->input->key);
        table_set(&t, i + 1, 1, show_range(row->input, units, text));
        for (size_t f = 0; f < CHANGE_COUNT; f++) {
            table_set(&t, i + 1, 2 + 2 * f, show_change(row->changes[f].low, (int)f, text));
            table_set(&t, i + 1, 3 + 2 * f, show_change(row->changes[f].high, (int)f, text));
        }
        table_set(&t, i + 1, 8, show_straightness(row));
    }
    size_t last = s->row_count + 1;
    table_set(&t, last, 0, "together, if independent");
    for (size_t f = 0; f < CHANGE_COUNT; f++)
        table_set(&t, last, 3 + 2 * f, show_change(s->together[f], (int)f, text));
    printf("\nHow uncertain this is: change at the pull with each input one standard range\n"
           "lower (left) and higher (right). bent: half the range does not change half as much.\n\n");
    table_print(&t, false, stdout);
    printf("\nThe ranges say how well each input is known, not how wrong the model is.\n");
}
