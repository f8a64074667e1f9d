/* SPDX-License-Identifier: BSD-3-Clause */
#include "crew.h"
#include "cut_thickness.h"

#include <stallwright/cook_grid.h>
#include <stallwright/study.h>
#include <stallwright/wrap_traits.h>

#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>

_Static_assert((int)SW_WRAP_COUNT <= SW_GRID_VALUES_MAX, "the wraps fit an axis");

/* Steps of 25 F in the pit, as dials are marked. */
static const double pit_step = 25.0 / 1.8;

static void add_value(sw_grid_values *a, double value, bool is_planned)
{
    if (is_planned)
        a->planned = a->count;
    a->values[a->count++] = value;
}

/* Three humidities: the planned one, and two of a dry, a damp and a wet pit on either side of it. */
static void set_humidities(sw_grid_values *a, double planned)
{
    static const double usual[] = {0.01, 0.05, 0.15};
    const size_t left_out = planned <= 0.01 ? 0 : planned >= 0.15 ? 2 : 1;
    for (size_t i = 0; i < 3; i++)
        add_value(a, i == left_out ? planned : usual[i], i == left_out);
}

static void set_axes(sw_cook_grid *g, const sw_scenario *s, const sw_scenario *modelled)
{
    const bool section = sw_shape_is_section(s->meat.shape);
    sw_grid_values *a = g->axes;
    for (int k = -1; k <= 1; k++)
        add_value(&a[SW_GRID_PIT], s->pit.steps[0].temperature + k * pit_step, k == 0);
    /* A section takes longer to cook and more room in what shows it. */
    for (int k = -1; k <= (section ? 0 : 1); k++)
        add_value(&a[SW_GRID_THICKNESS], (1.0 + 0.3 * k) * modelled->meat.thickness, k == 0);
    if (section) {
        add_value(&a[SW_GRID_HUMIDITY], modelled->pit.humidity_ratio, true);
        add_value(&a[SW_GRID_HUMIDITY], fmin(1.0, fmax(0.15, 2.0 * modelled->pit.humidity_ratio)), false);
    } else {
        set_humidities(&a[SW_GRID_HUMIDITY], modelled->pit.humidity_ratio);
    }
    /* Those compared come first among the kinds; any other only if it is planned. */
    for (int k = 0; k < SW_WRAP_COUNT && (sw_wrap_traits_of((sw_wrap_kind)k)->is_compared || (int)s->wrap.kind >= k); k++)
        add_value(&a[SW_GRID_WRAP], (double)k, s->wrap.kind == (sw_wrap_kind)k);
    g->count = 1;
    for (int i = 0; i < SW_GRID_AXIS_COUNT; i++)
        g->count *= a[i].count;
}

static bool is_finer_than_grid(const sw_scenario *s)
{
    const sw_solver_settings *solver = &s->solver;
    return sw_shape_is_section(s->meat.shape) ? solver->rows > 10 || solver->columns > 14 : solver->cells > 60;
}

static void make_coarse(sw_scenario *s)
{
    sw_solver_settings *solver = &s->solver;
    solver->cells = solver->cells > 60 ? 60 : solver->cells;
    solver->rows = solver->rows > 10 ? 10 : solver->rows;
    solver->columns = solver->columns > 14 ? 14 : solver->columns;
    solver->relative_tolerance = fmax(solver->relative_tolerance, 1e-4);
}

/* The scenario of one cook of the grid. */
static void set_scenario(sw_scenario *s, const sw_grid_values *a, const size_t at[SW_GRID_AXIS_COUNT],
                         const sw_scenario *modelled)
{
    const double hotter = a[SW_GRID_PIT].values[at[SW_GRID_PIT]] - s->pit.steps[0].temperature;
    const double thicker = a[SW_GRID_THICKNESS].values[at[SW_GRID_THICKNESS]] / modelled->meat.thickness;
    for (size_t i = 0; i < s->pit.step_count; i++)
        s->pit.steps[i].temperature += hotter;
    if (at[SW_GRID_THICKNESS] != a[SW_GRID_THICKNESS].planned)
        sw_scale_thickness(s, modelled, thicker);
    s->pit.humidity_ratio = a[SW_GRID_HUMIDITY].values[at[SW_GRID_HUMIDITY]];
    s->wrap.kind = (sw_wrap_kind)at[SW_GRID_WRAP];
    /* What comes after the pull is not shown. */
    s->rest.until.kind = s->hold.until.kind = SW_ENDING_NONE;
}

/* Threads take the cooks one by one, each with a context of its own. */
typedef struct grid_work {
    sw_cook_grid *grid;
    const sw_scenario *scenario, *modelled;
    const sw_watch *watch; /* the caller's */
    pthread_mutex_t lock;  /* of the two below */
    size_t next;
    sw_status status; /* other than SW_OK: no more cooks */
} grid_work;

static void stop(grid_work *w, sw_status status)
{
    pthread_mutex_lock(&w->lock);
    w->status = status;
    pthread_mutex_unlock(&w->lock);
}

/* Whether the caller, or a failure in another thread, stops the work; data is the work. */
static bool is_stopped(void *data)
{
    grid_work *w = data;
    if (w->watch && w->watch->is_cancelled && w->watch->is_cancelled(w->watch->data))
        stop(w, SW_ERR_CANCELLED);
    pthread_mutex_lock(&w->lock);
    const bool stopped = w->status != SW_OK;
    pthread_mutex_unlock(&w->lock);
    return stopped;
}

static void run_one(grid_work *w, size_t number, sw_context *context, const sw_watch *watch)
{
    sw_cook_grid *g = w->grid;
    sw_run *run = &g->runs[number];
    size_t at[SW_GRID_AXIS_COUNT], left = number;
    char reason[SW_RUN_FAILURE_SIZE];
    for (size_t i = SW_GRID_AXIS_COUNT; i-- > 0;) {
        at[i] = left % g->axes[i].count;
        left /= g->axes[i].count;
    }
    run->scenario = *w->scenario;
    snprintf(run->label, sizeof run->label, "page-%zu/%zu", number + 1, g->count);
    set_scenario(&run->scenario, g->axes, at, w->modelled);
    if (g->is_coarse)
        make_coarse(&run->scenario);
    sw_run_or_follow(context, run, watch, &g->never_ends[number], reason);
    if (run->status == SW_ERR_CANCELLED || run->status == SW_ERR_MEMORY)
        stop(w, run->status);
}

static bool take_next(grid_work *w, size_t *number)
{
    if (is_stopped(w))
        return false;
    pthread_mutex_lock(&w->lock);
    const bool any = w->next < w->grid->count;
    if (any)
        *number = w->next++;
    pthread_mutex_unlock(&w->lock);
    return any;
}

static void work_on_grid(sw_context *context, bool is_caller, void *data)
{
    grid_work *w = data;
    sw_watch watch = {.is_cancelled = is_stopped, .data = w};
    if (is_caller && w->watch)
        watch = *w->watch;
    for (size_t number; take_next(w, &number);)
        run_one(w, number, context, &watch);
}

static sw_status make(sw_context *context, sw_cook_grid *g, size_t threads, grid_work *work)
{
    set_axes(g, work->scenario, work->modelled);
    g->is_coarse = is_finer_than_grid(work->scenario);
    g->runs = calloc(g->count, sizeof *g->runs);
    g->never_ends = calloc(g->count, sizeof *g->never_ends);
    if (!g->runs || !g->never_ends || pthread_mutex_init(&work->lock, NULL) != 0)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the cooks of a grid could not be allocated");
    work->grid = g;
    const sw_status status = sw_crew_work(context, threads, work_on_grid, work);
    pthread_mutex_destroy(&work->lock);
    if (status != SW_OK)
        return status;
    return work->status == SW_OK ? SW_OK : sw_fail(context, work->status, "a grid of cooks: %s", sw_status_text(work->status));
}

sw_status sw_cook_grid_make(sw_context *context, const sw_scenario *scenario, const sw_scenario *modelled, size_t threads,
                            const sw_watch *watch, sw_cook_grid **grid)
{
    grid_work work = {.scenario = scenario, .modelled = modelled, .watch = watch};
    sw_cook_grid *made = calloc(1, sizeof *made);
    if (!made)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a grid of cooks could not be allocated");
    const sw_status status = make(context, made, threads, &work);
    if (status == SW_OK)
        *grid = made;
    else
        sw_cook_grid_destroy(made);
    return status;
}

void sw_cook_grid_destroy(sw_cook_grid *g)
{
    if (!g)
        return;
    for (size_t i = 0; g->runs && i < g->count; i++)
        sw_run_free(&g->runs[i]);
    free(g->runs);
    free(g->never_ends);
    free(g);
}
