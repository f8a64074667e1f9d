#include "options.h"

#include "quantity.h"

/* What counts as a stall, with the default numbers. */
static void print_stall_definition(FILE *stream)
{
    sw_scenario s;
    sw_scenario_init(&s);
    char duration[QUANTITY_SIZE];
    double above = s.stall.above, below = s.stall.below, rate = 3600.0 * s.stall.rate;
    fprintf(stream, "Stall: %.0f to %.0f C (%.0f to %.0f F), %.3g h mean under %.1f K/h (%.1f F/h) for %s.\n",
            axis_temperature(above, SW_UNITS_SI), axis_temperature(below, SW_UNITS_SI),
            axis_temperature(above, SW_UNITS_US), axis_temperature(below, SW_UNITS_US), s.stall.window / 3600.0, rate,
            1.8 * rate, show_duration(s.stall.duration, duration));
}

static void print_option(const command_option *option, FILE *stream)
{
    char left[40];
    int used = option->letter ? snprintf(left, sizeof left, "-%c, ", option->letter) : snprintf(left, sizeof left, "    ");
    snprintf(left + used, sizeof left - (size_t)used, "--%s%s%s", option->name, option->value ? " " : "",
             option->value ? option->value : "");
    fprintf(stream, "  %-24s %s\n", left, option->help);
}

void options_print_help(const subcommand *app, FILE *stream)
{
    fprintf(stream, "Usage: stallwright %s %s\n%s\n\n", app->name, app->arguments, app->purpose);
    for (const command_option *const *option = app->options; *option; option++)
        print_option(*option, stream);
    print_stall_definition(stream);
    fputs("Examples:\n", stream);
    for (size_t i = 0; i < sizeof app->examples / sizeof *app->examples; i++)
        fprintf(stream, "  %s\n", app->examples[i]);
}
