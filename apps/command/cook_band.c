/* SPDX-License-Identifier: BSD-3-Clause */
#include "cook_band.h"

#include "processors.h"
#include "quantity.h"

#include <stallwright/ranking.h>

#include <math.h>

/* A section takes some fifty times as long to cook as a slab. */
enum { SECTION_DRAWS = 40 };

static bool has_band(const sw_run *run, const command_options *o)
{
    return !o->no_band && run->status == SW_OK && run->history->scenario.pull.kind == SW_ENDING_PROBE_TEMPERATURE;
}

static sw_band_question question_of(const sw_run *run, const sw_watch *watch)
{
    const size_t draws = sw_shape_is_section(run->scenario.meat.shape) ? SECTION_DRAWS : SW_BAND_DRAWS;
    return (sw_band_question){.stated = &run->scenario, .run = run, .draws = draws, .seed = 1, .threads = count_processors(), .watch = watch};
}

bool cook_band_find(const sw_run *run, sw_context *context, progress *p, const command_options *o, sw_band *band)
{
    if (!has_band(run, o))
        return false;
    const sw_watch watch = progress_watch(p);
    const sw_band_question question = question_of(run, &watch);
    const sw_status status = sw_band_find(context, &question, band);
    progress_end(p);
    if (status != SW_OK && status != SW_ERR_CANCELLED)
        print_note(o, "how far cooks like this one differ is not known: %s", sw_context_message(context));
    return status == SW_OK;
}

void cook_bands_find(const sw_run *runs, size_t count, sw_context *context, progress *p, const command_options *o, bool *found, sw_band *bands)
{
    const sw_watch watch = progress_watch(p);
    sw_band_question questions[SW_RANKED_MAX];
    sw_band together[SW_RANKED_MAX];
    size_t asked = 0, at[SW_RANKED_MAX];
    for (size_t i = 0; i < count && i < SW_RANKED_MAX; i++) {
        found[i] = false;
        if (has_band(&runs[i], o)) {
            at[asked] = i;
            questions[asked++] = question_of(&runs[i], &watch);
        }
    }
    const sw_status status = asked > 0 ? sw_bands_find(context, asked, questions, together) : SW_OK;
    progress_end(p);
    for (size_t k = 0; k < asked && status != SW_ERR_CANCELLED; k++) {
        /* Where they fail together each is tried alone, so that one does not keep the others from theirs. */
        if (status == SW_OK)
            bands[at[k]] = together[k];
        found[at[k]] = status == SW_OK || cook_band_find(&runs[at[k]], context, p, o, &bands[at[k]]);
    }
}

const char *show_done_band(const sw_band *band, char text[BAND_TEXT_SIZE])
{
    char low[QUANTITY_SIZE], high[QUANTITY_SIZE];
    const sw_interval *done = band ? &band->of[SW_SENSITIVE_done] : NULL;
    if (!done)
        snprintf(text, BAND_TEXT_SIZE, "-");
    else if (SW_IS_ABSENT(done->high))
        snprintf(text, BAND_TEXT_SIZE, "%.20s or more", show_duration_rounded_down(done->low, low));
    else
        snprintf(text, BAND_TEXT_SIZE, "%.20s to %.20s", show_duration_rounded_down(done->low, low),
                 show_duration_rounded_up(done->high, high));
    return text;
}

const char *show_done_band_briefly(const sw_band *band, char text[BAND_TEXT_SIZE])
{
    const sw_interval *done = band ? &band->of[SW_SENSITIVE_done] : NULL;
    const double quarter = 900.0;
    if (!done)
        snprintf(text, BAND_TEXT_SIZE, "-");
    else if (SW_IS_ABSENT(done->high))
        snprintf(text, BAND_TEXT_SIZE, "over %.4g h", floor(done->low / quarter) / 4.0);
    else
        snprintf(text, BAND_TEXT_SIZE, "%.4g-%.4g h", floor(done->low / quarter) / 4.0, ceil(done->high / quarter) / 4.0);
    return text;
}
