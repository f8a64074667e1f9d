/* SPDX-License-Identifier: BSD-3-Clause */
#include "fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

void fuzz_require(int holds, const char *what)
{
    if (holds)
        return;
    fprintf(stderr, "BROKEN: %s; the last sentence is: %s\n", what, sw_context_message(fuzz_context()));
    abort();
}

sw_context *fuzz_context(void)
{
    static sw_context *context;
    if (!context && sw_context_create(&context) != SW_OK)
        abort();
    return context;
}

sw_scenario_reader *fuzz_reader(void)
{
    static sw_scenario_reader *reader;
    if (!reader)
        fuzz_require(sw_scenario_reader_create(fuzz_context(), &reader) == SW_OK, "a reader can be created");
    return reader;
}

char *fuzz_text(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    if (!text)
        abort();
    memcpy(text, data, size);
    text[size] = '\0';
    return text;
}

void fuzz_check_sentence(void)
{
    const char *said = sw_context_message(fuzz_context());
    fuzz_require(*said, "a refusal says something");
    for (const char *at = said; *at; at++)
        fuzz_require((unsigned char)*at >= 0x20 && *at != 0x7f, "a refusal is one line without control characters");
}

void fuzz_check_refusal(const sw_scenario *before, const sw_scenario *now)
{
    fuzz_check_sentence();
    fuzz_require(memcmp(before, now, sizeof *now) == 0, "a refusal leaves the scenario as it was");
}

const char *fuzz_file(const uint8_t *data, size_t size)
{
    static char path[] = "/tmp/sw_fuzz_XXXXXX";
    static int descriptor = -1;
    if (descriptor < 0) {
        descriptor = mkstemp(path);
        unlink(path);
        snprintf(path, sizeof path, "/proc/self/fd/%d", descriptor);
    }
    if (descriptor < 0 || ftruncate(descriptor, 0) != 0 || pwrite(descriptor, data, size, 0) != (ssize_t)size)
        abort();
    return path;
}

/* The scenario as a file; the caller frees it. */
static char *written(const sw_scenario *scenario)
{
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    if (!stream)
        abort();
    fuzz_require(sw_scenario_write(fuzz_context(), fuzz_reader(), scenario, SW_UNITS_SI, stream) == SW_OK,
                 "a good scenario can be written");
    fclose(stream);
    return text;
}

void fuzz_check_scenario(const sw_scenario *scenario)
{
    if (sw_scenario_check(fuzz_context(), scenario) != SW_OK) {
        fuzz_check_sentence();
        return;
    }
    sw_scenario read;
    sw_scenario_init(&read);
    char *text = written(scenario);
    fuzz_require(sw_scenario_read_text(fuzz_context(), fuzz_reader(), "written", text, strlen(text), &read) == SW_OK,
                 "a scenario that was written can be read");
    char *again = written(&read);
    fuzz_require(strcmp(text, again) == 0, "a scenario comes back as it was written");
    free(text);
    free(again);
}
