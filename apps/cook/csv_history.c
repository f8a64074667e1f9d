/* SPDX-License-Identifier: BSD-3-Clause */
#include "csv_history.h"

#include "csv_output.h"
#include "figures.h"
#include "output_file.h"

#include <ctype.h>
#include <stdio.h>

/* A name as part of a heading: what would break a line or a key becomes '_'. */
static void print_name(const char *name)
{
    for (; *name; name++)
        putchar(isalnum((unsigned char)*name) ? *name : '_');
}

int csv_print_history(const sw_run *run)
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
            csv_print_field(h->series[i][row]);
        for (size_t p = 0; p < more_probes; p++)
            csv_print_field(h->probe_series[p][row]);
        putchar('\n');
    }
    return flush_standard_output();
}
