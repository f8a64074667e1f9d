/* SPDX-License-Identifier: BSD-3-Clause */
#include "sweep_page.h"

#include "json_output.h"
#include "output_file.h"
#include "page.h"
#include "sweep_subset.h"
#include "sweep_table.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a page has room for, so that it stays under 2 MB: a cook of a scatter has a number for each of at most 12 factors,
 * at 10 bytes or less; a reading of a curve takes 5; a sentence is counted six times, since JSON may escape every byte of it. */
enum { GRID_COOKS_MAX = 4000, RANDOM_COOKS_MAX = 2000, AXIS_VALUES_MAX = 100, CURVE_BYTES = 900000, READINGS_MAX = 73,
       SENTENCE_BYTES = 40000, FAILURES_LISTED = 12, LABEL_LONGEST = 60 };

/* The last is told only if an hour was planned. */
static const sweep_figure page_figures[] = {SWEEP_done_time, SWEEP_stall_length, SWEEP_yield_fraction, SWEEP_bark, SWEEP_late};
enum { PAGE_FIGURES = sizeof page_figures / sizeof *page_figures };

typedef struct sweep_page {
    const sweep_view *view;
    page *page;
    sweep_subset shown, curves; /* the curves are numbered among the cooks shown */
    size_t stride;              /* of the readings of a curve that are taken */
    size_t curve_count;         /* kept; fewer than chosen if cooks failed */
} sweep_page;

static size_t figure_count(const sweep_page *s)
{
    return sweep_figure_is_told(s->view, SWEEP_late) ? PAGE_FIGURES : PAGE_FIGURES - 1;
}

/* "pit.humidity_ratio" becomes "pit humidity ratio", and "wrap.kind" "wrap". */
static const char *factor_words(const sw_study *study, size_t factor, char text[QUANTITY_SIZE])
{
    snprintf(text, QUANTITY_SIZE, "%s", sw_study_factor(study, factor).key);
    const size_t length = strlen(text);
    if (length > 5 && strcmp(text + length - 5, ".kind") == 0)
        text[length - 5] = '\0';
    for (char *at = text; *at; at++)
        *at = *at == '.' || *at == '_' ? ' ' : *at;
    return text;
}

/* How the page shows numbers of a factor; "plain" has its unit beside it. */
static const char *quantity_kind(const sw_factor_view *f)
{
    if (sweep_factor_is_altitude(f))
        return "altitude";
    switch (f->quantity) {
    case SW_QUANTITY_TEMPERATURE:
        return prose_kind_name(PROSE_TEMPERATURE);
    case SW_QUANTITY_TEMPERATURE_DIFFERENCE:
        return prose_kind_name(PROSE_DIFFERENCE);
    case SW_QUANTITY_HEATING_RATE:
        return prose_kind_name(PROSE_RATE);
    case SW_QUANTITY_MASS:
        return prose_kind_name(PROSE_MASS);
    case SW_QUANTITY_LENGTH:
        return prose_kind_name(PROSE_LENGTH);
    case SW_QUANTITY_DURATION:
        return prose_kind_name(PROSE_DURATION);
    case SW_QUANTITY_CLOCK:
        return "clock";
    default:
        return "plain";
    }
}

/* ---- text ---- */

/* Adds the values that a run has, in the order of the factors. */
static void put_settings(const sweep_page *s, page_text *t, size_t run)
{
    char si[QUANTITY_SIZE], us[QUANTITY_SIZE];
    for (size_t i = 0; i < sw_study_factor_count(s->view->study); i++) {
        page_markup(t, i ? ", " : "");
        page_worded(t, show_run_value(s->view->study, run, i, SW_UNITS_SI, si),
                    show_run_value(s->view->study, run, i, SW_UNITS_US, us));
    }
}

static void put_whole(page_text *t, size_t number)
{
    page_quantity(t, PROSE_WHOLE, (double)number);
}

static void put_factors(const sweep_page *s, page_text *t)
{
    char words[QUANTITY_SIZE];
    const sw_study *study = s->view->study;
    const size_t count = sw_study_factor_count(study);
    for (size_t i = 0; i < count; i++) {
        const sw_factor_view f = sw_study_factor(study, i);
        page_markup(t, i == 0 ? "" : i + 1 < count ? ", " : " and ");
        page_escaped(t, factor_words(study, i, words));
        page_markup(t, " (");
        if (f.kind == SW_FACTOR_LISTED)
            put_whole(t, f.value_count);
        page_markup(t, "%s)", f.kind == SW_FACTOR_UNIFORM  ? "evenly distributed"
                              : f.kind == SW_FACTOR_NORMAL ? "normally distributed"
                              : f.value_count == 1         ? " value"
                                                           : " values");
    }
}

static void put_intro(const sweep_page *s, page_text *t, bool is_grid)
{
    const size_t failed = sw_study_journal_failures(s->view->journal);
    put_whole(t, s->view->run_count);
    page_markup(t, !is_grid                                        ? " cooks, spread over "
                   : sw_study_factor_count(s->view->study) == 1 ? " cooks, one for each value of "
                                                                   : " cooks, one for each combination of ");
    put_factors(s, t);
    page_markup(t, ".");
    if (failed > 0) {
        page_markup(t, " <a href=\"#failures\">");
        put_whole(t, failed);
        page_markup(t, " of them failed</a>.");
    }
}

static void put_safety(const sweep_page *s, page_text *t)
{
    char hours[160];
    if (show_cooks_in_time(s->view, hours, sizeof hours)) {
        page_markup(t, "<p class=\"notice\">");
        page_escaped(t, hours);
        page_markup(t, ".</p>\n");
        page_data(s->page, "in_time", json_string(hours));
    }
    const size_t unmet = s->view->unmet_count, good = s->view->run_count - sw_study_journal_failures(s->view->journal);
    if (unmet == 0)
        return;
    page_markup(t, "<p class=\"notice\"><strong>Food safety:</strong> ");
    if (unmet < good)
        put_whole(t, unmet);
    page_markup(t, unmet < good ? " of these cooks break a rule" : "every one of these cooks breaks a rule");
    page_markup(t, "; <code>stallwright cook</code> with the settings of a cook says which.</p>\n");
}

/* What was left out to keep the page small. */
static void put_room(const sweep_page *s, page_text *t)
{
    const size_t all = s->view->run_count, shown = s->shown.count;
    if (shown < all) {
        page_markup(t, "<p class=\"notice\">So that this page stays small, it shows ");
        put_whole(t, shown);
        page_markup(t, " of the ");
        put_whole(t, all);
        page_markup(t, " cooks, chosen evenly%s; the table above counts all of them. The results file and --format csv have "
                       "them all.</p>\n", s->shown.axis_count > 1 ? " along each factor" : "");
    }
    if (s->curves.count < shown) {
        page_markup(t, "<p class=\"notice\">So that this page stays small, the curves of ");
        put_whole(t, s->curve_count);
        page_markup(t, " of these ");
        put_whole(t, shown);
        page_markup(t, " cooks are kept, chosen evenly; of the others there are the figures.</p>\n");
    }
}

/* The run with the least or the most of a figure; run_count if none has it. */
static size_t find_extreme(const sweep_view *v, sweep_figure f, bool is_most)
{
    size_t found = v->run_count;
    for (size_t run = 0; run < v->run_count; run++) {
        const double value = v->figures[f][run];
        if (SW_IS_ABSENT(value))
            continue;
        const double best = found < v->run_count ? v->figures[f][found] : value;
        if (found == v->run_count || (is_most ? value > best : value < best))
            found = run;
    }
    return found;
}

/* The cook with the least or the most of a figure. */
static void put_extreme(const sweep_page *s, page_text *t, sweep_figure f, bool is_most)
{
    const sweep_view *v = s->view;
    const size_t run = find_extreme(v, f, is_most);
    page_markup(t, "<tr><th scope=\"row\">%s, %s</th><td>", sweep_figure_title(f), is_most ? "at most" : "at least");
    page_quantity(t, sweep_figure_kind(f), run < v->run_count ? v->figures[f][run] : SW_ABSENT);
    page_markup(t, "</td><td class=\"words\">");
    if (run < v->run_count)
        put_settings(s, t, run);
    page_markup(t, "</td></tr>\n");
}

static void put_extremes(const sweep_page *s, page_text *t)
{
    char words[QUANTITY_SIZE];
    page_markup(t, "<table class=\"extremes\"><thead><tr><th scope=\"col\">of all cooks</th><th scope=\"col\">figure</th>"
                   "<th scope=\"col\" class=\"words\">in the cook with ");
    for (size_t i = 0; i < sw_study_factor_count(s->view->study); i++) {
        page_markup(t, i ? ", " : "");
        page_escaped(t, factor_words(s->view->study, i, words));
    }
    page_markup(t, "</th></tr></thead><tbody>\n");
    for (size_t i = 0; i < figure_count(s); i++) {
        put_extreme(s, t, page_figures[i], false);
        put_extreme(s, t, page_figures[i], true);
    }
    page_markup(t, "</tbody></table>");
}

static int put_quantiles(const sweep_page *s, page_text *t)
{
    const sweep_view *v = s->view;
    double *values = malloc(v->run_count * sizeof *values), quantiles[PAGE_FIGURES][SWEEP_SHARE_COUNT];
    if (!values) {
        print_error("the quantiles cannot be counted: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    page_markup(t, "<table class=\"cooks\"><thead><tr><th scope=\"col\">of all cooks</th>");
    for (size_t f = 0; f < figure_count(s); f++) {
        page_markup(t, "<th scope=\"col\">%s</th>", sweep_figure_title(page_figures[f]));
        memcpy(values, v->figures[page_figures[f]], v->run_count * sizeof *values);
        for (size_t k = 0; k < SWEEP_SHARE_COUNT; k++)
            quantiles[f][k] = sw_quantile(values, v->run_count, sweep_shares[k]);
    }
    free(values);
    page_markup(t, "</tr></thead><tbody>\n");
    for (size_t k = 0; k < SWEEP_SHARE_COUNT; k++) {
        page_markup(t, "<tr><th scope=\"row\">");
        put_whole(t, (size_t)lround(100.0 * sweep_shares[k]));
        page_markup(t, " %% are below</th>");
        for (size_t f = 0; f < figure_count(s); f++) {
            page_markup(t, "<td>");
            page_quantity(t, sweep_figure_kind(page_figures[f]), quantiles[f][k]);
            page_markup(t, "</td>");
        }
        page_markup(t, "</tr>\n");
    }
    page_markup(t, "</tbody></table>");
    return EXIT_DONE;
}

/* The first failures, each with its sentence. */
static int put_failures(const sweep_page *s, page_text *t)
{
    const sweep_view *v = s->view;
    const size_t failed = sw_study_journal_failures(v->journal);
    size_t listed = 0;
    if (failed == 0)
        return EXIT_DONE;
    page_markup(t, "<section aria-labelledby=\"failures\">\n<h2 id=\"failures\">Cooks that failed</h2>\n<ul>\n");
    for (size_t run = 0; run < v->run_count && listed < failed && listed < FAILURES_LISTED; run++) {
        sw_study_result result;
        if (!v->has_failed[run])
            continue;
        if (sweep_read(v, run, &result) != EXIT_DONE)
            return EXIT_FAILED;
        page_markup(t, "<li>Cook ");
        put_whole(t, run);
        page_markup(t, " (");
        put_settings(s, t, run);
        page_markup(t, "): <span class=\"as-told\">");
        page_worded(t, result.failure, result.failure);
        page_markup(t, "</span>.</li>\n");
        sw_study_result_free(&result);
        listed++;
    }
    page_markup(t, "</ul>\n");
    if (listed < failed) {
        page_markup(t, "<p>");
        put_whole(t, failed - listed);
        page_markup(t, " more failed; --format csv has the sentence of each.</p>\n");
    }
    page_markup(t, "</section>\n");
    return EXIT_DONE;
}

/* ---- data ---- */

static json_t *rounded(double value, double per_unit)
{
    return isfinite(value) ? json_real(round(value * per_unit) / per_unit) : json_null();
}

/* Six digits tell the numbers of a factor apart. */
static json_t *six_digits(double value)
{
    char text[32];
    snprintf(text, sizeof text, "%.6g", value);
    return json_real(atof(text));
}

static json_t *short_text(const char *text)
{
    char cut[LABEL_LONGEST + 4];
    snprintf(cut, sizeof cut, "%.*s%s", LABEL_LONGEST, text, strlen(text) > LABEL_LONGEST ? "..." : "");
    return json_text(cut);
}

static json_t *json_factor(const sweep_page *s, size_t factor)
{
    char words[QUANTITY_SIZE];
    const sw_study *study = s->view->study;
    const sw_factor_view f = sw_study_factor(study, factor);
    json_t *object = json_object(), *values = json_array();
    const char *kind = f.has_numbers ? quantity_kind(&f) : prose_kind_name(PROSE_TEXT);
    json_put_text(object, "key", f.key);
    json_put_text(object, "label", factor_words(study, factor, words));
    json_put_text(object, "kind", kind);
    if (strcmp(kind, "plain") == 0)
        json_put_text(object, "unit", strcmp(sw_quantity_si_unit(f.quantity), "1") == 0 ? "" : sw_quantity_si_unit(f.quantity));
    const bool is_grid = sw_study_design(study) == SW_DESIGN_GRID;
    const size_t count = is_grid ? s->shown.kept[factor] : s->shown.count;
    for (size_t k = 0; k < count; k++) {
        const size_t run = sweep_subset_member(&s->shown, k);
        const size_t value = is_grid ? sweep_subset_value(&s->shown, factor, k) : sw_study_choice(study, run, factor);
        if (!f.has_numbers)
            json_array_append_new(values, short_text(sw_study_listed_label(study, factor, value)));
        else
            json_array_append_new(values, six_digits(is_grid ? sw_study_listed_number(study, factor, value)
                                                             : sw_study_number(study, run, factor)));
    }
    json_object_set_new(object, "values", values);
    return object;
}

/* Readings up to the pull and that of the pull itself, in tenths of a kelvin above 0 C. */
static json_t *json_curve(const sweep_page *s, const sw_study_result *r, sw_study_curve curve, double at_pull)
{
    json_t *list = json_array();
    for (size_t i = 0; i < r->point_count && (double)i * SW_STUDY_CURVE_INTERVAL < r->outcome.done_time - 1.0; i += s->stride)
        json_array_append_new(list, json_integer(lround(10.0 * (r->curves[curve][i] - 273.15))));
    json_array_append_new(list, json_integer(lround(10.0 * (at_pull - 273.15))));
    return list;
}

/* Columns, one entry for each cook shown; the curves have the number of their cook beside them. */
typedef struct columns {
    json_t *run, *figures[PAGE_FIGURES], *unmet, *failures, *of, *probe, *surface;
    size_t sentence_bytes;
} columns;

static void put_curves(const sweep_page *s, columns *c, size_t number, const sw_study_result *r)
{
    json_array_append_new(c->of, json_integer((json_int_t)number));
    json_array_append_new(c->probe, json_curve(s, r, SW_CURVE_PROBE, r->outcome.done_probe));
    json_array_append_new(c->surface, json_curve(s, r, SW_CURVE_TOP_SURFACE, r->outcome.top_surface_at_pull));
}

/* A sentence, true if there is no room for it, or false if the cook did not fail. */
static json_t *json_failure(columns *c, const sw_study_result *r)
{
    if (r->status == SW_OK)
        return json_false();
    c->sentence_bytes += strlen(r->failure);
    return c->sentence_bytes <= SENTENCE_BYTES ? json_text(r->failure) : json_true();
}

static int put_cook(const sweep_page *s, columns *c, size_t number, bool has_curve)
{
    sw_study_result r;
    const size_t run = sweep_subset_member(&s->shown, number);
    if (sweep_read(s->view, run, &r) != EXIT_DONE)
        return EXIT_FAILED;
    json_array_append_new(c->run, json_integer((json_int_t)run));
    for (size_t f = 0; f < figure_count(s); f++)
        json_array_append_new(c->figures[f], rounded(s->view->figures[page_figures[f]][run],
                                                     sweep_figure_kind(page_figures[f]) == PROSE_DURATION ? 10.0 : 1e5));
    json_array_append_new(c->unmet, r.status == SW_OK ? json_integer((json_int_t)r.outcome.unmet_rules) : json_null());
    json_array_append_new(c->failures, json_failure(c, &r));
    if (has_curve && r.status == SW_OK)
        put_curves(s, c, number, &r);
    sw_study_result_free(&r);
    return EXIT_DONE;
}

static json_t *json_figures(const sweep_page *s, const columns *c)
{
    json_t *list = json_array();
    for (size_t f = 0; f < figure_count(s); f++) {
        json_t *object = json_object();
        json_put_text(object, "label", sweep_figure_title(page_figures[f]));
        json_object_set_new(object, "zero", page_figures[f] == SWEEP_late ? json_string("in time") : json_null());
        json_put_text(object, "kind", prose_kind_name(sweep_figure_kind(page_figures[f])));
        json_object_set_new(object, "values", c->figures[f]);
        json_array_append_new(list, object);
    }
    return list;
}

static int put_data(sweep_page *s)
{
    json_t *object = json_object(), *factors = json_array();
    columns c = {json_array(), {NULL}, json_array(), json_array(), json_array(), json_array(), json_array(), 0};
    for (size_t f = 0; f < figure_count(s); f++)
        c.figures[f] = json_array();
    for (size_t i = 0; i < sw_study_factor_count(s->view->study); i++)
        json_array_append_new(factors, json_factor(s, i));
    int status = EXIT_DONE;
    for (size_t number = 0, curve = 0; number < s->shown.count && status == EXIT_DONE; number++) {
        /* Members of a subset rise with their number. */
        const bool has_curve = curve < s->curves.count && sweep_subset_member(&s->curves, curve) == number;
        curve += has_curve;
        status = put_cook(s, &c, number, has_curve);
    }
    s->curve_count = json_array_size(c.of);
    json_put_text(object, "design", sw_design_name(sw_study_design(s->view->study)));
    json_object_set_new(object, "cook_count", json_integer((json_int_t)s->view->run_count));
    json_object_set_new(object, "factors", factors);
    json_object_set_new(object, "figures", json_figures(s, &c));
    json_object_set_new(object, "run", c.run);
    json_object_set_new(object, "unmet_rules", c.unmet);
    json_object_set_new(object, "failures", c.failures);
    json_object_set_new(object, "curve_step_s", json_real((double)s->stride * SW_STUDY_CURVE_INTERVAL));
    json_object_set_new(object, "curve_of", c.of);
    json_object_set_new(object, "probe_celsius_tenths", c.probe);
    json_object_set_new(object, "surface_celsius_tenths", c.surface);
    page_data(s->page, "sweep", object);
    return status;
}

/* The cook that is chosen at first: of a grid one in the middle of its numbers, or the first one that did not fail. */
static size_t first_chosen(const sweep_page *s)
{
    const sw_study *study = s->view->study;
    size_t middle = 0;
    for (size_t i = 0; s->shown.axis_count == sw_study_factor_count(study) && i < s->shown.axis_count; i++)
        middle = middle * s->shown.kept[i] + (sw_study_factor(study, i).has_numbers ? (s->shown.kept[i] - 1) / 2 : 0);
    if (!s->view->has_failed[sweep_subset_member(&s->shown, middle)])
        return middle;
    for (size_t k = 0; k < s->shown.count; k++)
        if (!s->view->has_failed[sweep_subset_member(&s->shown, k)])
            return k;
    return 0;
}

/* The two factors that the table and the chart begin with, and the chosen cook. */
static void put_beginning(const sweep_page *s)
{
    const sweep_plane plane = sweep_plane_of(s->view->study);
    const bool has_across = plane.across < SW_STUDY_FACTORS_MAX;
    page_data(s->page, "sweep_begins",
              json_pack("{s:I, s:o, s:I}", "down", (json_int_t)plane.down, "across",
                        has_across ? json_integer((json_int_t)plane.across) : json_null(), "chosen",
                        (json_int_t)first_chosen(s)));
}

/* ---- all of it ---- */

/* Readings of the curves of a subset of the cooks shown, thinned. */
static size_t count_readings(const sweep_page *s, const sweep_subset *curves)
{
    size_t count = 0;
    for (size_t k = 0; k < curves->count; k++) {
        const size_t run = sweep_subset_member(&s->shown, sweep_subset_member(curves, k));
        if (!s->view->has_failed[run])
            count += (size_t)(s->view->figures[SWEEP_done_time][run] / ((double)s->stride * SW_STUDY_CURVE_INTERVAL)) + 2;
    }
    return count;
}

static void choose_cooks(sweep_page *s, bool is_grid)
{
    const sweep_view *v = s->view;
    s->shown = sweep_subset_of(v->study, is_grid ? GRID_COOKS_MAX : RANDOM_COOKS_MAX,
                               is_grid ? AXIS_VALUES_MAX : RANDOM_COOKS_MAX);
    double longest = 0.0;
    for (size_t k = 0; k < s->shown.count; k++)
        longest = fmax(longest, v->figures[SWEEP_done_time][sweep_subset_member(&s->shown, k)]); /* of NaN the other */
    s->stride = (size_t)(longest / SW_STUDY_CURVE_INTERVAL) / READINGS_MAX + 1;
    const size_t room = CURVE_BYTES / (5 * SW_STUDY_CURVE_COUNT);
    s->curves = sweep_subset_thin(&s->shown, s->shown.count);
    for (size_t readings; (readings = count_readings(s, &s->curves)) > room && s->curves.count > 1;)
        s->curves = sweep_subset_thin(&s->shown, s->curves.count * room / readings);
}

static int fill(sweep_page *s, bool is_grid)
{
    page_common(s->page, sw_study_base(s->view->study));
    put_intro(s, page_begin(s->page, "intro"), is_grid);
    put_safety(s, page_begin(s->page, "safety-note"));
    page_text *t = page_begin(s->page, "figures-table");
    int status = EXIT_DONE;
    if (is_grid)
        put_extremes(s, t);
    else
        status = put_quantiles(s, t);
    if (status == EXIT_DONE)
        status = put_failures(s, page_begin(s->page, "failures"));
    if (status == EXIT_DONE)
        status = put_data(s);
    put_room(s, page_begin(s->page, "room"));
    put_beginning(s);
    return status;
}

int sweep_page_write(const command_options *o, const sweep_view *v)
{
    const bool is_grid = sw_study_design(v->study) == SW_DESIGN_GRID;
    sweep_page s = {.view = v, .page = page_create(o)};
    if (!s.page) {
        print_error("the page could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    choose_cooks(&s, is_grid);
    int status = fill(&s, is_grid);
    if (status == EXIT_DONE)
        return page_write(s.page, is_grid ? "sweep_grid.html" : "sweep_random.html");
    page_abandon(s.page);
    return status;
}
