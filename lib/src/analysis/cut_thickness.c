/* SPDX-License-Identifier: BSD-3-Clause */
#include "cut_thickness.h"

void sw_scale_thickness(sw_scenario *s, const sw_scenario *modelled, double factor)
{
    s->meat.thickness = factor * modelled->meat.thickness;
    s->meat.width = sw_shape_is_section(s->meat.shape) ? modelled->meat.width : s->meat.width;
    s->meat.end_thickness = s->meat.shape == SW_SHAPE_TAPER ? factor * modelled->meat.end_thickness : s->meat.end_thickness;
    s->meat.fat_cap_thickness *= factor;
    s->meat.seam_thickness *= factor;
    for (size_t i = 0; i < s->meat.outline_count; i++)
        s->meat.outline[i][1] *= factor;
    for (size_t i = 0; i < s->meat.probe_count; i++)
        s->meat.probes[i].height *= factor;
}
