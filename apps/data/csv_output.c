#include "csv_output.h"

#include "figures.h"
#include "output_file.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A number with all its digits; nothing if it does not exist. */
static void print_field(double value)
{
    if (isfinite(value))
        printf(",%.17g", value);
    else
        putchar(',');
}

/* A name as part of a heading: what would break a line or a key becomes '_'. */
static void print_name(const char *name)
{
    for (; *name; name++)
        putchar(isalnum((unsigned char)*name) ? *name : '_');
}

/* Whether a text is a number, which no program takes for a formula. */
static bool is_number(const char *text)
{
    char *end;
    strtod(text, &end);
    return end != text && *end == '\0' && text[strspn(text, "+-.0123456789eE")] == '\0';
}

void csv_print_text(const char *text)
{
    const bool is_guarded = *text && strchr("=+-@\t\r\n", *text) && !is_number(text);
    const bool is_quoted = strpbrk(text, ",\"\r\n") != NULL;
    fputs(is_quoted ? "\"" : "", stdout);
    fputs(is_guarded ? "'" : "", stdout);
    for (; *text; text++) {
        if (*text == '"')
            putchar('"');
        putchar(*text);
    }
    fputs(is_quoted ? "\"" : "", stdout);
}

int csv_print_history(const cook_run *run)
{
    const sw_history *h = run->history;
    const size_t more_probes = h->probe_count > 1 ? h->probe_count : 0;
    char key[FIGURE_KEY_SIZE];
    fputs("time_s", stdout);
    for (int i = SW_SERIES_time + 1; i < SW_SERIES_COUNT; i++)
        printf(",%s", figure_key(sw_series_name((sw_series)i), sw_series_unit((sw_series)i), key));
    for (size_t p = 0; p < more_probes; p++) {
        fputs(",probe_", stdout);
        print_name(h->probes[p].name);
        fputs("_k", stdout);
    }
    putchar('\n');
    for (size_t row = 0; row < h->row_count; row++) {
        printf("%.17g", h->series[SW_SERIES_time][row]);
        for (int i = SW_SERIES_time + 1; i < SW_SERIES_COUNT; i++)
            print_field(h->series[i][row]);
        for (size_t p = 0; p < more_probes; p++)
            print_field(h->probe_series[p][row]);
        putchar('\n');
    }
    return flush_standard_output();
}

/* "hold.until: hour passed", and a semicolon before the next. */
static void print_missing_field(const cook_run *run)
{
    for (size_t i = 0; run->history && i < run->history->missing_count; i++) {
        const sw_missing *m = &run->history->missing[i];
        printf("%s%s: %s", i ? "; " : "", sw_planned_end_key(m->end), sw_missing_reason_name(m->reason));
    }
}

int csv_print_choices(const cook_run *runs, size_t count, double unwrapped_done, const sw_ranking *ranking)
{
    figure figures[FIGURES_MAX];
    size_t figure_count = choice_figures(&runs[0], unwrapped_done, figures);
    fputs("label,wrap", stdout);
    for (size_t k = 0; k < figure_count; k++)
        printf(",%s", figures[k].key);
    puts(ranking ? ",top_state,tenderness,missing,place" : ",top_state,tenderness,missing");
    for (size_t i = 0; i < count; i++) {
        choice_figures(&runs[i], unwrapped_done, figures);
        csv_print_text(runs[i].label);
        putchar(',');
        csv_print_text(sw_wrap_name(runs[i].scenario.wrap.kind));
        for (size_t k = 0; k < figure_count; k++)
            print_field(figures[k].value);
        const bool good = runs[i].status == SW_OK;
        const bool is_known = good && runs[i].outcome.tenderness != SW_TENDERNESS_UNKNOWN;
        printf(",%s,%s,", good ? sw_surface_state_name(runs[i].outcome.top_state_at_pull) : "",
               is_known ? sw_tenderness_name(runs[i].outcome.tenderness) : "");
        print_missing_field(&runs[i]);
        size_t place = ranking ? sw_ranking_place(ranking, i) : 0;
        if (place > 0)
            printf(",%zu", place);
        puts(ranking && place == 0 ? "," : "");
    }
    return flush_standard_output();
}
