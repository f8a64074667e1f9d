/* SPDX-License-Identifier: BSD-3-Clause */
#include "history_row.h"

#include <stallwright/heat_budget.h>
#include <stallwright/moist_air.h>
#include <stallwright/plateau.h>

#include <math.h>

static const double hour = 3600.0;

const char *sw_stall_ending_name(sw_stall_ending ending)
{
    static const char *const names[SW_STALL_ENDING_COUNT] = {"none", "wrap", "pull", "pit", "dry", "short", "range", "heat"};
    return names[ending];
}

static size_t field_at(const sw_history *h, double time)
{
    size_t best = 0;
    for (size_t i = 1; i < h->field_count; i++)
        if (fabs(h->field_time[i] - time) < fabs(h->field_time[best] - time))
            best = i;
    return best;
}

/* Water of a cell in the cross-section nearest to a moment, over its raw water. */
static double water_left(const sw_history *h, size_t cell, double time)
{
    return h->field_water_content[field_at(h, time) * h->cell_count + cell] / h->field_water_content[cell];
}

static double water_at_probe(const sw_history *h, double time)
{
    const bool section = sw_shape_is_section(h->scenario.meat.shape);
    size_t best = 0;
    double nearest = HUGE_VAL;
    for (size_t i = 0; i < h->cell_count; i++) {
        const double across = section ? h->cell_across[i] - h->probes[0].across : 0.0;
        const double distance = hypot(across, h->cell_position[i] - h->probes[0].height);
        if (distance < nearest) {
            nearest = distance;
            best = i;
        }
    }
    return water_left(h, best, time);
}

/* How deep from the top, or the outside, half of the raw water is gone. */
static double dry_depth(const sw_history *h, double time)
{
    if (!h->cell_bounds)
        return SW_ABSENT;
    const double top = h->cell_bounds[h->cell_count];
    for (size_t i = h->cell_count; i-- > 0;)
        if (water_left(h, i, time) >= 0.5)
            return top - h->cell_bounds[i + 1];
    return top;
}

static double mean_of(const sw_history *h, sw_series series, double from, double to)
{
    double sum = 0.0, count = 0.0;
    for (size_t i = sw_row_at(h, from); i < h->row_count && h->series[SW_SERIES_time][i] <= to; i++) {
        sum += h->series[series][i];
        count += 1.0;
    }
    return sum / count;
}

static double most_of(const sw_history *h, sw_series series, double from, double to)
{
    double most = -HUGE_VAL;
    for (size_t i = sw_row_at(h, from); i < h->row_count && h->series[SW_SERIES_time][i] <= to; i++)
        most = fmax(most, h->series[series][i]);
    return most;
}

static double value_in(const sw_history *h, sw_series series, double time)
{
    return h->series[series][sw_row_at(h, time)];
}

static double wet_bulb_of(const sw_scenario *s, double air)
{
    double pressure, wet_bulb;
    if (sw_pressure_at_altitude(s->pit.altitude, &pressure) != SW_OK ||
        sw_wet_bulb(air, s->pit.humidity_ratio, pressure, &wet_bulb) != SW_OK)
        return SW_ABSENT;
    return wet_bulb;
}

void sw_plateau_evaluate(const sw_history *h, const sw_outcome *outcome, sw_plateau *p)
{
    const double from = outcome->stall_start, to = outcome->stall_end, hours = (to - from) / hour;
#define SET_ABSENT(name, unit, long_name) p->name = SW_ABSENT;
    SW_PLATEAU_LIST(SET_ABSENT)
#undef SET_ABSENT
    if (SW_IS_ABSENT(from))
        return;
    const sw_heat_budget heat = sw_heat_between(h, from, to);
    double latent = SW_ABSENT;
    p->probe_at_start = sw_probe_at(h, from);
    p->probe_at_end = sw_probe_at(h, to);
    p->surface = mean_of(h, SW_SERIES_top_surface_temperature, from, to);
    p->air = mean_of(h, SW_SERIES_air_temperature, from, to);
    p->wet_bulb = wet_bulb_of(&h->scenario, p->air);
    p->heat_received = sw_heat_received(&heat);
    p->heat_an_hour = p->heat_received / hours;
    p->evaporation_share = sw_heat_evaporation_share(&heat);
    p->lost_before = value_in(h, SW_SERIES_evaporated_mass, from) + value_in(h, SW_SERIES_dripped_mass, from);
    p->lost_after = value_in(h, SW_SERIES_evaporated_mass, to) + value_in(h, SW_SERIES_dripped_mass, to);
    p->evaporated_an_hour = hour * mean_of(h, SW_SERIES_evaporation_rate, from, to);
    if (sw_latent_heat(p->surface, &latent) == SW_OK)
        p->could_evaporate_an_hour = p->heat_an_hour / latent;
    p->evaporation_at_most = hour * most_of(h, SW_SERIES_evaporation_rate, from, to);
    p->evaporation_at_end = hour * value_in(h, SW_SERIES_evaporation_rate, to);
    p->middle_at_start = water_at_probe(h, from);
    p->middle_at_end = water_at_probe(h, to);
    p->dry_depth_at_start = dry_depth(h, from);
    p->dry_depth_at_end = dry_depth(h, to);
    p->activity_at_start = value_in(h, SW_SERIES_top_water_activity, from);
    p->activity_at_end = value_in(h, SW_SERIES_top_water_activity, to);
    p->film_at_start = value_in(h, SW_SERIES_top_film_share, from);
    p->film_at_end = value_in(h, SW_SERIES_top_film_share, to);
}

static bool pit_turns_hotter(const sw_pit *pit, double from, double to)
{
    for (size_t i = 1; i < pit->step_count; i++)
        if (pit->steps[i].start > from && pit->steps[i].start <= to &&
            pit->steps[i].temperature > pit->steps[i - 1].temperature)
            return true;
    return false;
}

sw_stall_ending sw_stall_ending_find(const sw_history *h, const sw_outcome *o, const sw_plateau *p)
{
    const sw_scenario *s = &h->scenario;
    if (SW_IS_ABSENT(o->stall_start))
        return SW_STALL_ENDING_NONE;
    if (o->stall_end >= o->done_time - 1.0)
        return SW_STALL_ENDING_PULL;
    if (o->wrap_time >= o->stall_start && o->wrap_time <= o->stall_end)
        return SW_STALL_ENDING_WRAP;
    if (pit_turns_hotter(&s->pit, o->stall_start, o->stall_end))
        return SW_STALL_ENDING_PIT;
    /* Less evaporation by a twentieth is a fall. */
    if (p->evaporation_at_end < 0.95 * p->evaporation_at_most)
        return sw_surface_state_of(p->activity_at_start, p->film_at_start) >= SW_SURFACE_TACKY &&
                       sw_surface_state_of(p->activity_at_end, p->film_at_end) <= SW_SURFACE_FIRM
                   ? SW_STALL_ENDING_DRY
                   : SW_STALL_ENDING_SHORT;
    return p->probe_at_end >= s->stall.below - 0.05 ? SW_STALL_ENDING_RANGE : SW_STALL_ENDING_HEAT;
}
