/* SPDX-License-Identifier: BSD-3-Clause */
#include "track_table.h"

#include "food_safety.h"
#include "output_file.h"
#include "table.h"

static void set_choice(table *t, size_t row, const track_input *in, const sw_track_choice *c)
{
    char text[QUANTITY_SIZE];
    table_set(t, row, 0, sw_track_choice_name(c->kind));
    table_set(t, row, 1, track_moment(in, c->done.middle, text));
    table_set(t, row, 2, track_moment(in, c->done.low, text));
    table_set(t, row, 3, track_moment(in, c->done.high, text));
    table_set(t, row, 4, show_share(c->yield.middle, text));
    snprintf(text, sizeof text, "%.2f", c->bark.middle);
    table_set(t, row, 5, SW_IS_ABSENT(c->bark.middle) ? "-" : text);
    if (!SW_IS_ABSENT(c->odds)) {
        snprintf(text, sizeof text, "%.0f %%", 100.0 * c->odds);
        table_set(t, row, 6, text);
    }
}

static void print_choices(const track_input *in, const sw_track *track)
{
    static table t;
    static const char *const heads[] = {"from here", "done at", "from", "to", "yield", "bark", "in time"};
    t = (table){.has_heading = true};
    for (size_t i = 0; i < (SW_IS_ABSENT(in->question.serve) ? 6 : 7); i++)
        table_set(&t, 0, i, heads[i]);
    for (size_t i = 0; i < track->choice_count; i++)
        set_choice(&t, i + 1, in, &track->choices[i]);
    printf("\n");
    table_print(&t, false, stdout);
    printf("(Between \"from\" and \"to\" lie four cooks in five of those that agree with the\nreadings; yield and bark at the pull.)\n");
}

static void print_doubts(const track_input *in)
{
    enum { SHOWN = 6 };
    const size_t count = in->log.doubt_count;
    char text[SW_LOG_SENTENCE_SIZE + 32];
    for (size_t i = 0; i < count && i < SHOWN; i++) {
        snprintf(text, sizeof text, "line %d: %s.", in->log.doubts[i].line, in->log.doubts[i].sentence);
        print_wrapped(text, 80, "- ", "  ", stdout);
    }
    if (count > SHOWN)
        printf("- and %zu more doubts; --format json has them.\n", count - SHOWN);
}

int track_table_print(const track_input *in, const sw_track *track, sw_unit_system units)
{
    static track_sentences s;
    const sw_scenario *sc = &track->population.stated;
    char cut[CUT_TEXT_SIZE], pit[QUANTITY_SIZE], clock[QUANTITY_SIZE];
    printf("%s\n%s, %s,\npit at %s at first, on at %s\n\n", sc->title, sw_meat_name(&sc->meat), show_cut(&in->question.scenario.meat, &sc->meat, units, cut),
           show_temperature(in->question.scenario.pit.steps[0].temperature, units, pit), show_clock(sc->start_clock, 0.0, clock));
    track_say(in, track, &s);
    for (size_t i = 0; i < s.count; i++)
        if (s.topics[i] != TRACK_FOUND && s.topics[i] != TRACK_SAFETY)
            prose_print(&s.list[i], units, "", "", stdout);
    if (!track->is_done)
        print_choices(in, track);
    printf("\n");
    for (size_t i = 0; i < s.count; i++)
        if (s.topics[i] == TRACK_FOUND || s.topics[i] == TRACK_SAFETY)
            prose_print(&s.list[i], units, "", "", stdout);
    if (in->log.doubt_count > 0 || in->note_count > 0)
        printf("\nAssumed:\n");
    for (size_t i = 0; i < in->note_count; i++)
        prose_print(&in->notes[i], units, "- ", "  ", stdout);
    print_doubts(in);
    printf("\nA forecast of a model, not a thermometer. Probe the meat in several places before\nit comes off.\n");
    print_safety_deference();
    return flush_standard_output();
}

void track_line_print(const track_input *in, const sw_track *t, sw_unit_system units)
{
    char now[QUANTITY_SIZE], low[QUANTITY_SIZE], middle[QUANTITY_SIZE], high[QUANTITY_SIZE], probe[QUANTITY_SIZE];
    const sw_track_choice *c = &t->choices[0];
    printf("%s  %s  %s %s (%s to %s)%s", track_moment(in, t->now, now), show_temperature(t->reading, units, probe), t->is_done ? "is done," : "done",
           track_moment(in, c->done.middle, middle), track_moment(in, c->done.low, low), track_moment(in, c->done.high, high),
           t->stalls_now > 0.5 ? "  in the stall" : "");
}
