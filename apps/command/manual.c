/* SPDX-License-Identifier: BSD-3-Clause */
#include "manual.h"

#include "manual_words.h"
#include "output_file.h"
#include "scenario_option.h"

#include <ctype.h>
#include <string.h>

static const char scenario_page[] = "stallwright-scenario.5";

/* Text in which man finds no command: every hyphen as it is typed. */
static void put(const char *text)
{
    if (*text == '.' || *text == '\'')
        fputs("\\&", stdout);
    for (; *text; text++) {
        if (*text == '-')
            fputs("\\-", stdout);
        else if (*text == '\\')
            fputs("\\e", stdout);
        else
            putchar(*text);
    }
}

static void put_bold(const char *text)
{
    fputs("\\fB", stdout);
    put(text);
    fputs("\\fR", stdout);
}

static void put_title(const char *name, int section)
{
    fputs(".TH \"", stdout);
    for (; *name; name++)
        *name == '-' ? fputs("\\-", stdout) : putchar(toupper((unsigned char)*name));
    printf("\" %d \"\" \"stallwright %s\" \"stallwright\"\n", section, sw_version());
}

static void put_paragraphs(const char *name)
{
    for (const char *const *words = manual_words(name); words && *words; words++) {
        fputs(".PP\n", stdout);
        put(*words);
        putchar('\n');
    }
}

/* What every page ends with. */
static void put_cautions(void)
{
    puts(".SH CAUTIONS");
    put_paragraphs("cautions");
}

/* ---- a page of an app ---- */

static void put_option(const command_option *option)
{
    char text[64];
    puts(".TP");
    if (option->letter) {
        snprintf(text, sizeof text, "-%c", option->letter);
        put_bold(text);
        fputs(", ", stdout);
    }
    snprintf(text, sizeof text, "--%s", option->name);
    put_bold(text);
    if (option->value) {
        fputs(" \\fI", stdout);
        put(option->value);
        fputs("\\fR", stdout);
    }
    putchar('\n');
    put(option->help);
    if (option->kind == OPTION_CHOICE)
        printf("; one of: %s", option->choices);
    if (option->kind == OPTION_WHOLE)
        printf("; a whole number from %llu to %llu", (unsigned long long)option->least, (unsigned long long)option->most);
    puts(".");
}

static void put_examples(const subcommand *app)
{
    puts(".SH EXAMPLES\n.nf");
    for (size_t i = 0; i < sizeof app->examples / sizeof *app->examples; i++)
        if (app->examples[i]) {
            put(app->examples[i]);
            putchar('\n');
        }
    puts(".fi");
}

static void put_app(const subcommand *app)
{
    char name[64];
    snprintf(name, sizeof name, "stallwright-%s", app->name);
    put_title(name, 1);
    puts(".SH NAME");
    put(name);
    fputs(" \\- ", stdout);
    put(app->purpose);
    fputs("\n.SH SYNOPSIS\n\\fBstallwright ", stdout);
    put(app->name);
    fputs("\\fR ", stdout);
    put(app->arguments);
    puts("\n.SH DESCRIPTION");
    put(app->purpose);
    putchar('\n');
    put_paragraphs(app->name);
    puts(".SH OPTIONS");
    for (const command_option *const *option = app->options; *option; option++)
        put_option(*option);
    put_examples(app);
    puts(".SH EXIT STATUS");
    put_paragraphs("exit");
    put_cautions();
    puts(".SH SEE ALSO\n.BR stallwright (1),\n.BR stallwright\\-scenario (5)");
}

/* ---- the page of the program ---- */

static void put_program(const subcommand *const *apps, size_t app_count)
{
    put_title("stallwright", 1);
    puts(".SH NAME\nstallwright \\- simulates the long cook of a big cut of beef, stall and all\n"
         ".SH SYNOPSIS\n\\fBstallwright\\fR \\fIAPP\\fR [OPTIONS] [FILE]\n.SH DESCRIPTION");
    put_paragraphs("stallwright");
    puts(".SH APPS");
    for (size_t i = 0; i < app_count; i++) {
        puts(".TP");
        put_bold(apps[i]->name);
        putchar('\n');
        put(apps[i]->purpose);
        putchar('\n');
    }
    puts(".SH FILES");
    put_paragraphs("files");
    put_cautions();
    puts(".SH SEE ALSO");
    for (size_t i = 0; i < app_count; i++)
        printf(".BR stallwright\\-%s (1),\n", apps[i]->name);
    puts(".BR stallwright\\-scenario (5)");
}

/* ---- the page of the keys ---- */

static int put_key(session *s, const sw_scenario_key *key)
{
    char allowed[SW_KEY_TOLD_SIZE], allowed_us[SW_KEY_TOLD_SIZE], condition[SW_KEY_CONDITION_SIZE];
    sw_status status = sw_scenario_key_tell_allowed(s->context, s->reader, key, SW_UNITS_SI, allowed);
    if (status == SW_OK)
        status = sw_scenario_key_tell_allowed(s->context, s->reader, key, SW_UNITS_US, allowed_us);
    if (status != SW_OK)
        return report(s, status);
    puts(".TP");
    put_bold(key->name);
    putchar('\n');
    put(key->meaning);
    if (*sw_scenario_key_condition(key, condition)) {
        fputs("; counts if ", stdout);
        put(condition);
    }
    fputs(". It may be ", stdout);
    put(allowed);
    if (strcmp(allowed, allowed_us) != 0) {
        fputs(" (", stdout);
        put(allowed_us);
        putchar(')');
    }
    puts(".");
    return EXIT_DONE;
}

static int put_keys(void)
{
    session s;
    int status = session_open(&s);
    if (status == EXIT_DONE && !session_reader(&s))
        status = EXIT_FAILED;
    if (status == EXIT_DONE) {
        put_title("stallwright-scenario", 5);
        puts(".SH NAME\nstallwright\\-scenario \\- everything a cook decides before the fire is lit\n.SH DESCRIPTION");
        put_paragraphs("scenario");
        puts(".SH KEYS");
    }
    for (size_t i = 0; status == EXIT_DONE && i < sw_scenario_key_count(); i++)
        status = put_key(&s, sw_scenario_key_at(i));
    if (status == EXIT_DONE) {
        put_cautions();
        puts(".SH SEE ALSO\n.BR stallwright (1)");
    }
    session_end(&s);
    return status;
}

int manual_print(const subcommand *const *apps, size_t app_count, const char *page)
{
    char name[64];
    if (!page || strcmp(page, "stallwright.1") == 0) {
        page ? put_program(apps, app_count) : (void)printf("stallwright.1\n%s\n", scenario_page);
        for (size_t i = 0; !page && i < app_count; i++)
            printf("stallwright-%s.1\n", apps[i]->name);
        return flush_standard_output();
    }
    if (strcmp(page, scenario_page) == 0) {
        const int status = put_keys();
        return status == EXIT_DONE ? flush_standard_output() : status;
    }
    for (size_t i = 0; i < app_count; i++) {
        snprintf(name, sizeof name, "stallwright-%s.1", apps[i]->name);
        if (strcmp(page, name) == 0) {
            put_app(apps[i]);
            return flush_standard_output();
        }
    }
    print_error("the manual has no page \"%s\"; \"stallwright --manual\" lists them", page);
    return EXIT_BAD_USE;
}
