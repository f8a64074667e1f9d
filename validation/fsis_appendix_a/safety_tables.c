/* SPDX-License-Identifier: BSD-3-Clause */
/* The tables of time and temperature: the program's own against the published, these against each other and against the law
 * of log-linear death. */
#include "cases.h"

#include "lethality_table.h"

#include <math.h>
#include <stdio.h>

static void check_log_linear(report_case *c, const csv_table *fsis)
{
    const double d60 = 1.77 * 60.0, z = 5.56; /* fitted to the table's own 6.5 log column */
    double worst = 0.0, at = 0.0, table = 0.0;
    for (size_t i = 0; i < fsis->row_count; i++) {
        double seconds = csv_number(fsis, i, "seconds_6_5_log"), f = csv_number(fsis, i, "temperature_f");
        if (seconds == 0.0)
            continue;
        double law = 6.5 * d60 * pow(10.0, (60.0 - (f - 32.0) / 1.8) / z);
        if (fabs(law / seconds - 1.0) > fabs(worst)) {
            worst = law / seconds - 1.0;
            at = f;
            table = seconds;
        }
    }
    report_row row = {.verdict = fabs(worst) <= 0.11 ? VERDICT_PASS : VERDICT_FAIL};
    snprintf(row.quantity, TEXT_SIZE, "6.5 log column by D60 = 1.77 min, z = 5.56 K: worst row (%g F), s", at);
    snprintf(row.reference, TEXT_SIZE, "%g", table);
    snprintf(row.computed, TEXT_SIZE, "%.1f", table * (1.0 + worst));
    snprintf(row.error, TEXT_SIZE, "%+.1f %%", 100.0 * worst);
    snprintf(row.tolerance, TEXT_SIZE, "11 %%");
    add_row(c, &row);
}

/* Every published row must be in the program's table. Where several temperatures need no time, the first says it all. */
static void check_program(report_case *c, const csv_table *published, const char *column, const sw_dwell_table *table,
                          const char *name)
{
    size_t differing = 0, row = 0;
    for (size_t i = 0; i < published->row_count; i++) {
        double kelvin = (csv_number(published, i, "temperature_f") - 32.0) / 1.8 + 273.15;
        double seconds = csv_number(published, i, column);
        while (row + 1 < table->count && table->rows[row + 1].temperature <= kelvin + 1e-9)
            row++;
        if (fabs(table->rows[row].temperature - kelvin) > 1e-9 && seconds > 0.0)
            differing++;
        else if (table->rows[row].time != seconds)
            differing++;
    }
    char quantity[TEXT_SIZE];
    snprintf(quantity, sizeof quantity, "%s: rows of %zu in which the program's table differs", name, published->row_count);
    add_near(c, quantity, 0.0, (double)differing, 0.0, 0);
}

void validate_safety_tables(report_case *c)
{
    c->folder = "fsis_appendix_a";
    c->title = "FSIS Appendix A and FDA Food Code, tables";
    csv_table *fsis = csv_read(c->folder, "beef.csv"), *code = csv_read("food_code", "roasts.csv");
    check_program(c, fsis, "seconds_6_5_log", &sw_appendix_a_6_5_log, "FSIS 6.5 log");
    check_program(c, fsis, "seconds_7_log", &sw_appendix_a_7_log, "FSIS 7 log");
    check_program(c, code, "seconds", &sw_food_code_roasts, "Food Code roasts");
    check_log_linear(c, fsis);
    char quantity[TEXT_SIZE];
    for (size_t i = 0; i < code->row_count; i++)
        for (size_t k = 0; k < fsis->row_count; k++)
            if (csv_number(fsis, k, "temperature_f") == csv_number(code, i, "temperature_f")) {
                snprintf(quantity, sizeof quantity, "Food Code (reference) and FSIS 6.5 log at %g F, s",
                         csv_number(code, i, "temperature_f"));
                add_near(c, quantity, csv_number(code, i, "seconds"), csv_number(fsis, k, "seconds_6_5_log"), 0.0, 0);
            }
    csv_free(fsis);
    csv_free(code);
}
