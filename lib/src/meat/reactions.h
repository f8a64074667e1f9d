/* SPDX-License-Identifier: BSD-3-Clause */
/* The reactions that go on throughout the meat, followed in every cell and at every probe as the cook runs.
 * Theory: docs/theory/doneness.md. */
#ifndef SW_REACTIONS_H
#define SW_REACTIONS_H

#include "body.h"
#include "table.h"

#include <stallwright/kinetics.h>

/* Reactions side by side, filled up to whole vector registers: the places past the last reaction stand still. */
enum { SW_REACTION_LANES = (SW_INNER_REACTION_COUNT + 3) / 4 * 4 };

/* One place that is followed: a cell, or after the cells a probe. */
typedef struct sw_reacting_place {
    double temperature;                  /* at the last update [K] */
    double mean;                         /* over the time between the last two updates [K] */
    double rate[SW_REACTION_LANES];      /* at the last update [s-1] */
    double remaining[SW_REACTION_LANES]; /* share that has not reacted */
    double outside[SW_REACTION_LANES];   /* share that reacted outside the range the law was fitted to */
} sw_reacting_place;

/* The laws, side by side. */
typedef struct sw_reaction_lanes {
    double log_by_inverse[SW_REACTION_LANES];     /* logarithm of the rate by -1/T: E/R [K] */
    double log_by_temperature[SW_REACTION_LANES]; /* and by T [K-1] */
    double lowest[SW_REACTION_LANES], highest[SW_REACTION_LANES]; /* range of the law [K] */
} sw_reaction_lanes;

typedef struct sw_reactions {
    const sw_body *body;
    sw_reaction_lanes laws;
    sw_table rates;
    size_t place_count; /* cells and probes */
    sw_reacting_place *places;
    double last_time; /* of the last update [s] */
    double seen_time; /* up to which temperatures were followed since [s] */
    double *seen;     /* of each place, the temperature then [K] */
    double *area;     /* and its integral over time from last_time to seen_time [K s] */
} sw_reactions;

/* state: at time 0; rendering: how fast fat renders, over its law; context: keeps the table of rates for others, may be NULL. Returns 0 or -1 if memory is short. */
int sw_reactions_init(sw_context *context, sw_reactions *reactions, const sw_body *body, const double *state, double rendering);
void sw_reactions_free(sw_reactions *reactions);

/* Takes over how far those of the same body have got. */
void sw_reactions_copy(sw_reactions *reactions, const sw_reactions *from);

/* Follows temperatures to a time, given the state then and the one halfway since they were last followed to: they run along the
 * parabola through the three. */
void sw_reactions_follow(sw_reactions *reactions, double time, const double *halfway, const double *state);

/* Whether the time followed since the last update is long enough for the next. */
bool sw_reactions_are_due(const sw_reactions *reactions);

/* Takes the reactions on to the time that temperatures were followed to. */
void sw_reactions_advance(sw_reactions *reactions);

/* Share of a place that has not reacted at a time after temperatures were followed last, for a row in between; takes nothing
 * on. halfway and state as above. */
double sw_reactions_remaining(const sw_reactions *reactions, size_t place, sw_reaction reaction, double time,
                              const double *halfway, const double *state);

/* The same of all cells, and the mean temperature of each from the last update to such a time [K]. */
void sw_reactions_of_cells(const sw_reactions *reactions, sw_reaction reaction, double time, const double *halfway,
                           const double *state, double *remaining, double *mean);

/* The place of a probe, and its number among the places. */
const sw_reacting_place *sw_reactions_at_probe(const sw_reactions *reactions, size_t probe);
size_t sw_reactions_place_of_probe(const sw_reactions *reactions, size_t probe);

/* Whether a reaction is told of a region: collagen and proteins of lean meat only. */
bool sw_reaction_belongs(sw_reaction reaction, int region);

/* Of all that reacted in the cells a reaction belongs to, the share that did so outside its range; 0 if nothing did. */
double sw_reactions_outside(const sw_reactions *reactions, sw_reaction reaction);

#endif
