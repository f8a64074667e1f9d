/* SPDX-License-Identifier: BSD-3-Clause */
#include "checksum.h"

#include <zlib.h>

uint32_t sw_checksum(uint32_t before, const void *bytes, size_t size)
{
    return (uint32_t)crc32_z(before, bytes, size);
}
