/* SPDX-License-Identifier: BSD-3-Clause */
#include "sweep_view.h"

#include "quality_table.h"

#include <stdlib.h>
#include <string.h>

int sweep_read(const sweep_view *v, size_t run, sw_study_result *result)
{
    if (sw_study_journal_read(v->context, v->journal, run, result) == SW_OK)
        return EXIT_DONE;
    print_error("%s", sw_context_message(v->context));
    return EXIT_FAILED;
}

/* Whether the meat is to be ready at a time of day. */
static bool is_planned_for_hour(const sw_scenario *s)
{
    const sw_ending last = s->hold.until.kind != SW_ENDING_NONE   ? s->hold.until
                           : s->rest.until.kind != SW_ENDING_NONE ? s->rest.until
                                                                  : s->pull;
    return last.kind == SW_ENDING_CLOCK || last.kind == SW_ENDING_CLOCK_ON_DAY;
}

bool show_cooks_in_time(const sweep_view *v, char *text, size_t size)
{
    char latest[QUANTITY_SIZE];
    if (v->hour_count == 0)
        return false;
    /* A cook that failed or does not end is not in time either. */
    size_t length = (size_t)snprintf(text, size, "In time for the hour planned: %zu of %zu cooks",
                                     v->in_time_count, v->hour_count);
    if (v->late_count > 0 && length < size)
        snprintf(text + length, size - length, "; %zu %s late, by up to %s", v->late_count, v->late_count == 1 ? "is" : "are",
                 show_duration(v->latest, latest));
    return true;
}

bool show_cooks_not_wrapped(const sweep_view *v, char *text, size_t size)
{
    snprintf(text, size, "Pulled before the wrap went on: %zu of %zu cooks", v->not_wrapped_count, v->run_count);
    return v->not_wrapped_count > 0;
}

bool show_cooks_past_log(const sweep_view *v, char *text, size_t size)
{
    snprintf(text, size, "Longer than the pit log, whose last value holds: %zu of %zu cooks", v->past_log_count, v->run_count);
    return v->past_log_count > 0;
}

static bool is_past_log(const sw_pit *pit, double done_time)
{
    return pit->is_log && pit->steps[pit->step_count - 1].start < done_time;
}

static int load_run(sweep_view *v, size_t run)
{
    sw_study_result result;
    int status = sweep_read(v, run, &result);
    if (status != EXIT_DONE)
        return status;
    v->has_failed[run] = result.status != SW_OK;
    sw_scenario scenario;
    sw_study_scenario(v->study, run, &scenario);
    const sw_outcome *o = &result.outcome;
    v->hour_count += is_planned_for_hour(&scenario);
    v->in_time_count += o->late == 0.0;
    v->late_count += o->late > 0.0; /* not if it is absent */
    v->latest = o->late > v->latest ? o->late : v->latest;
    v->not_wrapped_count += scenario.wrap.kind != SW_WRAP_NONE && SW_IS_ABSENT(o->wrap_time) && !v->has_failed[run];
    v->past_log_count += is_past_log(&scenario.pit, o->done_time);
    v->endless_count += o->endless_phases > 0.0;
    v->unmet_count += result.outcome.unmet_rules > 0.0; /* not if it is absent */
#define TAKE(name, title) v->figures[SWEEP_##name][run] = result.outcome.name;
    SWEEP_FIGURE_LIST(TAKE)
#undef TAKE
    sw_study_result_free(&result);
    return EXIT_DONE;
}

int sweep_view_load(sweep_view *v, sw_context *context, const sw_study *study, const sw_study_journal *journal)
{
    *v = (sweep_view){.study = study, .journal = journal, .context = context, .run_count = sw_study_run_count(study)};
    v->has_failed = calloc(v->run_count, sizeof *v->has_failed);
    bool has_room = v->has_failed != NULL;
    for (int i = 0; i < SWEEP_FIGURE_COUNT; i++) {
        v->figures[i] = calloc(v->run_count, sizeof *v->figures[i]);
        has_room = has_room && v->figures[i];
    }
    if (!has_room) {
        print_error("the figures of the cooks cannot be kept: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    int status = EXIT_DONE;
    for (size_t run = 0; run < v->run_count && status == EXIT_DONE; run++)
        status = load_run(v, run);
    return status;
}

void sweep_view_free(sweep_view *v)
{
    for (int i = 0; i < SWEEP_FIGURE_COUNT; i++)
        free(v->figures[i]);
    free(v->has_failed);
}

const char *sweep_figure_title(sweep_figure figure)
{
#define TITLE(name, title) title,
    static const char *const titles[] = {SWEEP_FIGURE_LIST(TITLE)};
#undef TITLE
    return titles[figure];
}

bool sweep_figure_is_told(const sweep_view *v, sweep_figure figure)
{
    return figure != SWEEP_late || v->hour_count > 0;
}

prose_kind sweep_figure_kind(sweep_figure figure)
{
    return figure == SWEEP_yield_fraction ? PROSE_SHARE : figure == SWEEP_bark ? PROSE_NUMBER : PROSE_DURATION;
}

const char *show_sweep_figure(sweep_figure figure, double value, char *text)
{
    if (figure == SWEEP_late && value == 0.0)
        return "in time";
    switch (sweep_figure_kind(figure)) {
    case PROSE_SHARE:
        return show_share(value, text);
    case PROSE_NUMBER:
        return show_index(value, text);
    default:
        return show_duration(value, text);
    }
}

bool sweep_factor_is_altitude(const sw_factor_view *f)
{
    return strcmp(f->key, "pit.altitude") == 0;
}

static const char *show_number(const sw_factor_view *f, double number, sw_unit_system units, char *text)
{
    const char *unit = sw_quantity_si_unit(f->quantity);
    if (sweep_factor_is_altitude(f))
        return show_altitude(number, units, text);
    switch (f->quantity) {
    case SW_QUANTITY_TEMPERATURE:
        return show_temperature(number, units, text);
    case SW_QUANTITY_TEMPERATURE_DIFFERENCE:
        return show_temperature_difference(number, units, text);
    case SW_QUANTITY_HEATING_RATE:
        return show_heating_rate(number, units, text);
    case SW_QUANTITY_MASS:
        return show_mass(number, units, text);
    case SW_QUANTITY_LENGTH:
        return show_length(number, units, text);
    case SW_QUANTITY_DURATION:
        return show_duration(number, text);
    case SW_QUANTITY_CLOCK:
        return show_clock(0.0, number, text);
    default:
        snprintf(text, QUANTITY_SIZE, "%.4g%s%s", number, strcmp(unit, "1") == 0 ? "" : " ",
                 strcmp(unit, "1") == 0 ? "" : unit);
        return text;
    }
}

const char *show_listed_value(const sw_study *study, size_t factor, size_t value, sw_unit_system units, char *text)
{
    const sw_factor_view f = sw_study_factor(study, factor);
    if (f.has_numbers)
        return show_number(&f, sw_study_listed_number(study, factor, value), units, text);
    snprintf(text, QUANTITY_SIZE, "%s", sw_study_listed_label(study, factor, value));
    return text;
}

const char *show_run_value(const sw_study *study, size_t run, size_t factor, sw_unit_system units, char *text)
{
    const sw_factor_view f = sw_study_factor(study, factor);
    if (f.kind == SW_FACTOR_LISTED)
        return show_listed_value(study, factor, sw_study_choice(study, run, factor), units, text);
    return show_number(&f, sw_study_number(study, run, factor), units, text);
}
