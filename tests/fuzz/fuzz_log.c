/* SPDX-License-Identifier: BSD-3-Clause */
/* Logs of cooks: the input is a thermometer's table. The first byte says which units stand in for those that no heading tells, and whether
 * the last line is still being written. */
#include "fuzz.h"

#include <stallwright/cook_log.h>

#include <math.h>
#include <string.h>

/* What a log holds when it was read: times that do not fall, temperatures that a probe has or none, text that ends. */
static void check_log(const sw_cook_log *log, bool is_growing)
{
    /* One that grows may not have come to its first row. */
    fuzz_require((log->row_count > 0 || is_growing) && log->meat_count <= SW_TRACK_PROBES_MAX, "a log without rows or with too many probes was read");
    for (size_t i = 0; i < log->row_count; i++) {
        fuzz_require(isfinite(log->time[i]) && (i == 0 || log->time[i] >= log->time[i - 1]), "times fall");
        fuzz_require(log->line[i] > 0, "a row is of no line");
        for (size_t k = 0; k < log->meat_count; k++)
            fuzz_require(SW_IS_ABSENT(log->meat[k].values[i]) || log->meat[k].values[i] > 0.0, "below absolute zero");
    }
    for (size_t k = 0; k < log->meat_count; k++)
        fuzz_require(memchr(log->meat[k].name, '\0', SW_LOG_NAME_SIZE) != NULL, "a name does not end");
    fuzz_require(isfinite(log->start) && log->event_count <= SW_LOG_EVENTS_MAX, "the start or the events of a log");
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static sw_cook_log before, log;
    if (size == 0)
        return 0;
    const sw_cook_log_form form = {.path = fuzz_file(data + 1, size - 1),
                                   .units = data[0] & 1 ? SW_UNITS_US : SW_UNITS_SI,
                                   .leaves_last_line = (data[0] & 2) != 0};
    memset(&log, 0, sizeof log);
    before = log;
    if (sw_cook_log_read(fuzz_context(), fuzz_reader(), &form, &log) == SW_OK) {
        check_log(&log, form.leaves_last_line);
        sw_cook_log_free(&log);
    } else {
        fuzz_require(memcmp(&before, &log, sizeof log) == 0, "a log that is refused leaves something behind");
        fuzz_check_sentence();
    }
    return 0;
}
