/* SPDX-License-Identifier: BSD-3-Clause */
/* What a validation case adds to the report: rows of reference and computed values, notes, curves for a picture.
 * Every failure of a case that is not a matter of figures (a run that breaks, a file that is missing) ends the program
 * with its reason: a report with holes would look like one without. */
#ifndef SW_VALIDATION_CASE_H
#define SW_VALIDATION_CASE_H

#include <stdbool.h>
#include <stddef.h>

typedef enum verdict {
    VERDICT_PASS,
    VERDICT_FAIL,
    VERDICT_WITHIN,      /* a band of the trade: never a failure */
    VERDICT_OUTSIDE,
    VERDICT_NOT_ASSESSED,
    VERDICT_COUNT
} verdict;

enum { TEXT_SIZE = 512 };

typedef struct report_row {
    char quantity[TEXT_SIZE];
    char reference[TEXT_SIZE];
    char computed[TEXT_SIZE];
    char error[TEXT_SIZE];
    char tolerance[TEXT_SIZE];
    verdict verdict;
    bool reference_in_doubt; /* the reference itself cannot be right as quoted */
} report_row;

typedef struct report_case {
    const char *folder; /* under validation/ */
    const char *title;
    size_t row_count;
    report_row *rows;
    char *notes;        /* Markdown, NULL for none */
    char picture[TEXT_SIZE]; /* file in the folder, "" for none */
} report_case;

/* Prints the sentence to stderr and exits with 2. */
void die(const char *format, ...) __attribute__((format(printf, 1, 2), noreturn));

/* The folder validation/ of the source tree: a path of a file in it; the text is the caller's. */
char *validation_path(const char *folder, const char *file);

/* A computed value against a reference that is wrong by at most tolerance; absolute, in the quantity's unit. */
void add_near(report_case *c, const char *quantity, double reference, double computed, double tolerance, int decimals);

/* Against a band. trade: within or outside, never a failure. */
void add_band(report_case *c, const char *quantity, double low, double high, double computed, int decimals, bool trade);

/* A row as it stands. */
void add_row(report_case *c, const report_row *row);
void add_not_assessed(report_case *c, const char *quantity, const char *reason);
void add_note(report_case *c, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* A table of numbers and words from a CSV file with a heading; lines that begin with # and empty lines are skipped.
 * A field may be quoted to hold commas. */
typedef struct csv_table {
    size_t column_count, row_count;
    char **heading;
    char ***cell;
    char *path;
} csv_table;

csv_table *csv_read(const char *folder, const char *file);
csv_table *csv_read_path(const char *path);
void csv_free(csv_table *table);

/* The text of a column; dies if there is no such column. */
const char *csv_text(const csv_table *table, size_t row, const char *column);

/* Its number; dies if it is none. An empty field is NaN. */
double csv_number(const csv_table *table, size_t row, const char *column);

/* A curve of a picture: a line, or marks. */
typedef struct picture_curve {
    const char *label;
    size_t count;
    const double *x, *y;
    bool marks;
} picture_curve;

/* Writes a picture into the folder of the case and names it in the report. */
void add_picture(report_case *c, const char *file, const char *x_label, const char *y_label, size_t count,
                 const picture_curve *curves);

#endif
