/* SPDX-License-Identifier: BSD-3-Clause */
/* The checks of this room, in the order in which a sentence is most use. */
#include "scenario_check.h"

#include "say.h"
#include "scenario_check_wrap.h"

#include <stallwright/cut_traits.h>
#include <stallwright/scenario_keys.h>
#include <stallwright/moist_air.h>

#include <math.h>

/* Close to boiling the probe creeps: a pull so near would take for ever [K]. */
static const double boiling_margin = 0.5;

static double least(double a, double b)
{
    return a < b ? a : b;
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
                          least(sw_cut_traits_of(s->meat.cut)->pull, boiling - SW_USUAL_PULL_BELOW_BOILING), works));
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

sw_status sw_scenario_check_things(sw_context *context, const sw_scenario *scenario, sw_scenario *settled)
{
    sw_status status = SW_OK;
    for (size_t i = 0; status == SW_OK && i < sw_scenario_key_count(); i++)
        status = sw_check_key(context, scenario, sw_scenario_key_at(i));
    *settled = *scenario;
    if (status != SW_OK)
        return status;
    sw_scenario_settle(settled);
    status = sw_check_mass(context, scenario, settled);
    if (status == SW_OK)
        status = sw_check_meat(context, &settled->meat);
    return status == SW_OK ? sw_check_pit(context, &settled->pit) : status;
}

sw_status sw_scenario_check_course(sw_context *context, const sw_scenario *s)
{
    const struct {
        const char *name;
        sw_ending ending;
    } endings[] = {{"wrap.when", s->wrap.when},     {"rewrap.when", s->rewrap.when}, {"pull", s->pull},
                   {"rest.until", s->rest.until}, {"hold.until", s->hold.until},   {"cooling.until", s->cooling.until}};
    sw_status status = check_endings(context, s);
    if (status == SW_OK)
        status = sw_scenario_check_wraps(context, s);
    for (size_t i = 0; status == SW_OK && i < sizeof endings / sizeof *endings; i++)
        status = check_duration(context, s, endings[i].name, endings[i].ending);
    return status;
}
