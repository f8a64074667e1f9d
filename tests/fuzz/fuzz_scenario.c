/* SPDX-License-Identifier: BSD-3-Clause */
/* Scenario files: the input is the file. */
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static sw_scenario before, scenario;
    sw_scenario_init(&before);
    scenario = before;
    if (sw_scenario_read_text(fuzz_context(), fuzz_reader(), "input", (const char *)data, size, &scenario) == SW_OK)
        fuzz_check_scenario(&scenario);
    else
        fuzz_check_refusal(&before, &scenario);
    return 0;
}
