/* SPDX-License-Identifier: BSD-3-Clause */
#include "hdf5_file.h"

#include "whole_file.h"

#include <unistd.h>

static sw_status refuse(sw_context *context, const char *what, const char *path, const sw_hdf5_building *building)
{
    if (building->disk_error)
        return sw_whole_file_refuse(context, what, path, building->disk_error);
    if (building->no_memory)
        return sw_fail(context, SW_ERR_MEMORY, "memory for %s \"%.300s\" could not be allocated", what, path);
    return sw_fail(context, SW_ERR_FILE, "%s \"%.300s\" cannot be made: %s", what, path, building->failure);
}

sw_status sw_hdf5_write_file(sw_context *context, const char *what, const char *path, bool overwrite,
                             void (*fill)(sw_hdf5_writer *writer, sw_hdf5_object root, const void *data), const void *data)
{
    int scratch;
    sw_status status = sw_whole_file_scratch(context, what, path, &scratch);
    if (status != SW_OK)
        return status;
    const sw_hdf5_building building = sw_hdf5_build(scratch, fill, data);
    status = building.good ? sw_whole_file_write(context, what, path, scratch, building.size, overwrite)
                           : refuse(context, what, path, &building);
    close(scratch);
    return status;
}
