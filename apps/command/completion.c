/* SPDX-License-Identifier: BSD-3-Clause */
#include "completion.h"

#include "output_file.h"
#include "scenario_option.h"

#include <ctype.h>
#include <string.h>

/* A candidate if it begins with what is typed. */
static void offer(const char *typed, const char *before, const char *word)
{
    const size_t length = strlen(before);
    if (strncmp(typed, before, length) == 0 && strncmp(word, typed + length, strlen(typed + length)) == 0)
        printf("%s%s\n", before, word);
}

static void offer_files(const char *endings)
{
    printf("<file>%s%s\n", endings ? " " : "", endings ? endings : "");
}

/* ---- values of keys ---- */

/* A value as it is typed without quotes: "2 h 30 min" is also understood as "2h30min". One with more digits than anybody would
 * type is left out. */
static void offer_value(const char *typed, const char *before, const char *value)
{
    char word[SW_KEY_TOLD_SIZE];
    size_t length = 0;
    for (; *value && length < sizeof word - 1; value++)
        if (*value != ' ')
            word[length++] = *value;
    word[length] = '\0';
    if (length <= 12)
        offer(typed, before, word);
}

/* What a number or an ending is by default, in either system of units. */
static void offer_default(const char *typed, const char *before, const sw_scenario_key *key, session *s)
{
    char text[SW_KEY_TOLD_SIZE], other[SW_KEY_TOLD_SIZE];
    const bool has_blank = key->si_unit && strchr(key->si_unit, ' '); /* within its unit: it would need quotes */
    sw_scenario_reader *reader = has_blank ? NULL : session_reader(s);
    if (!reader || sw_scenario_key_tell_value(s->context, reader, key, &s->scenario, SW_UNITS_SI, text) != SW_OK)
        return;
    offer_value(typed, before, text);
    if (sw_scenario_key_tell_value(s->context, reader, key, &s->scenario, SW_UNITS_US, other) == SW_OK && strcmp(text, other) != 0)
        offer_value(typed, before, other);
}

static void offer_values(const char *typed, const sw_scenario_key *key, session *s)
{
    char before[SW_KEY_NAME_SIZE + 1];
    snprintf(before, sizeof before, "%s=", key->name);
    for (int i = 0; key->type == SW_KEY_CHOICE && i < key->choice_count; i++)
        offer(typed, before, key->choice_name(i));
    if (key->type == SW_KEY_SWITCH) {
        offer(typed, before, "yes");
        offer(typed, before, "no");
    }
    if (key->type == SW_KEY_ENDING && key->ending.may_be_none)
        offer(typed, before, "none");
    if (key->type == SW_KEY_ENDING && key->ending.may_be_bark)
        offer(typed, before, "bark");
    const bool is_usual = sw_scenario_key_is_usual(key, &s->scenario);
    if (key->may_be_usual || (key->type == SW_KEY_ENDING && key->ending.may_be_usual))
        offer(typed, before, SW_USUAL_WORD);
    if (key->type != SW_KEY_CHOICE && key->type != SW_KEY_SWITCH && key->type != SW_KEY_TEXT && !is_usual)
        offer_default(typed, before, key, s);
}

/* NAME=VALUE: names until one stands there whole, then its values. */
static void offer_assignment(const char *typed)
{
    session s;
    const char *equals = strchr(typed, '=');
    char name[SW_KEY_NAME_SIZE];
    snprintf(name, sizeof name, "%.*s", equals ? (int)(equals - typed) : 0, typed);
    const sw_scenario_key *key = equals ? sw_scenario_key_find(name) : NULL;
    for (size_t i = 0; !equals && i < sw_scenario_key_count(); i++) {
        char word[SW_KEY_NAME_SIZE + 1];
        snprintf(word, sizeof word, "%s=", sw_scenario_key_at(i)->name);
        offer(typed, "", word);
    }
    if (!key || session_open(&s) != EXIT_DONE)
        return;
    sw_scenario_init(&s.scenario);
    offer_values(typed, key, &s);
    session_end(&s);
}

/* ---- values of options ---- */

/* One of a list with commas between them. */
static void offer_list(const char *typed, const char *(*word)(int number))
{
    char before[256];
    const char *comma = strrchr(typed, ',');
    snprintf(before, sizeof before, "%.*s", comma ? (int)(comma + 1 - typed) : 0, typed);
    for (int i = 0; word(i); i++)
        offer(typed, before, word(i));
}

static void offer_choices(const char *typed, const char *choices)
{
    char copy[128], *rest = NULL;
    snprintf(copy, sizeof copy, "%s", choices);
    for (char *word = strtok_r(copy, " ", &rest); word; word = strtok_r(NULL, " ", &rest))
        offer(typed, "", word);
}

static void offer_option_value(const command_option *option, const char *typed)
{
    if (option->kind == OPTION_CHOICE)
        offer_choices(typed, option->choices);
    else if (option->word)
        offer_list(typed, option->word);
    else if (strncmp(option->value, "NAME=", 5) == 0)
        offer_assignment(typed);
    else if (strcmp(option->value, "FILE") == 0)
        offer_files(option->endings);
}

/* ---- the command line ---- */

static const command_option *find_option(const subcommand *app, const char *word)
{
    for (const command_option *const *at = app->options; *at; at++) {
        const char letter[] = {'-', (*at)->letter, '\0'};
        if ((strncmp(word, "--", 2) == 0 && strcmp(word + 2, (*at)->name) == 0) || ((*at)->letter && strcmp(word, letter) == 0))
            return *at;
    }
    return NULL;
}

static void offer_options(const subcommand *app, const char *typed)
{
    for (const command_option *const *at = app->options; *at; at++)
        offer(typed, "--", (*at)->name);
    for (const command_option *const *at = app->options; *at; at++)
        if ((*at)->letter) {
            const char letter[] = {(*at)->letter, '\0'};
            offer(typed, "-", letter);
        }
}

/* The file an app takes, by the ending it has in the usage line: "[SCENARIO.yaml]". */
static void offer_input(const subcommand *app)
{
    char ending[16];
    size_t length = 1;
    const char *dot = app->arguments;
    while ((dot = strchr(dot, '.')) && !(dot > app->arguments && isupper((unsigned char)dot[-1]) && isalpha((unsigned char)dot[1])))
        dot++;
    while (dot && isalnum((unsigned char)dot[length]) && length < sizeof ending - 1)
        length++;
    snprintf(ending, sizeof ending, "%.*s", (int)length, dot ? dot : "");
    offer_files(dot ? ending : NULL);
}

static void complete_app(const subcommand *app, int count, char **words)
{
    const char *typed = words[count - 1];
    for (int i = 0; i < count - 1; i++)
        if (strcmp(words[i], "--") == 0) {
            offer_input(app);
            return;
        }
    const command_option *before = count > 1 ? find_option(app, words[count - 2]) : NULL;
    if (before && before->value)
        offer_option_value(before, typed);
    else if (typed[0] == '-')
        offer_options(app, typed);
    else
        offer_input(app);
}

int completion_print(const subcommand *const *apps, size_t app_count, int count, char **words)
{
    const char *typed = count > 0 ? words[0] : "";
    for (size_t i = 0; i < app_count; i++) {
        if (count < 2)
            offer(typed, "", apps[i]->name);
        else if (strcmp(typed, apps[i]->name) == 0)
            complete_app(apps[i], count - 1, words + 1);
    }
    if (count < 2 && typed[0] == '-') {
        offer(typed, "", "--help");
        offer(typed, "", "--version");
    }
    return flush_standard_output();
}
