/* SPDX-License-Identifier: BSD-3-Clause */
#include "hdf5_functions.h"

#include <stallwright/export.h>
#include <stallwright/version.h>

/* What the loader looks up. */
SW_API extern const sw_hdf5_functions sw_hdf5_module;

const sw_hdf5_functions sw_hdf5_module = {
    sw_version,
    sw_set_allocator,
    sw_hdf5_build,
    sw_hdf5_read,
#define GIVES(type, name, parameters, arguments) sw_hdf5_##name,
#define DOES(name, parameters, arguments) sw_hdf5_##name,
    SW_HDF5_FUNCTION_LIST(GIVES, DOES)
#undef GIVES
#undef DOES
};
