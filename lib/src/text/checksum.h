/* SPDX-License-Identifier: BSD-3-Clause */
/* CRC-32 as in ISO/IEC 3309 (that of zlib, gzip and PNG); checksum.c is the only file that sees zlib. */
#ifndef SW_IO_CHECKSUM_H
#define SW_IO_CHECKSUM_H

#include <stddef.h>
#include <stdint.h>

/* The checksum of all bytes so far: before is that of the bytes before these, 0 for none. */
uint32_t sw_checksum(uint32_t before, const void *bytes, size_t size);

#endif
