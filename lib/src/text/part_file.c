/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/part_file.h>

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

enum { BEGINNING_MAX = 16, TRIES_MAX = 20 };

/* The lock is that of flock and not of fcntl: it stays when a library that draws into the file closes it. */
static bool lock_is_free(int descriptor)
{
    return flock(descriptor, LOCK_EX | LOCK_NB) == 0;
}

/* Whether the name still leads to the open file. */
static bool is_at(int descriptor, const char *part)
{
    struct stat opened, there;
    return fstat(descriptor, &opened) == 0 && lstat(part, &there) == 0 && opened.st_dev == there.st_dev &&
           opened.st_ino == there.st_ino;
}

/* Whether all of a file's first bytes that are there are the expected ones; so of an empty one. */
static bool begins_with(int descriptor, const char *beginning)
{
    char found[BEGINNING_MAX];
    const size_t size = strnlen(beginning, sizeof found);
    ssize_t count = pread(descriptor, found, size, 0);
    return count >= 0 && memcmp(found, beginning, (size_t)count) == 0;
}

/* Removes the part at a name, which an open file was found under. 0; EBUSY: somebody writes it; EEXIST: it is not known to be
 * ours; another error number. */
static int remove_if_stale(int descriptor, const char *part, const char *beginning, bool force)
{
    if (!lock_is_free(descriptor))
        return errno == EWOULDBLOCK ? EBUSY : EEXIST;
    /* Its writer may just have renamed it. */
    if (!is_at(descriptor, part))
        return 0;
    if (!force && !begins_with(descriptor, beginning))
        return EEXIST;
    return unlink(part) == 0 || errno == ENOENT ? 0 : errno;
}

static int clear_the_way(const char *part, const char *beginning, bool force)
{
    struct stat about;
    if (lstat(part, &about) != 0)
        return errno == ENOENT ? 0 : errno;
    if (!S_ISREG(about.st_mode))
        return EEXIST;
    int descriptor = open(part, O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0)
        return errno == ENOENT ? 0 : EEXIST;
    int error = remove_if_stale(descriptor, part, beginning, force);
    close(descriptor);
    return error;
}

/* 0 or an error number, as above. */
static int open_locked(const char *part, const char *beginning, bool force, int *descriptor)
{
    for (int tries = 0; tries < TRIES_MAX; tries++) {
        int opened = open(part, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        /* Another run may take it for a stale one before it is locked. A file system without locks has to do without. */
        if (opened >= 0 && (lock_is_free(opened) || errno != EWOULDBLOCK) && is_at(opened, part)) {
            *descriptor = opened;
            return 0;
        }
        int error = opened < 0 ? errno : 0;
        if (opened >= 0)
            close(opened);
        else if (error == EEXIST)
            error = clear_the_way(part, beginning, force);
        if (error)
            return error;
    }
    return EBUSY;
}

sw_status sw_part_file_open(sw_context *context, const char *what, const char *path, const char *part,
                            const char *beginning, bool force, int *descriptor)
{
    const int error = open_locked(part, beginning, force, descriptor);
    switch (error) {
    case 0:
        return SW_OK;
    case EBUSY:
        return sw_fail(context, SW_ERR_FILE, "%s \"%.300s\" cannot be written: \"%.300s\" is in the way; another run is "
                                             "writing it", what, path, part);
    case EEXIST:
        return sw_fail(context, SW_ERR_FILE, "%s \"%.300s\" cannot be written: \"%.300s\" is in the way, and it is not known "
                                             "to be left by a run that was cut short; look at it, and remove it if no run is "
                                             "under way", what, path, part);
    default:
        return sw_fail(context, SW_ERR_FILE, "%s \"%.300s\" cannot be written: %s", what, path, strerror(error));
    }
}
