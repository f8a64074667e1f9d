/* SPDX-License-Identifier: BSD-3-Clause */
#include "sweep_text.h"

#include "csv_output.h"
#include "figures.h"
#include "json_output.h"
#include "output_file.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A cook of a sweep as other apps have theirs, without its history. */
static int take_cook(const sweep_view *v, size_t run, sw_run *cook)
{
    sw_study_result result;
    int status = sweep_read(v, run, &result);
    if (status != EXIT_DONE)
        return status;
    snprintf(cook->label, sizeof cook->label, "%zu", run);
    sw_study_scenario(v->study, run, &cook->scenario);
    cook->status = result.status;
    cook->outcome = result.outcome;
    snprintf(cook->failure, sizeof cook->failure, "%s", result.failure);
    sw_study_result_free(&result);
    return EXIT_DONE;
}

/* ---- CSV ---- */

/* "pit.temperature" in K becomes "pit_k"; a word has no unit. */
static void print_factor_heading(const sw_factor_view *f)
{
    char name[FIGURE_KEY_SIZE], key[FIGURE_KEY_SIZE];
    snprintf(name, sizeof name, "%s", f->key);
    for (char *at = name; *at; at++)
        *at = isalnum((unsigned char)*at) ? *at : '_';
    printf(",%s", figure_key(name, f->has_numbers ? sw_quantity_si_unit(f->quantity) : "1", key));
}

static void print_csv_value(const sweep_view *v, size_t run, size_t factor)
{
    putchar(',');
    if (sw_study_factor(v->study, factor).has_numbers)
        printf("%.17g", sw_study_number(v->study, run, factor));
    else
        csv_print_text(sw_study_listed_label(v->study, factor, sw_study_choice(v->study, run, factor)));
}

static void print_csv_cook(const sweep_view *v, size_t run, const sw_run *cook)
{
    figure figures[FIGURES_MAX];
    size_t count = choice_figures(cook, SW_ABSENT, figures);
    const bool failed = cook->status != SW_OK;
    printf("%zu", run);
    for (size_t i = 0; i < sw_study_factor_count(v->study); i++)
        print_csv_value(v, run, i);
    for (size_t k = 0; k < count; k++)
        if (isfinite(figures[k].value))
            printf(",%.17g", figures[k].value);
        else
            putchar(',');
    printf(",%s,", failed ? "" : sw_surface_state_name(cook->outcome.top_state_at_pull));
    if (failed)
        csv_print_text(cook->failure);
    putchar('\n');
}

static int print_csv(const sweep_view *v, sw_run *cook)
{
    figure figures[FIGURES_MAX];
    size_t count = choice_figures(cook, SW_ABSENT, figures);
    fputs("run", stdout);
    for (size_t i = 0; i < sw_study_factor_count(v->study); i++) {
        const sw_factor_view f = sw_study_factor(v->study, i);
        print_factor_heading(&f);
    }
    for (size_t k = 0; k < count; k++)
        printf(",%s", figures[k].key);
    puts(",top_state,error");
    int status = EXIT_DONE;
    for (size_t run = 0; run < v->run_count && status == EXIT_DONE; run++) {
        status = take_cook(v, run, cook);
        if (status == EXIT_DONE)
            print_csv_cook(v, run, cook);
    }
    return status == EXIT_DONE ? flush_standard_output() : status;
}

/* ---- JSON ---- */

static json_t *json_factors(const sw_study *study)
{
    static const char *const kinds[] = {"listed", "uniform", "normal"};
    json_t *list = json_array();
    for (size_t i = 0; i < sw_study_factor_count(study); i++) {
        const sw_factor_view f = sw_study_factor(study, i);
        json_t *object = json_object();
        json_object_set_new(object, "key", json_string(f.key));
        json_object_set_new(object, "kind", json_string(kinds[f.kind]));
        json_object_set_new(object, "unit", f.has_numbers ? json_string(sw_quantity_si_unit(f.quantity)) : json_null());
        json_array_append_new(list, object);
    }
    return list;
}

static json_t *json_values(const sweep_view *v, size_t run)
{
    json_t *list = json_array();
    for (size_t i = 0; i < sw_study_factor_count(v->study); i++)
        json_array_append_new(list, sw_study_factor(v->study, i).has_numbers
                                        ? json_real(sw_study_number(v->study, run, i))
                                        : json_string(sw_study_listed_label(v->study, i, sw_study_choice(v->study, run, i))));
    return list;
}

/* Prints a value that jansson has made and lets it go; false if it could not be made or printed. */
static bool print_value(json_t *value)
{
    bool good = value && json_dumpf(value, stdout, JSON_COMPACT | JSON_REAL_PRECISION(17)) == 0;
    json_decref(value);
    return good;
}

/* The members of an object, without its braces. */
static bool print_members(json_t *object)
{
    char *text = object ? json_dumps(object, JSON_COMPACT | JSON_REAL_PRECISION(17)) : NULL;
    json_decref(object);
    if (!text)
        return false;
    printf("%.*s", (int)strlen(text) - 2, text + 1);
    free(text);
    return true;
}

static bool print_json_heading(const sweep_view *v)
{
    json_t *object = json_heading(sw_study_base(v->study));
    json_object_set_new(object, "design", json_string(sw_design_name(sw_study_design(v->study))));
    json_object_set_new(object, "seed", json_integer((json_int_t)sw_study_seed(v->study)));
    json_object_set_new(object, "factors", json_factors(v->study));
    return print_members(object);
}

static int print_json(const sweep_view *v, sw_run *cook)
{
    putchar('{');
    bool good = print_json_heading(v);
    fputs(",\"choices\":[", stdout);
    for (size_t run = 0; run < v->run_count && good; run++) {
        int status = take_cook(v, run, cook);
        if (status != EXIT_DONE)
            return status;
        json_t *object = json_choice(cook, SW_ABSENT);
        json_object_set_new(object, "values", json_values(v, run));
        fputs(run ? ",\n" : "\n", stdout);
        good = print_value(object);
    }
    puts("\n]}");
    int status = flush_standard_output();
    if (!good && status == EXIT_DONE) {
        print_error("the JSON output could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        status = EXIT_FAILED;
    }
    return status;
}

static int with_cook(const sweep_view *v, int (*print)(const sweep_view *v, sw_run *cook))
{
    sw_run *cook = calloc(1, sizeof *cook);
    if (!cook) {
        print_error("a cook cannot be printed: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    int status = print(v, cook);
    free(cook);
    return status;
}

int sweep_print_csv(const sweep_view *v)
{
    return with_cook(v, print_csv);
}

int sweep_print_json(const sweep_view *v)
{
    return with_cook(v, print_json);
}
