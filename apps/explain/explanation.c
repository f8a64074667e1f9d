#include "explanation.h"

#include <math.h>
#include <string.h>

static const double hour = 3600.0;

#define CAUSE_NAME(name, words) #name,
#define CAUSE_WORDS(name, words) words,

const char *cause_name(cause c)
{
    static const char *const names[CAUSE_COUNT] = {CAUSE_LIST(CAUSE_NAME)};
    return names[c];
}

const char *cause_words(cause c)
{
    static const char *const words[CAUSE_COUNT] = {CAUSE_LIST(CAUSE_WORDS)};
    return words[c];
}

const char *stall_ending_name(stall_ending ending)
{
    static const char *const names[STALL_ENDING_COUNT] = {"none", "wrap", "pull", "pit", "dry", "short", "range", "heat"};
    return names[ending];
}

/* ---- the cook, and one cause removed ---- */

bool run_or_follow(cook_run *run, sw_context *context, progress *p, char *reason)
{
    reason[0] = '\0';
    cook_run_do(run, context, p);
    if (run->status != SW_ERR_NEVER_ENDS)
        return false;
    snprintf(reason, FAILURE_SIZE, "%s", run->failure);
    run->scenario.pull = (sw_ending){SW_ENDING_DURATION, run->scenario.solver.longest_phase};
    cook_run_do(run, context, p);
    return true;
}

/* A pit with so much vapour is damp: the upper end of what a tight or watered pit has (common practice, no source). */
static const double damp_humidity_ratio = 0.15;

void scale_thickness(sw_scenario *s, const sw_scenario *modelled, double factor)
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

/* Changes the scenario; whether that makes it another one. */
static bool change(sw_scenario *s, cause c, const sw_scenario *modelled)
{
    const bool wrapped = s->wrap.kind != SW_WRAP_NONE;
    switch (c) {
    case CAUSE_no_evaporation:
        if (!s->solver.evaporation)
            return false;
        s->solver.evaporation = false;
        return true;
    case CAUSE_damp_pit:
        s->pit.humidity_ratio = fmin(1.0, fmax(damp_humidity_ratio, 2.0 * s->pit.humidity_ratio));
        return true;
    case CAUSE_twice_the_draught:
        s->pit.convection *= 2.0;
        return true;
    case CAUSE_half_the_thickness:
        scale_thickness(s, modelled, 0.5);
        return true;
    case CAUSE_wrapped_from_the_start:
        if (wrapped && s->wrap.when.kind == SW_ENDING_DURATION && s->wrap.when.value == 0.0)
            return false;
        s->wrap.kind = wrapped ? s->wrap.kind : SW_WRAP_CLOSED_FOIL;
        s->wrap.when = (sw_ending){SW_ENDING_DURATION, 0.0};
        return true;
    default:
        if (s->meat.water_holding_loss == 0.0)
            return false;
        s->meat.water_holding_loss = 0.0;
        return true;
    }
}

static void run_change(changed_cook *c, cause which, const explanation *e, const sw_scenario *planned,
                       sw_context *context, progress *p)
{
    c->run.scenario = *planned;
    snprintf(c->run.label, sizeof c->run.label, "%s", cause_name(which));
    for (char *at = c->run.label; *at; at++)
        *at = *at == '_' ? '-' : *at;
    if (!change(&c->run.scenario, which, &e->cook.history->scenario)) {
        c->is_no_change = true;
        return;
    }
    c->run.status = sw_scenario_check(context, &c->run.scenario);
    c->is_impossible = c->run.status != SW_OK;
    if (c->is_impossible)
        snprintf(c->run.failure, sizeof c->run.failure, "%s", sw_context_message(context));
    else
        cook_run_do(&c->run, context, p);
}

/* ---- hours ---- */

static size_t row_at(const sw_history *h, double time)
{
    size_t row = 0;
    while (row + 1 < h->row_count && h->series[SW_SERIES_time][row + 1] <= time + 1e-6)
        row++;
    return row;
}

static double probe_at(const sw_history *h, double time)
{
    const double *t = h->series[SW_SERIES_time], *v = h->series[SW_SERIES_probe_temperature];
    const size_t row = row_at(h, time);
    if (row + 1 == h->row_count || time <= t[row])
        return v[row];
    return v[row] + (time - t[row]) / (t[row + 1] - t[row]) * (v[row + 1] - v[row]);
}

static void cut_into_hours(explanation *e)
{
    static const double steps[] = {1.0, 2.0, 3.0, 4.0, 6.0, 12.0};
    const sw_history *h = e->cook.history;
    const double end = e->cook.outcome.done_time;
    size_t k = 0;
    while (k + 1 < sizeof steps / sizeof *steps && end > HOURS_MAX * steps[k] * hour)
        k++;
    e->step = steps[k] * hour;
    double largest = 0.0;
    for (double from = 0.0; from < end - 1.0 && e->hour_count < HOURS_MAX; from += e->step) {
        const size_t i = e->hour_count++;
        e->hour_start[i] = from;
        e->hour_end[i] = fmin(from + e->step, end);
        e->hour_probe[i] = probe_at(h, e->hour_end[i]);
        e->hours[i] = heat_between(h, from, e->hour_end[i]);
    }
    e->nearly_all = e->largest_share = e->hour_count;
    for (size_t i = 0; i < e->hour_count; i++) {
        const double share = heat_evaporation_share(&e->hours[i]);
        if (share >= NEARLY_ALL && e->nearly_all == e->hour_count)
            e->nearly_all = i;
        if (share > largest) {
            largest = share;
            e->largest_share = i;
        }
    }
    e->total = heat_until(h, end);
}

/* ---- the plateau ---- */

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
    for (size_t i = row_at(h, from); i < h->row_count && h->series[SW_SERIES_time][i] <= to; i++) {
        sum += h->series[series][i];
        count += 1.0;
    }
    return sum / count;
}

static double most_of(const sw_history *h, sw_series series, double from, double to)
{
    double most = -HUGE_VAL;
    for (size_t i = row_at(h, from); i < h->row_count && h->series[SW_SERIES_time][i] <= to; i++)
        most = fmax(most, h->series[series][i]);
    return most;
}

static double value_in(const sw_history *h, sw_series series, double time)
{
    return h->series[series][row_at(h, time)];
}

static double wet_bulb_of(const sw_scenario *s, double air)
{
    double pressure, wet_bulb;
    if (sw_pressure_at_altitude(s->pit.altitude, &pressure) != SW_OK ||
        sw_wet_bulb(air, s->pit.humidity_ratio, pressure, &wet_bulb) != SW_OK)
        return SW_ABSENT;
    return wet_bulb;
}

static void find_plateau(explanation *e)
{
    const sw_history *h = e->cook.history;
    const double from = e->cook.outcome.stall_start, to = e->cook.outcome.stall_end, hours = (to - from) / hour;
    plateau *p = &e->plateau;
#define SET_ABSENT(name, unit, long_name) p->name = SW_ABSENT;
    PLATEAU_LIST(SET_ABSENT)
#undef SET_ABSENT
    if (SW_IS_ABSENT(from))
        return;
    const heat_budget heat = heat_between(h, from, to);
    double latent = SW_ABSENT;
    p->probe_at_start = probe_at(h, from);
    p->probe_at_end = probe_at(h, to);
    p->surface = mean_of(h, SW_SERIES_top_surface_temperature, from, to);
    p->air = mean_of(h, SW_SERIES_air_temperature, from, to);
    p->wet_bulb = wet_bulb_of(&h->scenario, p->air);
    p->heat_received = heat_received(&heat);
    p->heat_an_hour = p->heat_received / hours;
    p->evaporation_share = heat_evaporation_share(&heat);
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
}

static bool pit_turns_hotter(const sw_pit *pit, double from, double to)
{
    for (size_t i = 1; i < pit->step_count; i++)
        if (pit->steps[i].start > from && pit->steps[i].start <= to &&
            pit->steps[i].temperature > pit->steps[i - 1].temperature)
            return true;
    return false;
}

static stall_ending find_ending(const explanation *e)
{
    const sw_outcome *o = &e->cook.outcome;
    const sw_scenario *s = &e->cook.scenario;
    const plateau *p = &e->plateau;
    if (SW_IS_ABSENT(o->stall_start))
        return STALL_ENDING_NONE;
    if (o->stall_end >= o->done_time - 1.0)
        return STALL_ENDING_PULL;
    if (o->wrap_time >= o->stall_start && o->wrap_time <= o->stall_end)
        return STALL_ENDING_WRAP;
    if (pit_turns_hotter(&s->pit, o->stall_start, o->stall_end))
        return STALL_ENDING_PIT;
    /* Less evaporation by a twentieth is a fall. */
    if (p->evaporation_at_end < 0.95 * p->evaporation_at_most)
        return sw_surface_state_of(p->activity_at_start) >= SW_SURFACE_TACKY &&
                       sw_surface_state_of(p->activity_at_end) <= SW_SURFACE_FIRM
                   ? STALL_ENDING_DRY
                   : STALL_ENDING_SHORT;
    return p->probe_at_end >= s->stall.below - 0.05 ? STALL_ENDING_RANGE : STALL_ENDING_HEAT;
}

/* ---- common explanations ---- */

static void size_common_explanations(explanation *e)
{
    const double mass = e->cook.history->scenario.meat.mass;
    e->common[0] = (common_explanation){
        .name = "fat melting and rendering",
        .source = "computed: the heat that melts the cut's fat, and all that rendered fat carries off",
        .low = e->total.item[HEAT_fat],
        .high = e->total.item[HEAT_fat]};
    /* The whole cut is counted as lean: more than there is. */
    e->common[1] = (common_explanation){
        .name = "protein changing its form",
        .source = "3.0 to 3.9 J/g of wet muscle: Findlay and Stanley, J. Food Sci. 49 (1984) 1513, abstract",
        .low = 3.0e3 * mass,
        .high = 3.9e3 * mass};
    e->common[2] = (common_explanation){
        .name = "collagen melting to gelatine",
        .source = "5 to 12 mg/g of muscle times 20 to 60 J/g of collagen: from memory, a range",
        .low = 5e-3 * 20e3 * mass,
        .high = 12e-3 * 60e3 * mass};
}

void explanation_make(explanation *e, const sw_scenario *scenario, sw_context *context, progress *p)
{
    memset(e, 0, sizeof *e);
    e->cook.scenario = *scenario;
    snprintf(e->cook.label, sizeof e->cook.label, "as-planned");
    e->never_ends = run_or_follow(&e->cook, context, p, e->never_ends_reason);
    if (e->cook.status != SW_OK)
        return;
    cut_into_hours(e);
    find_plateau(e);
    e->ending = find_ending(e);
    e->slowest_rate = sw_slowest_mean_rate(e->cook.history, e->cook.outcome.done_time);
    size_common_explanations(e);
    for (int i = 0; i < CAUSE_COUNT && !was_interrupted(); i++)
        run_change(&e->changed[i], (cause)i, e, scenario, context, p);
}

void explanation_free(explanation *e)
{
    cook_run_free(&e->cook);
    for (int i = 0; i < CAUSE_COUNT; i++)
        cook_run_free(&e->changed[i].run);
}
