/* SPDX-License-Identifier: BSD-3-Clause */
/* Terminals of a machine that has none: every descriptor is something else. */
#ifndef SW_WEB_ALONE_TERMIOS_H
#define SW_WEB_ALONE_TERMIOS_H

#include <errno.h>

struct termios {
    unsigned c_iflag, c_oflag, c_cflag, c_lflag;
    unsigned char c_cc[32];
};

enum { TCSANOW, TCSADRAIN, TCSAFLUSH, ICANON = 2, ECHO = 8, VMIN = 6, VTIME = 5 };

static inline int tcgetattr(int descriptor, struct termios *settings)
{
    (void)descriptor, (void)settings;
    errno = ENOTTY;
    return -1;
}

static inline int tcsetattr(int descriptor, int when, const struct termios *settings)
{
    (void)when;
    return tcgetattr(descriptor, (struct termios *)settings);
}

static inline void cfmakeraw(struct termios *settings)
{
    (void)settings;
}

#endif
