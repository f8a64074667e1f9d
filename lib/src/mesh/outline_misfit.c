/* SPDX-License-Identifier: BSD-3-Clause */
#include "outline_misfit.h"

#include "say.h"

#include <stdio.h>

static void say_place(const sw_context *context, sw_point place, char text[2 * SW_SAY_SIZE + 24])
{
    char along[SW_SAY_SIZE], up[SW_SAY_SIZE];
    sw_say(context, SW_QUANTITY_LENGTH, place.x, along);
    sw_say(context, SW_QUANTITY_LENGTH, place.y, up);
    snprintf(text, 2 * SW_SAY_SIZE + 24, "%s along and %s up", along, up);
}

const char *sw_say_misfit(const sw_context *context, const sw_misfit *m, char text[SW_MISFIT_SIZE])
{
    const size_t size = SW_MISFIT_SIZE, one = m->number + 1, other = m->other + 1;
    char place[2 * SW_SAY_SIZE + 24], edge[SW_SAY_SIZE], cell[SW_SAY_SIZE];
    say_place(context, m->place, place);
    sw_say(context, SW_QUANTITY_LENGTH, m->edge, edge);
    sw_say(context, SW_QUANTITY_LENGTH, m->cell, cell);
    switch (m->kind) {
    case SW_MISFIT_FEW_CORNERS:
        snprintf(text, size, "it has %zu corners; at least 3 are needed", m->number);
        break;
    case SW_MISFIT_NO_NUMBER:
        snprintf(text, size, "its corner %zu is not a number", one);
        break;
    case SW_MISFIT_SAME_CORNERS:
        snprintf(text, size, "its corners %zu and %zu are the same point, %s", one, other, place);
        break;
    case SW_MISFIT_CROSSING:
        snprintf(text, size, "its edges %zu and %zu cross or touch, %s", one, other, place);
        break;
    case SW_MISFIT_NO_AREA:
        snprintf(text, size, "it encloses no area");
        break;
    case SW_MISFIT_SHARP:
        snprintf(text, size, "its corner %zu, %s, is too sharp: %.2g degrees beside an edge of %s, for cells that are %s thick",
                 one, place, m->angle * 180.0 / SW_PI, edge, cell);
        break;
    case SW_MISFIT_NARROW:
        snprintf(text, size, "at its edge %zu, %s, it is too narrow for cells that are %s thick", one, place, cell);
        break;
    case SW_MISFIT_MISSED:
        snprintf(text, size, "its %zu cells do not meet its edges", m->number);
        break;
    }
    return text;
}
