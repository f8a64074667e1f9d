#include <stallwright/scenario.h>

#include "pit_air.h"
#include "say.h"
#include "scenario_check_pit.h"
#include "scenario_check_wrap.h"
#include "scenario_keys.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Close to boiling the probe creeps: a pull so near would take for ever [K]. */
static const double boiling_margin = 0.5;

/* Thinner or narrower is no cut of meat, and takes many steps: the time to warm a cell goes with its square [m]. */
static const double thinnest = 0.01, narrowest = 0.02;

static double least(double a, double b)
{
    return a < b ? a : b;
}

/* One way to say the mass, and not too little of it. asked: as it was given; settled: with the mass that follows. */
static sw_status check_mass(sw_context *context, const sw_scenario *asked, const sw_scenario *settled)
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
                       sw_say(context, SW_QUANTITY_MASS, m->bought_mass, a), asked->serving.trimming,
                       sw_say(context, SW_QUANTITY_MASS, mass, b), c, d);
    return sw_fail(context, SW_ERR_RANGE, "meat.mass is %s; allowed %s to %s", sw_say(context, SW_QUANTITY_MASS, mass, a), c, d);
}

static sw_status check_meat(sw_context *context, const sw_meat *m)
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

static double coolest_air(const sw_pit *pit)
{
    double lowest = INFINITY;
    for (size_t i = 0; i < pit->step_count; i++)
        lowest = fmin(lowest, pit->steps[i].temperature - pit->cycle_swing);
    return lowest;
}

static sw_status check_pit_temperature(sw_context *context, const sw_pit *pit)
{
    double lowest = coolest_air(pit), highest = 0.0;
    const sw_range range = sw_scenario_key_find("pit.temperature")->range;
    for (size_t i = 0; i < pit->step_count; i++)
        highest = fmax(highest, pit->steps[i].temperature + pit->cycle_swing);
    if (lowest >= range.minimum && highest <= range.maximum)
        return SW_OK;
    char swing[SW_SAY_SIZE], a[SW_SAY_SIZE], b[SW_SAY_SIZE], c[SW_SAY_SIZE], d[SW_SAY_SIZE];
    return sw_fail(context, SW_ERR_RANGE, "pit.cycle.swing is %s, which takes pit.temperature to %s and %s; allowed %s to %s",
                   sw_say(context, SW_QUANTITY_TEMPERATURE_DIFFERENCE, pit->cycle_swing, swing),
                   sw_say(context, SW_QUANTITY_TEMPERATURE, lowest, a), sw_say(context, SW_QUANTITY_TEMPERATURE, highest, b),
                   sw_say(context, SW_QUANTITY_TEMPERATURE, range.minimum, c),
                   sw_say(context, SW_QUANTITY_TEMPERATURE, range.maximum, d));
}

sw_status sw_scenario_check_pit_air(sw_context *context, const sw_scenario *s)
{
    double pressure = SW_STANDARD_PRESSURE;
    sw_pit_air air;
    sw_status status = sw_pressure_at_altitude(s->pit.altitude, &pressure);
    if (status != SW_OK || s->pit.step_count < 1)
        return SW_OK; /* refused with a sentence of its own */
    status = sw_pit_air_init(context, &s->pit, pressure, &air);
    if (status != SW_OK)
        return status;
    double coolest = coolest_air(&s->pit), used = sw_pit_air_used(&air, coolest);
    if (used > 1.0)
        return sw_fail(context, SW_ERR_RANGE,
                       "pit.air_heat_share is %.3g: so little of the heat would leave as warm air that the fire needs %.3g "
                       "times the air that flows; a larger share is allowed",
                       air.air_heat_share, used);
    if (s->pit.humidity == SW_HUMIDITY_GIVEN)
        status = sw_pit_air_check(context, "pit.humidity_ratio", coolest, s->pit.humidity_ratio, pressure);
    return status;
}

static sw_status check_lid(sw_context *context, const sw_pit *pit)
{
    if (pit->opening_count > SW_PIT_OPENINGS_MAX)
        return sw_fail(context, SW_ERR_RANGE, "pit.lid.openings has %zu times; at most %d", pit->opening_count,
                       SW_PIT_OPENINGS_MAX);
    for (size_t i = 0; i < pit->opening_count; i++)
        if (!(pit->openings[i] >= 0.0 && (i == 0 || pit->openings[i] > pit->openings[i - 1])))
            return sw_fail(context, SW_ERR_RANGE,
                           "opening %zu of pit.lid.openings is at %.4g h; it must come at 0 h or later, after the one "
                           "before it",
                           i + 1, pit->openings[i] / 3600.0);
    return SW_OK;
}

static sw_status check_pit(sw_context *context, const sw_pit *pit)
{
    if (pit->step_count < 1 || pit->step_count > SW_PIT_STEPS_MAX)
        return sw_fail(context, SW_ERR_RANGE, "pit.temperature has %zu steps; allowed 1 to %d", pit->step_count,
                       SW_PIT_STEPS_MAX);
    if (pit->steps[0].start != 0.0)
        return sw_fail(context, SW_ERR_RANGE, "the first step of pit.temperature starts at %.4g h; it must start at 0 h",
                       pit->steps[0].start / 3600.0);
    for (size_t i = 1; i < pit->step_count; i++)
        if (!(pit->steps[i].start > pit->steps[i - 1].start))
            return sw_fail(context, SW_ERR_RANGE,
                           "step %zu of pit.temperature starts at %.4g h, not after the step before it (%.4g h)", i + 1,
                           pit->steps[i].start / 3600.0, pit->steps[i - 1].start / 3600.0);
    if (pit->steps[pit->step_count - 1].ramp)
        return sw_fail(context, SW_ERR_RANGE, "the last step of pit.temperature has no next one to ramp to");
    char a[SW_SAY_SIZE], b[SW_SAY_SIZE];
    if (pit->convection > 0.0 && pit->convection < 1.0)
        return sw_fail(context, SW_ERR_RANGE, "pit.convection is %s; allowed %s or more, or 0 to take it from pit.air_speed",
                       sw_say(context, SW_QUANTITY_HEAT_TRANSFER, pit->convection, a),
                       sw_say(context, SW_QUANTITY_HEAT_TRANSFER, 1.0, b));
    sw_status status = check_pit_temperature(context, pit);
    return status == SW_OK ? check_lid(context, pit) : status;
}

/* Wet meat does not get hotter than boiling water; the sentence has a pull that works. */
static sw_status check_pull_boils(sw_context *context, const sw_scenario *s)
{
    double pressure, boiling;
    if (s->pull.kind != SW_ENDING_PROBE_TEMPERATURE || sw_pressure_at_altitude(s->pit.altitude, &pressure) != SW_OK ||
        sw_saturation_temperature(pressure, &boiling) != SW_OK || s->pull.value < boiling - boiling_margin)
        return SW_OK;
    char pull[SW_SAY_SIZE], limit[SW_SAY_SIZE], works[SW_SAY_SIZE], place[SW_SAY_SIZE], boil[SW_SAY_SIZE];
    return sw_fail(context, SW_ERR_RANGE,
                   "pull is %s; allowed below %s: wet meat does not get hotter than boiling water, which at pit.altitude %s is "
                   "%s; %s works (pull: usual takes it)",
                   sw_say(context, SW_QUANTITY_TEMPERATURE, s->pull.value, pull),
                   sw_say(context, SW_QUANTITY_TEMPERATURE, boiling - boiling_margin, limit),
                   sw_say_altitude(context, s->pit.altitude, place), sw_say(context, SW_QUANTITY_TEMPERATURE, boiling, boil),
                   sw_say(context, SW_QUANTITY_TEMPERATURE,
                          least(SW_USUAL_PULL, boiling - SW_USUAL_PULL_BELOW_BOILING), works));
}

static sw_status check_endings(sw_context *context, const sw_scenario *s)
{
    const sw_ending wrap = s->wrap.when, pull = s->pull;
    char a[SW_SAY_SIZE], b[SW_SAY_SIZE];
    if (pull.kind == SW_ENDING_NONE)
        return sw_fail(context, SW_ERR_RANGE, "pull is none; it must be a probe temperature, a duration or a clock time");
    if (pull.kind == SW_ENDING_PROBE_TEMPERATURE && !(pull.value > s->meat.initial_temperature))
        return sw_fail(context, SW_ERR_RANGE, "pull is %s; allowed above meat.initial_temperature, %s",
                       sw_say(context, SW_QUANTITY_TEMPERATURE, pull.value, a),
                       sw_say(context, SW_QUANTITY_TEMPERATURE, s->meat.initial_temperature, b));
    sw_status status = check_pull_boils(context, s);
    if (status != SW_OK || s->wrap.kind == SW_WRAP_NONE)
        return status;
    if (wrap.kind == SW_ENDING_NONE)
        return sw_fail(context, SW_ERR_RANGE,
                       "wrap.when is none although wrap.kind is %s; give a probe temperature, a duration or a clock time",
                       sw_wrap_name(s->wrap.kind));
    return SW_OK;
}

static sw_status check_duration(sw_context *context, const sw_scenario *s, const char *name, sw_ending ending)
{
    if (ending.kind == SW_ENDING_DURATION && !(ending.value >= 0.0 && ending.value <= s->solver.longest_phase))
        return sw_fail(context, SW_ERR_RANGE, "%s is %.4g h; allowed 0 h to solver.longest_phase, %.4g h", name,
                       ending.value / 3600.0, s->solver.longest_phase / 3600.0);
    return SW_OK;
}

static sw_status check_range(sw_context *context, const char *name, sw_quantity quantity, sw_range range, double value)
{
    if (value >= range.minimum && value <= range.maximum) /* NaN fails */
        return SW_OK;
    char a[SW_SAY_SIZE], b[SW_SAY_SIZE], c[SW_SAY_SIZE];
    return sw_fail(context, SW_ERR_RANGE, "%s is %s; allowed %s to %s", name, sw_say(context, quantity, value, a),
                   sw_say(context, quantity, range.minimum, b), sw_say(context, quantity, range.maximum, c));
}

static sw_status check_ending(sw_context *context, const sw_scenario_key *key, const sw_ending *ending)
{
    switch (ending->kind) {
    case SW_ENDING_NONE:
        return SW_OK;
    case SW_ENDING_USUAL:
        if (!key->ending.may_be_usual)
            return sw_fail(context, SW_ERR_ARGUMENT, "%s is usual, which only pull may be", key->name);
        return check_range(context, key->name, SW_QUANTITY_TEMPERATURE, key->ending.temperature, ending->value);
    case SW_ENDING_PROBE_TEMPERATURE:
        return check_range(context, key->name, SW_QUANTITY_TEMPERATURE, key->ending.temperature, ending->value);
    case SW_ENDING_DURATION:
        return check_range(context, key->name, SW_QUANTITY_DURATION, key->ending.duration, ending->value);
    case SW_ENDING_BARK:
        if (!key->ending.may_be_bark)
            return sw_fail(context, SW_ERR_ARGUMENT, "%s is bark, which only wrap.when and rewrap.when may be", key->name);
        return SW_OK;
    case SW_ENDING_CLOCK:
        return check_range(context, key->name, SW_QUANTITY_CLOCK, (sw_range){0.0, 86400.0}, ending->value);
    case SW_ENDING_CLOCK_ON_DAY:
        return check_range(context, key->name, SW_QUANTITY_CLOCK,
                           (sw_range){86400.0, 86400.0 * (SW_ENDING_DAYS_MAX + 1)}, ending->value);
    }
    return sw_fail(context, SW_ERR_ARGUMENT, "%s has %d for its kind of ending; allowed %d to %d", key->name, (int)ending->kind,
                   SW_ENDING_NONE, SW_ENDING_USUAL);
}

/* Only a caller from C can get a choice wrong: a file has names. */
static sw_status check_choice(sw_context *context, const sw_scenario_key *key, int choice)
{
    char names[256] = "";
    if (choice >= 0 && choice < key->choice_count)
        return SW_OK;
    for (int i = 0; i < key->choice_count; i++) {
        const size_t used = strlen(names);
        snprintf(names + used, sizeof names - used, "%s%s", i > 0 ? ", " : "", key->choice_name(i));
    }
    return sw_fail(context, SW_ERR_ARGUMENT, "%s is choice number %d; allowed 0 to %d: %s", key->name, choice,
                   key->choice_count - 1, names);
}

static sw_status check_text(sw_context *context, const char *name, const char *text, size_t size)
{
    if (memchr(text, '\0', size))
        return SW_OK;
    return sw_fail(context, SW_ERR_ARGUMENT, "%s begins \"%.20s\" and does not end; allowed are %zu bytes and a NUL", name, text,
                   size - 1);
}

/* One value on its own, whatever the others are. */
static sw_status check_key(sw_context *context, const sw_scenario *s, const sw_scenario_key *key)
{
    const char *field = (const char *)s + key->offset;
    switch (key->type) {
    case SW_KEY_WHOLE:
        return check_range(context, key->name, SW_QUANTITY_NUMBER, key->range, (double)*(const int *)(const void *)field);
    case SW_KEY_VALUE:
        return check_range(context, key->name, key->quantity, key->range, *(const double *)(const void *)field);
    case SW_KEY_ENDING:
        return check_ending(context, key, (const sw_ending *)(const void *)field);
    case SW_KEY_SCHEDULE:
        for (size_t i = 0; i < s->pit.step_count && i < SW_PIT_STEPS_MAX; i++) {
            sw_status status = check_range(context, key->name, key->quantity, key->range, s->pit.steps[i].temperature);
            if (status != SW_OK)
                return status;
        }
        return SW_OK;
    case SW_KEY_CHOICE:
        return check_choice(context, key, *(const int *)(const void *)field);
    case SW_KEY_TEXT:
        return check_text(context, key->name, field, SW_TEXT_MAX);
    default:
        return SW_OK; /* switches, and lists, which have checks of their own */
    }
}

/* What only the values together can break; s is settled. */
static sw_status check_together(sw_context *context, const sw_scenario *s)
{
    sw_status status = check_meat(context, &s->meat);
    if (status == SW_OK)
        status = check_section(context, &s->meat);
    if (status == SW_OK)
        status = check_pit(context, &s->pit);
    if (status == SW_OK)
        status = sw_scenario_check_pit_air(context, s);
    if (status == SW_OK)
        status = check_endings(context, s);
    if (status == SW_OK)
        status = sw_scenario_check_wraps(context, s);
    if (status == SW_OK)
        status = check_duration(context, s, "wrap.when", s->wrap.when);
    if (status == SW_OK)
        status = check_duration(context, s, "rewrap.when", s->rewrap.when);
    if (status == SW_OK)
        status = check_duration(context, s, "pull", s->pull);
    if (status == SW_OK)
        status = check_duration(context, s, "rest.until", s->rest.until);
    if (status == SW_OK)
        status = check_duration(context, s, "hold.until", s->hold.until);
    if (status == SW_OK)
        status = check_duration(context, s, "cooling.until", s->cooling.until);
    return status;
}

sw_status sw_scenario_check(sw_context *context, const sw_scenario *scenario)
{
    sw_status status = SW_OK;
    for (size_t i = 0; status == SW_OK && i < sw_scenario_key_count(); i++)
        status = check_key(context, scenario, sw_scenario_key_at(i));
    sw_scenario settled = *scenario;
    if (status == SW_OK) {
        sw_scenario_settle(&settled);
        status = check_mass(context, scenario, &settled);
    }
    return status == SW_OK ? check_together(context, &settled) : status;
}
