/* SPDX-License-Identifier: BSD-3-Clause */
#include "results_heading.h"

#include <stallwright/text.h>
#include <stallwright/version.h>

#include <stdlib.h>
#include <string.h>
#include <time.h>

sw_status sw_date_created(sw_context *context, char date[SW_DATE_SIZE])
{
    int64_t seconds;
    struct tm utc;
    const sw_status status = sw_moment_of_making(context, &seconds);
    if (status != SW_OK)
        return status;
    const time_t moment = (time_t)seconds;
    date[0] = '\0';
    if (gmtime_r(&moment, &utc))
        strftime(date, SW_DATE_SIZE, "%Y-%m-%dT%H:%M:%SZ", &utc);
    return SW_OK;
}

/* Joins texts of any length: cutting one could split a character. The caller frees it; NULL without memory. */
static char *join(size_t count, const char *const *texts, const char *between)
{
    size_t length = 1;
    for (size_t i = 0; i < count; i++)
        length += strlen(texts[i]) + strlen(between);
    char *joined = calloc(length, 1);
    for (size_t i = 0; joined && i < count; i++) {
        strcat(joined, i ? between : "");
        strcat(joined, texts[i]);
    }
    return joined;
}

void sw_put_joined(sw_hdf5_writer *w, sw_hdf5_object object, const char *name, size_t count, const char *const *texts,
                   const char *between)
{
    char *joined = join(count, texts, between);
    if (joined)
        sw_hdf5_text(w, object, name, joined);
    else
        sw_hdf5_fail(w, name, NULL);
    free(joined);
}

void sw_put_history(sw_hdf5_writer *w, sw_hdf5_object root, const char *date, const char *command_line)
{
    const char *history[] = {date, command_line ? command_line : "written by a program"};
    sw_put_joined(w, root, "history", 2, history, ": ");
    sw_hdf5_text(w, root, "date_created", date);
}

sw_hdf5_object sw_provenance_group(sw_hdf5_writer *w, sw_hdf5_object root, const char *command_line)
{
    sw_hdf5_object group = sw_hdf5_group(w, root, SW_PROVENANCE_GROUP);
    sw_hdf5_text(w, group, "stallwright_version", sw_version());
    sw_hdf5_text(w, group, "sundials_version", sw_version_of_sundials());
    sw_hdf5_text(w, group, "hdf5_version", sw_hdf5_version());
    if (command_line)
        sw_hdf5_text(w, group, "command_line", command_line);
    return group;
}

void sw_put_provenance(sw_hdf5_writer *w, sw_hdf5_object root, const sw_provenance *from)
{
    sw_hdf5_object group = sw_provenance_group(w, root, from->command_line);
    if (from->scenario_text)
        sw_hdf5_texts(w, group, "scenario_text", NULL, &from->scenario_text, "the complete scenario, as a file");
    sw_hdf5_close(group);
}
