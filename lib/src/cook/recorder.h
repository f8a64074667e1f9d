/* SPDX-License-Identifier: BSD-3-Clause */
/* A cook under way, and what of it goes into its history: rows, cross-sections, phases with their budgets, reactions. */
#ifndef SW_RECORDER_H
#define SW_RECORDER_H

#include <stallwright/cook.h>

#include "bark.h"
#include "body.h"
#include "rendering.h"
#include "surroundings.h"
#include "transport_problem.h"

/* A cook under way. */
typedef struct sw_cook {
    sw_context *context;
    sw_scenario scenario;  /* a copy, dimensions and probes filled in */
    sw_cook_observer observer;
    void *observer_data;
    sw_body body;
    sw_integrator *integrator;
    sw_reactions reactions;
    sw_rendering rendering;
    sw_bark bark;
    sw_history *history;
    double *state, *slope, *halfway; /* scratch, one state each */
    size_t top_face, bottom_face; /* boundary faces above and below the first probe */
    double enthalpy_at_start, water_at_start;
    double most_heat_moved; /* so far at the end of a phase [J] */
    double time;           /* reached [s] */
    double next_row, next_field;
    sw_around around;
    double next_spritz;    /* [s], INFINITY for none */
    sw_place bench;        /* where the meat lies while it is wrapped */
    bool given_up;         /* a phase did not end */
    struct sw_branches *branches; /* cooks that may begin like this one; NULL for none */
    double added, poured, spilled; /* liquid poured or sprayed on, taken out of a wrap, sprayed and not clinging [kg] */
} sw_cook;

/* SW_ERR_MEMORY, with its sentence. */
sw_status sw_record_out_of_memory(sw_cook *cook);

/* The probe that decides in a state, if several do. */
const sw_probe *sw_cook_deciding_probe(const sw_cook *cook, const double *state);

/* The first row and cross-section. Returns SW_OK, SW_ERR_MEMORY or SW_ERR_SOLVER, as the others do. */
sw_status sw_record_start(sw_cook *cook);

/* The row of a time [s] within the last step, with a cross-section or without. */
sw_status sw_record_at(sw_cook *cook, double time, bool with_field);

/* Takes what is followed beside the integrator through the step that ended now, with all rows and cross-sections that fall
 * due in it. ended: the stretch ends with it. */
sw_status sw_record_step(sw_cook *cook, bool ended);

/* A phase that began at start [s] and ends now, after the row of its end. Until a later one ends, what the history has
 * of the end is of this one: the budget, and how far the reactions got. */
sw_status sw_record_phase(sw_cook *cook, sw_phase phase, double start);

/* SW_OK, or SW_ERR_SOLVER if a balance is left open at the end by more than SW_OPEN_BALANCE_MAX. */
sw_status sw_record_check_balances(const sw_cook *cook);

#endif
