/* SPDX-License-Identifier: BSD-3-Clause */
#include "pit_usual.h"
#include "plan_make.h"

#include <stallwright/plan_pieces.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static sw_status check_count(sw_context *context, size_t count)
{
    if (count >= 1 && count <= SW_PLAN_PIECES_MAX)
        return SW_OK;
    return sw_fail(context, SW_ERR_ARGUMENT, "there are %zu pieces; allowed are 1 to %d", count, SW_PLAN_PIECES_MAX);
}

/* ---- one air ---- */

/* Checks a scenario with so many pieces in the pit, and finds the mass of one. */
static sw_status find_mass_of(sw_context *context, const sw_scenario *piece, double load, sw_scenario *room, double *mass)
{
    *room = *piece;
    room->pit.pieces = load;
    const sw_status status = sw_scenario_check(context, room);
    sw_scenario_settle(room);
    *mass = room->meat.mass;
    return status;
}

sw_status sw_plan_share_pit(sw_context *context, sw_scenario *pieces, size_t count)
{
    double masses[SW_PLAN_PIECES_MAX], loads[SW_PLAN_PIECES_MAX] = {0.0};
    sw_status status = check_count(context, count);
    if (status != SW_OK)
        return status;
    sw_scenario *room = malloc(sizeof *room);
    if (!room)
        return sw_fail(context, SW_ERR_MEMORY, "memory for a scenario could not be allocated");
    for (size_t k = 0; status == SW_OK && k < count; k++)
        status = find_mass_of(context, &pieces[k], pieces[k].pit.pieces, room, &masses[k]);
    for (size_t k = 0; status == SW_OK && k < count; k++)
        for (size_t other = 0; other < count; other++)
            loads[k] += pieces[other].pit.pieces * sw_pit_load(masses[other], masses[k]);
    for (size_t k = 0; status == SW_OK && k < count; k++) /* whether each may meet so damp an air */
        status = find_mass_of(context, &pieces[k], loads[k], room, &masses[k]);
    for (size_t k = 0; status == SW_OK && k < count; k++)
        pieces[k].pit.pieces = loads[k];
    free(room);
    return status;
}

/* ---- odds of all together ---- */

/* In how many draws all are in time, and in how many one or more is held too long. */
static void count_together(const sw_plan_draws *draws, size_t pieces, const double *leads, const sw_serving *serving, size_t *in_time,
                           size_t *too_long)
{
    *in_time = *too_long = 0;
    for (size_t i = 0; i < draws[0].count; i++) {
        bool all = true, any = false;
        for (size_t k = 0; k < pieces; k++) {
            const double left = leads[k] - draws[k].times[SW_PLAN_EVENT_ready][i];
            all = all && left >= serving->hold_at_least;
            any = any || left > serving->hold_at_most;
        }
        *in_time += all;
        *too_long += any;
    }
}

/* The least share, in whole draws, with which all are in time from the latest starts of each; the greatest the question may ask if
 * none is. */
static double share_of_each(const sw_plan_draws *draws, size_t pieces, double *const *sorted, const sw_serving *serving, double odds)
{
    const size_t count = draws[0].count;
    for (size_t n = (size_t)ceil(odds * (double)count - 1e-9); n <= count; n++) {
        double leads[SW_PLAN_PIECES_MAX];
        size_t in_time, too_long;
        const double share = (double)n / (double)count;
        for (size_t k = 0; k < pieces; k++) {
            sw_plan_starts starts;
            sw_plan_starts_find(sorted[k], count, serving->hold_at_least, serving->hold_at_most, share, &starts);
            leads[k] = SW_IS_ABSENT(starts.latest) ? -INFINITY : starts.latest;
        }
        count_together(draws, pieces, leads, serving, &in_time, &too_long);
        if ((double)in_time >= odds * (double)count - 1e-9)
            return share;
    }
    return 1.0;
}

/* ---- what to buy ---- */

static sw_status find_mass(sw_context *context, const sw_plan_question *asked, const sw_plan_draws *draws, sw_plan_of_pieces *made)
{
    double bought[SW_PLAN_PIECES_MAX], all = 0.0;
    const sw_serving *serving = &made->pieces[0]->stated.serving;
    for (size_t k = 0; k < made->count; k++) {
        const sw_plan *plan = made->pieces[k];
        if (serving->people == 0 || !plan->is_median_run || SW_IS_ABSENT(plan->median.outcome.yield_fraction))
            return SW_OK;
        bought[k] = plan->stated.meat.mass / (1.0 - plan->stated.serving.trimming);
        all += bought[k];
    }
    double *eaten = calloc(draws[0].count, sizeof *eaten);
    if (!eaten)
        return sw_fail(context, SW_ERR_MEMORY, "memory for what to buy could not be allocated");
    for (size_t k = 0; k < made->count; k++)
        sw_plan_add_eaten(&asked[k], &draws[k], made->pieces[k], bought[k] / all, eaten);
    sw_plan_mass_to_buy(serving, eaten, draws[0].count, &made->mass_to_buy_low, &made->mass_to_buy, &made->mass_to_buy_high);
    free(eaten);
    return SW_OK;
}

/* ---- all of it ---- */

/* What the plans of several pieces are made from. */
typedef struct table_of_pieces {
    size_t count;
    sw_plan_question asked[SW_PLAN_PIECES_MAX];
    sw_plan_draws draws[SW_PLAN_PIECES_MAX];
    double *sorted[SW_PLAN_PIECES_MAX]; /* when each draw is ready, rising */
    sw_plan_count counter;
} table_of_pieces;

static sw_status make_draws(sw_context *context, table_of_pieces *t, double *block)
{
    sw_status status = SW_OK;
    for (size_t k = 0; status == SW_OK && k < t->count; k++) {
        sw_plan_draws *d = &t->draws[k];
        *d = (sw_plan_draws){.piece = k, .piece_count = t->count, .count = t->asked[k].draws};
        status = sw_plan_draws_make(context, t->asked[k].stated, &t->counter, d);
        t->sorted[k] = block + k * d->count;
        if (status == SW_OK)
            sw_plan_draws_sort(d, d->count, SW_PLAN_EVENT_ready, t->sorted[k]);
    }
    return status;
}

static void tell_odds(const table_of_pieces *t, sw_plan_of_pieces *made)
{
    const sw_serving *serving = &t->asked[0].stated->serving;
    double leads[SW_PLAN_PIECES_MAX];
    size_t in_time, too_long;
    made->in_time = made->held_too_long = (sw_odds){SW_ABSENT, SW_ABSENT};
    for (size_t k = 0; k < t->count; k++) {
        leads[k] = made->pieces[k]->starts.recommended;
        if (SW_IS_ABSENT(leads[k]))
            return;
    }
    count_together(t->draws, t->count, leads, serving, &in_time, &too_long);
    made->in_time = sw_odds_of(in_time, t->draws[0].count);
    made->held_too_long = sw_odds_of(too_long, t->draws[0].count);
}

static sw_status make(sw_context *context, table_of_pieces *t, double *block, sw_plan_of_pieces *made)
{
    sw_status status = make_draws(context, t, block);
    if (status != SW_OK)
        return status;
    made->odds_of_each = share_of_each(t->draws, t->count, t->sorted, &t->asked[0].stated->serving, made->odds);
    for (size_t k = 0; status == SW_OK && k < t->count; k++) {
        t->asked[k].odds = made->odds_of_each;
        status = sw_plan_from_draws(context, &t->asked[k], &t->draws[k], &t->counter, &made->pieces[k]);
        made->count = made->pieces[k] ? k + 1 : k;
    }
    if (status != SW_OK)
        return status;
    tell_odds(t, made);
    return find_mass(context, t->asked, t->draws, made);
}

/* Puts the number of a piece before a sentence. */
static sw_status say_which(sw_context *context, sw_status status, size_t k)
{
    char message[SW_RUN_FAILURE_SIZE];
    snprintf(message, sizeof message, "%s", sw_context_message(context));
    return sw_fail(context, status, "piece %zu: %s", k + 1, message);
}

static sw_status make_in(sw_context *context, const sw_plan_question *q, const sw_scenario *pieces, table_of_pieces *t,
                         sw_plan_of_pieces *made)
{
    sw_status status = SW_OK;
    t->counter = (sw_plan_count){.question = q};
    for (size_t k = 0; status == SW_OK && k < t->count; k++) {
        t->asked[k] = *q;
        t->asked[k].stated = &pieces[k];
        status = sw_plan_question_check(context, &t->asked[k]);
        if (status != SW_OK)
            status = say_which(context, status, k);
        t->counter.total += sw_plan_count_cooks(&t->asked[k]);
    }
    double *block = status == SW_OK ? malloc(t->count * q->draws * sizeof *block) : NULL;
    if (status == SW_OK && !block)
        status = sw_fail(context, SW_ERR_MEMORY, "memory for the times of a plan could not be allocated");
    if (status == SW_OK)
        status = make(context, t, block, made);
    for (size_t k = 0; k < t->count; k++)
        sw_plan_draws_free(&t->draws[k]);
    free(block);
    return status;
}

sw_status sw_plan_make_together(sw_context *context, const sw_plan_question *q, const sw_scenario *pieces, size_t count,
                                sw_plan_of_pieces **plan)
{
    sw_status status = check_count(context, count);
    if (status != SW_OK)
        return status;
    sw_plan_of_pieces *made = calloc(1, sizeof *made);
    table_of_pieces *t = calloc(1, sizeof *t);
    if (made && t) {
        t->count = count;
        made->odds = q->odds;
        made->mass_to_buy_low = made->mass_to_buy = made->mass_to_buy_high = SW_ABSENT;
        status = make_in(context, q, pieces, t, made);
    } else {
        status = sw_fail(context, SW_ERR_MEMORY, "memory for the plans of several pieces could not be allocated");
    }
    free(t);
    if (status == SW_OK)
        *plan = made;
    else
        sw_plan_of_pieces_destroy(made);
    return status;
}

void sw_plan_of_pieces_destroy(sw_plan_of_pieces *plan)
{
    if (!plan)
        return;
    for (size_t k = 0; k < plan->count; k++)
        sw_plan_destroy(plan->pieces[k]);
    free(plan);
}
