/* SPDX-License-Identifier: BSD-3-Clause */
#include "file_checksum.h"

#include "checksum.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define LINE_FORMAT "\nsw_checksum: crc32 %08" PRIx32 "\n"

static void write_line(uint32_t checksum, char line[SW_CHECKSUM_SIZE + 1])
{
    snprintf(line, SW_CHECKSUM_SIZE + 1, LINE_FORMAT, checksum);
}

/* Fewer bytes than asked for are an error. 0 or an error number. */
static int read_all(int descriptor, char *bytes, size_t size, size_t at)
{
    for (size_t got = 0; got < size;) {
        ssize_t count = pread(descriptor, bytes + got, size - got, (off_t)(at + got));
        if (count < 0 && errno == EINTR)
            continue;
        if (count <= 0)
            return count < 0 ? errno : EIO;
        got += (size_t)count;
    }
    return 0;
}

/* The checksum of the first size bytes. 0 or an error number. */
static int checksum_of(int descriptor, size_t size, uint32_t *checksum)
{
    char bytes[65536];
    uint32_t sum = 0;
    for (size_t at = 0; at < size;) {
        size_t count = size - at < sizeof bytes ? size - at : sizeof bytes;
        int error = read_all(descriptor, bytes, count, at);
        if (error)
            return error;
        sum = sw_checksum(sum, bytes, count);
        at += count;
    }
    *checksum = sum;
    return 0;
}

int sw_file_checksum_append(int descriptor, size_t size)
{
    char line[SW_CHECKSUM_SIZE + 1];
    uint32_t checksum;
    int error = checksum_of(descriptor, size, &checksum);
    if (error)
        return error;
    write_line(checksum, line);
    errno = 0;
    if (pwrite(descriptor, line, SW_CHECKSUM_SIZE, (off_t)size) != SW_CHECKSUM_SIZE)
        return errno ? errno : ENOSPC;
    return 0;
}

static const char *complaint_about(int descriptor)
{
    static const char cannot_be_read[] = "the disk does not give it back";
    struct stat about;
    char found[SW_CHECKSUM_SIZE + 1] = "", wanted[SW_CHECKSUM_SIZE + 1];
    uint32_t checksum;
    if (fstat(descriptor, &about) != 0)
        return cannot_be_read;
    if (!S_ISREG(about.st_mode))
        return "it is no regular file";
    size_t size = about.st_size > SW_CHECKSUM_SIZE ? (size_t)about.st_size - SW_CHECKSUM_SIZE : 0;
    if (size > 0 && read_all(descriptor, found, SW_CHECKSUM_SIZE, size) != 0)
        return cannot_be_read;
    write_line(0, wanted);
    if (memcmp(found, wanted, strcspn(wanted, "0")) != 0)
        return "it does not end with the checksum of a results file of stallwright: it was cut short, or another program or "
               "version wrote or changed it";
    if (checksum_of(descriptor, size, &checksum) != 0)
        return cannot_be_read;
    write_line(checksum, wanted);
    return memcmp(found, wanted, SW_CHECKSUM_SIZE) == 0 ? NULL
                                                         : "its checksum is not that of its contents: it was damaged or "
                                                           "changed after it was written";
}

const char *sw_file_checksum_complaint(const char *path)
{
    /* Without waiting: a pipe would keep everybody until somebody writes. */
    int descriptor = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (descriptor < 0)
        return "it cannot be opened";
    const char *complaint = complaint_about(descriptor);
    close(descriptor);
    return complaint;
}
