/* SPDX-License-Identifier: BSD-3-Clause */
#include "yaml_document.h"

#include "memory_at_hand.h"

#include <libfyaml.h>

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* So many empty lines in a row separate nothing any more: libfyaml takes time with their square inside a text. */
enum { DEEPEST = 8, MOST_NODES = 20000, MOST_EMPTY_LINES = 100 };

/* libfyaml crashes where it gets no memory to note the string it is to read, of which it makes no copy: some times what that
 * takes [bytes]. */
static const size_t string_room = (size_t)64 << 10;

struct sw_yaml_document {
    sw_yaml_node *root;
    sw_yaml_node *created_last;
    size_t node_count;
};

/* A mapping or list that is still open, and where its next entry goes. */
typedef struct level {
    sw_yaml_node *node;
    sw_yaml_node **end;
    sw_yaml_node *key; /* read, its value still to come */
} level;

typedef struct builder {
    sw_context *context;
    const char *name;
    sw_yaml_document *document;
    level levels[DEEPEST];
    int depth;
    int document_count;
} builder;

static sw_status refuse(const builder *b, int line, int column, const char *why)
{
    return sw_fail(b->context, SW_ERR_INPUT, "%.300s:%d:%d: %s", b->name, line, column, why);
}

static sw_status no_memory(const builder *b)
{
    return sw_fail(b->context, SW_ERR_MEMORY, "%.300s: memory to read the file could not be allocated", b->name);
}

/* Where a new node stands: at its own mark, or, for a value that is not there, at its key. */
static void place_node(const builder *b, const struct fy_mark *mark, sw_yaml_node *node)
{
    const sw_yaml_node *key = b->depth > 0 ? b->levels[b->depth - 1].key : NULL;
    node->line = mark ? mark->line + 1 : key ? key->line : 1;
    node->column = mark ? mark->column + 1 : key ? key->column : 1;
}

static sw_status create_node(builder *b, sw_yaml_kind kind, const struct fy_mark *mark, sw_yaml_node **created)
{
    sw_yaml_node *node = calloc(1, sizeof *node);
    if (!node)
        return no_memory(b);
    node->kind = kind;
    place_node(b, mark, node);
    node->created_before = b->document->created_last;
    b->document->created_last = node;
    if (++b->document->node_count > MOST_NODES)
        return refuse(b, node->line, node->column, "the file holds far more values than a scenario has");
    *created = node;
    return SW_OK;
}

/* Puts a node into the innermost open mapping or list, or makes it the root. */
static sw_status attach(builder *b, sw_yaml_node *node)
{
    if (b->depth == 0) {
        b->document->root = node;
        return SW_OK;
    }
    level *inner = &b->levels[b->depth - 1];
    if (inner->node->kind == SW_YAML_MAPPING && !inner->key) {
        if (node->kind != SW_YAML_SCALAR)
            return refuse(b, node->line, node->column, "a mapping or a list stands where a key is expected");
        inner->key = node;
        return SW_OK;
    }
    node->key = inner->key;
    inner->key = NULL;
    *inner->end = node;
    inner->end = &node->next;
    return SW_OK;
}

static sw_status open_level(builder *b, sw_yaml_kind kind, const struct fy_mark *mark)
{
    sw_yaml_node *node = NULL;
    sw_status status = create_node(b, kind, mark, &node);
    if (status == SW_OK)
        status = attach(b, node);
    if (status != SW_OK)
        return status;
    if (b->depth == DEEPEST)
        return refuse(b, node->line, node->column, "the values are nested deeper than a scenario ever is");
    b->levels[b->depth++] = (level){.node = node, .end = &node->first};
    return SW_OK;
}

static sw_status add_scalar(builder *b, struct fy_event *event, const struct fy_mark *mark)
{
    sw_yaml_node *node = NULL;
    sw_status status = create_node(b, SW_YAML_SCALAR, mark, &node);
    if (status != SW_OK)
        return status;
    size_t length = 0;
    const char *text = fy_token_get_text(event->scalar.value, &length);
    enum fy_scalar_style style = fy_token_scalar_style(event->scalar.value);
    node->quoted = style != FYSS_PLAIN;
    /* The mark of a quoted scalar is behind its opening quote. */
    if (style == FYSS_SINGLE_QUOTED || style == FYSS_DOUBLE_QUOTED)
        node->column--;
    node->text = malloc(length + 1);
    if (!node->text || (!text && length > 0))
        return no_memory(b);
    if (length > 0)
        memcpy(node->text, text, length);
    node->text[length] = '\0';
    if (strlen(node->text) != length)
        return refuse(b, node->line, node->column, "the text holds a NUL character");
    return attach(b, node);
}

static struct fy_token *anchor_of(const struct fy_event *event)
{
    return event->type == FYET_SCALAR           ? event->scalar.anchor
           : event->type == FYET_MAPPING_START  ? event->mapping_start.anchor
           : event->type == FYET_SEQUENCE_START ? event->sequence_start.anchor
                                                : NULL;
}

static struct fy_token *tag_of(const struct fy_event *event)
{
    return event->type == FYET_SCALAR           ? event->scalar.tag
           : event->type == FYET_MAPPING_START  ? event->mapping_start.tag
           : event->type == FYET_SEQUENCE_START ? event->sequence_start.tag
                                                : NULL;
}

/* Refuses the parts of YAML that would make a file say something else than what is written at a place. */
static sw_status refuse_special(const builder *b, const struct fy_event *event, const struct fy_mark *mark)
{
    struct fy_token *anchor = anchor_of(event), *tag = tag_of(event);
    const struct fy_mark *special = anchor ? fy_token_start_mark(anchor) : tag ? fy_token_start_mark(tag) : mark;
    int line = special ? special->line + 1 : 1, column = special ? special->column + 1 : 1;
    /* The mark of an anchor or alias is behind its sign. */
    if (event->type == FYET_ALIAS || anchor)
        return refuse(b, line, column - 1,
                      "anchors (&) and aliases (*) are not understood in a scenario; write the value out");
    if (tag)
        return refuse(b, line, column, "tags (!) are not understood in a scenario; write the value alone");
    return SW_OK;
}

static sw_status take_event(builder *b, struct fy_event *event)
{
    const struct fy_mark *mark = fy_event_start_mark(event);
    sw_status status = refuse_special(b, event, mark);
    if (status != SW_OK)
        return status;
    switch (event->type) {
    case FYET_DOCUMENT_START:
        if (b->document_count++ > 0)
            return refuse(b, mark ? mark->line + 1 : 1, 1, "a second document begins; a scenario is one document");
        return SW_OK;
    case FYET_MAPPING_START:
        return open_level(b, SW_YAML_MAPPING, mark);
    case FYET_SEQUENCE_START:
        return open_level(b, SW_YAML_LIST, mark);
    case FYET_MAPPING_END:
    case FYET_SEQUENCE_END:
        b->depth--;
        return SW_OK;
    case FYET_SCALAR:
        return add_scalar(b, event, mark);
    default:
        return SW_OK;
    }
}

static void discard_output(struct fy_diag *diagnostics, void *user, const char *text, size_t length)
{
    (void)diagnostics;
    (void)user;
    (void)text;
    (void)length;
}

static struct fy_diag *create_silent_diagnostics(void)
{
    struct fy_diag_cfg settings;
    fy_diag_cfg_default(&settings);
    settings.fp = NULL;
    settings.output_fn = discard_output;
    settings.level = FYET_ERROR;
    settings.colorize = false;
    struct fy_diag *diagnostics = fy_diag_create(&settings);
    if (diagnostics)
        fy_diag_set_collect_errors(diagnostics, true);
    return diagnostics;
}

static sw_status refuse_syntax(const builder *b, struct fy_diag *diagnostics)
{
    void *position = NULL;
    const struct fy_diag_error *error = fy_diag_errors_iterate(diagnostics, &position);
    char why[300];
    snprintf(why, sizeof why, "this is not valid YAML: %s",
             error && error->msg ? error->msg : "its beginning is not understood");
    return refuse(b, error && error->line > 0 ? error->line : 1, error && error->column > 0 ? error->column : 1, why);
}

static sw_status take_all_events(builder *b, struct fy_parser *parser, struct fy_diag *diagnostics)
{
    sw_status status = SW_OK;
    struct fy_event *event;
    errno = 0;
    while (status == SW_OK && (event = fy_parser_parse(parser)) != NULL) {
        status = take_event(b, event);
        fy_parser_event_free(parser, event);
    }
    /* Without memory the parser stops as if the text were wrong, or at an end. */
    if (status == SW_OK && errno == ENOMEM)
        return no_memory(b);
    if (status == SW_OK && (fy_parser_get_stream_error(parser) || fy_diag_got_error(diagnostics)))
        status = refuse_syntax(b, diagnostics);
    if (status == SW_OK && !b->document->root)
        status = refuse(b, 1, 1, "the file is empty; a scenario holds at least one key");
    return status;
}

static sw_status refuse_many_empty_lines(const builder *b, const char *text, size_t length)
{
    int line = 1, empty = 0;
    bool is_empty = true;
    for (size_t i = 0; i < length; i++) {
        bool ends = text[i] == '\n' || (text[i] == '\r' && !(i + 1 < length && text[i + 1] == '\n'));
        is_empty = is_empty && strchr(" \t\r\n", text[i]) && text[i];
        if (!ends)
            continue;
        empty = is_empty ? empty + 1 : 0;
        if (empty > MOST_EMPTY_LINES)
            return refuse(b, line, 1, "more than 100 empty lines follow each other here; that is no scenario");
        is_empty = true;
        line++;
    }
    return SW_OK;
}

sw_status sw_yaml_document_create(sw_context *context, const char *name, const char *text, size_t length,
                                  sw_yaml_document **document)
{
    builder b = {.context = context, .name = name};
    sw_status status = refuse_many_empty_lines(&b, text, length);
    if (status != SW_OK)
        return status;
    b.document = calloc(1, sizeof *b.document);
    struct fy_diag *diagnostics = create_silent_diagnostics();
    struct fy_parse_cfg settings = {
        .search_path = "", .flags = FYPCF_QUIET | FYPCF_COLLECT_DIAG | FYPCF_JSON_NONE, .diag = diagnostics};
    struct fy_parser *parser = diagnostics ? fy_parser_create(&settings) : NULL;
    if (!b.document || !parser || !sw_memory_is_at_hand(string_room) || fy_parser_set_string(parser, text, length) != 0)
        status = no_memory(&b);
    if (status == SW_OK)
        status = take_all_events(&b, parser, diagnostics);
    if (parser)
        fy_parser_destroy(parser);
    if (diagnostics)
        fy_diag_destroy(diagnostics);
    if (status != SW_OK) {
        sw_yaml_document_destroy(b.document);
        return status;
    }
    *document = b.document;
    return SW_OK;
}

void sw_yaml_document_destroy(sw_yaml_document *document)
{
    if (!document)
        return;
    while (document->created_last) {
        sw_yaml_node *node = document->created_last;
        document->created_last = node->created_before;
        free(node->text);
        free(node);
    }
    free(document);
}

const sw_yaml_node *sw_yaml_document_root(const sw_yaml_document *document)
{
    return document->root;
}
