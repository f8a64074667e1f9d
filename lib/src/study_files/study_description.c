/* SPDX-License-Identifier: BSD-3-Clause */
#include "study_description.h"

#include <stallwright/version.h>

#include <inttypes.h>
#include <stdlib.h>

static void describe_factor(FILE *stream, const sw_study *study, size_t factor)
{
    const sw_factor_view f = sw_study_factor(study, factor);
    if (f.kind != SW_FACTOR_LISTED) {
        fprintf(stream, "vary %s: %s %.17g %.17g\n", f.key, f.kind == SW_FACTOR_UNIFORM ? "uniform" : "normal", f.first,
                f.second);
        return;
    }
    fprintf(stream, "vary %s:", f.key);
    for (size_t i = 0; i < f.value_count; i++) {
        if (f.has_numbers)
            fprintf(stream, " %.17g", sw_study_listed_number(study, factor, i));
        else
            fprintf(stream, " %s", sw_study_listed_label(study, factor, i));
    }
    fputc('\n', stream);
}

static sw_status write_all(sw_context *context, sw_scenario_reader *reader, const sw_study *study, FILE *stream)
{
    fprintf(stream, "stallwright %s\ndesign: %s\nruns: %zu\nseed: %" PRIu64 "\n", sw_version(),
            sw_design_name(sw_study_design(study)), sw_study_run_count(study), sw_study_seed(study));
    for (size_t i = 0; i < sw_study_factor_count(study); i++)
        describe_factor(stream, study, i);
    return sw_scenario_write(context, reader, sw_study_base(study), SW_UNITS_SI, stream);
}

sw_status sw_study_describe(sw_context *context, sw_scenario_reader *reader, const sw_study *study, char **text)
{
    char *written = NULL;
    size_t length;
    FILE *stream = open_memstream(&written, &length);
    if (!stream)
        return sw_fail(context, SW_ERR_MEMORY, "memory to describe a study could not be allocated");
    sw_status status = write_all(context, reader, study, stream);
    if (fclose(stream) != 0 && status == SW_OK)
        status = sw_fail(context, SW_ERR_MEMORY, "memory to describe a study could not be allocated");
    char *adopted = written ? sw_adopt_text(written) : NULL;
    if (status == SW_OK && !adopted)
        status = sw_fail(context, SW_ERR_MEMORY, "memory to describe a study could not be allocated");
    if (status == SW_OK)
        *text = adopted;
    else
        free(adopted);
    return status;
}
