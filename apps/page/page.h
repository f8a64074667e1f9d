/* SPDX-License-Identifier: BSD-3-Clause */
/* An interactive page: one HTML file that needs no network. It is made of the embedded parts (apps/page), texts filled into
 * them, and data as JSON that the page's charts are drawn from. The blocks here serve every app that writes a page.
 *
 *     page *p = page_create(options);
 *     page_text *t = page_begin(p, "intro");      fills {{intro}} of the skeleton
 *     page_escaped(t, scenario.title);
 *     page_prose(t, &sentence);
 *     page_lab(p, axes, axis_count, runs);        the cooks its controls move between
 *     status = page_write(p, "explain.html");     frees it */
#ifndef SW_APPS_PAGE_H
#define SW_APPS_PAGE_H

#include "options.h"
#include "prose.h"

#include <jansson.h>

typedef struct page page;
typedef struct page_text page_text;

/* NULL if memory is short. */
page *page_create(const command_options *options);

/* Begins the text that stands where the skeleton has the name in double braces; it ends with the next one. */
page_text *page_begin(page *page, const char *name);

/* Adds markup, as it is. */
void page_markup(page_text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Adds text with what HTML would take for markup escaped. */
void page_escaped(page_text *text, const char *plain);

/* Adds a quantity; the page shows it in the system of units that is chosen, from its value in the data. */
void page_quantity(page_text *text, prose_kind kind, double value);
void page_prose(page_text *text, const prose *prose);

/* Adds a text of which the page shows the version of the chosen system of units: for what has a rounding of its own. */
void page_worded(page_text *text, const char *si, const char *us);

/* A cook as it is called. */
typedef struct page_row {
    const char *words;
    const sw_run *run;
    bool never_ends; /* it was followed only */
    const sw_band *band; /* how far cooks like it differ; NULL: not told */
} page_row;

/* What is not met of food safety in some cooks, each a sentence; {{safety}} has them, {{safety-note}} one line for the top
 * of the page that leads there, or says that nothing is broken. A cook without a history has no verdict. */
void page_safety(page *page, const page_row *rows, size_t count);

/* Adds to the data of the page, which takes the value over. */
void page_data(page *page, const char *key, json_t *value);

/* {{meat}}, up to the pit it is put into, and {{wrap}}. modelled: as it was cooked; asked: as the scenario says. */
void page_meat(page *page, const sw_scenario *modelled, const sw_meat *asked);

/* The texts {{title}}, {{meat-name}}, {{stall}}, {{program}} and others that every page has, and its data. */
void page_common(page *page, const sw_scenario *modelled);

/* A table of cooks, one a row: what they are called, when they are done, in what band if any of them has one, their stall, yield and water. */
void page_cooks_table(page_text *text, const page_row *rows, size_t count);

/* {{quality}}: how each choice turns out: bark, tenderness, juice kept, food safety. */
void page_quality(page *page, const page_row *rows, size_t count);

/* {{probes}}: a table of what each probe told, of cooks that have several; nothing of the others. */
void page_probes(page *page, const page_row *rows, size_t count);

/* What the controls of the laboratory of a page can be set to. */
enum { PAGE_AXES_MAX = 4, PAGE_VALUES_MAX = 16 };
typedef struct page_axis {
    const char *label;
    prose_kind kind; /* PROSE_TEXT: words, else values */
    size_t count, planned; /* how many; the one the scenario has */
    double values[PAGE_VALUES_MAX];
    const char *words[PAGE_VALUES_MAX];
} page_axis;

/* The laboratory: cooks between which controls move, the last axis running fastest. never_ends may be NULL, else says of each
 * whether it was followed only. */
void page_lab(page *page, const page_axis *axes, size_t axis_count, const sw_run *runs, const bool *never_ends);

/* Writes the page from a skeleton to the path of --page, and frees it. Prints the reason if it fails; returns an exit
 * status. */
int page_write(page *page, const char *skeleton);

/* Frees a page that is not written; NULL is allowed. */
void page_abandon(page *page);

#endif
