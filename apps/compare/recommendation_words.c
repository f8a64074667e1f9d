#include "recommendation_words.h"

#include "quality_table.h"
#include "quantity.h"

#include <stdarg.h>
#include <string.h>

const char *criterion_key(sw_criterion by)
{
    static const char *const keys[SW_BY_COUNT] = {[SW_BY_TIME] = "done_s",
                                                  [SW_BY_YIELD] = "yield_fraction",
                                                  [SW_BY_BARK] = "bark",
                                                  [SW_BY_TENDER] = "probe_collagen"};
    return keys[by];
}

const char *show_criterion(sw_criterion by, const cook_run *run, char *text)
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
    const cook_run *runs;
    size_t count;
    sw_unit_system units;
    recommendation_text *to;
} writer;

static void say(writer *w, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void say(writer *w, const char *format, ...)
{
    size_t used = strlen(w->to->paragraph);
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(w->to->paragraph + used, RECOMMENDATION_SIZE - used, format, arguments);
    va_end(arguments);
}

static void remember(writer *w, const char *label, const char *key, double value, const char *text)
{
    if (w->to->count == QUOTED_MAX)
        return;
    quoted_number *n = &w->to->numbers[w->to->count++];
    snprintf(n->text, sizeof n->text, "%s", text);
    snprintf(n->key, sizeof n->key, "%s", key);
    n->label = label;
    n->value = value;
}

static double figure_of(const cook_run *run, const char *key)
{
    figure figures[FIGURES_MAX];
    size_t count = choice_figures(run, SW_ABSENT, figures);
    for (size_t i = 0; i < count; i++)
        if (strcmp(figures[i].key, key) == 0)
            return figures[i].value;
    return SW_ABSENT;
}

/* Says a figure of a run by its key, which tells how to write it, and remembers it. */
static void say_figure(writer *w, const cook_run *run, const char *key)
{
    char text[QUANTITY_SIZE];
    double value = figure_of(run, key);
    size_t length = strlen(key);
    if (length > 3 && strcmp(key + length - 3, "_kg") == 0)
        show_mass(value, w->units, text);
    else if (length > 2 && strcmp(key + length - 2, "_s") == 0)
        show_duration(value, text);
    else if (strcmp(key, "bark") == 0)
        show_index(value, text);
    else
        show_share(value, text);
    say(w, "%s", text);
    remember(w, run->label, key, value, text);
}

static const char *name_of(const cook_run *run)
{
    return run->scenario.wrap.kind == SW_WRAP_NONE ? "no wrap" : run->label;
}

static const cook_run *ranked(const writer *w, size_t place)
{
    return &w->runs[w->ranking->order[place]];
}

/* "keeps 69.2 % of its raw weight" */
static void say_criterion(writer *w, sw_criterion by, const cook_run *run)
{
    static const char *const before[SW_BY_COUNT] = {"is done after ", "keeps ", "has a bark index of ", "has "};
    static const char *const after[SW_BY_COUNT] = {"", " of its raw weight", "",
                                                " of the collagen at its probe gone to gelatin"};
    say(w, "%s", before[by]);
    say_figure(w, run, criterion_key(by));
    say(w, "%s", after[by]);
}

static void say_first(writer *w)
{
    static const char *const wishes[SW_BY_COUNT] = {"the shortest cook", "the best yield", "the best bark",
                                                 "the tenderest meat"};
    const cook_run *first = ranked(w, 0);
    if (w->count == 1)
        say(w, "Only %s was asked for: it ", name_of(first));
    else if (w->ranking->count == 1)
        say(w, "Only %s finishes: it ", name_of(first));
    else
        say(w, "For %s, take %s: it ", wishes[w->ranking->by], name_of(first));
    say_criterion(w, w->ranking->by, first);
    say(w, ".");
}

static void say_list(writer *w, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++) {
        say(w, "%s%s, ", i == from ? "" : "; ", name_of(ranked(w, i)));
        say_figure(w, ranked(w, i), criterion_key(w->ranking->by));
    }
}

static void say_others(writer *w)
{
    const size_t level = w->found->level, count = w->ranking->count;
    if (level > 1) {
        say(w, " Too close to tell apart, but done later: ");
        say_list(w, 1, level);
        say(w, ".");
    }
    if (level < count) {
        say(w, " Behind it: ");
        say_list(w, level, count);
        say(w, ".");
    }
}

/* Where the difference comes from: the same figures of the first and of the last. */
static void say_why(writer *w)
{
    const cook_run *first = &w->runs[w->found->first], *last = &w->runs[w->found->last];
    const bool alone = !w->found->has_contrast;
    switch (w->ranking->by) {
    case SW_BY_TIME:
    case SW_BY_YIELD:
        say(w, w->ranking->by == SW_BY_TIME ? " Evaporation cools the meat: " : " What is lost evaporates or drips: ");
        say_figure(w, first, "evaporated_kg");
        say(w, " of water evaporates and ");
        say_figure(w, first, "dripped_kg");
        say(w, " of juice drips");
        if (!alone) {
            say(w, "; with %s it is ", name_of(last));
            say_figure(w, last, "evaporated_kg");
            say(w, " and ");
            say_figure(w, last, "dripped_kg");
        }
        break;
    case SW_BY_BARK:
        say(w, " Its surface lies open to smoke for ");
        say_figure(w, first, "open_surface_s");
        if (!alone) {
            say(w, ", with %s for ", name_of(last));
            say_figure(w, last, "open_surface_s");
        }
        break;
    default:
        say(w, " At the pull it had ");
        say_figure(w, first, "probe_collagen_at_pull");
        if (!alone) {
            say(w, ", with %s ", name_of(last));
            say_figure(w, last, "probe_collagen_at_pull");
        }
        if (first->outcome.slice_time > first->outcome.done_time)
            say(w, "; the rest and the hold did what came after");
        break;
    }
    say(w, ".");
}

/* What choosing the first gives up. */
static void say_price(writer *w)
{
    static const char *const verbs[SW_BY_COUNT] = {"takes", "keeps", "has", "has"};
    for (size_t i = 0; i < w->found->price_count; i++) {
        const sw_price *price = &w->found->prices[i];
        const cook_run *best = &w->runs[price->best];
        say(w, "%s", i > 0 ? "; it " : " The price: it ");
        say_criterion(w, price->by, ranked(w, 0));
        say(w, ", where %s %s ", name_of(best), verbs[price->by]);
        say_figure(w, best, criterion_key(price->by));
    }
    if (w->found->price_count > 0)
        say(w, ".");
    else if (w->ranking->count > 1)
        say(w, " It gives up nothing in time, yield, bark or tenderness.");
}

static void say_tenderness(writer *w)
{
    const cook_run *first = ranked(w, 0);
    char limit[QUANTITY_SIZE];
    show_share(SW_TENDER_COLLAGEN, limit);
    say(w, " When sliced it is %s: ", sw_tenderness_name(first->outcome.tenderness));
    say_figure(w, first, "probe_collagen");
    say(w, " of the collagen at its probe has gone to gelatin (");
    say_figure(w, first, "probe_collagen_low");
    say(w, " to ");
    say_figure(w, first, "probe_collagen_high");
    say(w, ", its rate being uncertain), and %s counts as tender.", limit);
    remember(w, NULL, "tender_collagen", SW_TENDER_COLLAGEN, limit);
}

static void say_lateness(writer *w)
{
    const cook_run *first = ranked(w, 0);
    if (!(first->outcome.late > 0.0))
        return;
    say(w, " It is NOT READY at the hour it was planned for, but late by ");
    say_figure(w, first, "late_s");
    say(w, ".");
}

static void say_failures(writer *w)
{
    size_t failed = w->count - w->ranking->count, said = 0;
    for (size_t i = 0; i < w->count; i++) {
        const cook_run *run = &w->runs[i];
        if (run->status == SW_OK && !SW_IS_ABSENT(run->outcome.slice_time))
            continue;
        say(w, "%s%s", said == 0 ? " Without a place: " : ", ", name_of(run));
        say(w, run->status == SW_OK || run->status == SW_ERR_NEVER_ENDS ? " (never finishes)" : " (failed)");
        said++;
        if (said == failed)
            say(w, ".");
    }
}

void say_recommendation(const sw_recommendation *found, const cook_run *runs, size_t count, sw_unit_system units,
                        recommendation_text *text)
{
    writer w = {found, &found->ranking, runs, count, units, text};
    memset(text, 0, sizeof *text);
    if (found->ranking.count == 0) {
        say(&w, "Nothing can be recommended: no choice finishes.");
        return;
    }
    say_first(&w);
    say_others(&w);
    say_why(&w);
    say_price(&w);
    say_tenderness(&w);
    say_lateness(&w);
    say_failures(&w);
    say(&w, " Safety is not ranked: read the warnings.");
}

void print_paragraph(const char *paragraph, FILE *stream)
{
    enum { WIDTH = 78 };
    while (*paragraph) {
        size_t length = strlen(paragraph), end = length;
        if (length > WIDTH)
            for (end = WIDTH; end > 0 && paragraph[end] != ' ';)
                end--;
        if (end == 0)
            end = strcspn(paragraph, " ");
        fprintf(stream, "%.*s\n", (int)end, paragraph);
        paragraph += end + (paragraph[end] == ' ');
    }
}
