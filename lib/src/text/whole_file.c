/* SPDX-License-Identifier: BSD-3-Clause */
#include "whole_file.h"

#include <stallwright/part_file.h>

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static sw_status refuse_existing(sw_context *context, const char *what, const char *path)
{
    return sw_fail(context, SW_ERR_EXISTS, "%s \"%.300s\" exists already; it is only replaced if forced", what, path);
}

sw_status sw_whole_file_refuse(sw_context *context, const char *what, const char *path, int error)
{
    return sw_fail(context, SW_ERR_FILE, "%s \"%.300s\" cannot be written: %s", what, path,
                   error ? strerror(error) : "the disk refused it");
}

sw_status sw_whole_file_check(sw_context *context, const char *what, const char *path, bool overwrite)
{
    struct stat about;
    /* Renaming would put a regular file in the place of a device. */
    if (stat(path, &about) == 0 && !S_ISREG(about.st_mode))
        return sw_fail(context, SW_ERR_FILE, "%s \"%.300s\" cannot be written: it is %s", what, path,
                       S_ISDIR(about.st_mode) ? "a directory" : "no regular file");
    if (!overwrite && lstat(path, &about) == 0)
        return refuse_existing(context, what, path);
    return SW_OK;
}

sw_status sw_whole_file_check_readable(sw_context *context, const char *what, const char *path)
{
    struct stat about;
    const char *why = NULL;
    if (stat(path, &about) != 0 || (S_ISREG(about.st_mode) && access(path, R_OK) != 0))
        why = strerror(errno);
    else if (!S_ISREG(about.st_mode))
        why = S_ISDIR(about.st_mode) ? "it is a directory" : "it is no regular file";
    return why ? sw_fail(context, SW_ERR_FILE, "%s \"%.300s\" cannot be read: %s", what, path, why) : SW_OK;
}

/* 0 or an error number. */
static int write_all(int descriptor, const char *bytes, size_t size)
{
    while (size > 0) {
        errno = 0;
        ssize_t written = write(descriptor, bytes, size);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return errno ? errno : ENOSPC;
        bytes += written;
        size -= (size_t)written;
    }
    return 0;
}

/* 0 or an error number. */
static int copy_all(int from, int to, size_t size)
{
    char bytes[65536];
    for (size_t at = 0; at < size;) {
        ssize_t count = pread(from, bytes, size - at < sizeof bytes ? size - at : sizeof bytes, (off_t)at);
        if (count < 0 && errno == EINTR)
            continue;
        if (count <= 0)
            return count < 0 ? errno : EIO;
        int error = write_all(to, bytes, (size_t)count);
        if (error)
            return error;
        at += (size_t)count;
    }
    return 0;
}

/* A disk may find out that it is full only when it is made to store the bytes, or at the close; of a copy of the descriptor,
 * for the part stays locked. 0 or an error number. */
static int copy_and_store(int from, int descriptor, size_t size)
{
    int error = copy_all(from, descriptor, size), copy;
    if (!error && (fsync(descriptor) != 0 || (copy = dup(descriptor)) < 0 || close(copy) != 0))
        error = errno;
    return error;
}

/* Gives the finished part its name unless that is taken: link, unlike rename, never replaces.
 * 0 or an error number, EEXIST if the name is taken. */
static int name_if_free(const char *part, const char *path)
{
    struct stat about;
    if (link(part, path) == 0) {
        unlink(part);
        return 0;
    }
    /* A file system may have no links: then look again just before the rename. */
    if (errno == EEXIST || lstat(path, &about) == 0)
        return EEXIST;
    return rename(part, path) == 0 ? 0 : errno;
}

/* Every HDF5 file begins like this (HDF5 File Format Specification 2.0, II.A). */
static const char beginning[] = "\x89HDF\r\n\x1a\n";

static sw_status write_by_part(sw_context *context, const char *what, const char *path, const char *part,
                               int from, size_t size, bool overwrite)
{
    int descriptor;
    sw_status status = sw_part_file_open(context, what, path, part, beginning, overwrite, &descriptor);
    if (status != SW_OK)
        return status;
    int error = copy_and_store(from, descriptor, size);
    if (!error && overwrite)
        error = rename(part, path) == 0 ? 0 : errno;
    else if (!error)
        error = name_if_free(part, path);
    if (error)
        unlink(part);
    close(descriptor);
    if (!error)
        return SW_OK;
    return error == EEXIST && !overwrite ? refuse_existing(context, what, path)
                                         : sw_whole_file_refuse(context, what, path, error);
}

/* A file that never has a name, so that nothing can leave it behind; negative where the file system has none such. */
static int open_nameless(const char *path)
{
    const char *slash = strrchr(path, '/');
    char *folder = slash ? strndup(path, (size_t)(slash - path) + 1) : strdup(".");
    int opened = folder ? open(folder, O_TMPFILE | O_RDWR | O_CLOEXEC, 0600) : -1;
    free(folder);
    return opened;
}

/* The same with a name for a moment. Negative with errno. */
static int open_and_unlink(const char *path)
{
    static const char ending[] = ".XXXXXX";
    size_t room = strlen(path) + sizeof ending;
    char *name = malloc(room);
    if (!name) {
        errno = ENOMEM;
        return -1;
    }
    snprintf(name, room, "%s%s", path, ending);
    int opened = mkstemp(name), error = errno;
    if (opened >= 0) {
        unlink(name);
        fcntl(opened, F_SETFD, FD_CLOEXEC);
    }
    free(name);
    errno = error;
    return opened;
}

sw_status sw_whole_file_scratch(sw_context *context, const char *what, const char *path, int *descriptor)
{
    int opened = open_nameless(path);
    if (opened < 0)
        opened = open_and_unlink(path);
    if (opened < 0 && errno == ENOMEM)
        return sw_fail(context, SW_ERR_MEMORY, "memory to write %s \"%.300s\" could not be allocated", what, path);
    if (opened < 0)
        return sw_whole_file_refuse(context, what, path, errno);
    *descriptor = opened;
    return SW_OK;
}

sw_status sw_whole_file_write(sw_context *context, const char *what, const char *path, int from, size_t size,
                              bool overwrite)
{
    sw_status status = sw_whole_file_check(context, what, path, overwrite);
    if (status != SW_OK)
        return status;
    size_t room = strlen(path) + sizeof ".part";
    char *part = malloc(room);
    if (!part)
        return sw_fail(context, SW_ERR_MEMORY, "memory to write %s \"%.300s\" could not be allocated", what, path);
    snprintf(part, room, "%s.part", path);
    status = write_by_part(context, what, path, part, from, size, overwrite);
    free(part);
    return status;
}
