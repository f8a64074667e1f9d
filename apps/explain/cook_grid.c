#include "cook_grid.h"

#include "explanation.h"

#include <stallwright/wrap_traits.h>

#include <math.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { PIT, THICKNESS, HUMIDITY, WRAP, AXIS_COUNT };

/* Steps of 25 F in the pit, as dials are marked. */
static const double pit_step = 25.0 / 1.8;

static void set_axis(page_axis *a, const char *label, prose_kind kind)
{
    *a = (page_axis){.label = label, .kind = kind};
}

static void add_value(page_axis *a, double value, bool is_planned)
{
    if (is_planned)
        a->planned = a->count;
    a->values[a->count++] = value;
}

/* Three humidities: the planned one, and two of a dry, a damp and a wet pit on either side of it. */
static void set_humidities(page_axis *a, double planned)
{
    static const double usual[] = {0.01, 0.05, 0.15};
    set_axis(a, "Humidity ratio of the pit", PROSE_NUMBER);
    const size_t left_out = planned <= 0.01 ? 0 : planned >= 0.15 ? 2 : 1;
    for (size_t i = 0; i < 3; i++)
        add_value(a, i == left_out ? planned : usual[i], i == left_out);
}

static void set_axes(cook_grid *g, const sw_scenario *s, const sw_scenario *modelled)
{
    const bool section = sw_shape_is_section(s->meat.shape);
    const double pit = s->pit.steps[0].temperature;
    page_axis *a = g->axes;
    g->axis_count = AXIS_COUNT;
    set_axis(&a[PIT], "Pit temperature", PROSE_TEMPERATURE);
    for (int k = -1; k <= 1; k++)
        add_value(&a[PIT], pit + k * pit_step, k == 0);
    set_axis(&a[THICKNESS], "Thickness", PROSE_LENGTH);
    /* A section takes longer to cook and more room in the page. */
    for (int k = -1; k <= (section ? 0 : 1); k++)
        add_value(&a[THICKNESS], (1.0 + 0.3 * k) * modelled->meat.thickness, k == 0);
    if (section) {
        set_axis(&a[HUMIDITY], "Humidity ratio of the pit", PROSE_NUMBER);
        add_value(&a[HUMIDITY], s->pit.humidity_ratio, true);
        add_value(&a[HUMIDITY], fmin(1.0, fmax(0.15, 2.0 * s->pit.humidity_ratio)), false);
    } else {
        set_humidities(&a[HUMIDITY], s->pit.humidity_ratio);
    }
    set_axis(&a[WRAP], "Wrap", PROSE_TEXT);
    /* Those compared come first among the kinds; any other only if it is planned. */
    for (int k = 0; k < SW_WRAP_COUNT && (sw_wrap_traits_of((sw_wrap_kind)k)->is_compared || (int)s->wrap.kind >= k); k++) {
        a[WRAP].words[k] = sw_wrap_name((sw_wrap_kind)k);
        if (s->wrap.kind == (sw_wrap_kind)k)
            a[WRAP].planned = (size_t)k;
        a[WRAP].count++;
    }
    g->count = 1;
    for (size_t i = 0; i < g->axis_count; i++)
        g->count *= a[i].count;
}

static bool is_finer_than_page(const sw_scenario *s)
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
static void set_scenario(sw_scenario *s, const page_axis *a, const size_t at[AXIS_COUNT], const sw_scenario *modelled)
{
    const double hotter = a[PIT].values[at[PIT]] - s->pit.steps[0].temperature;
    const double thicker = a[THICKNESS].values[at[THICKNESS]] / modelled->meat.thickness;
    for (size_t i = 0; i < s->pit.step_count; i++)
        s->pit.steps[i].temperature += hotter;
    if (at[THICKNESS] != a[THICKNESS].planned)
        scale_thickness(s, modelled, thicker);
    s->pit.humidity_ratio = a[HUMIDITY].values[at[HUMIDITY]];
    s->wrap.kind = (sw_wrap_kind)at[WRAP];
    /* What comes after the pull is not shown. */
    s->rest.until.kind = s->hold.until.kind = SW_ENDING_NONE;
}

static void run_one(cook_grid *g, size_t number, const sw_scenario *scenario, const sw_scenario *modelled,
                    sw_context *context, progress *p)
{
    cook_run *run = &g->runs[number];
    size_t at[AXIS_COUNT], left = number;
    char reason[FAILURE_SIZE];
    for (size_t i = AXIS_COUNT; i-- > 0;) {
        at[i] = left % g->axes[i].count;
        left /= g->axes[i].count;
    }
    run->scenario = *scenario;
    snprintf(run->label, sizeof run->label, "page-%zu/%zu", number + 1, g->count);
    set_scenario(&run->scenario, g->axes, at, modelled);
    if (g->is_coarse)
        make_coarse(&run->scenario);
    run->status = sw_scenario_check(context, &run->scenario);
    if (run->status != SW_OK)
        snprintf(run->failure, sizeof run->failure, "%s", sw_context_message(context));
    else
        g->never_ends[number] = run_or_follow(run, context, p, reason);
}

/* Threads take the cooks one by one; each has a context and a progress of its own, and the first one shows its own. */
typedef struct grid_work {
    cook_grid *grid;
    const sw_scenario *scenario, *modelled;
    pthread_mutex_t lock; /* of the next */
    size_t next;
} grid_work;

typedef struct grid_worker {
    grid_work *work;
    sw_context *context;
    progress progress;
    pthread_t thread;
} grid_worker;

static bool take_next(grid_work *w, size_t *number)
{
    pthread_mutex_lock(&w->lock);
    const bool any = w->next < w->grid->count && !was_interrupted();
    if (any)
        *number = w->next++;
    pthread_mutex_unlock(&w->lock);
    return any;
}

static void *work_on_grid(void *data)
{
    grid_worker *w = data;
    for (size_t number; take_next(w->work, &number);)
        run_one(w->work->grid, number, w->work->scenario, w->work->modelled, w->context, &w->progress);
    return NULL;
}

/* What cannot be started, the calling thread does. */
static void run_all(grid_work *work, sw_context *context, const progress *p)
{
    enum { THREADS_MAX = 64 };
    grid_worker workers[THREADS_MAX] = {{.work = work, .context = context, .progress = *p}};
    const long processors = sysconf(_SC_NPROCESSORS_ONLN);
    size_t count = 1;
    for (long wanted = processors < THREADS_MAX ? processors : THREADS_MAX; (long)count < wanted; count++) {
        grid_worker *w = &workers[count];
        *w = (grid_worker){.work = work, .progress = {.units = p->units}};
        if (sw_context_create(&w->context) != SW_OK)
            break;
        if (pthread_create(&w->thread, NULL, work_on_grid, w) != 0) {
            sw_context_destroy(w->context);
            break;
        }
    }
    work_on_grid(&workers[0]);
    for (size_t i = 1; i < count; i++) {
        pthread_join(workers[i].thread, NULL);
        sw_context_destroy(workers[i].context);
    }
}

int cook_grid_make(cook_grid *g, const sw_scenario *scenario, const sw_scenario *modelled, sw_context *context, progress *p)
{
    memset(g, 0, sizeof *g);
    set_axes(g, scenario, modelled);
    g->is_coarse = is_finer_than_page(scenario);
    g->runs = calloc(g->count, sizeof *g->runs);
    g->never_ends = calloc(g->count, sizeof *g->never_ends);
    if (!g->runs || !g->never_ends) {
        print_error("the cooks of the page cannot be kept: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    grid_work work = {.grid = g, .scenario = scenario, .modelled = modelled, .lock = PTHREAD_MUTEX_INITIALIZER};
    run_all(&work, context, p);
    return was_interrupted() ? report_interrupt() : EXIT_DONE;
}

void cook_grid_free(cook_grid *g)
{
    for (size_t i = 0; g->runs && i < g->count; i++)
        cook_run_free(&g->runs[i]);
    free(g->runs);
    free(g->never_ends);
    g->runs = NULL;
    g->never_ends = NULL;
}
