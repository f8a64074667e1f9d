/* SPDX-License-Identifier: BSD-3-Clause */
#include "scenario_check.h"

#include "say.h"

#include <stallwright/scenario_keys.h>

#include <math.h>

/* Thinner or narrower is no cut of meat, and takes many steps: the time to warm a cell goes with its square [m]. */
static const double thinnest = 0.01, narrowest = 0.02;

sw_status sw_check_mass(sw_context *context, const sw_scenario *asked, const sw_scenario *settled)
{
    const sw_meat *m = &asked->meat;
    const double smallest = 0.2, largest = sw_scenario_key_find("meat.mass")->range.maximum, mass = settled->meat.mass;
    char a[SW_SAY_SIZE], b[SW_SAY_SIZE], c[SW_SAY_SIZE], d[SW_SAY_SIZE];
    sw_say(context, SW_QUANTITY_MASS, smallest, c);
    sw_say(context, SW_QUANTITY_MASS, largest, d);
    if (m->mass > 0.0 && m->bought_mass > 0.0)
        return sw_fail(context, SW_ERR_RANGE,
                       "meat.mass is %s and meat.bought_mass is %s; only one of them may be given: the trimmed cut, or the cut "
                       "as bought", sw_say(context, SW_QUANTITY_MASS, m->mass, a), sw_say(context, SW_QUANTITY_MASS, m->bought_mass, b));
    if (!(m->mass > 0.0) && !(m->bought_mass > 0.0))
        return sw_fail(context, SW_ERR_RANGE, "meat.mass and meat.bought_mass are both 0; one of them must be given");
    if (mass >= smallest && mass <= largest)
        return SW_OK;
    if (m->bought_mass > 0.0)
        return sw_fail(context, SW_ERR_RANGE,
                       "meat.bought_mass is %s, of which serving.trimming %.3g leaves %s; allowed are %s to %s",
                       sw_say(context, SW_QUANTITY_MASS, m->bought_mass, a), settled->serving.trimming,
                       sw_say(context, SW_QUANTITY_MASS, mass, b), c, d);
    return sw_fail(context, SW_ERR_RANGE, "meat.mass is %s; allowed %s to %s", sw_say(context, SW_QUANTITY_MASS, mass, a), c, d);
}

static sw_status check_size(sw_context *context, const sw_meat *m)
{
    const sw_composition *c = &m->composition;
    double sum = c->water + c->protein + c->fat + c->carbohydrate + c->ash;
    if (!(fabs(sum - 1.0) < 0.005))
        return sw_fail(context, SW_ERR_RANGE,
                       "the fractions of meat.composition add up to %.4g; allowed 0.995 to 1.005", sum);
    if (!(c->water >= 0.3 && c->protein >= 0.05))
        return sw_fail(context, SW_ERR_RANGE,
                       "meat.composition has water %.3g and protein %.3g; lean meat needs at least 0.3 and 0.05",
                       c->water, c->protein);
    char a[SW_SAY_SIZE], b[SW_SAY_SIZE];
    if (m->thickness > 0.0 && m->thickness < thinnest)
        return sw_fail(context, SW_ERR_RANGE, "meat.thickness is %s; allowed %s or more, or 0 to take it from the mass",
                       sw_say(context, SW_QUANTITY_LENGTH, m->thickness, a), sw_say(context, SW_QUANTITY_LENGTH, thinnest, b));
    if (m->width > 0.0 && m->width < narrowest)
        return sw_fail(context, SW_ERR_RANGE, "meat.width is %s; allowed %s or more, or 0 to take it from usual proportions",
                       sw_say(context, SW_QUANTITY_LENGTH, m->width, a), sw_say(context, SW_QUANTITY_LENGTH, narrowest, b));
    bool round = m->shape == SW_SHAPE_CYLINDER || m->shape == SW_SHAPE_SPHERE;
    if (m->fat_cap_thickness > 0.0 && round)
        return sw_fail(context, SW_ERR_RANGE,
                       "meat.fat_cap.thickness is %s, but a %s has no fat cap; a slab or a section may have one",
                       sw_say(context, SW_QUANTITY_LENGTH, m->fat_cap_thickness, a), sw_shape_name(m->shape));
    if (m->thickness > 0.0 && !(m->fat_cap_thickness < 0.5 * m->thickness))
        return sw_fail(context, SW_ERR_RANGE,
                       "meat.fat_cap.thickness is %s; allowed 0 to less than half of meat.thickness, %s",
                       sw_say(context, SW_QUANTITY_LENGTH, m->fat_cap_thickness, a),
                       sw_say(context, SW_QUANTITY_LENGTH, 0.5 * m->thickness, b));
    return SW_OK;
}

static sw_status check_outline(sw_context *context, const sw_meat *m)
{
    double low[2] = {INFINITY, INFINITY}, high[2] = {-INFINITY, -INFINITY};
    for (size_t i = 0; i < m->outline_count; i++)
        for (int axis = 0; axis < 2; axis++) {
            low[axis] = fmin(low[axis], m->outline[i][axis]);
            high[axis] = fmax(high[axis], m->outline[i][axis]);
        }
    double width = high[0] - low[0], thickness = high[1] - low[1];
    if (m->outline_count == 0 || (width >= narrowest && thickness >= thinnest))
        return SW_OK;
    return sw_fail(context, SW_ERR_RANGE, "meat.outline is %.4g mm wide and %.4g mm thick; allowed %.4g mm and %.4g mm or more",
                   1e3 * width, 1e3 * thickness, 1e3 * narrowest, 1e3 * thinnest);
}

static sw_status check_section(sw_context *context, const sw_meat *m)
{
    if (m->outline_count > SW_OUTLINE_MAX || m->probe_count > SW_PROBES_MAX)
        return sw_fail(context, SW_ERR_RANGE, "meat.outline has %zu corners and meat.probes %zu places; at most %d and %d",
                       m->outline_count, m->probe_count, SW_OUTLINE_MAX, SW_PROBES_MAX);
    if ((m->shape == SW_SHAPE_OUTLINE) != (m->outline_count > 0))
        return sw_fail(context, SW_ERR_RANGE,
                       m->outline_count > 0 ? "meat.outline has %zu corners, but meat.shape is %s; it must be outline"
                                            : "meat.outline has %zu corners; meat.shape %s needs some",
                       m->outline_count, sw_shape_name(m->shape));
    if (m->probe_count > 0 && !sw_shape_is_section(m->shape))
        return sw_fail(context, SW_ERR_RANGE, "meat.probes has %zu places, but a %s has its one probe in the middle",
                       m->probe_count, sw_shape_name(m->shape));
    char seam[SW_SAY_SIZE];
    if (m->seam_thickness > 0.0 && m->shape != SW_SHAPE_PACKER)
        return sw_fail(context, SW_ERR_RANGE, "meat.seam_thickness is %s, but only a packer has a seam, not a %s",
                       sw_say(context, SW_QUANTITY_LENGTH, m->seam_thickness, seam), sw_shape_name(m->shape));
    return check_outline(context, m);
}

sw_status sw_check_meat(sw_context *context, const sw_meat *meat)
{
    sw_status status = check_size(context, meat);
    return status == SW_OK ? check_section(context, meat) : status;
}
