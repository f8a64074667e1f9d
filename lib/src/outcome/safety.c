/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/safety.h>

#include <stallwright/moist_air.h>

#include "history_row.h"
#include "lethality_table.h"
#include "thermal_death.h"
#include "time_in_band.h"

#include <math.h>

#define CELSIUS(degrees) (273.15 + (degrees))
#define FAHRENHEIT(degrees) (273.15 + ((degrees)-32) / 1.8)

/* Sources of all limits: docs/theory/safety.md. Where a rule gives Celsius and Fahrenheit that differ, Fahrenheit is the
 * stricter one for hot food and is used; the oven's 121 C is the Code's own metric figure (250 F is 121.1 C). */
static const double hour = 3600.0;
static const double cold_limit = CELSIUS(5.0);          /* 41 F */
static const double oven_limit = CELSIUS(121.0);        /* roasts of 4.5 kg or more */
static const double heavy_roast = 4.5;                  /* [kg] */
static const double high_humidity = 0.9;                /* of the air of an oven, relative */
static const double humid_time = 3600.0;                /* how long it is kept [s] */
static const double hot_limit = FAHRENHEIT(135);        /* 57 C */
static const double roast_hot_limit = FAHRENHEIT(130);  /* 54 C */
static const double fsis_hot_limit = FAHRENHEIT(140);   /* 60 C */

static const double longest_preparation = 900.0;

/* A limit given in one unit and a figure given in another may differ in the last digit of a double. */
static const double same_temperature = 1e-9;

#define RULE_NAME(name, unit, source) #name,
#define RULE_UNIT(name, unit, source) unit,
#define RULE_SOURCE(name, unit, source) source,

const char *sw_safety_rule_name(sw_safety_rule rule)
{
    static const char *const names[SW_SAFETY_RULE_COUNT] = {SW_SAFETY_RULE_LIST(RULE_NAME)};
    return names[rule];
}

const char *sw_safety_rule_unit(sw_safety_rule rule)
{
    static const char *const units[SW_SAFETY_RULE_COUNT] = {SW_SAFETY_RULE_LIST(RULE_UNIT)};
    return units[rule];
}

const char *sw_safety_rule_source(sw_safety_rule rule)
{
    static const char *const sources[SW_SAFETY_RULE_COUNT] = {SW_SAFETY_RULE_LIST(RULE_SOURCE)};
    return sources[rule];
}

const char *sw_verdict_name(sw_verdict verdict)
{
    static const char *const names[] = {"not assessed", "not met", "met"};
    return verdict >= SW_VERDICT_NOT_ASSESSED && verdict <= SW_VERDICT_MET ? names[verdict] : "unknown verdict";
}

double sw_come_up_limit(void)
{
    return 6.0 * hour;
}

sw_safety_band sw_safety_rule_band(sw_safety_rule rule)
{
    switch (rule) {
    case SW_SAFETY_come_up:
        return (sw_safety_band){FAHRENHEIT(50), FAHRENHEIT(130)};
    case SW_SAFETY_warm_hours:
        return (sw_safety_band){cold_limit, hot_limit};
    case SW_SAFETY_cooling_first:
        return (sw_safety_band){FAHRENHEIT(70), hot_limit};
    case SW_SAFETY_cooling_whole:
        return (sw_safety_band){cold_limit, hot_limit};
    case SW_SAFETY_cooling_first_fsis:
        return (sw_safety_band){FAHRENHEIT(80), FAHRENHEIT(130)};
    case SW_SAFETY_cooling_second_fsis:
        return (sw_safety_band){FAHRENHEIT(40), FAHRENHEIT(80)};
    default:
        return (sw_safety_band){SW_ABSENT, SW_ABSENT};
    }
}

/* A history and when its parts end. */
typedef struct course {
    const sw_history *history;
    const double *time, *lowest;
    double pull, hot_end;  /* hot_end: the last rest or hold ends, and the cooling begins [s] */
    size_t pull_row, hot_row;
    double cooling_end;    /* [s]; SW_ABSENT without a cooling */
    const char *lacks_rest, *lacks_hold, *lacks_cooling; /* why what was planned is missing; NULL if it is not */
} course;

/* A phase that is missing may have to be judged; which, and why, in words for a reason. */
static const char *lacking(const sw_history *history, sw_planned_end end)
{
    static const char *const words[SW_PLANNED_COUNT][2] = {
        [SW_PLANNED_REST] = {"the rest is missing, since its hour had passed", "the rest does not end"},
        [SW_PLANNED_HOLD] = {"the hold is missing, since its hour had passed", "the hold does not end or begin"},
        [SW_PLANNED_COOLING] = {"the cooling is missing, since its hour had passed", "the cooling does not end or begin"},
    };
    const sw_missing *m = sw_history_missing(history, end);
    return m ? words[end][m->reason != SW_MISSING_HOUR_PASSED] : NULL;
}

static course course_of(const sw_history *history)
{
    course c = {.history = history,
                .time = history->series[SW_SERIES_time],
                .lowest = history->series[SW_SERIES_lowest_temperature],
                .cooling_end = SW_ABSENT,
                .lacks_rest = lacking(history, SW_PLANNED_REST),
                .lacks_hold = lacking(history, SW_PLANNED_HOLD),
                .lacks_cooling = lacking(history, SW_PLANNED_COOLING)};
    for (size_t i = 0; i < history->phase_count; i++) {
        const sw_phase_record *p = &history->phases[i];
        if (p->phase == SW_PHASE_COOLING) {
            c.cooling_end = p->end;
            continue;
        }
        if (p->phase <= SW_PHASE_REWRAPPED)
            c.pull = p->end;
        c.hot_end = p->end;
    }
    c.pull_row = sw_row_at(history, c.pull);
    c.hot_row = sw_row_at(history, c.hot_end);
    return c;
}

static sw_safety_finding not_assessed(const char *reason)
{
    return (sw_safety_finding){.verdict = SW_VERDICT_NOT_ASSESSED,
                               .figure = SW_ABSENT,
                               .limit = SW_ABSENT,
                               .margin = SW_ABSENT,
                               .temperature = SW_ABSENT,
                               .below = SW_ABSENT,
                               .reason = reason};
}

static sw_safety_finding judged(double figure, double limit, double margin)
{
    sw_safety_finding f = not_assessed(NULL);
    f.verdict = margin >= 0.0 ? SW_VERDICT_MET : SW_VERDICT_NOT_MET;
    f.figure = figure;
    f.limit = limit;
    f.margin = margin;
    return f;
}

/* A rule on a phase that is missing. */
static sw_safety_finding lacks_phase(const char *reason)
{
    sw_safety_finding f = not_assessed(reason);
    f.lacks_phase = true;
    return f;
}

/* A rule that would be met but for what is not known. */
static void withhold(sw_safety_finding *f, const char *reason)
{
    f->verdict = SW_VERDICT_NOT_ASSESSED;
    f->margin = SW_ABSENT;
    f->reason = reason;
}

/* The same, where a phase may be missing; lacking is NULL if none is. */
static void withhold_lacking(sw_safety_finding *f, const char *lacking)
{
    if (!lacking || f->verdict != SW_VERDICT_MET)
        return;
    withhold(f, lacking);
    f->lacks_phase = true;
}

static sw_safety_finding at_most(double figure, double limit)
{
    return judged(figure, limit, limit - figure);
}

static sw_safety_finding at_least(double figure, double limit)
{
    return judged(figure, limit, figure - limit);
}

/* A temperature a rule and a scenario may both state to the last digit, each in its own unit. */
static double snapped(double temperature, double limit)
{
    return fabs(temperature - limit) < same_temperature ? limit : temperature;
}

/* ---- before and on the pit ---- */

static sw_safety_finding judge_raw_storage(const course *c)
{
    return at_most(snapped(c->history->scenario.meat.initial_temperature, cold_limit), cold_limit);
}

static bool is_humid(const sw_history *h, size_t row)
{
    const double air = h->series[SW_SERIES_air_temperature][row], ratio = h->series[SW_SERIES_air_humidity_ratio][row];
    double pressure, vapour, saturated;
    return sw_pressure_at_altitude(h->scenario.pit.altitude, &pressure) == SW_OK &&
           sw_vapour_pressure(ratio, pressure, &vapour) == SW_OK && sw_saturation_pressure(air, &saturated) == SW_OK &&
           vapour > high_humidity * saturated;
}

/* Whether the pit's air is humid for long enough without a break, by whole rows, as an oven that is no hotter may be. */
static bool keeps_humid_oven(const course *c)
{
    double start = 0.0;
    bool within = false;
    for (size_t i = 0; i <= c->pull_row; i++) {
        if (!is_humid(c->history, i)) {
            within = false;
            continue;
        }
        start = within ? start : c->time[i];
        within = true;
        if (c->time[i] - start >= humid_time)
            return true;
    }
    return false;
}

/* The Code's chart of ovens: hot, or no hotter than that and humid. It asks for an oven of the chart and for hot meat, both:
 * what the meat reaches never makes this rule met. */
static sw_safety_finding judge_pit(const course *c)
{
    const sw_pit *pit = &c->history->scenario.pit;
    double lowest = pit->steps[0].temperature, highest = lowest;
    for (size_t i = 1; i < pit->step_count && pit->steps[i].start < c->pull; i++) {
        lowest = fmin(lowest, pit->steps[i].temperature);
        highest = fmax(highest, pit->steps[i].temperature);
    }
    sw_safety_finding f = at_least(snapped(lowest, oven_limit), oven_limit);
    if (f.verdict == SW_VERDICT_MET && c->history->scenario.meat.mass < heavy_roast)
        withhold(&f, "for a roast this small the Code asks for more, by the draught and humidity of the oven");
    else if (f.verdict == SW_VERDICT_NOT_MET && highest <= oven_limit && keeps_humid_oven(c))
        withhold(&f, "the Code has another way for air over 90 % humid for 1 h, to be measured in the pit or at its exit");
    return f;
}

static double longest_place_in_band(const course *c, sw_safety_band band, double until)
{
    return fmax(sw_longest_in_band(c->history, band, 0.0, until), sw_lowest_in_band(c->history, band, 0.0, until));
}

static sw_safety_finding judge_come_up(const course *c)
{
    const sw_safety_band band = sw_safety_rule_band(SW_SAFETY_come_up);
    sw_safety_finding f = at_most(longest_place_in_band(c, band, c->pull), sw_come_up_limit());
    bool reached = false;
    for (size_t i = 0; i <= c->pull_row; i++)
        reached = reached || c->lowest[i] >= band.high;
    if (!reached && f.verdict == SW_VERDICT_MET)
        withhold(&f, "some of the meat never gets through it on the pit");
    return f;
}

static sw_safety_finding judge_warm_hours(const course *c)
{
    sw_safety_finding f = not_assessed("no rule sets a limit");
    f.figure = longest_place_in_band(c, sw_safety_rule_band(SW_SAFETY_warm_hours), c->hot_end);
    return f;
}

/* Longest spell without a break at or above a temperature, by whole rows: never too long, if the temperature does not dip
 * between rows. Negative if it is never reached. */
static double longest_spell(const course *c, double temperature)
{
    double longest = -1.0, start = 0.0;
    bool within = false;
    for (size_t i = 0; i <= c->hot_row; i++) {
        if (c->lowest[i] >= temperature && !within)
            start = c->time[i];
        within = c->lowest[i] >= temperature;
        if (within)
            longest = fmax(longest, c->time[i] - start);
    }
    return longest;
}

/* Any row of the table may be the one that is kept; the one kept best is shown. */
static sw_safety_finding judge_dwell(const course *c, const sw_dwell_table *table)
{
    size_t best = 0;
    double held = 0.0, best_score = -1.0;
    for (size_t i = 0; i < table->count; i++) {
        double spell = longest_spell(c, table->rows[i].temperature);
        if (spell < 0.0)
            break;
        double score = table->rows[i].time > 0.0 ? spell / table->rows[i].time : HUGE_VAL;
        if (score >= best_score) {
            best = i;
            held = spell;
            best_score = score;
        }
    }
    sw_safety_finding f = at_least(held, table->rows[best].time);
    f.temperature = table->rows[best].temperature;
    if (best_score < 0.0)
        f.verdict = SW_VERDICT_NOT_MET;
    return f;
}

static sw_safety_finding judge_lethality_by_fit(const course *c)
{
    const sw_thermal_death *law = &sw_appendix_a_fit;
    sw_safety_finding f = at_least(sw_log_reduction(law, c->time, c->lowest, c->hot_row + 1), 6.5);
    double highest = 0.0;
    for (size_t i = 0; i <= c->hot_row; i++)
        highest = fmax(highest, c->lowest[i]);
    f.beyond_fit = highest > law->highest || highest < law->lowest;
    return f;
}

/* ---- hot ---- */

/* Whether the meat is being wrapped at a row, or was a row ago: preparation, which the Code's rule on hot food leaves out. A
 * surface without thickness is as cool as the air lets it be at once; a quarter of an hour is no longer preparation, a choice. */
static bool is_prepared(const course *c, size_t row)
{
    const sw_scenario *s = &c->history->scenario;
    for (size_t i = 0; i < c->history->phase_count; i++) {
        const sw_phase_record *p = &c->history->phases[i];
        const double until = p->start + fmin(s->wrap.off_pit, longest_preparation) + s->solver.output_interval;
        if (s->wrap.off_pit > 0.0 && (p->phase == SW_PHASE_WRAPPED || p->phase == SW_PHASE_REWRAPPED) && c->time[row] >= p->start &&
            c->time[row] <= until)
            return true;
    }
    return false;
}

/* Lowest temperature from a row to a row, and for how long by whole rows some of the meat is below the limit. */
static sw_safety_finding judge_lowest(const course *c, size_t first, size_t last, double limit)
{
    double lowest = c->lowest[first], below = 0.0;
    for (size_t i = first; i <= last; i++)
        if (!is_prepared(c, i))
            lowest = fmin(lowest, c->lowest[i]);
    for (size_t i = first; i < last; i++)
        if ((c->lowest[i] < limit && !is_prepared(c, i)) || (c->lowest[i + 1] < limit && !is_prepared(c, i + 1)))
            below += c->time[i + 1] - c->time[i];
    sw_safety_finding f = at_least(lowest, limit);
    f.below = below;
    return f;
}

static sw_safety_finding judge_fall_back(const course *c)
{
    for (size_t i = 0; i <= c->pull_row; i++)
        if (c->lowest[i] >= hot_limit)
            return judge_lowest(c, i, c->pull_row, hot_limit);
    return not_assessed("some of the meat never gets that hot on the pit");
}

static sw_safety_finding judge_holding(const course *c, double limit)
{
    const char *lacking = c->lacks_hold ? c->lacks_hold : c->lacks_rest;
    if (c->hot_end == c->pull)
        return lacking ? lacks_phase(lacking) : not_assessed("there is no rest and no hold");
    sw_safety_finding f = judge_lowest(c, c->pull_row, c->hot_row, limit);
    withhold_lacking(&f, lacking);
    return f;
}

static sw_safety_finding judge_roast_holding(const course *c, const sw_safety_finding *roast)
{
    if (roast->verdict != SW_VERDICT_MET)
        return not_assessed("only for roasts that were cooked by the Code's table");
    return judge_holding(c, roast_hot_limit);
}

static sw_safety_finding judge_place(const course *c)
{
    const sw_place *hold = &c->history->scenario.hold;
    if (hold->until.kind == SW_ENDING_NONE)
        return not_assessed("there is no hold");
    if (hold->kind != SW_PLACE_AIR)
        return not_assessed("a box, or a pit that cools, keeps no temperature of its own: the meat in it is judged");
    sw_safety_finding f = at_least(snapped(hold->temperature, hot_limit), hot_limit);
    withhold_lacking(&f, c->lacks_hold);
    return f;
}

/* ---- cooling ---- */

/* From the pull on, for what cools in rest or hold has begun to cool. */
static sw_safety_finding judge_cooling(const course *c, sw_safety_rule rule, double limit)
{
    const sw_history *h = c->history;
    if (c->lacks_cooling)
        return lacks_phase(c->lacks_cooling);
    if (SW_IS_ABSENT(c->cooling_end) || h->field_count == 0)
        return not_assessed("no cooling is planned");
    const sw_safety_band band = sw_safety_rule_band(rule);
    const double *last = h->field_temperature + (h->field_count - 1) * h->cell_count;
    sw_safety_finding f = at_most(sw_longest_in_band(h, band, c->pull, c->cooling_end), limit);
    double hottest = 0.0;
    for (size_t i = 0; i < h->cell_count; i++)
        hottest = fmax(hottest, last[i]);
    if (hottest > band.low && f.verdict == SW_VERDICT_MET)
        withhold(&f, "the cooling ends before all of the meat is through it");
    return f;
}

double sw_hot_holding_limit(void)
{
    return hot_limit;
}

void sw_safety_evaluate(const sw_history *history, sw_safety *safety)
{
    const course c = course_of(history);
    sw_safety_finding *f = safety->findings;
    f[SW_SAFETY_raw_storage] = judge_raw_storage(&c);
    f[SW_SAFETY_pit_heat] = judge_pit(&c);
    f[SW_SAFETY_come_up] = judge_come_up(&c);
    f[SW_SAFETY_warm_hours] = judge_warm_hours(&c);
    f[SW_SAFETY_lethality_6_5_log] = judge_dwell(&c, &sw_appendix_a_6_5_log);
    f[SW_SAFETY_lethality_7_log] = judge_dwell(&c, &sw_appendix_a_7_log);
    f[SW_SAFETY_lethality_roast] = judge_dwell(&c, &sw_food_code_roasts);
    f[SW_SAFETY_lethality_check] = judge_lethality_by_fit(&c);
    f[SW_SAFETY_fall_back] = judge_fall_back(&c);
    f[SW_SAFETY_hot_holding] = judge_holding(&c, hot_limit);
    f[SW_SAFETY_hot_holding_roast] = judge_roast_holding(&c, &f[SW_SAFETY_lethality_roast]);
    f[SW_SAFETY_hot_holding_fsis] = judge_holding(&c, fsis_hot_limit);
    f[SW_SAFETY_holding_place] = judge_place(&c);
    f[SW_SAFETY_cooling_first] = judge_cooling(&c, SW_SAFETY_cooling_first, 2.0 * hour);
    f[SW_SAFETY_cooling_whole] = judge_cooling(&c, SW_SAFETY_cooling_whole, 6.0 * hour);
    f[SW_SAFETY_cooling_first_fsis] = judge_cooling(&c, SW_SAFETY_cooling_first_fsis, 1.5 * hour);
    f[SW_SAFETY_cooling_second_fsis] = judge_cooling(&c, SW_SAFETY_cooling_second_fsis, 5.0 * hour);
}
