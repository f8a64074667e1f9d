/* SPDX-License-Identifier: BSD-3-Clause */
/* USDA raw and braised brisket: yields that conserve protein, and computed braises against them. */
#include "cases.h"

#include "cook_case.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static size_t row_of(const csv_table *t, const char *ndb)
{
    for (size_t i = 0; i < t->row_count; i++)
        if (strcmp(csv_text(t, i, "ndb"), ndb) == 0)
            return i;
    die("%s: no item %s", t->path, ndb);
}

/* The pairs of raw and braised, and what the table implies: protein neither leaves nor comes. */
static void note_yields(report_case *c, const csv_table *items, const csv_table *pairs)
{
    char text[4 * TEXT_SIZE];
    int length = snprintf(text, sizeof text, "Yields by protein (raw protein over braised protein), g lost per 100 g raw:\n\n"
                                             "| item | yield, %% | water | fat |\n|---|---|---|---|");
    for (size_t i = 0; i < pairs->row_count; i++) {
        size_t raw = row_of(items, csv_text(pairs, i, "raw_ndb")), braised = row_of(items, csv_text(pairs, i, "braised_ndb"));
        double yield = csv_number(items, raw, "protein") / csv_number(items, braised, "protein");
        length += snprintf(text + length, sizeof text - (size_t)length, "\n| %s | %.1f | %.1f | %.1f |",
                           csv_text(pairs, i, "item"), 100.0 * yield,
                           csv_number(items, raw, "water") - yield * csv_number(items, braised, "water"),
                           csv_number(items, raw, "fat") - yield * csv_number(items, braised, "fat"));
    }
    add_note(c, "%s", text);
}

/* A braise of each pair's raw composition, all of it lean, in closed foil. */
static void add_braises(report_case *c, const csv_table *items, const csv_table *pairs)
{
    sw_scenario_reader *reader;
    if (sw_scenario_reader_create(NULL, &reader) != SW_OK)
        die("the unit database cannot be read");
    char *path = validation_path(c->folder, "braise.yaml");
    char settings[TEXT_SIZE], quantity[TEXT_SIZE];
    for (size_t i = 0; i < pairs->row_count; i++) {
        size_t raw = row_of(items, csv_text(pairs, i, "raw_ndb")), braised = row_of(items, csv_text(pairs, i, "braised_ndb"));
        const double water = csv_number(items, raw, "water"), protein = csv_number(items, raw, "protein"),
                     fat = csv_number(items, raw, "fat"), ash = csv_number(items, raw, "ash"),
                     sum = water + protein + fat + ash;
        /* Fractions of the four, which the table leaves a little off 100 g. */
        snprintf(settings, sizeof settings,
                 "meat.composition.water=%.17g; meat.composition.protein=%.17g; meat.composition.fat=%.17g; "
                 "meat.composition.ash=%.17g; meat.thickness=%s",
                 water / sum, protein / sum, fat / sum, ash / sum, csv_text(pairs, i, "thickness"));
        cook_result result;
        cook_case_run(reader, path, settings, 0, NULL, &result);
        if (result.failed)
            die("%s", result.failure);
        double yield = 100.0 * protein / csv_number(items, braised, "protein");
        snprintf(quantity, sizeof quantity, "%s: yield of a braise to 85 C, %%", csv_text(pairs, i, "item"));
        add_near(c, quantity, yield, cook_quantity(&result, "yield_at_pull_percent"), csv_number(pairs, i, "tolerance"), 1);
        cook_case_free(&result);
    }
    free(path);
    sw_scenario_reader_destroy(reader);
}

void validate_usda_composition(report_case *c)
{
    c->folder = "usda_composition";
    c->title = "USDA, raw and braised brisket";
    csv_table *items = csv_read(c->folder, "composition.csv"), *pairs = csv_read(c->folder, "pairs.csv");
    add_braises(c, items, pairs);
    add_cook_rows(c, "rows.csv");
    note_yields(c, items, pairs);
    csv_free(items);
    csv_free(pairs);
}
