#include "csv_output.h"

#include "json_output.h"
#include "output_file.h"

#include <math.h>

static void print_field(double value)
{
    if (isfinite(value))
        printf(",%.17g", value);
    else
        putchar(',');
}

int csv_print_history(const cook_run *run)
{
    const sw_history *h = run->history;
    char key[JSON_KEY_SIZE];
    for (int i = 0; i < SW_SERIES_COUNT; i++)
        printf("%s%s", i ? "," : "", i ? json_key(sw_series_name((sw_series)i), sw_series_unit((sw_series)i), key) : "time_s");
    for (size_t p = 0; h->probe_count > 1 && p < h->probe_count; p++)
        printf(",probe_%s_k", h->probes[p].name);
    putchar('\n');
    for (size_t row = 0; row < h->row_count; row++) {
        printf("%.17g", h->series[SW_SERIES_time][row]);
        for (int i = 1; i < SW_SERIES_COUNT; i++)
            print_field(h->series[i][row]);
        for (size_t p = 0; h->probe_count > 1 && p < h->probe_count; p++)
            print_field(h->probe_series[p][row]);
        putchar('\n');
    }
    return flush_standard_output() ? EXIT_DONE : EXIT_FAILED;
}

int csv_print_choices(const cook_run *runs, size_t count, double unwrapped_done)
{
    char key[JSON_KEY_SIZE];
    printf("label,wrap,wrap_at_k");
#define PRINT_KEY(name, unit, long_name) printf(",%s", json_key(#name, unit, key));
    SW_OUTCOME_LIST(PRINT_KEY)
#undef PRINT_KEY
    printf(",saved_s,evaporated_kg,dripped_kg,rendered_kg,top_state_at_pull\n");
    for (size_t i = 0; i < count; i++) {
        const cook_run *r = &runs[i];
        const bool failed = r->status != SW_OK;
        const sw_wrap *wrap = &r->scenario.wrap;
        bool by_probe = wrap->kind != SW_WRAP_NONE && wrap->when.kind == SW_ENDING_PROBE_TEMPERATURE;
        printf("%s,%s", r->label, sw_wrap_name(wrap->kind));
        print_field(by_probe ? wrap->when.value : SW_ABSENT);
#define PRINT_VALUE(name, unit, long_name) print_field(failed ? SW_ABSENT : r->outcome.name);
        SW_OUTCOME_LIST(PRINT_VALUE)
#undef PRINT_VALUE
        print_field(failed ? SW_ABSENT : unwrapped_done - r->outcome.done_time);
        print_field(failed ? SW_ABSENT : r->outcome.at_end.evaporated_mass);
        print_field(failed ? SW_ABSENT : r->outcome.at_end.dripped_mass);
        print_field(failed ? SW_ABSENT : r->outcome.at_end.rendered_mass);
        printf(",%s\n", failed ? "" : sw_surface_state_name(r->outcome.top_state_at_pull));
    }
    return flush_standard_output() ? EXIT_DONE : EXIT_FAILED;
}
