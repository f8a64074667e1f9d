/* SPDX-License-Identifier: BSD-3-Clause */
/* Small PNG pictures of curves; the only file here that sees PLplot. */
#include "case.h"

#include <plplot.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static void range_of(size_t count, const picture_curve *curves, double low[2], double high[2])
{
    low[0] = low[1] = INFINITY;
    high[0] = high[1] = -INFINITY;
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < curves[i].count; k++) {
            const double at[2] = {curves[i].x[k], curves[i].y[k]};
            for (int d = 0; d < 2; d++) {
                low[d] = fmin(low[d], at[d]);
                high[d] = fmax(high[d], at[d]);
            }
        }
    double margin = 0.06 * (high[1] - low[1]);
    low[1] -= margin;
    high[1] += margin;
}

void add_picture(report_case *c, const char *file, const char *x_label, const char *y_label, size_t count,
                 const picture_curve *curves)
{
    static const PLINT colours[][3] = {{20, 80, 160}, {205, 95, 10}, {30, 130, 90}, {150, 60, 190}};
    double low[2], high[2];
    char *path = validation_path(c->folder, file);
    range_of(count, curves, low, high);
    plsdev("pngcairo");
    plsfnam(path);
    plspage(90.0, 90.0, 640, 400, 0, 0);
    plscolbg(255, 255, 255);
    plinit();
    plscol0(1, 20, 20, 20);
    for (int i = 0; i < 4; i++)
        plscol0(2 + i, colours[i][0], colours[i][1], colours[i][2]);
    plcol0(1);
    plenv(low[0], high[0], low[1], high[1], 0, 0);
    pllab(x_label, y_label, c->title);
    double line = 2.0, step = (high[1] - low[1]) * 0.065;
    for (size_t i = 0; i < count; i++) {
        plcol0(2 + (PLINT)(i % 4));
        if (curves[i].marks)
            plpoin((PLINT)curves[i].count, curves[i].x, curves[i].y, 4);
        else
            plline((PLINT)curves[i].count, curves[i].x, curves[i].y);
        plptex(high[0] - 0.03 * (high[0] - low[0]), high[1] - step * line++ * 0.8, 1.0, 0.0, 1.0, curves[i].label);
    }
    plend();
    free(path);
    snprintf(c->picture, TEXT_SIZE, "%s", file);
}
