/* SPDX-License-Identifier: BSD-3-Clause */
#include "page.h"

#include "food_safety.h"
#include "json_output.h"
#include "output_file.h"
#include "page_cook.h"
#include "page_parts.h"
#include "quantity.h"
#include "wrap_words.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

enum { TEXTS_MAX = 48 };

struct page_text {
    page *owner;
    const char *name;
    char *text;
    size_t size;
    FILE *stream; /* NULL once it is ended */
};

struct page {
    const command_options *options;
    json_t *data, *quantities, *worded;
    size_t count;
    bool failed; /* memory was short */
    page_text texts[TEXTS_MAX];
};

page *page_create(const command_options *options)
{
    page *p = calloc(1, sizeof *p);
    if (!p)
        return NULL;
    p->options = options;
    p->data = json_object();
    p->quantities = json_array();
    p->worded = json_array();
    return p;
}

static void end_text(page *p)
{
    if (p->count == 0 || !p->texts[p->count - 1].stream)
        return;
    page_text *last = &p->texts[p->count - 1];
    if (fclose(last->stream) != 0)
        p->failed = true;
    last->stream = NULL;
}

page_text *page_begin(page *p, const char *name)
{
    end_text(p);
    page_text *t = &p->texts[p->count < TEXTS_MAX ? p->count++ : TEXTS_MAX - 1];
    *t = (page_text){.owner = p, .name = name};
    t->stream = open_memstream(&t->text, &t->size);
    p->failed = p->failed || !t->stream;
    return t;
}

void page_markup(page_text *t, const char *format, ...)
{
    va_list arguments;
    if (!t->stream)
        return;
    va_start(arguments, format);
    vfprintf(t->stream, format, arguments);
    va_end(arguments);
}

/* Bytes of the UTF-8 character that begins here; 0 if it is none that a page may hold. */
static size_t character_length(const unsigned char *at)
{
    const size_t length = *at < 0x80 ? 1 : (*at & 0xE0) == 0xC0 ? 2 : (*at & 0xF0) == 0xE0 ? 3 : (*at & 0xF8) == 0xF0 ? 4 : 0;
    if (length == 1)
        return *at < 0x20 && *at != '\t' && *at != '\n' ? 0 : 1;
    for (size_t i = 1; i < length; i++)
        if ((at[i] & 0xC0) != 0x80)
            return 0;
    return length;
}

void page_escaped(page_text *t, const char *plain)
{
    if (!t->stream)
        return;
    for (const char *at = plain; *at;) {
        const size_t length = character_length((const unsigned char *)at);
        const char *named = *at == '<' ? "&lt;" : *at == '>' ? "&gt;" : *at == '&' ? "&amp;" : *at == '"' ? "&quot;" :
                            *at == '\'' ? "&#39;" : NULL;
        if (named)
            fputs(named, t->stream);
        else if (length == 0)
            fputc('?', t->stream);
        else
            fwrite(at, 1, length, t->stream);
        at += length > 0 ? length : 1;
    }
}

void page_quantity(page_text *t, prose_kind kind, double value)
{
    prose p;
    char text[QUANTITY_SIZE];
    if (SW_IS_ABSENT(value)) {
        page_markup(t, "<span class=\"absent\">-</span>");
        return;
    }
    prose_clear(&p);
    const prose_piece piece = {.kind = kind, .value = value};
    page_markup(t, "<span class=\"quantity\" data-quantity=\"%zu\">", json_array_size(t->owner->quantities));
    page_escaped(t, prose_show(&p, &piece, t->owner->options->units, text));
    page_markup(t, "</span>");
    json_array_append_new(t->owner->quantities, json_pack("[s, f]", prose_kind_name(kind), value));
}

void page_prose(page_text *t, const prose *p)
{
    for (size_t i = 0; i < p->count; i++) {
        const prose_piece *piece = &p->pieces[i];
        if (piece->kind == PROSE_TEXT)
            page_escaped(t, p->texts + piece->text);
        else
            page_quantity(t, piece->kind, piece->value);
    }
}

void page_worded(page_text *t, const char *si, const char *us)
{
    page_markup(t, "<span data-worded=\"%zu\">", json_array_size(t->owner->worded));
    page_escaped(t, t->owner->options->units == SW_UNITS_US ? us : si);
    page_markup(t, "</span>");
    json_t *both = json_array();
    json_array_append_new(both, json_text(si));
    json_array_append_new(both, json_text(us));
    json_array_append_new(t->owner->worded, both);
}

void page_data(page *p, const char *key, json_t *value)
{
    if (json_object_set_new(p->data, key, value) != 0)
        p->failed = true;
}

void page_meat(page *p, const sw_scenario *s, const sw_meat *asked)
{
    page_text *t = page_begin(p, "meat");
    page_escaped(t, sw_meat_name(&s->meat));
    page_markup(t, ", ");
    page_quantity(t, PROSE_MASS, s->meat.mass);
    page_markup(t, ", ");
    page_quantity(t, PROSE_LENGTH, s->meat.thickness);
    page_markup(t, " thick (%s), modelled as %s; pit at ", thickness_origin(asked), sw_shape_name(s->meat.shape));
    page_quantity(t, PROSE_TEMPERATURE, s->pit.steps[0].temperature);
    page_markup(page_begin(p, "wrap"), "%s", show_wrap(s->wrap.kind, (char[WRAP_WORDS_SIZE]){0}));
}

void page_common(page *p, const sw_scenario *s)
{
    page_text *t = page_begin(p, "title");
    page_escaped(t, s->title);
    t = page_begin(p, "meat-name");
    page_escaped(t, sw_meat_name(&s->meat));
    page_markup(page_begin(p, "deference"), "%s", safety_deference);
    t = page_begin(p, "stall");
    prose words;
    prose_clear(&words);
    prose_add(&words, "from {temperature} to {temperature} rising under {rate}, mean of {duration}, for at least {duration}",
              s->stall.above, s->stall.below, s->stall.rate, s->stall.window, s->stall.duration);
    page_prose(t, &words);
    t = page_begin(p, "hot-holding");
    /* Shown by its own rule, which never rounds a limit down. */
    char si[QUANTITY_SIZE], us[QUANTITY_SIZE];
    show_hot_holding_limit(SW_UNITS_SI, si);
    show_hot_holding_limit(SW_UNITS_US, us);
    page_worded(t, si, us);
    t = page_begin(p, "program");
    page_escaped(t, "stallwright ");
    page_escaped(t, sw_version());
    t = page_begin(p, "units-si");
    page_markup(t, p->options->units == SW_UNITS_SI ? "checked" : "");
    t = page_begin(p, "units-us");
    page_markup(t, p->options->units == SW_UNITS_US ? "checked" : "");
    page_data(p, "heading", json_heading(s));
    page_data(p, "units", json_string(p->options->units == SW_UNITS_US ? "us" : "si"));
}

static bool any_band(const page_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (rows[i].band)
            return true;
    return false;
}

static void put_band(page_text *t, const sw_band *band)
{
    const sw_interval *done = band ? &band->of[SW_SENSITIVE_done] : NULL;
    page_markup(t, "</td><td>");
    if (!done) {
        page_markup(t, "-");
        return;
    }
    page_quantity(t, PROSE_DURATION, done->low);
    if (SW_IS_ABSENT(done->high)) {
        page_markup(t, " or more");
        return;
    }
    page_markup(t, " to ");
    page_quantity(t, PROSE_DURATION, done->high);
}

void page_cooks_table(page_text *t, const page_row *rows, size_t count)
{
    const bool has_band = any_band(rows, count);
    page_markup(t, "<table class=\"cooks\"><thead><tr><th scope=\"col\">cook</th><th scope=\"col\">done after</th>%s"
                   "<th scope=\"col\">stall</th><th scope=\"col\">yield at the pull</th>"
                   "<th scope=\"col\">water evaporated</th></tr></thead><tbody>\n",
                has_band ? "<th scope=\"col\">four in five</th>" : "");
    for (size_t i = 0; i < count; i++) {
        const sw_run *run = rows[i].run;
        const sw_outcome *o = &run->outcome;
        page_markup(t, "<tr><th scope=\"row\">");
        page_escaped(t, rows[i].words);
        page_markup(t, "</th>");
        if (run->status != SW_OK) {
            page_markup(t, "<td>%s</td>%s<td>-</td><td>-</td><td>-</td></tr>\n",
                        run->status == SW_ERR_NEVER_ENDS ? "never" : "failed", has_band ? "<td>-</td>" : "");
            continue;
        }
        page_markup(t, "<td>");
        if (rows[i].never_ends)
            page_markup(t, "never");
        else
            page_quantity(t, PROSE_DURATION, o->done_time);
        if (has_band)
            put_band(t, rows[i].band);
        page_markup(t, "</td><td>");
        if (SW_IS_ABSENT(o->stall_length))
            page_markup(t, "none");
        else
            page_quantity(t, PROSE_DURATION, o->stall_length);
        page_markup(t, "</td><td>");
        page_quantity(t, PROSE_SHARE, rows[i].never_ends ? SW_ABSENT : o->yield_at_pull);
        page_markup(t, "</td><td>");
        page_quantity(t, PROSE_MASS, rows[i].never_ends ? SW_ABSENT : o->at_pull.evaporated_mass);
        page_markup(t, "</td></tr>\n");
    }
    page_markup(t, "</tbody></table>");
}

static json_t *json_axis(const page_axis *a)
{
    json_t *object = json_object(), *values = json_array();
    json_put_text(object, "label", a->label);
    json_put_text(object, "kind", prose_kind_name(a->kind));
    json_object_set_new(object, "planned", json_integer((json_int_t)a->planned));
    for (size_t i = 0; i < a->count; i++)
        json_array_append_new(values, a->kind == PROSE_TEXT ? json_text(a->words[i]) : json_real(a->values[i]));
    json_object_set_new(object, "values", values);
    return object;
}

/* Fewer moments of many cooks, and of a section, which has many cells: so a page stays well under 2 MB. A place takes about
 * 9 bytes at each moment, a point of all curves and of the heat about 90. */
static page_detail choose_detail(size_t cooks, size_t cells, bool is_section)
{
    page_detail d = {.layers = cooks > 20 ? 24 : 48};
    const size_t places = is_section || cells < d.layers ? cells : d.layers;
    const size_t room = 1300000 / (cooks * (9 * places + 90));
    d.moments = room < 4 ? 4 : room > 36 ? 36 : room;
    return d;
}

void page_lab(page *p, const page_axis *axes, size_t axis_count, const sw_run *runs, const bool *never_ends)
{
    json_t *lab = json_object(), *list = json_array(), *cooks = json_array();
    size_t count = 1, cells = 0;
    for (size_t i = 0; i < axis_count; i++) {
        json_array_append_new(list, json_axis(&axes[i]));
        count *= axes[i].count;
    }
    for (size_t i = 0; i < count; i++)
        if (runs[i].history && runs[i].history->cell_count > cells)
            cells = runs[i].history->cell_count;
    const page_detail detail = choose_detail(count, cells, sw_shape_is_section(runs[0].scenario.meat.shape));
    for (size_t i = 0; i < count; i++)
        json_array_append_new(cooks, page_cook(&runs[i], never_ends && never_ends[i], detail));
    json_object_set_new(lab, "axes", list);
    json_object_set_new(lab, "cooks", cooks);
    json_put_text(lab, "shape", sw_shape_name(runs[0].scenario.meat.shape));
    page_data(p, "lab", lab);
    page_text *t = page_begin(p, "lab-count");
    page_markup(t, "%zu", count);
}

/* ---- writing ---- */

static const page_part *find_part(const char *name, size_t length)
{
    for (size_t i = 0; i < page_part_count; i++)
        if (strlen(page_parts[i].name) == length && strncmp(page_parts[i].name, name, length) == 0)
            return &page_parts[i];
    return NULL;
}

static const page_text *find_text(const page *p, const char *name, size_t length)
{
    for (size_t i = 0; i < p->count; i++)
        if (strlen(p->texts[i].name) == length && strncmp(p->texts[i].name, name, length) == 0)
            return &p->texts[i];
    return NULL;
}

/* JSON between script tags: '<' would let "</script>" end it, so it is written by its number, as '>' and '&' are. All of
 * them stand within strings only. */
static void write_data(const page *p, FILE *file)
{
    char *text = json_dumps(p->data, JSON_COMPACT | JSON_ENSURE_ASCII | JSON_REAL_PRECISION(12));
    for (const char *at = text; at && *at; at++) {
        if (*at == '<' || *at == '>' || *at == '&')
            fprintf(file, "\\u%04x", (unsigned)*at);
        else
            fputc(*at, file);
    }
    if (!text)
        fputs("null", file);
    free(text);
}

/* Whether a part is a skeleton, whose names in double braces are filled in. */
static bool is_skeleton(const page_part *part)
{
    const size_t length = strlen(part->name);
    return length > 5 && strcmp(part->name + length - 5, ".html") == 0;
}

static void expand(page *p, const char *at, FILE *file)
{
    for (const char *open; (open = strstr(at, "{{")) != NULL;) {
        const char *close = strstr(open, "}}");
        if (!close)
            break;
        const char *name = open + 2;
        const size_t length = (size_t)(close - name);
        const page_text *text = find_text(p, name, length);
        const page_part *part = find_part(name, length);
        fwrite(at, 1, (size_t)(open - at), file);
        if (length == 4 && strncmp(name, "data", 4) == 0)
            write_data(p, file);
        else if (text)
            fwrite(text->text, 1, text->size, file);
        else if (part && is_skeleton(part))
            expand(p, part->bytes, file);
        else if (part)
            fwrite(part->bytes, 1, part->length, file);
        at = close + 2;
    }
    fputs(at, file);
}

static int write_file(page *p, const char *skeleton)
{
    output_file file;
    const char *path = p->options->page_path;
    const page_part *part = find_part(skeleton, strlen(skeleton));
    int status = output_file_begin(&file, path, "<!DOCTYPE html>", p->options->force);
    if (status != EXIT_DONE)
        return status;
    FILE *stream = fopen(file.temporary, "wb");
    bool good = stream != NULL && part != NULL;
    if (good)
        expand(p, part->bytes, stream);
    good = stream && !ferror(stream) && good;
    good = stream && fclose(stream) == 0 && good;
    if (!good) {
        print_error("the page \"%s\" could not be written whole: is the disk full?", path);
        output_file_abandon(&file);
        return EXIT_FAILED;
    }
    status = output_file_finish(&file);
    if (status == EXIT_DONE)
        print_note(p->options, "page written to \"%s\"", path);
    return status;
}

int page_write(page *p, const char *skeleton)
{
    const page_part *licence = find_part("chart-licence", strlen("chart-licence"));
    page_escaped(page_begin(p, "licence"), licence ? licence->bytes : "");
    end_text(p);
    json_object_set(p->data, "quantities", p->quantities);
    json_object_set(p->data, "worded", p->worded);
    int status = EXIT_FAILED;
    if (p->failed)
        print_error("the page could not be made: %s", sw_status_text(SW_ERR_MEMORY));
    else
        status = write_file(p, skeleton);
    page_abandon(p);
    return status;
}

void page_abandon(page *p)
{
    if (!p)
        return;
    end_text(p);
    for (size_t i = 0; i < p->count; i++)
        free(p->texts[i].text);
    json_decref(p->data);
    json_decref(p->quantities);
    json_decref(p->worded);
    free(p);
}
