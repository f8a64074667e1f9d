/* SPDX-License-Identifier: BSD-3-Clause */
#include "read_pieces.h"

#include "idle_keys.h"
#include "messages.h"

#include <stdio.h>
#include <string.h>

static bool begins_with(const char *text, const char *beginning)
{
    return strncmp(text, beginning, strlen(beginning)) == 0;
}

bool is_key_of_piece(const sw_scenario_key *key)
{
    static const char *const groups[] = {"meat.", "wrap.", "rewrap.", "spritz.", "rest."}, *const alone[] = {"pull", "pit.pieces", "serving.trimming"};
    for (size_t i = 0; i < sizeof groups / sizeof *groups; i++)
        if (begins_with(key->name, groups[i]))
            return true;
    for (size_t i = 0; i < sizeof alone / sizeof *alone; i++)
        if (strcmp(key->name, alone[i]) == 0)
            return true;
    return false;
}

/* The pit, hold and serving of the plan with the meat of a piece, and what is done with it. */
static void take_piece(const sw_scenario *plan, const sw_scenario *own, sw_scenario *piece)
{
    *piece = *plan;
    piece->meat = own->meat;
    piece->wrap = own->wrap;
    piece->rewrap = own->rewrap;
    piece->spritz = own->spritz;
    piece->pull = own->pull;
    piece->rest = own->rest;
    piece->pit.pieces = own->pit.pieces;
    piece->serving.trimming = own->serving.trimming;
}

/* What a piece's file says and the plan's scenario decides, if they differ. A title does no harm. */
static void note_left_aside(const session *s, const command_options *o, const char *path, const sw_scenario *own)
{
    char names[600] = "", place[SW_KEY_PLACE_SIZE];
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        const size_t length = strlen(names);
        if (is_key_of_piece(key) || strcmp(key->name, "title") == 0 || !*sw_scenario_key_place(s->reader, key, place) ||
            sw_scenario_key_same(key, own, &s->scenario))
            continue;
        snprintf(names + length, sizeof names - length, "%s%s", *names ? ", " : "", key->name);
    }
    if (*names)
        print_note(o, "%s: ignored, since the scenario of the plan decides: %s", path, names);
}

/* A key of the piece that changes nothing in it. */
static void note_idle(const session *s, const command_options *o, const sw_scenario *piece)
{
    static session of_piece;
    idle_keys keys = {{false}};
    of_piece = *s;
    of_piece.scenario = *piece;
    idle_keys_see(&keys, piece);
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        keys.counts[i] = keys.counts[i] || !is_key_of_piece(sw_scenario_key_at(i));
    idle_keys_note(&keys, &of_piece, o);
}

/* Called after its file; a second of the same name is numbered. */
static void name_piece(const char *path, size_t number, plan_pieces *pieces)
{
    const char *slash = strrchr(path, '/'), *name = slash ? slash + 1 : path;
    const size_t length = strlen(name);
    const bool is_yaml = length > 5 && strcmp(name + length - 5, ".yaml") == 0;
    size_t same = 0;
    char *label = pieces->labels[number];
    snprintf(label, PIECE_LABEL_SIZE - 4, "%.*s", (int)(is_yaml ? length - 5 : length), strcmp(path, "-") == 0 ? "standard input" : name);
    const size_t used = strlen(label);
    for (size_t i = 0; i < number; i++)
        same += strncmp(pieces->labels[i], label, used) == 0 && (pieces->labels[i][used] == '\0' || pieces->labels[i][used] == ' ');
    if (same > 0)
        snprintf(label + used, PIECE_LABEL_SIZE - used, " %zu", same + 1);
}

static int read_piece(session *s, const command_options *o, const char *path, plan_pieces *pieces)
{
    static sw_scenario own;
    sw_scenario *piece = &pieces->scenarios[pieces->count];
    sw_scenario_init(&own);
    sw_status status = sw_scenario_read(s->context, s->reader, path, &own);
    if (status == SW_ERR_FILE) {
        report(s, status);
        return EXIT_BAD_USE;
    }
    if (status == SW_OK) {
        take_piece(&s->scenario, &own, piece);
        status = sw_scenario_check_read(s->context, s->reader, piece);
    }
    if (status != SW_OK)
        return report(s, status);
    note_left_aside(s, o, path, &own);
    note_idle(s, o, piece);
    name_piece(path, pieces->count++, pieces);
    return EXIT_DONE;
}

int read_pieces(session *s, const command_options *o, const char *list, plan_pieces *pieces)
{
    if (!session_reader(s))
        return EXIT_FAILED;
    for (const char *path = list;;) {
        const size_t length = strcspn(path, ",");
        char name[4096];
        if (length == 0 || length >= sizeof name) {
            print_error("--pieces is \"%s\"; it takes scenario files with commas between, such as flat.yaml,shoulder.yaml", list);
            return EXIT_BAD_USE;
        }
        if (pieces->count == SW_PLAN_PIECES_MAX) {
            print_error("--pieces is \"%s\"; it takes at most %d files", list, SW_PLAN_PIECES_MAX);
            return EXIT_BAD_USE;
        }
        snprintf(name, sizeof name, "%.*s", (int)length, path);
        const int status = read_piece(s, o, name, pieces);
        if (status != EXIT_DONE)
            return status;
        if (path[length] == '\0')
            break;
        path += length + 1;
    }
    const sw_status status = sw_plan_share_pit(s->context, pieces->scenarios, pieces->count);
    return status == SW_OK ? EXIT_DONE : report(s, status);
}
