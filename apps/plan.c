/* SPDX-License-Identifier: BSD-3-Clause */
/* stallwright plan: when does it go on, so that it is served in time? */
#include "apps.h"

#include "calendar_file.h"
#include "idle_keys.h"
#include "json_output.h"
#include "json_plan.h"
#include "output_file.h"
#include "outputs.h"
#include "plan_page.h"
#include "plan_table.h"
#include "plan_words.h"
#include "plot_plan.h"
#include "processors.h"
#include "progress.h"
#include "read_pieces.h"
#include "scenario_option.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Draws of the plan; each choice it is compared with gets a third of them. A section takes some fifty times as long to cook as a slab. */
enum { PLAN_DRAWS = 300, SECTION_DRAWS = 60, COMPARED_SHARE = 3 };

/* What plan takes besides what all do. */
typedef struct plan_options {
    command_options shared;
    const char *serve, *date, *odds, *timezone, *calendar_path, *pieces;
    whole_number seed, draws;
} plan_options;

/* What is asked, once it is understood. */
typedef struct plan_task {
    session s;
    const plan_options *o;
    double odds;
    plan_clock clock;
    plan_pieces pieces;
    progress p;
    struct timespec began;
} plan_task;

static bool read_odds(const char *text, double *odds)
{
    char *end;
    *odds = 0.9;
    if (!text)
        return true;
    double value = strtod(text, &end);
    while (*end == ' ')
        end++;
    if (*end == '%') {
        value *= 0.01;
        end++;
    }
    const bool is_number = end != text && *end == '\0' && *text >= '0' && *text <= '9';
    if (!is_number || !(value >= 0.01 && value <= 0.999)) {
        print_error("--odds is \"%s\"; it takes a share from 1%% to 99.9%%, such as 90%% or 0.9", text);
        return false;
    }
    *odds = value;
    return true;
}

static int read_serving(plan_task *t)
{
    const sw_range range = sw_scenario_key_find("serving.time")->range;
    if (!t->o->serve)
        return EXIT_DONE;
    if (!session_reader(&t->s))
        return EXIT_FAILED;
    const sw_status status = sw_read_value(t->s.context, t->s.reader, "--serve", t->o->serve, SW_QUANTITY_CLOCK, range.minimum, range.maximum,
                                           &t->s.scenario.serving.time);
    return status == SW_OK ? EXIT_DONE : report(&t->s, status);
}

static int read_clock(plan_task *t)
{
    char why[CLOCK_WHY_SIZE], serving[CLOCK_TEXT_SIZE], now_text[CLOCK_TEXT_SIZE];
    if (t->o->timezone && !t->o->date) {
        print_error("--timezone is given without --date; the clocks of a zone matter only on a given day");
        return EXIT_BAD_USE;
    }
    if (!plan_clock_zone(t->o->timezone)) {
        print_error("--timezone is \"%s\"; no such zone is known here; zones have names such as Europe/Lisbon", t->o->timezone);
        return EXIT_BAD_USE;
    }
    if (!plan_clock_set(&t->clock, t->o->date, t->s.scenario.serving.time, why)) {
        print_error("%s", why);
        return EXIT_BAD_USE;
    }
    const time_t now = time(NULL);
    if (t->clock.has_date && t->clock.serving <= now) {
        print_error("%s is past: it is %s", show_serving(&t->clock, serving),
                    show_moment(&t->clock, (double)(t->clock.serving - now), now_text));
        return EXIT_BAD_USE;
    }
    return EXIT_DONE;
}

/* What is set and does not count here, though it does in a cook. */
static void note_ignored(const plan_task *t)
{
    static const struct {
        const char *key, *why;
    } ignored[] = {{"start", "plan finds when the meat goes on"}, {"hold.until", "the meat is held until it is served "
                                                                                 "(serving.time)"}};
    char place[SW_KEY_PLACE_SIZE];
    for (size_t i = 0; t->s.reader && i < sizeof ignored / sizeof *ignored; i++) {
        const sw_scenario_key *key = sw_scenario_key_find(ignored[i].key);
        const char *where = sw_scenario_key_place(t->s.reader, key, place);
        if (*where)
            print_note(&t->o->shared, "%s %s is ignored: %s", where, ignored[i].key, ignored[i].why);
    }
    const int days = (int)(t->s.scenario.serving.time / 86400.0);
    if (days > 0)
        print_note(&t->o->shared, "the +%d day%s of the serving time is ignored: plan finds the day on which the meat goes "
                                  "on; --date gives the day of serving", days, days > 1 ? "s" : "");
}

/* Of several pieces each says itself what it is. */
static void note_meat_left_aside(const plan_task *t)
{
    char place[SW_KEY_PLACE_SIZE], names[600] = "";
    for (size_t i = 0; t->o->pieces && t->s.reader && i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        const size_t length = strlen(names);
        if (is_key_of_piece(key) && *sw_scenario_key_place(t->s.reader, key, place))
            snprintf(names + length, sizeof names - length, "%s%s", *names ? ", " : "", key->name);
    }
    if (*names)
        print_note(&t->o->shared, "ignored, since the files of --pieces decide: %s", names);
}

static void note_idle(const plan_task *t)
{
    static const char *const used[] = {"serving.time", "serving.hold_at_least", "serving.hold_at_most", "pit.heat_up"};
    static sw_scenario held; /* a plan holds the meat, whatever hold.until says */
    idle_keys keys = {{false}};
    held = t->s.scenario;
    held.hold.until = (sw_ending){SW_ENDING_DURATION, 3600.0};
    idle_keys_see(&keys, &held);
    for (size_t i = 0; i < sizeof used / sizeof *used; i++)
        keys.counts[sw_scenario_key_number(sw_scenario_key_find(used[i]))] = true;
    for (size_t i = 0; t->o->pieces && i < sw_scenario_key_count(); i++)
        keys.counts[i] = keys.counts[i] || is_key_of_piece(sw_scenario_key_at(i));
    idle_keys_note(&keys, &t->s, &t->o->shared);
    note_ignored(t);
    note_meat_left_aside(t);
}

static void count_cooks(size_t done, size_t total, void *data)
{
    plan_task *t = data;
    progress_count(&t->p, done, 0, total, &t->began);
}

static bool is_cancelled(void *data)
{
    (void)data;
    return was_interrupted();
}

/* From when a fire that is lit now lets the meat go on until it is served; 0 without a date. */
static double time_left(const plan_task *t)
{
    sw_scenario settled = t->s.scenario;
    sw_scenario_settle(&settled);
    return t->clock.has_date ? fmax(difftime(t->clock.serving, time(NULL)) - settled.pit.heat_up, 1.0) : 0.0;
}

/* The latest start of each must be ahead, with time to light the fire. Otherwise the nearest serving that can be met is said. */
static int check_ahead(const plan_task *t, const plan_view *views, size_t pieces)
{
    char latest[CLOCK_TEXT_SIZE], nearest[CLOCK_TEXT_SIZE], serving[CLOCK_TEXT_SIZE], share[QUANTITY_SIZE], odds[QUANTITY_SIZE];
    const plan_clock *clock = &t->clock;
    const plan_view *first = &views[0];
    if (!clock->has_date)
        return EXIT_DONE;
    for (size_t k = 1; k < pieces; k++)
        if (views[k].plan->starts.latest > first->plan->starts.latest)
            first = &views[k];
    const double left = time_left(t), latest_lead = first->plan->starts.latest, heat_up = first->plan->stated.pit.heat_up;
    if (latest_lead <= left)
        return EXIT_DONE;
    plan_clock later = *clock;
    later.serving += (time_t)(300.0 * ceil((latest_lead - left) / 300.0));
    print_error("no start is in time for %s with odds of %s%s%s: the fire would have had to be lit at %s. Lit now, the meat goes on later, and %s "
                "are in time; the nearest time for these odds is %s",
                show_serving(clock, serving), show_chance(t->odds, odds), first->label ? ", of " : "", first->label ? first->label : "",
                show_moment(clock, latest_lead + heat_up, latest), show_chance(plan_in_time(first, left).share, share),
                show_serving(&later, nearest));
    return EXIT_FAILED;
}

static bool has_start(const plan_view *v)
{
    return !SW_IS_ABSENT(v->plan->starts.latest);
}

/* What may be written to files, before anything is printed. */
static int write_files(const plan_task *t, const plan_view *views, size_t pieces, const plan_party *party)
{
    const command_options *o = &t->o->shared;
    int status = check_ahead(t, views, pieces);
    if (status == EXIT_DONE && t->o->calendar_path)
        status = calendar_write(views, pieces, o, t->o->calendar_path);
    if (status == EXIT_DONE && o->plot_path)
        status = plot_plan(o, views, pieces);
    if (status == EXIT_DONE && o->page_path)
        status = party ? plan_page_write_pieces(o, party) : plan_page_write(o, views);
    return status;
}

static int print(const plan_task *t, const plan_view *view, const plan_party *party)
{
    if (t->o->shared.format != FORMAT_JSON)
        return party ? print_plan_of_pieces(party, &t->o->shared) : print_plan(view, &t->o->shared);
    json_t *document = json_heading(&view->plan->stated);
    json_object_set_new(document, party ? "plan_of_pieces" : "plan", party ? json_plan_of_pieces(party) : json_plan(view));
    return json_print(document);
}

/* views: of one piece, or those of the party. */
static int show(const plan_task *t, const plan_view *views, size_t pieces, const plan_party *party)
{
    const plan_view *without = NULL;
    for (size_t k = pieces; k > 0; k--)
        without = has_start(&views[k - 1]) ? without : &views[k - 1];
    int status = without ? EXIT_DONE : write_files(t, views, pieces, party);
    if (status == EXIT_DONE)
        status = print(t, views, party);
    if (status == EXIT_DONE && without) {
        prose p;
        char text[PROSE_TEXT_SIZE];
        say_impossible(without, &p);
        print_error("%s%s%s", without->label ? without->label : "", without->label ? ": " : "",
                    prose_plain(&p, t->o->shared.units, text, sizeof text));
        status = EXIT_FAILED;
    }
    return status;
}

static sw_plan_question question_of(plan_task *t)
{
    bool is_section = !t->o->pieces && sw_shape_is_section(t->s.scenario.meat.shape);
    for (size_t k = 0; k < t->pieces.count; k++)
        is_section = is_section || sw_shape_is_section(t->pieces.scenarios[k].meat.shape);
    const size_t usual = is_section ? SECTION_DRAWS : PLAN_DRAWS, draws = t->o->draws.is_given ? t->o->draws.value : usual;
    return (sw_plan_question){.stated = &t->s.scenario,
                              .odds = t->odds,
                              .seed = t->o->seed.is_given ? t->o->seed.value : 1,
                              .draws = draws,
                              .compared_draws = draws / COMPARED_SHARE / (t->pieces.count > 1 ? t->pieces.count : 1),
                              .longest_lead = time_left(t),
                              .threads = count_processors(),
                              .count = count_cooks,
                              .is_cancelled = is_cancelled,
                              .data = t};
}

static int make_party(plan_task *t, const sw_plan_question *question)
{
    sw_plan_of_pieces *plan = NULL;
    static plan_party party;
    const sw_status status = sw_plan_make_together(t->s.context, question, t->pieces.scenarios, t->pieces.count, &plan);
    progress_end(&t->p);
    if (status != SW_OK)
        return report(&t->s, status);
    party = (plan_party){.plan = plan, .count = plan->count};
    for (size_t k = 0; k < plan->count; k++)
        party.views[k] = (plan_view){plan->pieces[k], &t->pieces.scenarios[k], t->pieces.labels[k], t->odds, t->clock};
    const int exit_status = show(t, party.views, party.count, &party);
    sw_plan_of_pieces_destroy(plan);
    return exit_status;
}

static int make(plan_task *t)
{
    const sw_plan_question question = question_of(t);
    sw_plan *plan = NULL;
    progress_begin(&t->p, &t->o->shared);
    clock_gettime(CLOCK_MONOTONIC, &t->began);
    if (t->o->pieces)
        return make_party(t, &question);
    const sw_status status = sw_plan_make(t->s.context, &question, &plan);
    progress_end(&t->p);
    if (status != SW_OK)
        return report(&t->s, status);
    const plan_view view = {plan, &t->s.scenario, NULL, t->odds, t->clock};
    const int exit_status = show(t, &view, 1, NULL);
    sw_plan_destroy(plan);
    return exit_status;
}

/* Whether a calendar can be written, if one is asked for. */
static int check_calendar(const plan_task *t)
{
    const char *path = t->o->calendar_path;
    const size_t length = path ? strlen(path) : 0;
    if (!path)
        return EXIT_DONE;
    if (!calendar_is_built_in()) {
        print_error("--calendar is not possible: this stallwright was built without libical (SW_CALENDAR=OFF)");
        return EXIT_BAD_USE;
    }
    if (length < 5 || strcmp(path + length - 4, ".ics") != 0) {
        print_error("--calendar is \"%s\"; a calendar is a .ics file", path);
        return EXIT_BAD_USE;
    }
    if (!t->o->date) {
        print_error("--calendar is given without --date; events of a calendar are on a day");
        return EXIT_BAD_USE;
    }
    return output_file_check(path, t->o->shared.force);
}

static int plan(plan_task *t)
{
    const command_options *o = &t->o->shared;
    if (!read_odds(t->o->odds, &t->odds))
        return EXIT_BAD_USE;
    int status = check_calendar(t);
    if (status == EXIT_DONE)
        status = outputs_check(o);
    if (status == EXIT_DONE)
        status = read_serving(t);
    if (status == EXIT_DONE)
        status = read_clock(t);
    if (status != EXIT_DONE)
        return status;
    note_idle(t);
    if (t->o->pieces)
        status = read_pieces(&t->s, o, t->o->pieces, &t->pieces);
    return status == EXIT_DONE ? make(t) : status;
}

static int run_plan(const void *options, int argc, char **argv)
{
    plan_task *t = calloc(1, sizeof *t);
    (void)argc;
    (void)argv;
    if (!t) {
        print_error("the plan cannot begin: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    t->o = options;
    int status = session_begin(&t->s, &t->o->shared);
    if (status == EXIT_DONE)
        status = plan(t);
    session_end(&t->s);
    free(t);
    return status;
}

#define FIELD(name) offsetof(plan_options, name)
static const command_option serve_option = {.name = "serve", .kind = OPTION_TEXT, .field = FIELD(serve), .value = "TIME",
                                            .help = "when people sit down (13:00); serving.time"};
static const command_option date_option = {.name = "date", .kind = OPTION_TEXT, .field = FIELD(date), .value = "DATE",
                                           .help = "on which day: 2026-11-28"};
static const command_option odds_option = {.name = "odds", .kind = OPTION_TEXT, .field = FIELD(odds), .value = "SHARE",
                                           .help = "how sure it must be to be in time (90%)"};
static const command_option timezone_option = {.name = "timezone", .kind = OPTION_TEXT, .field = FIELD(timezone), .value = "ZONE",
                                               .help = "of the date: Europe/Lisbon (the machine's)"};
static const command_option seed_option = {.name = "seed", .kind = OPTION_WHOLE, .field = FIELD(seed), .value = "N", .most = INT64_MAX,
                                           .help = "other draws (1); the same seed, the same plan"};

static const command_option draws_option = {.name = "draws", .kind = OPTION_WHOLE, .field = FIELD(draws), .value = "N", .least = SW_PLAN_DRAWS_MIN,
                                            .most = SW_PLAN_DRAWS_MAX, .help = "cooks drawn (300; of a section 60)"};

static const command_option calendar_option = {.name = "calendar", .kind = OPTION_TEXT, .field = FIELD(calendar_path), .value = "FILE",
                                               .help = "write the timetable for calendars, FILE.ics"};

static const command_option pieces_option = {.name = "pieces", .kind = OPTION_TEXT, .field = FIELD(pieces), .value = "FILES",
                                             .help = "several pieces in one pit: flat.yaml,shoulder.yaml"};

static const command_option *const takes[] = {
    &option_set,    &serve_option, &date_option, &timezone_option, &odds_option,  &pieces_option, &draws_option,    &seed_option,
    &option_format_no_csv, &option_units, &option_plot, &option_page,     &calendar_option, &option_force, &option_quiet,
    &option_help,   &option_version, NULL};

const subcommand plan_app = {
    .name = "plan",
    .purpose = "When does it go on, so that it is served in time? With the odds.",
    .arguments = "[OPTIONS] [SCENARIO.yaml]",
    .options = takes,
    .options_size = sizeof(plan_options),
    .examples = {"stallwright plan --serve 13:00 --date 2026-11-28", "stallwright plan --serve 18:30 --odds 95% --set wrap.kind=paper"},
    .run = run_plan,
};
