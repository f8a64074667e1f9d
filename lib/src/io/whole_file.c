#include "whole_file.h"

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

/* A disk may find out that it is full only when it is made to store the bytes, or at the close.
 * 0 or an error number. */
static int copy_and_store(int from, int descriptor, size_t size)
{
    int error = copy_all(from, descriptor, size);
    if (!error && fsync(descriptor) != 0)
        error = errno;
    if (close(descriptor) != 0 && !error)
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

static sw_status write_by_part(sw_context *context, const char *what, const char *path, const char *part,
                               int from, size_t size, bool overwrite)
{
    /* O_EXCL: neither the part of another run nor what a symbolic link points to is written over. */
    int descriptor = open(part, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (descriptor < 0 && errno == EEXIST)
        return sw_fail(context, SW_ERR_FILE,
                       "%s \"%.300s\" cannot be written: \"%.300s\" is in the way; another run is writing it, or one "
                       "was cut short: remove it if none is under way",
                       what, path, part);
    if (descriptor < 0)
        return sw_whole_file_refuse(context, what, path, errno);

    int error = copy_and_store(from, descriptor, size);
    if (!error && overwrite)
        error = rename(part, path) == 0 ? 0 : errno;
    else if (!error)
        error = name_if_free(part, path);
    if (!error)
        return SW_OK;
    unlink(part);
    return error == EEXIST && !overwrite ? refuse_existing(context, what, path)
                                         : sw_whole_file_refuse(context, what, path, error);
}

sw_status sw_whole_file_scratch(sw_context *context, const char *what, const char *path, int *descriptor)
{
    static const char ending[] = ".XXXXXX";
    size_t room = strlen(path) + sizeof ending;
    char *name = malloc(room);
    if (!name)
        return sw_fail(context, SW_ERR_MEMORY, "memory to write %s \"%.300s\" could not be allocated", what, path);
    snprintf(name, room, "%s%s", path, ending);
    int opened = mkstemp(name), error = errno;
    if (opened >= 0)
        unlink(name);
    free(name);
    if (opened < 0)
        return sw_whole_file_refuse(context, what, path, error);
    fcntl(opened, F_SETFD, FD_CLOEXEC);
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
