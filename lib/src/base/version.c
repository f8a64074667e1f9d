/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/version.h>

#define TEXT_OF(x) #x
#define VERSION_TEXT(major, minor, patch) TEXT_OF(major) "." TEXT_OF(minor) "." TEXT_OF(patch)

const char *sw_version(void)
{
    return VERSION_TEXT(SW_VERSION_MAJOR, SW_VERSION_MINOR, SW_VERSION_PATCH);
}
