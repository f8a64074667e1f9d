/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/study_file.h>

#include "study_figures.h"

#include <stdlib.h>
#include <string.h>

/* What stands before the numbers of a packed result. Bytes are those of the machine: a journal stays on the machine, or
 * among machines of one kind, that it was begun on. */
typedef struct head {
    uint64_t run;
    int32_t status;
    int32_t top_state;
    uint32_t failure_length;
    uint32_t point_count;
} head;

/* A curve of a year at ten minutes a point. */
enum { POINTS_MAX = 60000 };

static size_t packed_size(const head *h)
{
    return sizeof *h + SW_STUDY_FIGURE_COUNT * sizeof(double) + h->failure_length +
           (size_t)h->point_count * SW_STUDY_CURVE_COUNT * sizeof(double);
}

static void *put(void *at, const void *from, size_t size)
{
    if (size > 0)
        memcpy(at, from, size);
    return (char *)at + size;
}

static const void *take(const void *at, void *to, size_t size)
{
    if (size > 0)
        memcpy(to, at, size);
    return (const char *)at + size;
}

sw_status sw_study_result_pack(sw_context *context, const sw_study_result *result, void **bytes, size_t *size)
{
    head h = {.run = result->run,
              .status = (int32_t)result->status,
              .top_state = (int32_t)result->outcome.top_state_at_pull,
              .failure_length = (uint32_t)strlen(result->failure),
              .point_count = (uint32_t)result->point_count};
    sw_outcome outcome = result->outcome;
    void *packed = malloc(packed_size(&h));
    if (!packed)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the result of a cook could not be allocated");
    void *at = put(packed, &h, sizeof h);
    for (size_t i = 0; i < SW_STUDY_FIGURE_COUNT; i++)
        at = put(at, sw_study_figure_of(&outcome, i), sizeof(double));
    at = put(at, result->failure, h.failure_length);
    for (int i = 0; i < SW_STUDY_CURVE_COUNT; i++)
        at = put(at, result->curves[i], result->point_count * sizeof(double));
    *bytes = packed;
    *size = packed_size(&h);
    return SW_OK;
}

sw_status sw_study_result_unpack(sw_context *context, const void *bytes, size_t size, sw_study_result *result)
{
    head h;
    sw_study_result read = {0};
    bool good = size >= sizeof h;
    const void *at = good ? take(bytes, &h, sizeof h) : bytes;
    if (!good || h.failure_length >= sizeof read.failure || h.point_count > POINTS_MAX || packed_size(&h) != size)
        return sw_fail(context, SW_ERR_INPUT, "%zu bytes are no packed result of a cook", size);
    read.run = (size_t)h.run;
    read.status = (sw_status)h.status;
    read.outcome.top_state_at_pull = (sw_surface_state)h.top_state;
    read.point_count = h.point_count;
    for (size_t i = 0; i < SW_STUDY_FIGURE_COUNT; i++)
        at = take(at, sw_study_figure_of(&read.outcome, i), sizeof(double));
    at = take(at, read.failure, h.failure_length);
    double *block = malloc((read.point_count ? read.point_count : 1) * SW_STUDY_CURVE_COUNT * sizeof *block);
    if (!block)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the result of a cook could not be allocated");
    take(at, block, read.point_count * SW_STUDY_CURVE_COUNT * sizeof *block);
    for (int i = 0; i < SW_STUDY_CURVE_COUNT; i++)
        read.curves[i] = block + (size_t)i * read.point_count;
    *result = read;
    return SW_OK;
}
