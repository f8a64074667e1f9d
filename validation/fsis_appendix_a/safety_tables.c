/* The two tables of time and temperature against each other and against the law of log-linear death. */
#include "cases.h"

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

void validate_safety_tables(report_case *c)
{
    c->folder = "fsis_appendix_a";
    c->title = "FSIS Appendix A and FDA Food Code, tables";
    csv_table *fsis = csv_read(c->folder, "beef.csv"), *code = csv_read("food_code", "roasts.csv");
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
