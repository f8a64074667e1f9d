/* SPDX-License-Identifier: BSD-3-Clause */
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

/* Flags at the end of a list, which every app has: told in one line if the list is too long for a screen. */
static void print_last_flags(const command_option *const *option, FILE *stream)
{
    fputs("  ", stream);
    for (bool is_first = true; *option; option++, is_first = false)
        fprintf(stream, "%s-%c, --%s", is_first ? "" : ", ", (*option)->letter, (*option)->name);
    fputs("  as in every app\n", stream);
}

void options_print_help(const subcommand *app, FILE *stream)
{
    enum { SCREEN = 24, AROUND = 7 };
    size_t count = 0, told;
    while (app->options[count])
        count++;
    for (told = count; told > 0 && app->options[told - 1]->kind == OPTION_FLAG && app->options[told - 1]->letter;)
        told--;
    told = count + AROUND > SCREEN ? told : count;
    const bool is_full = told + 1 + AROUND > SCREEN && told < count;
    fprintf(stream, "Usage: stallwright %s %s\n%s\n%s", app->name, app->arguments, app->purpose, is_full ? "" : "\n");
    for (size_t i = 0; i < told; i++)
        print_option(app->options[i], stream);
    if (told < count)
        print_last_flags(app->options + told, stream);
    print_stall_definition(stream);
    fputs("Examples:\n", stream);
    for (size_t i = 0; i < sizeof app->examples / sizeof *app->examples; i++)
        fprintf(stream, "  %s\n", app->examples[i]);
}
