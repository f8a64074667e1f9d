/* SPDX-License-Identifier: BSD-3-Clause */
#include "track_page.h"

#include "json_track.h"
#include "page.h"

#include <math.h>

/* So many readings are drawn; of more every second, third, ... */
enum { READINGS_SHOWN = 600 };

static bool is_about(track_topic topic, const track_topic *topics, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (topics[i] == topic)
            return true;
    return false;
}

/* The sentences on some topics, a paragraph each. */
static void put_sentences(page *p, const char *name, const track_sentences *s, const track_topic *topics, size_t count)
{
    page_text *t = page_begin(p, name);
    for (size_t i = 0; i < s->count; i++) {
        if (!is_about(s->topics[i], topics, count))
            continue;
        page_markup(t, s->topics[i] == TRACK_DOUBT ? "<p class=\"notice\">" : "<p>");
        page_prose(t, &s->list[i]);
        page_markup(t, "</p>\n");
    }
}

static void put_moment(page_text *t, const track_input *in, double time)
{
    char text[QUANTITY_SIZE];
    page_markup(t, "<td>");
    page_escaped(t, track_moment(in, time, text));
    page_markup(t, "</td>");
}

static void put_figure(page_text *t, prose_kind kind, double value)
{
    page_markup(t, "<td>");
    if (SW_IS_ABSENT(value))
        page_markup(t, "-");
    else
        page_quantity(t, kind, value);
    page_markup(t, "</td>");
}

static void put_choices(page *p, const track_input *in, const sw_track *track)
{
    const bool has_odds = !SW_IS_ABSENT(in->question.serve);
    page_text *t = page_begin(p, "choices");
    if (track->is_done)
        return;
    page_markup(t, "<div class=\"scroll\"><table><thead><tr><th scope=\"col\">from here</th><th scope=\"col\">done at</th><th scope=\"col\">from</th>"
                   "<th scope=\"col\">to</th><th scope=\"col\">yield</th><th scope=\"col\">bark</th>%s</tr></thead><tbody>\n",
                has_odds ? "<th scope=\"col\">in time</th>" : "");
    for (size_t i = 0; i < track->choice_count; i++) {
        const sw_track_choice *c = &track->choices[i];
        page_markup(t, "<tr><th scope=\"row\">%s</th>", sw_track_choice_name(c->kind));
        put_moment(t, in, c->done.middle);
        put_moment(t, in, c->done.low);
        put_moment(t, in, c->done.high);
        put_figure(t, PROSE_SHARE, c->yield.middle);
        put_figure(t, PROSE_NUMBER, c->bark.middle);
        if (has_odds)
            put_figure(t, PROSE_SHARE, c->odds);
        page_markup(t, "</tr>\n");
    }
    page_markup(t, "</tbody></table></div>\n<p>Between \"from\" and \"to\" lie four cooks in five of those that agree with the readings; yield and bark "
                   "at the pull.</p>");
}

static void put_taken(page *p, const track_input *in)
{
    page_text *t = page_begin(p, "taken");
    if (in->note_count + in->log.doubt_count == 0)
        return;
    page_markup(t, "<h3>Assumed</h3>\n<ul>\n");
    for (size_t i = 0; i < in->note_count; i++) {
        page_markup(t, "<li>");
        page_prose(t, &in->notes[i]);
        page_markup(t, "</li>\n");
    }
    for (size_t i = 0; i < in->log.doubt_count && i < SW_LOG_DOUBTS_MAX; i++) {
        prose said;
        prose_clear(&said);
        prose_add(&said, "Line {whole}: {text}.", (double)in->log.doubts[i].line, in->log.doubts[i].sentence);
        page_markup(t, "<li>");
        page_prose(t, &said);
        page_markup(t, "</li>\n");
    }
    page_markup(t, "</ul>");
}

static json_t *json_drawn(const track_input *in, const sw_track *t)
{
    const sw_readings *r = &in->question.readings;
    const size_t step = 1 + r->count / READINGS_SHOWN;
    json_t *o = json_object();
    json_object_set_new(o, "now_s", json_real(t->now));
    json_object_set_new(o, "pull_k", json_real(t->population.stated.pull.value));
    json_object_set_new(o, "readings", json_track_readings(r, step));
    json_object_set_new(o, "fitted", json_track_fitted(t));
    json_object_set_new(o, "fan", json_track_fan(t));
    return o;
}

int track_page_write(const track_options *o, const track_input *in, const sw_track *t)
{
    static const track_topic now[] = {TRACK_DOUBT, TRACK_NOW, TRACK_DONE, TRACK_STALL, TRACK_WRAP}, found[] = {TRACK_FOUND}, safety[] = {TRACK_SAFETY};
    static track_sentences s;
    char clock[QUANTITY_SIZE];
    page *p = page_create(&o->shared);
    if (!p) {
        print_error("the page could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    track_say(in, t, &s);
    page_common(p, &t->population.stated);
    page_meat(p, &t->population.stated, &in->question.scenario.meat);
    page_escaped(page_begin(p, "on"), track_moment(in, 0.0, clock));
    put_sentences(p, "now", &s, now, sizeof now / sizeof *now);
    put_choices(p, in, t);
    put_sentences(p, "found", &s, found, 1);
    put_taken(p, in);
    put_sentences(p, "measured-safety", &s, safety, 1);
    page_data(p, "track", json_drawn(in, t));
    return page_write(p, "track.html");
}
