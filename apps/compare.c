/* SPDX-License-Identifier: BSD-3-Clause */
/* stallwright compare: which wrap, and when? */
#include "apps.h"

#include "choices_page.h"
#include "choices_table.h"
#include "condensation.h"
#include "cook_band.h"
#include "cook_run.h"
#include "csv_choices.h"
#include "food_safety.h"
#include "idle_keys.h"
#include "json_output.h"
#include "json_ranking.h"
#include "missing.h"
#include "output_file.h"
#include "outputs.h"
#include "plot.h"
#include "quantity.h"
#include "recommendation_words.h"
#include "table.h"

#include <stallwright/wrap_traits.h>

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

enum { CHOICES_MAX = SW_RANKED_MAX, PARAGRAPH_COLUMNS = 78 };

/* What compare takes besides what all do. */
typedef struct compare_options {
    command_options shared;
    const char *wraps;   /* NULL: all that are compared */
    const char *wrap_at; /* NULL: as the scenario says */
    sw_criterion by;     /* SW_BY_COUNT: not ranked */
} compare_options;

typedef struct choices {
    sw_criterion by; /* what they are ranked by; SW_BY_COUNT: not ranked */
    size_t count;
    sw_run runs[CHOICES_MAX];
    bool has_band[CHOICES_MAX]; /* how far cooks like it differ */
    sw_band bands[CHOICES_MAX];
    sw_run unwrapped; /* the yardstick, run also when it is not asked for */
    size_t unwrapped_at; /* its number among the runs; CHOICES_MAX if it is not asked for */
} choices;

/* A moment to wrap at, as it was typed. */
typedef struct wrap_moment {
    const char *text; /* NULL if the label need not say it */
    sw_ending ending;
} wrap_moment;

/* Whether two cooks wrap alike: in the same, at the same moment. */
static bool wraps_alike(const sw_wrap *a, const sw_wrap *b)
{
    return a->kind == b->kind &&
           (a->kind == SW_WRAP_NONE || (a->when.kind == b->when.kind && a->when.value == b->when.value));
}

/* Adds a choice; without a moment the scenario's counts. */
static bool add_choice(choices *c, const sw_scenario *scenario, sw_wrap_kind kind, const wrap_moment *moment)
{
    if (c->count == CHOICES_MAX) {
        print_error("there are more than %d choices; leave some out", CHOICES_MAX);
        return false;
    }
    const char *text = moment ? moment->text : NULL;
    sw_run *run = &c->runs[c->count];
    run->scenario = *scenario;
    run->scenario.wrap.kind = kind;
    if (moment)
        run->scenario.wrap.when = moment->ending;
    snprintf(run->label, sizeof run->label, "%.11s%s%.31s", sw_wrap_name(kind), text ? "-" : "", text ? text : "");
    for (char *at = run->label; *at; at++)
        *at = isalnum((unsigned char)*at) || *at == '-' ? *at : '_';
    for (size_t i = 0; i < c->count; i++)
        if (strcmp(c->runs[i].label, run->label) == 0 || wraps_alike(&c->runs[i].scenario.wrap, &run->scenario.wrap)) {
            print_error("--wraps and --wrap-at give \"%s\" twice", run->label);
            return false;
        }
    if (kind == SW_WRAP_NONE)
        c->unwrapped_at = c->count;
    c->count++;
    return true;
}

enum { WORD_SIZE = 32, WORDS_MAX = 8, LIST_SIZE = 256 };

/* Copies a word of some length without the spaces around it. */
static size_t trim_word(const char *from, size_t length, char word[WORD_SIZE])
{
    for (; length > 0 && *from == ' '; length--)
        from++;
    while (length > 0 && from[length - 1] == ' ')
        length--;
    if (length < WORD_SIZE)
        snprintf(word, WORD_SIZE, "%.*s", (int)length, from);
    return length;
}

/* Splits "a, b,c"; returns the number of words, or -1 with the reason printed. */
static int split(const char *option, const char *list, char words[WORDS_MAX][WORD_SIZE])
{
    int count = 0;
    for (const char *at = list;; count++) {
        const size_t span = strcspn(at, ",");
        const size_t length = count < WORDS_MAX ? trim_word(at, span, words[count]) : 1;
        if (count == WORDS_MAX || length == 0 || length >= WORD_SIZE) {
            print_error(length == 0 ? "%s is \"%s\": a word is missing"
                                  : "%s is \"%s\": a word is too long or there are too many",
                        option, list);
            return -1;
        }
        if (!at[span])
            return count + 1;
        at += span + 1;
    }
}

/* Wraps as "none,paper,...": all there are, or those compared if none are named. */
static const char *list_wraps(bool all, const char *between, char text[LIST_SIZE])
{
    text[0] = '\0';
    for (int k = 0; k < SW_WRAP_COUNT; k++) {
        const sw_wrap_traits *wrap = sw_wrap_traits_of((sw_wrap_kind)k);
        if (all || wrap->is_compared) {
            const size_t used = strlen(text);
            snprintf(text + used, LIST_SIZE - used, "%s%s", used > 0 ? between : "", wrap->name);
        }
    }
    return text;
}

/* Reads "paper": returns false with the reason printed. */
static bool read_kind(const char *word, sw_wrap_kind *kind)
{
    if (sw_wrap_from_name(word, kind) == SW_OK)
        return true;
    const char *names[SW_WRAP_COUNT];
    for (int k = 0; k < SW_WRAP_COUNT; k++)
        names[k] = sw_wrap_name((sw_wrap_kind)k);
    const char *near = sw_nearest_word(word, names, SW_WRAP_COUNT);
    char allowed[LIST_SIZE];
    print_error("--wraps has \"%s\"; allowed are %s%s%s%s", word, list_wraps(true, ", ", allowed),
                near ? "; did you mean \"" : "", near ? near : "", near ? "\"?" : "");
    return false;
}

static int read_moment(session *s, const char *option, const char *text, wrap_moment *moment)
{
    if (!session_reader(s))
        return EXIT_FAILED;
    moment->text = text;
    sw_status status = sw_read_ending(s->context, s->reader, option, text, &moment->ending);
    return status == SW_OK ? EXIT_DONE : report(s, status);
}

/* Adds the choices of a word of --wraps: "paper@165F" is one, "paper" one for each moment of --wrap-at. */
static int add_word(session *s, choices *c, char *word, const wrap_moment *moments, int moment_count)
{
    sw_wrap_kind kind;
    wrap_moment own;
    char *at = strchr(word, '@');
    if (at)
        *at = '\0';
    if (!read_kind(word, &kind))
        return EXIT_BAD_USE;
    if (at && kind == SW_WRAP_NONE) {
        print_error("--wraps has \"none@%s\"; nothing goes on then: write \"none\"", at + 1);
        return EXIT_BAD_USE;
    }
    if (at) {
        int status = read_moment(s, "--wraps", at + 1, &own);
        if (status != EXIT_DONE)
            return status;
        return add_choice(c, &s->scenario, kind, &own) ? EXIT_DONE : EXIT_BAD_USE;
    }
    bool many = kind != SW_WRAP_NONE && moment_count > 0;
    for (int k = 0; k < (many ? moment_count : 1); k++)
        if (!add_choice(c, &s->scenario, kind, many ? &moments[k] : NULL))
            return EXIT_BAD_USE;
    return EXIT_DONE;
}

static bool has_wrap_without_moment(char words[WORDS_MAX][WORD_SIZE], int count)
{
    for (int i = 0; i < count; i++)
        if (!strchr(words[i], '@') && strcmp(words[i], sw_wrap_name(SW_WRAP_NONE)) != 0)
            return true;
    return false;
}

static int collect(session *s, const compare_options *o, choices *c)
{
    wrap_moment moments[WORDS_MAX];
    char kinds[WORDS_MAX][WORD_SIZE], words[WORDS_MAX][WORD_SIZE], compared[LIST_SIZE];
    int wrap_count = split("--wraps", o->wraps ? o->wraps : list_wraps(false, ",", compared), kinds);
    int moment_count = o->wrap_at ? split("--wrap-at", o->wrap_at, words) : 0;
    if (wrap_count < 0 || moment_count < 0)
        return EXIT_BAD_USE;
    if (moment_count > 0 && !has_wrap_without_moment(kinds, wrap_count)) {
        print_error("--wrap-at is \"%s\", but every wrap of --wraps has its own moment already", o->wrap_at);
        return EXIT_BAD_USE;
    }
    for (int i = 0; i < moment_count; i++) {
        int status = read_moment(s, "--wrap-at", words[i], &moments[i]);
        if (status != EXIT_DONE)
            return status;
        if (moment_count == 1)
            moments[i].text = NULL;
    }
    c->by = o->by;
    c->count = 0;
    c->unwrapped_at = CHOICES_MAX;
    for (int i = 0; i < wrap_count; i++) {
        int status = add_word(s, c, kinds[i], moments, moment_count);
        if (status != EXIT_DONE)
            return status;
    }
    /* All of them are checked before the first is run. */
    for (size_t i = 0; i < c->count; i++) {
        sw_status status = sw_scenario_check(s->context, &c->runs[i].scenario);
        if (status != SW_OK)
            return report(s, status);
    }
    return EXIT_DONE;
}

static void note_idle(const session *s, const command_options *o, const choices *c)
{
    idle_keys keys = {{false}};
    for (size_t i = 0; i < c->count; i++)
        idle_keys_see(&keys, &c->runs[i].scenario);
    idle_keys_note(&keys, s, o);
}

/* The cook without a wrap is cooked even if it is not asked for. */
static void add_unwrapped(choices *c, const sw_scenario *scenario)
{
    c->unwrapped.scenario = *scenario;
    c->unwrapped.scenario.wrap.kind = SW_WRAP_NONE;
    snprintf(c->unwrapped.label, sizeof c->unwrapped.label, "none");
}

/* Runs all choices, what comes before their wraps only once; a failing one does not stop the others. */
static int run_cooks(session *s, choices *c, progress *p)
{
    sw_run *runs[CHOICES_MAX + 1] = {NULL};
    const sw_scenario *scenarios[CHOICES_MAX + 1];
    sw_branches *branches;
    size_t count = 0;
    for (size_t i = 0; i < c->count; i++)
        runs[count++] = &c->runs[i];
    if (c->unwrapped_at == CHOICES_MAX) {
        add_unwrapped(c, &s->scenario);
        runs[count++] = &c->unwrapped;
    }
    for (size_t i = 0; i < count; i++)
        scenarios[i] = &runs[i]->scenario;
    const sw_status status = sw_branches_create(s->context, count, scenarios, &branches);
    if (status != SW_OK)
        return report(s, status);
    for (size_t turn = 0; turn < count && !was_interrupted(); turn++)
        cook_run_do(runs[sw_branches_turn(branches, turn)], s->context, p, branches);
    sw_branches_destroy(branches);
    return was_interrupted() ? report_interrupt() : EXIT_DONE;
}

static int run_all(session *s, const command_options *o, choices *c)
{
    progress p;
    progress_begin(&p, o);
    const int status = run_cooks(s, c, &p);
    if (status != EXIT_DONE)
        return status;
    cook_bands_find(c->runs, c->count, s->context, &p, o, c->has_band, c->bands);
    return was_interrupted() ? report_interrupt() : EXIT_DONE;
}

static double unwrapped_done(const choices *c)
{
    const sw_run *run = c->unwrapped_at < CHOICES_MAX ? &c->runs[c->unwrapped_at] : &c->unwrapped;
    return run->status == SW_OK ? run->outcome.done_time : SW_ABSENT;
}

static const sw_band *band_of(const choices *c, size_t number)
{
    return c->has_band[number] ? &c->bands[number] : NULL;
}

/* The meat as it was modelled: a run that succeeded knows sizes the scenario left open. */
static const sw_scenario *modelled(const choices *c)
{
    for (size_t i = 0; i < c->count; i++)
        if (c->runs[i].history)
            return &c->runs[i].history->scenario;
    return &c->runs[0].scenario;
}

static void print_heading(const choices *c, sw_unit_system units)
{
    const sw_scenario *s = modelled(c);
    char cut[CUT_TEXT_SIZE], pit[QUANTITY_SIZE];
    printf("%s\n%s, %s, pit at %s\n\n", s->title, sw_meat_name(&s->meat), show_cut(&c->runs[0].scenario.meat, &s->meat, units, cut),
           show_temperature(s->pit.steps[0].temperature, units, pit));
}

static void print_failure(const sw_run *run, sw_unit_system units)
{
    prose p;
    prose_clear(&p);
    prose_add(&p, "{text} failed: {text}.", run->label, run->failure);
    prose_print(&p, units, "", "  ", stdout);
}

static bool is_band_told(const choices *c)
{
    bool is_told = false;
    for (size_t i = 0; i < c->count; i++)
        is_told = is_told || c->has_band[i];
    return is_told;
}

static void print_notes(const choices *c, sw_unit_system units)
{
    char definition[STALL_TEXT_SIZE];
    judged_cook judged[CHOICES_MAX];
    size_t judged_count = 0;
    if (is_band_told(c))
        printf("\n\"Four in five\": within those hours four cooks in five like these are done.");
    printf("\nStall: %s.\n", show_stall_definition(&c->runs[0].scenario.stall, units, definition));
    for (size_t i = 0; i < c->count; i++)
        if (c->runs[i].status != SW_OK)
            print_failure(&c->runs[i], units);
    for (size_t i = 0; i < c->count; i++)
        print_missing(&c->runs[i], c->runs[i].label, units);
    for (size_t i = 0; i < c->count; i++)
        if (c->runs[i].status == SW_OK && has_condensed(&c->runs[i].outcome)) {
            prose words;
            say_condensation(&c->runs[i].outcome, c->runs[i].label, &words);
            prose_print(&words, units, "", "", stdout);
        }
    for (size_t i = 0; i < c->count; i++)
        if (c->runs[i].status == SW_OK)
            judged[judged_count++] = (judged_cook){c->runs[i].label, &c->runs[i].safety};
    print_safety_warnings(judged, judged_count, units);
    printf("A model, not a thermometer. \"stallwright cook\" shows one choice in full, with\n"
           "every verdict of food safety and its cautions.\n");
    print_safety_deference();
}

static void print_ranking(const choices *c, const command_options *o)
{
    sw_recommendation found;
    recommendation_words words;
    table t = {.has_heading = true};
    char text[QUANTITY_SIZE], paragraph[2 * PROSE_TEXT_SIZE];
    sw_recommend(c->by, c->runs, c->count, &found);
    say_recommendation(&found, c->runs, c->count, &words);
    const sw_ranking *r = &found.ranking;
    const char *const headings[] = {"place", "wrap", "done after", "yield", "bark", "collagen"};
    for (size_t i = 0; i < sizeof headings / sizeof *headings; i++)
        table_set(&t, 0, i, headings[i]);
    for (size_t i = 0; i < r->count; i++) {
        const sw_run *run = &c->runs[r->order[i]];
        snprintf(text, sizeof text, "%zu", r->place[i]);
        table_set(&t, i + 1, 0, text);
        table_set(&t, i + 1, 1, run->label);
        for (int by = 0; by < SW_BY_COUNT; by++)
            table_set(&t, i + 1, (size_t)by + 2, show_criterion((sw_criterion)by, run, text));
    }
    if (r->count > 0) {
        printf("\nRanked by %s\n", c->by == SW_BY_TENDER ? "tenderness" : sw_criterion_name(c->by));
        table_print(&t, true, stdout);
    }
    printf("\n");
    print_wrapped(prose_plain(&words.paragraph, o->units, paragraph, sizeof paragraph), PARAGRAPH_COLUMNS, "", "", stdout);
}

static int print_table(const choices *c, const sw_band *const *bands, const command_options *o)
{
    print_heading(c, o->units);
    choices_table_print(c->runs, bands, c->count, unwrapped_done(c), o->units);
    if (c->by != SW_BY_COUNT)
        print_ranking(c, o);
    print_notes(c, o->units);
    return flush_standard_output();
}

static int print_json(const choices *c)
{
    json_t *document = json_heading(modelled(c)), *list = json_array();
    for (size_t i = 0; i < c->count; i++) {
        json_t *choice = json_choice(&c->runs[i], unwrapped_done(c));
        json_object_set_new(choice, "band", json_band(band_of(c, i)));
        json_array_append_new(list, choice);
    }
    json_object_set_new(document, "choices", list);
    if (c->by != SW_BY_COUNT) {
        sw_recommendation found;
        recommendation_words words;
        sw_recommend(c->by, c->runs, c->count, &found);
        say_recommendation(&found, c->runs, c->count, &words);
        json_object_set_new(document, "ranking", json_ranking(&found.ranking, &words, c->runs));
    }
    return json_print(document);
}

static int print_csv(const choices *c, const sw_band *const *bands)
{
    sw_ranking r;
    if (c->by == SW_BY_COUNT)
        return csv_print_choices(c->runs, bands, c->count, unwrapped_done(c), NULL);
    sw_rank(c->by, c->runs, c->count, &r);
    return csv_print_choices(c->runs, bands, c->count, unwrapped_done(c), &r);
}

static int print_result(const choices *c, const sw_band *const *bands, const command_options *o)
{
    switch (o->format) {
    case FORMAT_CSV:
        return print_csv(c, bands);
    case FORMAT_JSON:
        return print_json(c);
    default:
        return print_table(c, bands, o);
    }
}

/* Says which choices failed, or how many if the table says which; returns the exit status of it all. */
static int report_failures(const choices *c, const command_options *o)
{
    size_t failed = 0;
    for (size_t i = 0; i < c->count; i++) {
        if (c->runs[i].status == SW_OK)
            continue;
        failed++;
        if (o->format != FORMAT_TABLE)
            print_error("%s: %s", c->runs[i].label, c->runs[i].failure);
    }
    if (failed > 0 && o->format == FORMAT_TABLE)
        print_error("%zu of %zu choices failed", failed, c->count);
    if (c->unwrapped_at == CHOICES_MAX && c->unwrapped.status != SW_OK)
        print_note(o, "nothing can be compared with a cook without a wrap, since that failed: %s", c->unwrapped.failure);
    return report_missing(c->runs, c->count, o) == EXIT_DONE && failed == 0 ? EXIT_DONE : EXIT_FAILED;
}

static int show(session *s, const command_options *o, int argc, char **argv, const choices *c)
{
    int status = EXIT_DONE;
    bool some_are_good = false;
    const sw_band *bands[CHOICES_MAX];
    for (size_t i = 0; i < c->count; i++)
        bands[i] = band_of(c, i);
    for (size_t i = 0; i < c->count; i++)
        some_are_good = some_are_good || c->runs[i].history;
    if (some_are_good) {
        status = outputs_write_results(s, o, argc, argv, c->runs, c->count);
        if (status == EXIT_DONE && o->plot_path)
            status = plot_compare(o, c->runs, c->count);
        if (status == EXIT_DONE && o->page_path)
            status = choices_page_write(o, modelled(c), c->runs, bands, c->count);
    }
    if (status == EXIT_DONE)
        status = print_result(c, bands, o);
    for (size_t i = 0; status == EXIT_DONE && i < c->count; i++) {
        cook_run_note_log(&c->runs[i], o);
        cook_run_note_work(&c->runs[i], o);
    }
    return status == EXIT_DONE ? report_failures(c, o) : status;
}

static int compare(session *s, const compare_options *own, int argc, char **argv, choices *c)
{
    const command_options *o = &own->shared;
    int status = collect(s, own, c);
    if (status == EXIT_DONE)
        status = outputs_check(o);
    if (status != EXIT_DONE)
        return status;
    note_idle(s, o, c);
    status = run_all(s, o, c);
    return status == EXIT_DONE ? show(s, o, argc, argv, c) : status;
}

static int run_compare(const void *options, int argc, char **argv)
{
    const compare_options *o = options;
    session s;
    choices *c = calloc(1, sizeof *c);
    if (!c) {
        print_error("the choices cannot be kept: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    int status = session_begin(&s, &o->shared);
    if (status == EXIT_DONE)
        status = compare(&s, o, argc, argv, c);
    for (size_t i = 0; i < c->count; i++)
        sw_run_free(&c->runs[i]);
    sw_run_free(&c->unwrapped);
    free(c);
    session_end(&s);
    return status;
}

static const char *wrap_word(int number)
{
    return number < SW_WRAP_COUNT ? sw_wrap_name((sw_wrap_kind)number) : NULL;
}

static const command_option wraps_option = {.name = "wraps",
                                            .kind = OPTION_TEXT,
                                            .field = offsetof(compare_options, wraps),
                                            .value = "LIST",
                                            .word = wrap_word,
                                            .help = "none,paper,open-tray,closed-foil,covered-pan; @165F"};
static const command_option wrap_at_option = {.name = "wrap-at",
                                              .kind = OPTION_TEXT,
                                              .field = offsetof(compare_options, wrap_at),
                                              .value = "LIST",
                                              .help = "when to wrap those without their own: 165F,180F"};
static const command_option by_option = {.name = "by",
                                         .kind = OPTION_CHOICE,
                                         .field = CHOICE_FIELD(compare_options, by),
                                         .value = "WHAT",
                                         .choices = "time yield bark tender",
                                         .help = "rank by time, yield, bark or tender, and say why"};

static const command_option *const takes[] = {&option_set,  &wraps_option,  &wrap_at_option, &by_option,       &option_format,
                                              &option_units, &option_plot,  &option_page,    &option_no_band,  &option_output,   &option_force,
                                              &option_quiet, &option_verbose, &option_progress, &option_help, &option_version,
                                              NULL};
static const compare_options defaults = {.by = SW_BY_COUNT};

const subcommand compare_app = {
    .name = "compare",
    .purpose = "Which wrap, and when? Simulates the same cook with each wrap, side by side.",
    .arguments = "[OPTIONS] [SCENARIO.yaml]",
    .options = takes,
    .options_size = sizeof(compare_options),
    .defaults = &defaults,
    .examples = {"stallwright compare --units us --wraps none,paper@165F,closed-foil@bark",
                 "stallwright compare --by yield --set meat.thickness=3in"},
    .run = run_compare,
};
