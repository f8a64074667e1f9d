/* SPDX-License-Identifier: BSD-3-Clause */
#include "recommendation_words.h"

#include "figures.h"
#include "quality_table.h"

#include <string.h>

const char *criterion_key(sw_criterion by)
{
    static const char *const keys[SW_BY_COUNT] = {[SW_BY_TIME] = "done_s",
                                                  [SW_BY_YIELD] = "yield_fraction",
                                                  [SW_BY_BARK] = "bark",
                                                  [SW_BY_TENDER] = "probe_collagen"};
    return keys[by];
}

const char *show_criterion(sw_criterion by, const sw_run *run, char *text)
{
    const double value = sw_criterion_value(by, run);
    if (by == SW_BY_TIME)
        return show_duration(value, text);
    return by == SW_BY_BARK ? show_index(value, text) : show_share(value, text);
}

/* A paragraph being written. */
typedef struct writer {
    const sw_recommendation *found;
    const sw_ranking *ranking; /* of it */
    const sw_run *runs;
    size_t count;
    recommendation_words *to;
    prose *said; /* its paragraph */
} writer;

/* Says a figure and remembers where it stands. */
static void quote(writer *w, const char *format, double value, const char *label, const char *key)
{
    if (w->to->count == QUOTED_MAX)
        return;
    prose_add(w->said, format, value);
    w->to->figures[w->to->count++] = (quoted_figure){label, key};
}

static double figure_of(const sw_run *run, const char *key)
{
    figure figures[FIGURES_MAX];
    size_t count = choice_figures(run, SW_ABSENT, figures);
    for (size_t i = 0; i < count; i++)
        if (strcmp(figures[i].key, key) == 0)
            return figures[i].value;
    return SW_ABSENT;
}

/* How a figure is written, from its key. */
static const char *format_of(const char *key)
{
    const size_t length = strlen(key);
    if (length > 3 && strcmp(key + length - 3, "_kg") == 0)
        return "{mass}";
    if (length > 2 && strcmp(key + length - 2, "_s") == 0)
        return "{duration}";
    return strcmp(key, "bark") == 0 ? "{number}" : "{share}";
}

static void say_figure(writer *w, const sw_run *run, const char *key)
{
    quote(w, format_of(key), figure_of(run, key), run->label, key);
}

static const char *name_of(const sw_run *run)
{
    return run->scenario.wrap.kind == SW_WRAP_NONE ? "no wrap" : run->label;
}

static const sw_run *ranked(const writer *w, size_t place)
{
    return &w->runs[w->ranking->order[place]];
}

/* "keeps 69.2 % of its raw weight" */
static void say_criterion(writer *w, sw_criterion by, const sw_run *run)
{
    static const char *const before[SW_BY_COUNT] = {"is done after ", "keeps ", "has a bark index of ", "has "};
    static const char *const after[SW_BY_COUNT] = {"", " of its raw weight", "",
                                                " of the collagen at its probe gone to gelatin"};
    prose_add(w->said, "{text}", before[by]);
    say_figure(w, run, criterion_key(by));
    prose_add(w->said, "{text}", after[by]);
}

static void say_first(writer *w)
{
    static const char *const wishes[SW_BY_COUNT] = {"the shortest cook", "the best yield", "the best bark",
                                                 "the tenderest meat"};
    const sw_run *first = ranked(w, 0);
    if (w->count == 1)
        prose_add(w->said, "Only {text} was asked for: it ", name_of(first));
    else if (w->ranking->count == 1)
        prose_add(w->said, "Only {text} finishes: it ", name_of(first));
    else
        prose_add(w->said, "For {text}, take {text}: it ", wishes[w->ranking->by], name_of(first));
    say_criterion(w, w->ranking->by, first);
    prose_add(w->said, ".");
}

static void say_list(writer *w, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++) {
        prose_add(w->said, "{text}{text}, ", i == from ? "" : "; ", name_of(ranked(w, i)));
        say_figure(w, ranked(w, i), criterion_key(w->ranking->by));
    }
}

static void say_others(writer *w)
{
    const size_t level = w->found->level, count = w->ranking->count;
    if (level > 1) {
        prose_add(w->said, " Too close to tell apart, but done later: ");
        say_list(w, 1, level);
        prose_add(w->said, ".");
    }
    if (level < count) {
        prose_add(w->said, " Behind it: ");
        say_list(w, level, count);
        prose_add(w->said, ".");
    }
}

/* Where the difference comes from: the same figures of the first and of the last. */
static void say_why(writer *w)
{
    const sw_run *first = &w->runs[w->found->first], *last = &w->runs[w->found->last];
    const bool alone = !w->found->has_contrast;
    switch (w->ranking->by) {
    case SW_BY_TIME:
    case SW_BY_YIELD:
        prose_add(w->said, w->ranking->by == SW_BY_TIME ? " Evaporation cools the meat: " : " What is lost evaporates or drips: ");
        say_figure(w, first, "evaporated_kg");
        prose_add(w->said, " of water evaporates and ");
        say_figure(w, first, "dripped_kg");
        prose_add(w->said, " of juice drips");
        if (!alone) {
            prose_add(w->said, "; with {text} it is ", name_of(last));
            say_figure(w, last, "evaporated_kg");
            prose_add(w->said, " and ");
            say_figure(w, last, "dripped_kg");
        }
        break;
    case SW_BY_BARK:
        prose_add(w->said, " Its surface lies open to smoke for ");
        say_figure(w, first, "open_surface_s");
        if (!alone) {
            prose_add(w->said, ", with {text} for ", name_of(last));
            say_figure(w, last, "open_surface_s");
        }
        break;
    default:
        prose_add(w->said, " At the pull it had ");
        say_figure(w, first, "probe_collagen_at_pull");
        if (!alone) {
            prose_add(w->said, ", with {text} ", name_of(last));
            say_figure(w, last, "probe_collagen_at_pull");
        }
        if (first->outcome.slice_time > first->outcome.done_time)
            prose_add(w->said, "; the rest and the hold added the rest");
        break;
    }
    prose_add(w->said, ".");
}

/* What choosing the first gives up. */
static void say_price(writer *w)
{
    static const char *const verbs[SW_BY_COUNT] = {"takes", "keeps", "has", "has"};
    for (size_t i = 0; i < w->found->price_count; i++) {
        const sw_price *price = &w->found->prices[i];
        const sw_run *best = &w->runs[price->best];
        prose_add(w->said, "{text}", i > 0 ? "; it " : " The price: it ");
        say_criterion(w, price->by, ranked(w, 0));
        prose_add(w->said, ", where {text} {text} ", name_of(best), verbs[price->by]);
        say_figure(w, best, criterion_key(price->by));
    }
    if (w->found->price_count > 0)
        prose_add(w->said, ".");
    else if (w->ranking->count > 1)
        prose_add(w->said, " It gives up nothing in time, yield, bark or tenderness.");
}

static void say_tenderness(writer *w)
{
    const sw_run *first = ranked(w, 0);
    prose_add(w->said, " When sliced it is {text}: ", sw_tenderness_name(first->outcome.tenderness));
    say_figure(w, first, "probe_collagen");
    prose_add(w->said, " of the collagen at its probe has gone to gelatin (");
    say_figure(w, first, "probe_collagen_low");
    prose_add(w->said, " to ");
    say_figure(w, first, "probe_collagen_high");
    prose_add(w->said, ", its rate being uncertain), and ");
    quote(w, "{share}", SW_TENDER_COLLAGEN, NULL, "tender_collagen");
    prose_add(w->said, " counts as tender.");
}

static void say_lateness(writer *w)
{
    const sw_run *first = ranked(w, 0);
    if (!(first->outcome.late > 0.0))
        return;
    prose_add(w->said, " It is NOT READY at the hour it was planned for, but late by ");
    say_figure(w, first, "late_s");
    prose_add(w->said, ".");
}

static void say_failures(writer *w)
{
    size_t failed = w->count - w->ranking->count, said = 0;
    for (size_t i = 0; i < w->count; i++) {
        const sw_run *run = &w->runs[i];
        if (run->status == SW_OK && !SW_IS_ABSENT(run->outcome.slice_time))
            continue;
        prose_add(w->said, "{text}{text}", said == 0 ? " Without a place: " : ", ", name_of(run));
        prose_add(w->said, run->status == SW_OK || run->status == SW_ERR_NEVER_ENDS ? " (never finishes)" : " (failed)");
        said++;
        if (said == failed)
            prose_add(w->said, ".");
    }
}

void say_recommendation(const sw_recommendation *found, const sw_run *runs, size_t count, recommendation_words *words)
{
    writer w = {found, &found->ranking, runs, count, words, &words->paragraph};
    words->count = 0;
    prose_clear(w.said);
    if (found->ranking.count == 0) {
        prose_add(w.said, "Nothing can be recommended: no choice finishes.");
        return;
    }
    say_first(&w);
    say_others(&w);
    say_why(&w);
    say_price(&w);
    say_tenderness(&w);
    say_lateness(&w);
    say_failures(&w);
    prose_add(w.said, " Safety is not ranked: read the warnings.");
}
