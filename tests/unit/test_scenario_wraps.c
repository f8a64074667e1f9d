/* SPDX-License-Identifier: BSD-3-Clause */
/* Wraps and pouring that contradict each other are refused with a sentence that names the key, its value and what is
 * allowed; what no wrap uses does no harm. */
#include "close.h"

#include <stallwright/scenario_file.h>

#include <string.h>

static sw_context *context;
static sw_scenario_reader *reader;

/* The default scenario with this text over it; "" if the check lets it pass, else what it says. */
static const char *said_of(const char *text)
{
    sw_scenario s;
    sw_scenario_init(&s);
    if (sw_scenario_read_text(context, reader, "f.yaml", text, strlen(text), &s) != SW_OK)
        fail_msg("not read: %s", sw_context_message(context));
    return sw_scenario_check(context, &s) == SW_OK ? "" : sw_context_message(context);
}

static void test_contradictions(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"wrap: {kind: paper, when: 80 C}\nrewrap: {when: 70 C}\n", "rewrap.when is 70.0 C; allowed above wrap.when, 80.0 C"},
        {"wrap: {kind: paper, when: 8 h}\nrewrap: {when: 2 h}\n", "rewrap.when is 2 h; allowed above wrap.when, 8 h"},
        {"wrap: {kind: paper}\nrewrap: {when: 97 C}\n", "rewrap.when is 97.0 C; allowed below pull, 95.0 C"},
        {"wrap: {kind: open-tray, pour: off, pour_when: none}\n",
         "wrap.pour_when is none although wrap.pour is off; give a probe temperature"},
        {"wrap: {kind: open-tray, pour: over, pour_when: 97 C}\n", "wrap.pour_when is 97.0 C; allowed below pull, 95.0 C"},
        {"wrap: {kind: open-tray, pour: over, pour_when: 60 C}\n", "wrap.pour_when is 60.0 C; allowed above wrap.when, 71.0 C"},
        {"wrap: {kind: open-tray, pour: off}\nrewrap: {kind: closed-foil, when: 85 C}\n",
         "wrap.pour_when is 90.0 C; allowed below rewrap.when, 85.0 C"},
        {"wrap: {kind: paper, pour: off, pour_when: 80 C}\nrewrap: {kind: open-tray, when: 85 C}\n",
         "wrap.pour_when is 80.0 C; allowed above rewrap.when, 85.0 C"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (strncmp(said_of(rows[i][0]), rows[i][1], strlen(rows[i][1])) != 0)
            fail_msg("\"%s\" does not begin \"%s\"", said_of(rows[i][0]), rows[i][1]);
}

static void test_what_is_not_used_does_no_harm(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "rewrap: {when: 60 C}\n",
        "wrap: {kind: paper, pour: off, pour_when: none, liquid: 500 g}\n",
        "wrap: {kind: paper}\nrewrap: {kind: paper, when: 60 C}\n",
        "wrap: {kind: paper, when: bark}\nrewrap: {when: 60 C}\n",
    };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        assert_string_equal(said_of(texts[i]), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_contradictions),
        cmocka_unit_test(test_what_is_not_used_does_no_harm),
    };
    if (sw_context_create(&context) != SW_OK || sw_scenario_reader_create(context, &reader) != SW_OK)
        return 1;
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    sw_scenario_reader_destroy(reader);
    sw_context_destroy(context);
    return failed;
}
