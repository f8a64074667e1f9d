/* SPDX-License-Identifier: BSD-3-Clause */
/* Tables: the input is the log of a pit, and the outline of a section. */
#include "fuzz.h"

#include <stdio.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char *const keys[] = {"pit.temperature", "meat.outline"};
    static sw_scenario before, scenario;
    const char *path = fuzz_file(data, size);
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        char assignment[100];
        snprintf(assignment, sizeof assignment, "%s=%s", keys[i], path);
        sw_scenario_init(&before);
        before.meat.shape = i == 1 ? SW_SHAPE_OUTLINE : before.meat.shape;
        scenario = before;
        if (sw_scenario_set(fuzz_context(), fuzz_reader(), assignment, &scenario) == SW_OK)
            fuzz_check_scenario(&scenario);
        else
            fuzz_check_refusal(&before, &scenario);
    }
    return 0;
}
