/* SPDX-License-Identifier: BSD-3-Clause */
#include "happened.h"

#include <math.h>

/* Air of a logged pit: means over so long, and what goes on after the log is the mean of its end [s]. */
static const double pit_mean = 600.0, pit_end = 1800.0;

/* Steps that begin later than a moment, as they were planned. */
static void keep_later(const sw_pit *planned, double from, sw_pit *pit)
{
    for (size_t i = 0; i < planned->step_count && pit->step_count < SW_PIT_STEPS_MAX; i++)
        if (planned->steps[i].start > from)
            pit->steps[pit->step_count++] = planned->steps[i];
}

static double planned_at(const sw_pit *planned, double time)
{
    size_t i = 0;
    while (i + 1 < planned->step_count && planned->steps[i + 1].start <= time)
        i++;
    return planned->steps[i].temperature;
}

/* Rows until the last of the pit, and until the meat came off: then the lid is open, or the fire left to die. */
static size_t rows_on_the_pit(const track_input *in)
{
    size_t rows = in->log.row_count;
    while (rows > 0 && (SW_IS_ABSENT(in->log.pit.values[rows - 1]) || in->log.time[rows - 1] > in->on + in->off)) /* no time is later than SW_ABSENT */
        rows--;
    return rows;
}

/* Means of the log's pit over ten minutes, and after its end the mean of its last half hour. */
static void drive_by_log(sw_pit *pit, track_input *in)
{
    const sw_cook_log *log = &in->log;
    const sw_pit planned = *pit;
    const size_t rows = rows_on_the_pit(in);
    const double width = fmax(pit_mean, in->question.now / (SW_PIT_STEPS_MAX / 2));
    double end_sum = 0.0, end_count = 0.0, last = 0.0;
    pit->step_count = 0;
    for (size_t i = 0; i < rows;) {
        if (SW_IS_ABSENT(log->pit.values[i])) {
            i++;
            continue;
        }
        double sum = 0.0, times = 0.0, count = 0.0;
        const double from = log->time[i];
        for (; i < rows && log->time[i] < from + width; i++)
            if (!SW_IS_ABSENT(log->pit.values[i]) && log->time[i] >= in->on) {
                sum += log->pit.values[i];
                times += log->time[i] - in->on;
                count += 1.0;
                if (log->time[i] >= log->time[rows - 1] - pit_end) {
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
        prose_add(track_note(in), "The log's column of the pit has too few readings to drive it; the pit is taken as planned.");
        return;
    }
    pit->is_log = true;
    pit->steps[pit->step_count - 1].ramp = false;
    if (end_count > 0.0)
        pit->steps[pit->step_count - 1].temperature = end_sum / end_count;
    in->pit_read = pit->steps[pit->step_count - 1].temperature;
    in->pit_planned = planned_at(&planned, in->question.now);
    prose_add(track_note(in), "The log drives the pit; from its end on the pit is taken at {temperature}, the mean of its last half hour.",
              pit->steps[pit->step_count - 1].temperature);
    keep_later(&planned, in->question.now, pit);
}

static sw_status put_step(sw_context *context, sw_pit *pit, const track_event *e)
{
    size_t at = pit->step_count;
    while (at > 0 && pit->steps[at - 1].start >= e->time)
        at--;
    if (at == SW_PIT_STEPS_MAX)
        return sw_fail(context, SW_ERR_INPUT, "the pit has more than %d steps", SW_PIT_STEPS_MAX);
    pit->steps[at] = (sw_pit_step){e->time, e->temperature, false};
    pit->step_count = at + 1;
    if (at > 0)
        pit->steps[at - 1].ramp = pit->is_log && pit->steps[at - 1].ramp;
    return SW_OK;
}

sw_status track_drive_pit(sw_context *context, sw_scenario *scenario, track_input *in)
{
    sw_pit *pit = &scenario->pit;
    sw_status status = SW_OK;
    if (in->has_log && in->log.has_pit)
        drive_by_log(pit, in);
    for (size_t i = 0; i < in->event_count && status == SW_OK; i++)
        if (in->events[i].kind == TRACK_PIT_SET && !(pit->is_log && in->events[i].time <= in->question.now)) /* the log shows it */
            status = put_step(context, pit, &in->events[i]);
    return status;
}
