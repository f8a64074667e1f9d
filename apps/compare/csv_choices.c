/* SPDX-License-Identifier: BSD-3-Clause */
#include "csv_choices.h"

#include "csv_output.h"
#include "figures.h"
#include "output_file.h"

#include <stdio.h>

/* "hold.until: hour passed", and a semicolon before the next. */
static void print_missing_field(const sw_run *run)
{
    for (size_t i = 0; run->history && i < run->history->missing_count; i++) {
        const sw_missing *m = &run->history->missing[i];
        printf("%s%s: %s", i ? "; " : "", sw_planned_end_key(m->end), sw_missing_reason_name(m->reason));
    }
}

int csv_print_choices(const sw_run *runs, const sw_band *const *bands, size_t count, double unwrapped_done, const sw_ranking *ranking)
{
    figure figures[FIGURES_MAX];
    size_t figure_count = choice_figures(&runs[0], unwrapped_done, figures);
    fputs("label,wrap", stdout);
    for (size_t k = 0; k < figure_count; k++)
        printf(",%s", figures[k].key);
    fputs(",done_low_s,done_high_s", stdout);
    puts(ranking ? ",top_state,tenderness,missing,place" : ",top_state,tenderness,missing");
    for (size_t i = 0; i < count; i++) {
        choice_figures(&runs[i], unwrapped_done, figures);
        csv_print_text(runs[i].label);
        putchar(',');
        csv_print_text(sw_wrap_name(runs[i].scenario.wrap.kind));
        for (size_t k = 0; k < figure_count; k++)
            csv_print_field(figures[k].value);
        csv_print_field(bands[i] ? bands[i]->of[SW_SENSITIVE_done].low : SW_ABSENT);
        csv_print_field(bands[i] ? bands[i]->of[SW_SENSITIVE_done].high : SW_ABSENT);
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
