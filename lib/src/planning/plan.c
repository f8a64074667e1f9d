/* SPDX-License-Identifier: BSD-3-Clause */
#include "halton.h"
#include "plan_cooks.h"
#include "plan_make.h"

#include <stallwright/scenario_keys.h>
#include <stallwright/study.h>
#include <stallwright/wrap_traits.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    const char *name, *long_name;
} events[SW_PLAN_EVENT_COUNT] = {
#define EVENT(name_, long_name_) {#name_, long_name_},
    SW_PLAN_EVENT_LIST(EVENT)
#undef EVENT
};

const char *sw_plan_event_name(sw_plan_event event)
{
    return events[event].name;
}

const char *sw_plan_event_long_name(sw_plan_event event)
{
    return events[event].long_name;
}

void sw_plan_scenario(const sw_scenario *stated, double lead, sw_scenario *scenario)
{
    static const double day = 86400.0;
    const double start = fmod(stated->serving.time - lead, day), days = floor((stated->serving.time - lead) / day);
    const double served = stated->serving.time - days * day;
    *scenario = *stated;
    scenario->start_clock = start < 0.0 ? start + day : start;
    scenario->hold.until = (sw_ending){served < day ? SW_ENDING_CLOCK : SW_ENDING_CLOCK_ON_DAY, served};
    scenario->cooling.until.kind = SW_ENDING_NONE;
}

/* ---- what can be planned ---- */

static sw_status check_clock(sw_context *context, const char *name, sw_ending ending)
{
    if (ending.kind != SW_ENDING_CLOCK && ending.kind != SW_ENDING_CLOCK_ON_DAY)
        return SW_OK;
    return sw_fail(context, SW_ERR_ARGUMENT,
                   "%s is a time of day; a plan finds when the meat goes on, so before the hold it takes probe temperatures "
                   "and "
                   "durations only", name);
}

sw_status sw_plan_question_check(sw_context *context, const sw_plan_question *q)
{
    const sw_scenario *s = q->stated;
    const struct {
        const char *name;
        sw_ending ending;
    } endings[] = {{"wrap.when", s->wrap.when}, {"rewrap.when", s->rewrap.when},
                   {"wrap.pour_when", s->wrap.pour == SW_POUR_NO ? (sw_ending){SW_ENDING_NONE, 0.0} : s->wrap.pour_when},
                   {"pull", s->pull},           {"rest.until", s->rest.until}};
    sw_status status = sw_scenario_check(context, s);
    for (size_t i = 0; status == SW_OK && i < sizeof endings / sizeof *endings; i++)
        status = check_clock(context, endings[i].name, endings[i].ending);
    if (status != SW_OK)
        return status;
    if (s->serving.hold_at_least > s->serving.hold_at_most)
        return sw_fail(context, SW_ERR_ARGUMENT, "serving.hold_at_least is %.4g h, serving.hold_at_most %.4g h; the least may not be longer "
                       "than the most", s->serving.hold_at_least / 3600.0, s->serving.hold_at_most / 3600.0);
    if (!(q->odds >= 0.01 && q->odds <= 0.999))
        return sw_fail(context, SW_ERR_ARGUMENT, "the odds are %.4g; allowed are 0.01 to 0.999", q->odds);
    if (q->draws < SW_PLAN_DRAWS_MIN || q->draws > SW_PLAN_DRAWS_MAX || q->compared_draws > q->draws)
        return sw_fail(context, SW_ERR_ARGUMENT, "the draws are %zu, those compared %zu; allowed are %d to %d, those compared no more",
                       q->draws, q->compared_draws, SW_PLAN_DRAWS_MIN, SW_PLAN_DRAWS_MAX);
    return SW_OK;
}

/* ---- windows and what to buy ---- */

static sw_plan_window window_of(const double *sorted, size_t count)
{
    size_t happens = 0;
    while (happens < count && isfinite(sorted[happens]))
        happens++;
    if (happens == 0)
        return (sw_plan_window){0, SW_ABSENT, SW_ABSENT, SW_ABSENT};
    return (sw_plan_window){happens, sw_time_reached_by(sorted, happens, 0.1), sw_time_reached_by(sorted, happens, 0.5),
                            sw_time_reached_by(sorted, happens, 0.9)};
}

/* What is trimmed off differs too, unless it was stated: an even spread over 0.10 to 0.25 (common practice, no source). */
static const double trimming_spread = 0.15 / 3.4641016151377544;

/* Loss in the hold is that of the median cook. */
void sw_plan_add_eaten(const sw_plan_question *q, const sw_plan_draws *d, const sw_plan *plan, double share, double *eaten)
{
    const double trimming = plan->stated.serving.trimming, held = plan->median.outcome.yield_fraction - d->median_yield;
    const double spread = q->stated->serving.trimming == SW_USUAL ? trimming_spread : 0.0;
    for (size_t i = 0; i < d->count; i++) {
        const double normal = sw_normal_quantile(sw_halton_point(q->seed, i, SW_HALTON_MAX - 1));
        const double trimmed = fmin(fmax(trimming + spread * normal, 0.0), 0.6);
        eaten[i] += share * (1.0 - plan->stated.meat.bone) * (d->yield[i] + held) * (1.0 - trimmed);
    }
}

void sw_plan_mass_to_buy(const sw_serving *serving, double *eaten, size_t count, double *low, double *middle, double *high)
{
    size_t used = 0;
    for (size_t i = 0; i < count; i++)
        if (eaten[i] > 0.0)
            eaten[used++] = serving->people * serving->size / eaten[i];
    *low = sw_quantile(eaten, used, 0.1);
    *middle = sw_quantile(eaten, used, 0.5);
    *high = sw_quantile(eaten, used, 0.9);
}

static sw_status find_mass(sw_context *context, const sw_plan_question *q, const sw_plan_draws *d, sw_plan *plan)
{
    if (plan->stated.serving.people == 0 || !plan->is_median_run || SW_IS_ABSENT(plan->median.outcome.yield_fraction))
        return SW_OK;
    double *eaten = calloc(d->count, sizeof *eaten);
    if (!eaten)
        return sw_fail(context, SW_ERR_MEMORY, "memory for what to buy could not be allocated");
    sw_plan_add_eaten(q, d, plan, 1.0, eaten);
    sw_plan_mass_to_buy(&plan->stated.serving, eaten, d->count, &plan->mass_to_buy_low, &plan->mass_to_buy, &plan->mass_to_buy_high);
    free(eaten);
    return SW_OK;
}

/* ---- choices ---- */

/* The scenario with another wrap and a hotter pit; false if no pit may be that hot or cool. */
static bool make_choice(const sw_plan_question *q, sw_plan_choice *c, sw_scenario *s)
{
    const sw_range range = sw_scenario_key_find("pit.temperature")->range;
    *s = *q->stated;
    c->is_asked = c->wrap == s->wrap.kind && c->pit_change == 0.0;
    if (c->wrap != s->wrap.kind)
        s->rewrap.when.kind = SW_ENDING_NONE;
    s->wrap.kind = c->wrap;
    for (size_t i = 0; i < s->pit.step_count; i++) {
        s->pit.steps[i].temperature += c->pit_change;
        if (s->pit.steps[i].temperature < range.minimum || s->pit.steps[i].temperature > range.maximum)
            return false;
    }
    return true;
}

static sw_status count_choice(sw_context *context, const sw_plan *plan, const sw_plan_draws *draws, size_t count, sw_plan_choice *c)
{
    const sw_serving *serving = &plan->stated.serving;
    c->ready = malloc(count * sizeof *c->ready);
    if (!c->ready)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the choices of a plan could not be allocated");
    c->count = sw_plan_draws_sort(draws, count, SW_PLAN_EVENT_ready, c->ready);
    sw_plan_starts_find(c->ready, c->count, serving->hold_at_least, serving->hold_at_most, plan->odds, &c->starts);
    return SW_OK;
}

static bool is_compared(const sw_scenario *s, sw_wrap_kind wrap)
{
    return sw_wrap_traits_of(wrap)->is_compared || s->wrap.kind == wrap;
}

/* How many are cooked, at most: all but the one that is asked for. */
static size_t count_choices(const sw_scenario *s)
{
    size_t count = 0;
    for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++)
        count += 3 * is_compared(s, (sw_wrap_kind)wrap);
    return count - 1;
}

/* The choices of a pit, of one temperature: their draws are made together. */
typedef struct pit_choices {
    size_t count;
    sw_plan_choice *choice[SW_WRAP_COUNT];
    sw_plan_draws draws[SW_WRAP_COUNT];
    sw_scenario scenario[SW_WRAP_COUNT];
} pit_choices;

static sw_status cook_pit(sw_context *context, const sw_plan *plan, sw_plan_count *counter, pit_choices *p)
{
    if (p->count == 0)
        return SW_OK;
    sw_status status = sw_plan_draws_make_all(context, p->count, p->scenario, counter, p->draws);
    for (size_t i = 0; i < p->count; i++) {
        if (status == SW_OK)
            status = count_choice(context, plan, &p->draws[i], counter->question->compared_draws, p->choice[i]);
        sw_plan_draws_free(&p->draws[i]);
    }
    return status;
}

/* Lists the choices, wrap by wrap, and those of each pit that are to be cooked: the one that was asked for is the first of the plan's
 * own draws. pits: three, empty. */
static sw_status list_choices(sw_context *context, const sw_plan_question *q, const sw_plan_draws *asked, sw_plan *plan, pit_choices *pits)
{
    sw_status status = SW_OK;
    for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++)
        for (int step = -1; step <= 1 && is_compared(q->stated, (sw_wrap_kind)wrap); step++) {
            pit_choices *p = &pits[step + 1];
            sw_plan_choice *c = &plan->choices[plan->choice_count];
            *c = (sw_plan_choice){.wrap = (sw_wrap_kind)wrap, .pit_change = step * SW_PLAN_PIT_STEP};
            if (!make_choice(q, c, &p->scenario[p->count]))
                continue;
            plan->choice_count++;
            p->choice[p->count] = c;
            p->draws[p->count] = (sw_plan_draws){.piece = asked->piece, .piece_count = asked->piece_count, .count = q->compared_draws};
            if (!c->is_asked)
                p->count++;
            else if (status == SW_OK)
                status = count_choice(context, plan, asked, q->compared_draws, c);
        }
    return status;
}

static sw_status compare(sw_context *context, const sw_plan_question *q, const sw_plan_draws *asked, sw_plan_count *counter, sw_plan *plan)
{
    pit_choices *pits = calloc(3, sizeof *pits);
    if (!pits)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the choices of a plan could not be allocated");
    sw_status status = list_choices(context, q, asked, plan, pits);
    for (int i = 0; status == SW_OK && i < 3; i++)
        status = cook_pit(context, plan, counter, &pits[i]);
    free(pits);
    return status;
}

/* ---- all of it ---- */

static sw_status read_draws(sw_context *context, const sw_plan_draws *d, double longest_lead, sw_plan *plan)
{
    const sw_serving *serving = &plan->stated.serving;
    double *sorted = malloc(d->count * sizeof *sorted);
    plan->ready = malloc(d->count * sizeof *plan->ready);
    if (!sorted || !plan->ready) {
        free(sorted);
        return sw_fail(context, SW_ERR_MEMORY, "memory for the times of a plan could not be allocated");
    }
    for (int e = 0; e < SW_PLAN_EVENT_COUNT; e++)
        plan->windows[e] = window_of(sorted, sw_plan_draws_sort(d, d->count, (sw_plan_event)e, sorted));
    free(sorted);
    plan->draws = sw_plan_draws_sort(d, d->count, SW_PLAN_EVENT_ready, plan->ready);
    plan->never_ready = plan->draws - plan->windows[SW_PLAN_EVENT_ready].draws;
    sw_plan_starts_find(plan->ready, plan->draws, serving->hold_at_least, serving->hold_at_most, plan->odds, &plan->starts);
    if (longest_lead > 0.0 && plan->starts.recommended > longest_lead)
        plan->starts.recommended = fmax(plan->starts.latest, SW_PLAN_STEP * floor(longest_lead / SW_PLAN_STEP));
    return SW_OK;
}

size_t sw_plan_count_cooks(const sw_plan_question *q)
{
    return q->draws + 2 + (q->compared_draws > 0 ? count_choices(q->stated) * (q->compared_draws + 2) : 0);
}

sw_status sw_plan_from_draws(sw_context *context, const sw_plan_question *q, const sw_plan_draws *draws, sw_plan_count *counter,
                             sw_plan **plan)
{
    sw_plan *made = *plan = calloc(1, sizeof *made);
    if (!made)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a plan could not be allocated");
    made->odds = q->odds;
    made->rest = made->early_ready = made->mass_to_buy_low = made->mass_to_buy = made->mass_to_buy_high = SW_ABSENT;
    made->stated = draws->population.stated;
    sw_status status = read_draws(context, draws, q->longest_lead, made);
    if (status == SW_OK)
        status = sw_plan_cooks_make(context, q, draws, made);
    if (status == SW_OK && q->compared_draws > 0)
        status = compare(context, q, draws, counter, made);
    return status;
}

static sw_status make(sw_context *context, const sw_plan_question *q, sw_plan **plan)
{
    sw_plan_draws draws = {.piece_count = 1, .count = q->draws};
    sw_plan_count counter = {.question = q, .total = sw_plan_count_cooks(q)};
    sw_status status = sw_plan_draws_make(context, q->stated, &counter, &draws);
    if (status == SW_OK)
        status = sw_plan_from_draws(context, q, &draws, &counter, plan);
    if (status == SW_OK)
        status = find_mass(context, q, &draws, *plan);
    sw_plan_draws_free(&draws);
    return status;
}

sw_status sw_plan_make(sw_context *context, const sw_plan_question *q, sw_plan **plan)
{
    sw_plan *made = NULL;
    sw_status status = sw_plan_question_check(context, q);
    if (status == SW_OK)
        status = make(context, q, &made);
    if (status == SW_OK)
        *plan = made;
    else
        sw_plan_destroy(made);
    return status;
}

void sw_plan_destroy(sw_plan *plan)
{
    if (!plan)
        return;
    for (size_t i = 0; i < plan->choice_count; i++)
        free(plan->choices[i].ready);
    for (int r = 0; r < SW_RESCUE_COUNT; r++)
        sw_run_free(&plan->late.run[r]);
    sw_run_free(&plan->median);
    sw_run_free(&plan->longest);
    sw_run_free(&plan->early);
    free(plan->ready);
    free(plan);
}
