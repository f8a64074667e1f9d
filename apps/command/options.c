#include "options.h"

#include "quantity.h"

#include <getopt.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

/* What an option does with its field of the options. */
typedef enum option_kind { OPTION_FLAG, OPTION_TEXT, OPTION_TEXTS, OPTION_CHOICE } option_kind;

/* One option: how it is written, what its help says and where its value goes. */
typedef struct option_record {
    const char *name; /* long */
    char letter;      /* short; 0 for none */
    option_kind kind;
    size_t field;        /* offset in the options: bool, text, list of texts, or int */
    const char *value;   /* name of its value; NULL for a flag */
    const char *choices; /* allowed words, one blank between; the number of the word is the value */
    const char *help;
} option_record;

#define FIELD(name) offsetof(command_options, name)

static const option_record records[] = {
    {"set", 's', OPTION_TEXTS, FIELD(assignments), "NAME=VALUE", NULL,
     "set a value; names: cook --print-scenario; repeatable"},
    {"vary", 0, OPTION_TEXTS, FIELD(variations), "NAME=VALUES", NULL,
     "a,b or from:to:step, uniform(a,b), normal(mean,sd)"},
    {"design", 0, OPTION_CHOICE, FIELD(design), "DESIGN", "auto grid halton", "grid, halton (evenly random) or auto"},
    {"runs", 0, OPTION_TEXT, FIELD(runs), "N", NULL, "cooks of a halton design (200)"},
    {"seed", 0, OPTION_TEXT, FIELD(seed), "N", NULL, "shifts a halton design (0: not at all)"},
    {"threads", 0, OPTION_TEXT, FIELD(threads), "N", NULL, "cooks side by side (one a processor)"},
    {"resume", 0, OPTION_FLAG, FIELD(resume), NULL, NULL, "go on with the sweep that --output names"},
    {"print-scenario", 0, OPTION_FLAG, FIELD(print_scenario), NULL, NULL,
     "write the complete scenario, commented, and stop"},
    {"wraps", 0, OPTION_TEXT, FIELD(wraps), "LIST", NULL, "none,paper,open-tray,closed-foil,covered-pan; @165F"},
    {"wrap-at", 0, OPTION_TEXT, FIELD(wrap_at), "LIST", NULL, "when to wrap those without their own: 165F,180F"},
    {"by", 0, OPTION_CHOICE, FIELD(by), "WHAT", "time yield bark tender",
     "rank by time, yield, bark or tender, and say why"},
    {"hours", 0, OPTION_TEXT, FIELD(hours), "LIST", NULL, "moments to draw maps of a section at: 2,6,10"},
    {"sensitivity", 0, OPTION_FLAG, FIELD(sensitivity), NULL, NULL, "also tell how much each uncertain input matters"},
    {"format", 0, OPTION_CHOICE, FIELD(format), "FORMAT", "table csv json", "table (the default), csv or json; csv, json: SI"},
    {"units", 'u', OPTION_CHOICE, FIELD(units), "UNITS", "si us", "si (the default) or us, for tables and plots"},
    {"plot", 'p', OPTION_TEXT, FIELD(plot_path), "FILE", NULL, "draw to FILE.svg, FILE.png or FILE.pdf"},
    {"page", 0, OPTION_TEXT, FIELD(page_path), "FILE", NULL, "write an interactive page, FILE.html"},
    {"output", 'o', OPTION_TEXT, FIELD(output_path), "FILE", NULL, "write the results to an HDF5 file"},
    {"force", 'f', OPTION_FLAG, FIELD(force), NULL, NULL, "replace files that exist"},
    {"quiet", 'q', OPTION_FLAG, FIELD(quiet), NULL, NULL, "no notes, no progress"},
    {"verbose", 'v', OPTION_FLAG, FIELD(verbose), NULL, NULL, "say more"},
    {"progress", 0, OPTION_CHOICE, FIELD(progress), "WHEN", "auto always never", "auto (on a terminal), always or never"},
    {"help", 'h', OPTION_FLAG, FIELD(help), NULL, NULL, "show this help"},
    {"version", 'V', OPTION_FLAG, FIELD(version), NULL, NULL, "show the version"},
};

enum { RECORD_COUNT = sizeof records / sizeof *records };

/* Names of files and options come from outside: nothing in them may reach a terminal as a command. */
static void print_sentence(const char *kind, const char *format, va_list arguments)
{
    char *sentence = NULL;
    if (vasprintf(&sentence, format, arguments) < 0)
        sentence = NULL;
    fprintf(stderr, "stallwright: %s: ", kind);
    sw_write_escaped(sentence ? sentence : sw_status_text(SW_ERR_MEMORY), stderr);
    fputc('\n', stderr);
    free(sentence);
}

void print_error(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    print_sentence("error", format, arguments);
    va_end(arguments);
}

void print_note(const command_options *options, const char *format, ...)
{
    if (options->quiet)
        return;
    va_list arguments;
    va_start(arguments, format);
    print_sentence("note", format, arguments);
    va_end(arguments);
}

/* Whether a word stands in a list of words with one blank between. */
static bool is_listed(const char *list, const char *word, size_t length)
{
    for (const char *at = list; *at;) {
        size_t span = strcspn(at, " ");
        if (span == length && strncmp(at, word, length) == 0)
            return true;
        at += span + (at[span] == ' ');
    }
    return false;
}

static int find_record(const subcommand *app, const char *name, size_t length)
{
    for (int i = 0; i < RECORD_COUNT; i++)
        if (strlen(records[i].name) == length && strncmp(records[i].name, name, length) == 0 &&
            is_listed(app->option_names, name, length))
            return i;
    return -1;
}

static int bad_option(const subcommand *app, const char *typed)
{
    const char *names[RECORD_COUNT], *near = NULL;
    size_t count = 0;
    for (int i = 0; i < RECORD_COUNT; i++)
        if (is_listed(app->option_names, records[i].name, strlen(records[i].name)))
            names[count++] = records[i].name;
    if (strncmp(typed, "--", 2) == 0) {
        char word[64];
        snprintf(word, sizeof word, "%.*s", (int)strcspn(typed + 2, "="), typed + 2);
        near = sw_nearest_word(word, names, count);
    }
    if (near)
        print_error("unknown option \"%s\", did you mean \"--%s\"?", typed, near);
    else
        print_error("unknown option \"%s\"; \"stallwright %s --help\" lists them", typed, app->name);
    return EXIT_BAD_USE;
}

/* Number of a word among the choices of an option; -1 if it is none, with a sentence. */
static int choice_of(const option_record *record, const char *typed)
{
    const char *words[8], *near;
    char copy[64], *rest = NULL;
    int count = 0;
    snprintf(copy, sizeof copy, "%s", record->choices);
    for (char *word = strtok_r(copy, " ", &rest); word; word = strtok_r(NULL, " ", &rest))
        words[count++] = word;
    for (int i = 0; i < count; i++)
        if (strcmp(words[i], typed) == 0)
            return i;
    near = sw_nearest_word(typed, words, (size_t)count);
    print_error("--%s is \"%s\"; allowed are: %s%s%s%s", record->name, typed, record->choices,
                near ? "; did you mean \"" : "", near ? near : "", near ? "\"?" : "");
    return -1;
}

/* The number of texts stands behind each list of them. */
_Static_assert(FIELD(assignment_count) == FIELD(assignments) + ASSIGNMENTS_MAX * sizeof(char *) &&
                   FIELD(variation_count) == FIELD(variations) + ASSIGNMENTS_MAX * sizeof(char *),
               "lists of texts are laid out alike");

static int add_text(const option_record *record, const char *value, const char **texts)
{
    size_t *count = (size_t *)(void *)(texts + ASSIGNMENTS_MAX);
    if (*count == ASSIGNMENTS_MAX) {
        print_error("--%s is given more than %d times", record->name, ASSIGNMENTS_MAX);
        return EXIT_BAD_USE;
    }
    texts[(*count)++] = value;
    return EXIT_DONE;
}

static int apply(const option_record *record, const char *value, command_options *o)
{
    void *field = (char *)o + record->field;
    switch (record->kind) {
    case OPTION_FLAG:
        *(bool *)field = true;
        return EXIT_DONE;
    case OPTION_TEXT:
        *(const char **)field = value;
        return EXIT_DONE;
    case OPTION_TEXTS:
        return add_text(record, value, field);
    case OPTION_CHOICE:
        *(int *)field = choice_of(record, value);
        return *(int *)field < 0 ? EXIT_BAD_USE : EXIT_DONE;
    }
    return EXIT_BAD_USE;
}

/* getopt_long would take any beginning of a name for the name; here names are exact. */
static int check_exact(const subcommand *app, int argc, char **argv)
{
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++) {
        if (strncmp(argv[i], "--", 2) != 0)
            continue;
        int record = find_record(app, argv[i] + 2, strcspn(argv[i] + 2, "="));
        if (record < 0)
            return bad_option(app, argv[i]);
        if (records[record].value && !strchr(argv[i], '='))
            i++; /* its value comes next */
    }
    return EXIT_DONE;
}

int options_read(const subcommand *app, int argc, char **argv, command_options *o)
{
    struct option list[RECORD_COUNT + 1];
    char letters[2 * RECORD_COUNT + 2] = ":";
    memset(o, 0, sizeof *o);
    o->by = -1;
    memset(list, 0, sizeof list);
    size_t count = 0, used = 1;
    for (int i = 0; i < RECORD_COUNT; i++) {
        const option_record *r = &records[i];
        if (!is_listed(app->option_names, r->name, strlen(r->name)))
            continue;
        list[count++] = (struct option){r->name, r->value ? required_argument : no_argument, NULL, 256 + i};
        if (r->letter) {
            letters[used++] = r->letter;
            if (r->value)
                letters[used++] = ':';
        }
    }
    letters[used] = '\0';
    int status = check_exact(app, argc, argv);
    opterr = 0;
    optind = 1;
    for (int code; status == EXIT_DONE && (code = getopt_long(argc, argv, letters, list, NULL)) != -1;) {
        int number = code - 256;
        for (int i = 0; code < 256 && i < RECORD_COUNT; i++)
            if (records[i].letter == code && code != 0)
                number = i;
        if (code == ':' || (code == '?' && optopt >= 256)) {
            const char *typed = argv[optind - 1];
            print_error(code == ':' ? "option \"%s\" needs a value" : "option \"%s\" takes no value", typed);
            return EXIT_BAD_USE;
        }
        if (number < 0) {
            char typed[3] = {'-', (char)optopt, '\0'};
            return bad_option(app, optopt ? typed : argv[optind - 1]);
        }
        status = apply(&records[number], optarg, o);
    }
    if (status != EXIT_DONE)
        return status;
    if (optind < argc)
        o->input_path = argv[optind++];
    if (optind < argc) {
        print_error("\"%s\" is one file too many; \"stallwright %s\" takes one", argv[optind], app->name);
        return EXIT_BAD_USE;
    }
    return EXIT_DONE;
}

/* What counts as a stall, with the default numbers. */
static void print_stall_definition(FILE *stream)
{
    sw_scenario s;
    sw_scenario_init(&s);
    char duration[QUANTITY_SIZE];
    double above = s.stall.above, below = s.stall.below, rate = 3600.0 * s.stall.rate;
    fprintf(stream, "Stall: %.0f to %.0f C (%.0f to %.0f F), %.3g h mean under %.1f K/h (%.1f F/h) for %s.\n",
            axis_temperature(above, SW_UNITS_SI), axis_temperature(below, SW_UNITS_SI),
            axis_temperature(above, SW_UNITS_US), axis_temperature(below, SW_UNITS_US), s.stall.window / 3600.0, rate,
            1.8 * rate, show_duration(s.stall.duration, duration));
}

void options_print_help(const subcommand *app, FILE *stream)
{
    fprintf(stream, "Usage: stallwright %s %s\n%s\n\n", app->name, app->arguments, app->purpose);
    for (int i = 0; i < RECORD_COUNT; i++) {
        const option_record *r = &records[i];
        if (!is_listed(app->option_names, r->name, strlen(r->name)))
            continue;
        char left[40];
        int used = r->letter ? snprintf(left, sizeof left, "-%c, ", r->letter) : snprintf(left, sizeof left, "    ");
        snprintf(left + used, sizeof left - (size_t)used, "--%s%s%s", r->name, r->value ? " " : "",
                 r->value ? r->value : "");
        fprintf(stream, "  %-24s %s\n", left, r->help);
    }
    print_stall_definition(stream);
    fputs("Examples:\n", stream);
    for (size_t i = 0; i < sizeof app->examples / sizeof *app->examples; i++)
        fprintf(stream, "  %s\n", app->examples[i]);
}
