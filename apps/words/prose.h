/* SPDX-License-Identifier: BSD-3-Clause */
/* Sentences with quantities in them. A quantity keeps its SI value beside its words, so that the same sentence is printed in
 * one system of units, put into a page that can show both, or checked against the figures it was made from. */
#ifndef SW_APPS_PROSE_H
#define SW_APPS_PROSE_H

#include "quantity.h"

#include <stdbool.h>
#include <stdio.h>

typedef enum prose_kind {
    PROSE_TEXT,
    PROSE_TEMPERATURE, /* [K] */
    PROSE_DIFFERENCE,  /* [K] */
    PROSE_RATE,        /* [K s-1] */
    PROSE_DURATION,    /* [s] */
    PROSE_MASS,        /* [kg] */
    PROSE_LENGTH,      /* [m] */
    PROSE_SHARE,       /* [-] */
    PROSE_POINTS,      /* difference of two shares [-] */
    PROSE_HEAT,        /* [J] */
    PROSE_NUMBER,      /* two decimals [-] */
    PROSE_TIMES,       /* a ratio, three digits [-] */
    PROSE_WHOLE,       /* how many of something [-] */
    PROSE_CHANCE,      /* whole percent, of what counting draws gives [-] */
    PROSE_COUNT
} prose_kind;

/* Room for a recommendation among the most choices there can be. */
enum { PROSE_PIECES_MAX = 200, PROSE_TEXT_SIZE = 3000 };

typedef struct prose_piece {
    prose_kind kind;
    double value;      /* SI, unless a text */
    size_t text;       /* where a text begins in the texts */
} prose_piece;

typedef struct prose {
    size_t count;
    prose_piece pieces[PROSE_PIECES_MAX];
    size_t used;
    char texts[PROSE_TEXT_SIZE];
} prose;

/* Adds text in which {temperature}, {difference}, {rate}, {duration}, {mass}, {length}, {share}, {points}, {heat},
 * {number}, {times}, {whole} and {chance} stand for doubles in SI and {text} for a string, taken from the arguments in their order. */
void prose_add(prose *prose, const char *format, ...);

/* Forgets all text. */
void prose_clear(prose *prose);

/* The name of a kind, as in the format: "temperature". */
const char *prose_kind_name(prose_kind kind);

/* A piece as shown; text has room for QUANTITY_SIZE, and is not used for a text piece. */
const char *prose_show(const prose *prose, const prose_piece *piece, sw_unit_system units, char *text);

/* The whole as plain text, cut short if it does not fit. */
const char *prose_plain(const prose *prose, sw_unit_system units, char *text, size_t size);

/* Prints it in lines of at most 80 columns, what stands first before it and an indent before the other lines. */
void prose_print(const prose *prose, sw_unit_system units, const char *first, const char *indent, FILE *stream);

/* Prints plain text in lines of at most so many columns, in the same way. */
void print_wrapped(const char *text, size_t columns, const char *first, const char *indent, FILE *stream);

#endif
