/* SPDX-License-Identifier: BSD-3-Clause */
/* Runs every validation case and writes the report: validate REPORT.md; validate --standards prints the standards alone
 * and fails if one of their rows does. */
#include "support/cases.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct listed_case {
    void (*run)(report_case *);
    bool is_standard;
} listed_case;

static const listed_case cases[] = {
    {validate_en_15026, true},         {validate_hamstad, true},       {validate_luikov, true},
    {validate_psychrometrics, true},   {validate_safety_tables, true}, {validate_usda_composition, false},
    {validate_smoked_brisket, false},  {validate_roasting_findings, false}, {validate_responses, false},
    {validate_trade_bands, false},
};
enum { CASE_COUNT = sizeof cases / sizeof *cases };

static const char *const verdict_names[VERDICT_COUNT] = {"pass", "**FAIL**", "within", "outside", "not assessed"};

/* Rows that fail for a reason of our own. */
static size_t count_failures(const report_case *c)
{
    size_t count = 0;
    for (size_t i = 0; i < c->row_count; i++)
        count += c->rows[i].verdict == VERDICT_FAIL && !c->rows[i].reference_in_doubt;
    return count;
}

static void count_verdicts(const report_case *c, size_t counts[VERDICT_COUNT])
{
    for (size_t i = 0; i < c->row_count; i++)
        counts[c->rows[i].verdict]++;
}

static void print_summary(const report_case *done, FILE *out)
{
    fprintf(out, "| case | pass | FAIL | within | outside | not assessed |\n|---|---|---|---|---|---|\n");
    for (size_t i = 0; i < CASE_COUNT; i++) {
        size_t n[VERDICT_COUNT] = {0};
        if (!done[i].title)
            continue;
        count_verdicts(&done[i], n);
        fprintf(out, "| [%s](%s/README.md) | %zu | %zu | %zu | %zu | %zu |\n", done[i].title, done[i].folder, n[0], n[1], n[2],
                n[3], n[4]);
    }
}

static void print_case(const report_case *c, FILE *out)
{
    fprintf(out, "\n## %s\n\n", c->title);
    if (c->row_count)
        fprintf(out, "| quantity | reference | computed | error | tolerance | verdict |\n|---|---|---|---|---|---|\n");
    for (size_t i = 0; i < c->row_count; i++) {
        const report_row *r = &c->rows[i];
        fprintf(out, "| %s | %s | %s | %s | %s | %s%s |\n", r->quantity, r->reference, r->computed, r->error, r->tolerance,
                verdict_names[r->verdict], r->reference_in_doubt ? " (reference in doubt)" : "");
    }
    if (c->notes)
        fprintf(out, "\n%s\n", c->notes);
    if (c->picture[0])
        fprintf(out, "\n![%s](%s/%s)\n", c->title, c->folder, c->picture);
}

static void print_report(const report_case *done, FILE *out)
{
    fprintf(out,
            "# Validation report\n\n"
            "Made by `sh validation/run.sh`; do not edit. What each case is, its source and its doubts stand in its folder.\n"
            "*error* is computed less reference (for a band: less its middle). *within* and *outside* judge bands of the\n"
            "trade, common practice without a source, and are never a failure.\n\n");
    print_summary(done, out);
    for (size_t i = 0; i < CASE_COUNT; i++)
        print_case(&done[i], out);
}

int main(int argc, char **argv)
{
    static report_case done[CASE_COUNT];
    if (argc != 2)
        die("usage: validate REPORT.md | --standards");
    const bool standards_only = strcmp(argv[1], "--standards") == 0;
    size_t counts[VERDICT_COUNT] = {0}, failures = 0;
    for (size_t i = 0; i < CASE_COUNT; i++) {
        if (standards_only && !cases[i].is_standard)
            continue;
        cases[i].run(&done[i]);
        count_verdicts(&done[i], counts);
        failures += count_failures(&done[i]);
        if (standards_only)
            print_case(&done[i], stdout);
    }
    if (!standards_only) {
        char part[4096];
        snprintf(part, sizeof part, "%s.part", argv[1]);
        FILE *out = fopen(part, "w");
        if (!out)
            die("%s cannot be written", part);
        print_report(done, out);
        if (fclose(out) != 0 || rename(part, argv[1]) != 0)
            die("%s cannot be written", argv[1]);
    }
    printf("validation: %zu rows pass, %zu fail, %zu trade bands within, %zu outside, %zu rows not assessed\n", counts[0],
           counts[1], counts[2], counts[3], counts[4]);
    for (size_t i = 0; i < CASE_COUNT; i++) {
        free(done[i].rows);
        free(done[i].notes);
    }
    return standards_only && failures ? 1 : 0;
}
