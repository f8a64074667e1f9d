/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Version of the library. */
#ifndef STALLWRIGHT_VERSION_H
#define STALLWRIGHT_VERSION_H

#include <stallwright/export.h>

SW_BEGIN_DECLARATIONS

#define SW_VERSION_MAJOR 0
#define SW_VERSION_MINOR 1
#define SW_VERSION_PATCH 0

/** Whether the headers are of this version or a later one, for the preprocessor. */
#define SW_VERSION_AT_LEAST(major, minor, patch)                                                                       \
    (SW_VERSION_MAJOR > (major) || (SW_VERSION_MAJOR == (major) && SW_VERSION_MINOR > (minor)) ||                      \
     (SW_VERSION_MAJOR == (major) && SW_VERSION_MINOR == (minor) && SW_VERSION_PATCH >= (patch)))

/** Version of the library in use, "major.minor.patch". */
SW_API const char *sw_version(void);

/** Version of the time integrator in use, for example "6.4.1". */
SW_API const char *sw_version_of_sundials(void);

/** Version of the results-file library in use, for example "1.10.8"; "none" in a build without it, where calls that write or read
 * a results file fail and say so. */
SW_API const char *sw_version_of_hdf5(void);

SW_END_DECLARATIONS

#endif
