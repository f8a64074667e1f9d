/* SPDX-License-Identifier: BSD-3-Clause */
/* Cooks behind handles into results files and from them. */
#include "cooked.h"

#include <stallwright/files.h>
#include <stallwright/results_file.h>

#include <string.h>

sw_status sw_cooked_write(sw_context *context, const sw_cooked *cooked, const char *path, const char *program, bool overwrite)
{
    const sw_provenance from = {.program = program};
    return sw_results_write(context, path, 1, &cooked->history, NULL, &from, overwrite);
}

static size_t labelled(const sw_results *results, const char *label)
{
    size_t i = 0;
    while (label && i < results->count && strcmp(results->labels[i], label) != 0)
        i++;
    return i;
}

sw_status sw_cooked_read(sw_context *context, const char *path, const char *label, sw_cooked **cooked)
{
    sw_results *results;
    sw_status status = sw_results_read(context, path, &results);
    if (status != SW_OK)
        return status;
    const size_t number = labelled(results, label);
    if (number == results->count) {
        status = sw_fail(context, SW_ERR_INPUT, "%s has %zu cooks, none with the label \"%.60s\"", path, results->count, label);
    } else {
        status = sw_cooked_take(context, results->histories[number], cooked);
        if (status == SW_OK)
            results->histories[number] = NULL;
    }
    sw_results_destroy(results);
    return status;
}
