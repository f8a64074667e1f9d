/* SPDX-License-Identifier: BSD-3-Clause */
/* In the place of PLplot, in a build without it: calls that draw nothing. None is reached, since no picture is begun
 * (outputs.c refuses --plot). */
#ifndef SW_APPS_NO_PLPLOT_H
#define SW_APPS_NO_PLPLOT_H

typedef int PLINT;

static inline void draw_nothing(int none, ...)
{
    (void)none;
}

#define pladv(...) draw_nothing(0, __VA_ARGS__)
#define plbox(...) draw_nothing(0, __VA_ARGS__)
#define plcol0(...) draw_nothing(0, __VA_ARGS__)
#define plcol1(...) draw_nothing(0, __VA_ARGS__)
#define plend() draw_nothing(0)
#define plfill(...) draw_nothing(0, __VA_ARGS__)
#define plgDevs(...) draw_nothing(0, __VA_ARGS__)
#define plinit() draw_nothing(0)
#define plline(...) draw_nothing(0, __VA_ARGS__)
#define pllsty(...) draw_nothing(0, __VA_ARGS__)
#define plpat(...) draw_nothing(0, __VA_ARGS__)
#define plpsty(...) draw_nothing(0, __VA_ARGS__)
#define plptex(...) draw_nothing(0, __VA_ARGS__)
#define plsError(...) draw_nothing(0, __VA_ARGS__)
#define plschr(...) draw_nothing(0, __VA_ARGS__)
#define plscmap0(...) draw_nothing(0, __VA_ARGS__)
#define plscmap0n(...) draw_nothing(0, __VA_ARGS__)
#define plscmap1l(...) draw_nothing(0, __VA_ARGS__)
#define plscmap1n(...) draw_nothing(0, __VA_ARGS__)
#define plscolbg(...) draw_nothing(0, __VA_ARGS__)
#define plsdev(...) draw_nothing(0, __VA_ARGS__)
#define plsexit(...) draw_nothing(0, __VA_ARGS__)
#define plsfnam(...) draw_nothing(0, __VA_ARGS__)
#define plsmaj(...) draw_nothing(0, __VA_ARGS__)
#define plsmin(...) draw_nothing(0, __VA_ARGS__)
#define plspage(...) draw_nothing(0, __VA_ARGS__)
#define plstyl(...) draw_nothing(0, __VA_ARGS__)
#define plvpor(...) draw_nothing(0, __VA_ARGS__)
#define plwidth(...) draw_nothing(0, __VA_ARGS__)
#define plwind(...) draw_nothing(0, __VA_ARGS__)

#endif
