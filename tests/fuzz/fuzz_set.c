/* SPDX-License-Identifier: BSD-3-Clause */
/* Values on the command line: each line of the input is an assignment for --set, and its value also stands for an ending. */
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

static void set(const char *assignment, sw_scenario *scenario)
{
    static sw_scenario before;
    before = *scenario;
    if (sw_scenario_set(fuzz_context(), fuzz_reader(), assignment, scenario) != SW_OK)
        fuzz_check_refusal(&before, scenario);
}

static void read_as_ending(const char *value, sw_scenario *scenario)
{
    static sw_scenario before;
    before = *scenario;
    if (sw_read_ending(fuzz_context(), fuzz_reader(), "--pull", value, &scenario->pull) != SW_OK)
        fuzz_check_refusal(&before, scenario);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static sw_scenario start, scenario;
    char *text = fuzz_text(data, size), *rest = NULL;
    sw_scenario_init(&start);
    scenario = start;
    for (char *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        const char *value = strchr(line, '=');
        set(line, &scenario);
        if (value)
            read_as_ending(value + 1, &scenario);
    }
    /* Writing and reading back takes far longer than to set a value. */
    if (memcmp(&start, &scenario, sizeof start) != 0)
        fuzz_check_scenario(&scenario);
    free(text);
    return 0;
}
