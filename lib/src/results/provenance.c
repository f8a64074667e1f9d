/* SPDX-License-Identifier: BSD-3-Clause */
#include "provenance.h"

#include <stallwright/version.h>

void sw_put_provenance(sw_hdf5_writer *w, sw_hdf5_object root, const sw_provenance *from)
{
    sw_hdf5_object group = sw_hdf5_group(w, root, SW_PROVENANCE_GROUP);
    sw_hdf5_text(w, group, "stallwright_version", sw_version());
    sw_hdf5_text(w, group, "sundials_version", sw_version_of_sundials());
    sw_hdf5_text(w, group, "hdf5_version", sw_hdf5_version());
    if (from->command_line)
        sw_hdf5_text(w, group, "command_line", from->command_line);
    if (from->scenario_text)
        sw_hdf5_texts(w, group, "scenario_text", NULL, &from->scenario_text, "the complete scenario, as a file");
    sw_hdf5_close(group);
}
