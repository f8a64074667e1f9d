/* SPDX-License-Identifier: BSD-3-Clause */
/* Setups from scenario files and into them; each call has a reader of its own. */
#include "cooked.h"

#include <stallwright/files.h>
#include <stallwright/scenario_file.h>

sw_status sw_setup_read(sw_context *context, sw_setup *setup, const char *path)
{
    sw_scenario_reader *reader;
    sw_status status = sw_scenario_reader_create(context, &reader);
    if (status != SW_OK)
        return status;
    status = sw_scenario_read(context, reader, path, &setup->scenario);
    sw_scenario_reader_destroy(reader);
    return status;
}

sw_status sw_setup_assign(sw_context *context, sw_setup *setup, const char *assignment)
{
    sw_scenario_reader *reader;
    sw_status status = sw_scenario_reader_create(context, &reader);
    if (status != SW_OK)
        return status;
    status = sw_scenario_set(context, reader, assignment, &setup->scenario);
    sw_scenario_reader_destroy(reader);
    return status;
}

sw_status sw_setup_write(sw_context *context, const sw_setup *setup, sw_unit_system units, FILE *stream)
{
    sw_scenario_reader *reader;
    sw_status status = sw_scenario_reader_create(context, &reader);
    if (status != SW_OK)
        return status;
    status = sw_scenario_write(context, reader, &setup->scenario, units, stream);
    sw_scenario_reader_destroy(reader);
    return status;
}
