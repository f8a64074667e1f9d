/* SPDX-License-Identifier: BSD-3-Clause */
/* The surface of the meat on its way to a bark: how long it lay open on the pit, how wet it is, how far it has browned.
 * Theory: docs/theory/bark.md. */
#ifndef SW_BARK_H
#define SW_BARK_H

#include "body.h"

/* A piece of surface: the outermost cell behind a boundary face. */
typedef struct sw_bark_face {
    bool is_open;       /* on the pit, nothing between it and the air */
    double open_time;   /* [s] */
    double temperature; /* at the last update [K] */
    double share;       /* of the rate of browning that its water allows, at the last update */
    double unbrowned;   /* share */
    double outside;     /* share browned outside the range of the law */
} sw_bark_face;

typedef struct sw_bark {
    const sw_body *body;
    sw_bark_face *faces; /* one a boundary face */
    double last_time;    /* [s] */
} sw_bark;

/* state: at time 0. Returns 0 or -1 if memory is short. */
int sw_bark_init(sw_bark *bark, const sw_body *body, const double *state);
void sw_bark_free(sw_bark *bark);

/* Takes over how far that of the same body has got. */
void sw_bark_copy(sw_bark *bark, const sw_bark *from);

/* From now on the meat is on the pit or not, with a wrap or none. */
void sw_bark_surround(sw_bark *bark, bool on_pit, const sw_wrap *wrap, sw_wrap_kind kind);

/* Takes the surface on to a time whose state is given. */
void sw_bark_advance(sw_bark *bark, double time, const double *state);

#endif
