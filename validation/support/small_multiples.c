/* SPDX-License-Identifier: BSD-3-Clause */
#include "small_multiples.h"

#include "case.h"

#include <plplot.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { COLUMNS = 4, ROWS = 5, PER_SHEET = COLUMNS * ROWS };

struct small_multiples {
    const char *folder, *name, *x_label, *y_label;
    double low, high;
    size_t panels;
    int sheets;
};

small_multiples *small_multiples_begin(const char *folder, const char *name, const char *x_label, const char *y_label, double low,
                                       double high)
{
    small_multiples *s = calloc(1, sizeof *s);
    if (!s)
        die("memory is short");
    *s = (small_multiples){.folder = folder, .name = name, .x_label = x_label, .y_label = y_label, .low = low, .high = high};
    return s;
}

static void begin_sheet(small_multiples *s)
{
    char path[TEXT_SIZE];
    snprintf(path, sizeof path, "%s/%s-%d.png", s->folder, s->name, ++s->sheets);
    plsdev("pngcairo");
    plsfnam(path);
    plspage(90.0, 90.0, 1000, 1100, 0, 0);
    plscolbg(255, 255, 255);
    plinit();
    plscol0(1, 20, 20, 20);
    plscol0(2, 20, 80, 160);
    plscol0(3, 205, 220, 238);
    plscol0(4, 205, 95, 10);
    plssub(COLUMNS, ROWS);
    plschr(0.0, 1.2);
}

static void draw_band(const small_panel *p)
{
    double *x = malloc(2 * p->count * sizeof *x), *y = malloc(2 * p->count * sizeof *y);
    if (!x || !y)
        die("memory is short");
    for (size_t i = 0; i < p->count; i++) {
        x[i] = p->x[i];
        y[i] = p->low[i];
        x[2 * p->count - 1 - i] = p->x[i];
        y[2 * p->count - 1 - i] = p->high[i];
    }
    plcol0(3);
    plfill((PLINT)(2 * p->count), x, y);
    free(x);
    free(y);
}

void small_multiples_add(small_multiples *s, const small_panel *p)
{
    const double right = p->x[p->count - 1];
    if (s->panels % PER_SHEET == 0) {
        if (s->panels > 0)
            plend();
        begin_sheet(s);
    }
    s->panels++;
    pladv(0);
    plvpor(0.15, 0.97, 0.24, 0.84);
    plwind(0.0, right, s->low, s->high);
    if (p->low)
        draw_band(p);
    plcol0(1);
    plbox("bcnst", right > 12.0 ? 6.0 : 2.0, 0, "bcnst", s->high - s->low > 60.0 ? 25.0 : 10.0, 0);
    plmtex("t", 0.7, 0.5, 0.5, p->title);
    plmtex("b", 2.4, 1.0, 1.0, s->x_label);
    plmtex("lv", 2.2, 1.0, 1.0, s->y_label);
    plcol0(2);
    plline((PLINT)p->count, p->x, p->middle);
    plcol0(4);
    if (p->mark_count > 0)
        plpoin((PLINT)p->mark_count, p->mark_x, p->mark_y, 17);
    if (p->end)
        plpoin(1, p->end, p->end + 1, 4);
}

int small_multiples_end(small_multiples *s)
{
    const int sheets = s->sheets;
    if (s->panels > 0)
        plend();
    free(s);
    return sheets;
}
