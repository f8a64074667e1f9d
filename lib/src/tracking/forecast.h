/* SPDX-License-Identifier: BSD-3-Clause */
/* Cooks that agree with the readings, going on from now in one way or another. */
#ifndef SW_FORECAST_H
#define SW_FORECAST_H

#include "estimate.h"

/* How the likeliest cook goes on: what later drift is sized by. */
typedef struct sw_course_ahead {
    double moments[SW_TRACK_MOMENTS], temperatures[SW_TRACK_MOMENTS];
    double done; /* [s] */
} sw_course_ahead;

/* One way to go on. */
typedef struct sw_forecast {
    const sw_estimate *estimate;
    sw_track_choice_kind kind;
    size_t deciding;       /* the probe that answers */
    size_t draws;
    const sw_course_ahead *ahead;
    bool keeps_all;        /* fan, stall and wrap are wanted too */
    /* out, draws of each; figures of a draw that does not get there are INFINITY or SW_ABSENT */
    double *normal;        /* draws x count */
    double *weight;
    double *done, *yield, *bark;
    double *stall_start, *stall_end, *wrap, *offset, *level; /* keeps_all; level: what the probe reads now [K] */
    double *fan;           /* keeps_all: draws x SW_TRACK_MOMENTS [K] */
    size_t failed;
    double *room;          /* all of these; release with sw_forecast_free */
    double *paths;         /* private: offsets ahead, draws x SW_TRACK_MOMENTS [K] */
} sw_forecast;

/* A scenario that goes on from now in a way. Whether that differs from going on as planned. */
bool sw_choice_scenario(sw_track_choice_kind kind, const sw_track_question *question, sw_scenario *scenario);

/* Wraps that are planned at a temperature of the probe, which reads the curve plus an offset: those whose temperature the curve has
 * now go on now. level: of the curve [K]. */
void sw_wraps_ahead(double now, double level, double offset, sw_scenario *scenario);

/* Makes the draws. SW_OK, SW_ERR_CANCELLED, SW_ERR_MEMORY, SW_ERR_SOLVER (none runs). */
sw_status sw_forecast_make(sw_context *context, sw_forecast *forecast);
void sw_forecast_free(sw_forecast *forecast);

/* From logarithms to weights that sum to 1, the largest cut off (Ionides 2008): at the mean times the root of their number. False if none
 * is finite. */
bool sw_weights_from_logarithms(double *weight, size_t count);

/* 10, 50 and 90 % of weighted values; absent ones are left out. SW_ABSENT if there is none. */
sw_track_band sw_weighted_band(const double *values, const double *weights, size_t count, size_t stride);

/* Sets what is doubted of a track whose draws are known. */
void sw_find_doubts(const sw_estimate *estimate, sw_track *track);

#endif
