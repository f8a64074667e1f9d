/* SPDX-License-Identifier: BSD-3-Clause */
#include "sweep_table.h"

#include "food_safety.h"
#include "output_file.h"
#include "table.h"

#include <stdlib.h>
#include <string.h>

enum { NONE = SW_STUDY_FACTORS_MAX, BLOCKS_MAX = 12, FAILURES_SHOWN = 8 };

const double sweep_shares[SWEEP_SHARE_COUNT] = {0.05, 0.25, 0.5, 0.75, 0.95};

/* ---- grids ---- */

static size_t factor_called(const sw_study *study, const char *key)
{
    for (size_t i = 0; i < sw_study_factor_count(study); i++)
        if (strcmp(sw_study_factor(study, i).key, key) == 0)
            return i;
    return NONE;
}

/* The first factor with several values but one; with one value if there is no other. */
static size_t first_factor_but(const sw_study *study, size_t taken)
{
    size_t found = NONE;
    for (size_t i = sw_study_factor_count(study); i-- > 0;)
        if (i != taken && (found == NONE || sw_study_factor(study, i).value_count > 1))
            found = i;
    return found;
}

sweep_plane sweep_plane_of(const sw_study *study)
{
    sweep_plane p = {factor_called(study, "pit.temperature"), factor_called(study, "wrap.kind")};
    if (p.down == NONE)
        p.down = first_factor_but(study, p.across);
    if (p.down == NONE) { /* only the wrap is varied */
        p.down = p.across;
        p.across = NONE;
    }
    if (p.across == NONE)
        p.across = first_factor_but(study, p.down);
    return p;
}

size_t sweep_plane_run(const sw_study *study, const sweep_plane *p, size_t down_value, size_t across_value, size_t others)
{
    size_t run = 0;
    for (size_t i = 0; i < sw_study_factor_count(study); i++) {
        size_t value = i == p->down ? down_value : i == p->across ? across_value : sw_study_choice(study, others, i);
        run = run * sw_study_factor(study, i).value_count + value;
    }
    return run;
}

static const char *cell_text(const sweep_view *v, size_t run, sweep_figure figure, char *text)
{
    if (v->has_failed[run])
        return "failed";
    if (figure == SWEEP_slice_time && SW_IS_ABSENT(v->figures[figure][run]))
        return "never";
    return figure == SWEEP_stall_length && SW_IS_ABSENT(v->figures[figure][run])
               ? "no stall"
               : show_sweep_figure(figure, v->figures[figure][run], text);
}

static size_t at_most(size_t count, size_t limit)
{
    return count < limit ? count : limit;
}

/* One figure over two factors, or one. */
static void print_plane(const sweep_view *v, const sweep_plane *p, size_t others, sweep_figure figure, sw_unit_system units)
{
    table *t = calloc(1, sizeof *t);
    char text[QUANTITY_SIZE];
    const size_t rows = at_most(sw_study_factor(v->study, p->down).value_count, TABLE_ROWS_MAX - 1);
    const size_t all = p->across < NONE ? sw_study_factor(v->study, p->across).value_count : 1;
    const size_t columns = at_most(all, 6);
    if (!t)
        return;
    t->has_heading = true;
    table_set(t, 0, 0, sweep_figure_title(figure));
    for (size_t c = 0; c < columns; c++)
        table_set(t, 0, c + 1, p->across < NONE ? show_listed_value(v->study, p->across, c, units, text) : "");
    for (size_t r = 0; r < rows; r++) {
        table_set(t, r + 1, 0, show_listed_value(v->study, p->down, r, units, text));
        for (size_t c = 0; c < columns; c++)
            table_set(t, r + 1, c + 1, cell_text(v, sweep_plane_run(v->study, p, r, c, others), figure, text));
    }
    table_print(t, false, stdout);
    if (rows < sw_study_factor(v->study, p->down).value_count || columns < all)
        printf("(not all values fit; --format csv has them)\n");
    free(t);
}

/* One factor: its values down, some figures across. */
static void print_figures(const sweep_view *v, size_t factor, const sweep_figure *figures, size_t count,
                          sw_unit_system units)
{
    table *t = calloc(1, sizeof *t);
    char text[QUANTITY_SIZE];
    const size_t all = sw_study_factor(v->study, factor).value_count, rows = at_most(all, TABLE_ROWS_MAX - 1);
    if (!t)
        return;
    t->has_heading = true;
    table_set(t, 0, 0, sw_study_factor(v->study, factor).key);
    for (size_t f = 0, column = 1; f < count; f++)
        if (sweep_figure_is_told(v, figures[f]))
            table_set(t, 0, column++, sweep_figure_title(figures[f]));
    for (size_t r = 0; r < rows; r++) {
        table_set(t, r + 1, 0, show_listed_value(v->study, factor, r, units, text));
        for (size_t f = 0, column = 1; f < count; f++)
            if (sweep_figure_is_told(v, figures[f]))
                table_set(t, r + 1, column++, cell_text(v, r, figures[f], text));
    }
    table_print(t, false, stdout);
    if (rows < all)
        printf("(%zu more rows; --format csv has them)\n", all - rows);
    free(t);
}

/* When, and how it turns out: together they would be too wide. */
static void print_line(const sweep_view *v, size_t factor, sw_unit_system units)
{
    static const sweep_figure times[] = {SWEEP_stall_start, SWEEP_stall_length, SWEEP_done_time, SWEEP_slice_time};
    static const sweep_figure others[] = {SWEEP_yield_fraction, SWEEP_bark, SWEEP_late};
    print_figures(v, factor, times, sizeof times / sizeof *times, units);
    printf("\n");
    print_figures(v, factor, others, sizeof others / sizeof *others, units);
}

/* Whether a run has the first value of both factors of the plane: one such run stands for each block of tables. */
static bool begins_block(const sw_study *study, const sweep_plane *p, size_t run)
{
    return sw_study_choice(study, run, p->down) == 0 && (p->across == NONE || sw_study_choice(study, run, p->across) == 0);
}

static void print_block(const sweep_view *v, const sweep_plane *p, size_t run, sw_unit_system units)
{
    char text[QUANTITY_SIZE];
    bool any = false;
    for (size_t i = 0; i < sw_study_factor_count(v->study); i++)
        if (i != p->down && i != p->across) {
            printf("%s%s = %s", any ? ", " : "", sw_study_factor(v->study, i).key,
                   show_run_value(v->study, run, i, units, text));
            any = true;
        }
    printf(any ? ":\n" : "");
    static const sweep_figure figures[] = {SWEEP_done_time, SWEEP_stall_length, SWEEP_yield_fraction, SWEEP_bark, SWEEP_late};
    for (size_t f = 0; f < sizeof figures / sizeof *figures; f++) {
        if (!sweep_figure_is_told(v, figures[f]))
            continue;
        printf(f > 0 ? "\n" : "");
        print_plane(v, p, run, figures[f], units);
    }
}

static void print_grid(const sweep_view *v, sw_unit_system units)
{
    const sweep_plane p = sweep_plane_of(v->study);
    size_t blocks = 0;
    if (p.across < NONE)
        printf("%s down, %s across\n\n", sw_study_factor(v->study, p.down).key, sw_study_factor(v->study, p.across).key);
    if (p.across == NONE) {
        print_line(v, p.down, units);
        return;
    }
    for (size_t run = 0; run < v->run_count; run++) {
        if (!begins_block(v->study, &p, run))
            continue;
        if (blocks < BLOCKS_MAX) {
            printf(blocks ? "\n" : "");
            print_block(v, &p, run, units);
        }
        blocks++;
    }
    if (blocks > BLOCKS_MAX)
        printf("(%zu more tables; --format csv has all cooks)\n", blocks - BLOCKS_MAX);
}

/* ---- random designs ---- */

static void print_distributions(const sweep_view *v)
{
    for (size_t i = 0; i < sw_study_factor_count(v->study); i++) {
        const sw_factor_view f = sw_study_factor(v->study, i);
        printf("  %s: %s\n", f.key, f.kind == SW_FACTOR_UNIFORM  ? "evenly distributed"
                                    : f.kind == SW_FACTOR_NORMAL ? "normally distributed"
                                                                 : "each listed value equally often");
    }
}

static size_t count_present(const double *values, size_t count)
{
    size_t present = 0;
    for (size_t i = 0; i < count; i++)
        if (!SW_IS_ABSENT(values[i]))
            present++;
    return present;
}

static int print_quantiles(const sweep_view *v)
{
    table *t = calloc(1, sizeof *t);
    double *values = malloc(v->run_count * sizeof *values);
    char text[QUANTITY_SIZE];
    int status = t && values ? EXIT_DONE : EXIT_FAILED;
    if (status != EXIT_DONE)
        print_error("the quantiles cannot be counted: %s", sw_status_text(SW_ERR_MEMORY));
    for (size_t s = 0; status == EXIT_DONE && s < SWEEP_SHARE_COUNT; s++) {
        snprintf(text, sizeof text, s == 0 ? "%.0f %% below" : "%.0f %%", 100.0 * sweep_shares[s]);
        table_set(t, 0, s + 1, text);
    }
    size_t row = 0;
    for (int f = 0; status == EXIT_DONE && f < SWEEP_FIGURE_COUNT; f++) {
        if (!sweep_figure_is_told(v, (sweep_figure)f))
            continue;
        memcpy(values, v->figures[f], v->run_count * sizeof *values);
        table_set(t, ++row, 0, sweep_figure_title((sweep_figure)f));
        for (size_t s = 0; s < SWEEP_SHARE_COUNT; s++)
            table_set(t, row, s + 1,
                      show_sweep_figure((sweep_figure)f, sw_quantile(values, v->run_count, sweep_shares[s]), text));
    }
    if (status == EXIT_DONE) {
        t->has_heading = true;
        table_set(t, 0, 0, "");
        table_print(t, false, stdout);
        const size_t stalled = count_present(v->figures[SWEEP_stall_length], v->run_count);
        const size_t done = count_present(v->figures[SWEEP_done_time], v->run_count);
        if (done > 0)
            printf("%zu of %zu cooks stalled; the figures of the stall are of those.\n", stalled, done);
    }
    free(values);
    free(t);
    return status;
}

/* ---- both ---- */

static void print_heading(const sweep_view *v, sw_unit_system units)
{
    const sw_scenario *s = sw_study_base(v->study);
    sw_scenario settled = *s;
    sw_scenario_settle(&settled);
    char mass[QUANTITY_SIZE];
    printf("%s\n%s, %s; %s of %zu cooks\n", s->title, sw_meat_name(&s->meat), show_mass(settled.meat.mass, units, mass),
           sw_study_design(v->study) == SW_DESIGN_GRID ? "a grid" : "a random design", v->run_count);
}

static int print_failures(const sweep_view *v, sw_unit_system units)
{
    size_t shown = 0, failed = sw_study_journal_failures(v->journal);
    for (size_t run = 0; run < v->run_count && shown < FAILURES_SHOWN && shown < failed; run++) {
        if (!v->has_failed[run])
            continue;
        sw_study_result result;
        char text[QUANTITY_SIZE];
        int status = sweep_read(v, run, &result);
        if (status != EXIT_DONE)
            return status;
        prose p;
        prose_clear(&p);
        prose_add(&p, "Cook {whole}", (double)run);
        for (size_t i = 0; i < sw_study_factor_count(v->study); i++)
            prose_add(&p, "{text}{text}", i ? ", " : " (", show_run_value(v->study, run, i, units, text));
        prose_add(&p, ") failed: {text}.", result.failure);
        fputs(shown == 0 ? "\n" : "", stdout);
        prose_print(&p, units, "", "  ", stdout);
        sw_study_result_free(&result);
        shown++;
    }
    if (shown < failed)
        printf("%zu more cooks failed.\n", failed - shown);
    return EXIT_DONE;
}

/* Which cooks keep the hour they were planned for, and which have a phase that does not end. */
static void print_hours(const sweep_view *v)
{
    char text[160];
    if (show_cooks_in_time(v, text, sizeof text))
        printf("\n%s.\n", text);
    if (show_cooks_not_wrapped(v, text, sizeof text))
        printf("\n%s.\n", text);
    if (show_cooks_past_log(v, text, sizeof text))
        printf("\n%s.\n", text);
    if (v->endless_count > 0)
        printf("\n%zu of %zu cooks have a phase after the pull that does not end, so their meat is never\n"
               "ready; \"stallwright cook\" with their settings says what would end it.\n",
               v->endless_count, v->run_count);
}

int sweep_print_table(const sweep_view *v, const command_options *o)
{
    char definition[STALL_TEXT_SIZE];
    int status = EXIT_DONE;
    print_heading(v, o->units);
    if (sw_study_design(v->study) == SW_DESIGN_HALTON) {
        print_distributions(v);
        printf("\n");
        status = print_quantiles(v);
    } else if (sw_study_factor_count(v->study) > 0) {
        print_grid(v, o->units);
    }
    if (status == EXIT_DONE)
        status = print_failures(v, o->units);
    print_hours(v);
    printf("\nStall: %s.\n", show_stall_definition(&sw_study_base(v->study)->stall, o->units, definition));
    printf("A model, not a thermometer. \"stallwright cook\" shows one cook in full, with\n"
           "every verdict of food safety and its cautions.\n");
    print_safety_deference();
    return status == EXIT_DONE ? flush_standard_output() : status;
}
