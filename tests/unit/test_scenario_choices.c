/* SPDX-License-Identifier: BSD-3-Clause */
/* A caller from C can hand in a choice that no file could: the check refuses each, and so does a cook. */
#include "close.h"
#include "key_table.h"

#include <stallwright/everything.h>

#include <string.h>

static sw_context *context;

static void assert_refused(const sw_scenario *s, const char *beginning)
{
    sw_history *history = NULL;
    const sw_status status = sw_scenario_check(context, s);
    if (status != SW_ERR_ARGUMENT)
        fail_msg("%s: status %d, %s", beginning, (int)status, sw_context_message(context));
    if (strncmp(sw_context_message(context), beginning, strlen(beginning)) != 0)
        fail_msg("\"%s\" does not begin \"%s\"", sw_context_message(context), beginning);
    assert_int_equal(sw_cook_run(context, s, NULL, NULL, &history), SW_ERR_ARGUMENT);
}

static void test_every_choice_and_ending(void **state)
{
    (void)state;
    int choices = 0, endings = 0;
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        const int wrong[] = {-1, key->type == SW_KEY_CHOICE ? key->choice_count : SW_ENDING_USUAL + 1, 99};
        for (int k = 0; k < 3; k++) {
            sw_scenario s;
            char beginning[128];
            sw_scenario_init(&s);
            s.pit.convection = 0.0;
            void *field = sw_key_field(key, &s);
            if (key->type == SW_KEY_CHOICE) {
                memcpy(field, &wrong[k], sizeof(int));
                snprintf(beginning, sizeof beginning, "%s is choice number %d; allowed 0 to %d: ", key->name, wrong[k],
                         key->choice_count - 1);
                choices++;
            } else if (key->type == SW_KEY_ENDING) {
                memcpy(&((sw_ending *)field)->kind, &wrong[k], sizeof(int));
                snprintf(beginning, sizeof beginning, "%s has %d for its kind of ending; allowed 0 to %d", key->name, wrong[k], SW_ENDING_USUAL);
                endings++;
            } else {
                continue;
            }
            assert_refused(&s, beginning);
        }
    }
    assert_true(choices >= 3 * 10 && endings >= 3 * 7);
}

static void test_endless_text(void **state)
{
    (void)state;
    sw_scenario s;
    sw_scenario_init(&s);
    memset(s.title, 'a', sizeof s.title);
    assert_refused(&s, "title begins \"aaaaaaaaaaaaaaaaaaaa\" and does not end; allowed are 127 bytes and a NUL");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_choice_and_ending),
        cmocka_unit_test(test_endless_text),
    };
    if (sw_context_create(&context) != SW_OK)
        return 1;
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    sw_context_destroy(context);
    return failed;
}
