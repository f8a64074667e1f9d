#include "track_events.h"

#include "quantity.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* Air of a logged pit: means over so long, and what goes on after the log is the mean of its end [s]. */
static const double pit_mean = 600.0, pit_end = 1800.0;

/* What one round of spritzing brings where the scenario names none: a guess, 50 to 200 g. */
static const double usual_spritz = 0.1;

static const double day = 86400.0;

void track_note(track_input *in, const char *format, ...)
{
    va_list arguments;
    if (in->note_count == TRACK_NOTES_MAX)
        return;
    va_start(arguments, format);
    vsnprintf(in->notes[in->note_count++], TRACK_NOTE_SIZE, format, arguments);
    va_end(arguments);
}

int track_split(session *s, const char *option, const char *text, double *time, char *value)
{
    char when[96];
    const char *equals = strchr(text, '=');
    const size_t length = equals ? (size_t)(equals - text) : strlen(text);
    if ((value && !equals) || length >= sizeof when || (equals && strlen(equals + 1) >= 96)) {
        print_error("%s: \"%s\" is not of the form %s", option, text, value ? "TIME=VALUE, such as 5h30m=149F or 04:10=155F" : "5h30m or 04:10");
        return EXIT_BAD_USE;
    }
    snprintf(when, sizeof when, "%.*s", (int)length, text);
    if (value)
        snprintf(value, 96, "%s", equals + 1);
    const bool is_clock = strchr(when, ':');
    const sw_status status = is_clock ? sw_read_value(s->context, session_reader(s), option, when, SW_QUANTITY_CLOCK, 0.0, day, time)
                                      : sw_read_value(s->context, session_reader(s), option, when, SW_QUANTITY_DURATION, 0.0,
                                                      SW_LONGEST_PHASE, time);
    if (status != SW_OK)
        return report(s, status);
    if (is_clock)
        *time = fmod(*time - s->scenario.start_clock + day, day);
    return EXIT_DONE;
}

static int read_wrap(const char *text, sw_wrap_kind *kind)
{
    static const char *const names[] = {"none", "paper", "open-tray", "closed-foil", "covered-pan"};
    if (strcmp(text, "foil") == 0 || strcmp(text, "tray") == 0) {
        *kind = text[0] == 'f' ? SW_WRAP_CLOSED_FOIL : SW_WRAP_OPEN_TRAY;
        return EXIT_DONE;
    }
    if (sw_wrap_from_name(text, kind) == SW_OK)
        return EXIT_DONE;
    const char *near = sw_nearest_word(text, names, sizeof names / sizeof *names);
    print_error("--wrapped: \"%s\" is no wrap%s%s%s; paper, tray, foil, covered-pan and none are", text, near ? ", did you mean \"" : "",
                near ? near : "", near ? "\"?" : "");
    return EXIT_BAD_USE;
}

static int take_wraps(session *s, const track_options *o, track_input *in)
{
    sw_scenario *sc = &s->scenario;
    if (o->wrapped.count > 2) {
        print_error("--wrapped is given %zu times; a wrap and another, or none, after it are followed", o->wrapped.count);
        return EXIT_BAD_USE;
    }
    for (size_t i = 0; i < o->wrapped.count; i++) {
        char value[96];
        double time = 0.0;
        sw_wrap_kind kind = SW_WRAP_NONE;
        int status = track_split(s, "--wrapped", o->wrapped.texts[i], &time, value);
        if (status == EXIT_DONE)
            status = read_wrap(value, &kind);
        if (status != EXIT_DONE)
            return status;
        if (i == 0) {
            sc->wrap.kind = kind;
            sc->wrap.when = (sw_ending){SW_ENDING_DURATION, time};
        } else {
            sc->rewrap.kind = kind;
            sc->rewrap.when = (sw_ending){SW_ENDING_DURATION, fmax(time - sc->wrap.when.value, 0.0)};
        }
        in->question.now = fmax(in->question.now, time);
    }
    return EXIT_DONE;
}

static int by_time(const void *a, const void *b)
{
    const double one = *(const double *)a, other = *(const double *)b;
    return (one > other) - (one < other);
}

/* Times of an option that may be repeated, in order. */
static int read_times(session *s, const char *option, const text_list *texts, double *times)
{
    for (size_t i = 0; i < texts->count; i++) {
        const int status = track_split(s, option, texts->texts[i], &times[i], NULL);
        if (status != EXIT_DONE)
            return status;
    }
    qsort(times, texts->count, sizeof *times, by_time);
    return EXIT_DONE;
}

static int take_lid_and_spritz(session *s, const track_options *o, track_input *in)
{
    double times[OPTION_TEXTS_MAX];
    sw_scenario *sc = &s->scenario;
    int status = read_times(s, "--lid", &o->lid, times);
    for (size_t i = 0; i < o->lid.count && status == EXIT_DONE && sc->pit.opening_count < SW_PIT_OPENINGS_MAX; i++)
        if (sc->pit.opening_count == 0 || times[i] > sc->pit.openings[sc->pit.opening_count - 1])
            sc->pit.openings[sc->pit.opening_count++] = times[i];
    if (status == EXIT_DONE)
        status = read_times(s, "--spritzed", &o->spritzed, times);
    const size_t count = o->spritzed.count;
    if (status != EXIT_DONE || count == 0)
        return status;
    sc->spritz.amount = sc->spritz.amount > 0.0 ? sc->spritz.amount : usual_spritz;
    sc->spritz.from = times[0];
    if (count > 1 && times[count - 1] > times[0])
        sc->spritz.every = (times[count - 1] - times[0]) / (double)(count - 1);
    char every[QUANTITY_SIZE];
    track_note(in, "Spritzing is taken to have been, and to go on, every %s.", show_duration(sc->spritz.every, every));
    return EXIT_DONE;
}

/* Steps that begin later than a moment, as they were planned. */
static void keep_later(const sw_pit *planned, double from, sw_pit *pit)
{
    for (size_t i = 0; i < planned->step_count && pit->step_count < SW_PIT_STEPS_MAX; i++)
        if (planned->steps[i].start > from)
            pit->steps[pit->step_count++] = planned->steps[i];
}

/* Means of the log's pit over ten minutes, and after its end the mean of its last half hour. */
static void drive_pit(session *s, track_input *in, sw_unit_system units)
{
    const sw_cook_log *log = &in->log;
    const sw_pit planned = s->scenario.pit;
    sw_pit *pit = &s->scenario.pit;
    const double width = fmax(pit_mean, in->question.now / (SW_PIT_STEPS_MAX / 2));
    double end_sum = 0.0, end_count = 0.0, last = 0.0;
    pit->step_count = 0;
    for (size_t i = 0; i < log->row_count;) {
        double sum = 0.0, times = 0.0, count = 0.0;
        const double from = log->time[i];
        for (; i < log->row_count && log->time[i] < from + width; i++)
            if (!SW_IS_ABSENT(log->pit.values[i]) && log->time[i] >= in->on) {
                sum += log->pit.values[i];
                times += log->time[i] - in->on;
                count += 1.0;
                if (log->time[i] >= log->time[log->row_count - 1] - pit_end) {
                    end_sum += log->pit.values[i];
                    end_count += 1.0;
                }
            }
        if (count > 0.0) {
            last = pit->step_count == 0 ? 0.0 : times / count;
            pit->steps[pit->step_count++] = (sw_pit_step){last, sum / count, true};
        }
    }
    if (pit->step_count < 2) {
        *pit = planned;
        return;
    }
    pit->is_log = true;
    pit->steps[pit->step_count - 1].ramp = false;
    if (end_count > 0.0)
        pit->steps[pit->step_count - 1].temperature = end_sum / end_count;
    char shown[QUANTITY_SIZE];
    track_note(in, "The log drives the pit; from its end on the pit is taken at %s, the mean of its last half hour.",
               show_temperature(pit->steps[pit->step_count - 1].temperature, units, shown));
    keep_later(&planned, in->question.now, pit);
}

static int take_pit_steps(session *s, const track_options *o, track_input *in)
{
    sw_pit *pit = &s->scenario.pit;
    const sw_range allowed = sw_scenario_key_find("pit.temperature")->range;
    for (size_t i = 0; i < o->pit.count; i++) {
        char value[96];
        double time = 0.0, kelvin;
        const int status = track_split(s, "--pit", o->pit.texts[i], &time, value);
        if (status != EXIT_DONE)
            return status;
        const sw_status read = sw_read_value(s->context, session_reader(s), "--pit", value, SW_QUANTITY_TEMPERATURE, allowed.minimum,
                                             allowed.maximum, &kelvin);
        if (read != SW_OK)
            return report(s, read);
        if (pit->is_log && time <= in->question.now)
            continue; /* the log shows it */
        size_t at = pit->step_count;
        while (at > 0 && pit->steps[at - 1].start >= time)
            at--;
        if (at == SW_PIT_STEPS_MAX)
            continue;
        pit->steps[at] = (sw_pit_step){time, kelvin, false};
        pit->step_count = at + 1;
        if (at > 0)
            pit->steps[at - 1].ramp = pit->is_log && pit->steps[at - 1].ramp;
    }
    return EXIT_DONE;
}

int track_take_events(session *s, const track_options *o, track_input *in)
{
    if (in->has_log && in->log.has_pit)
        drive_pit(s, in, o->shared.units);
    int status = take_pit_steps(s, o, in);
    if (status == EXIT_DONE)
        status = take_wraps(s, o, in);
    if (status == EXIT_DONE)
        status = take_lid_and_spritz(s, o, in);
    return status;
}
