/* SPDX-License-Identifier: BSD-3-Clause */
/* Stands before lib/src/text/text_file.c: on a page there is no file but what it is given. */
#ifndef SW_WEB_ALONE_NO_FILES_H
#define SW_WEB_ALONE_NO_FILES_H

#include <errno.h>
#include <stdio.h>

static inline FILE *web_no_file(void)
{
    errno = ENOENT;
    return NULL;
}

#define fopen(path, mode) ((void)(path), web_no_file())

#endif
