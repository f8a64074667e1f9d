/* SPDX-License-Identifier: BSD-3-Clause */
/* The border of the transport's Jacobian: rows and columns of the lumped unknowns. */
#ifndef SW_TRANSPORT_BORDER_H
#define SW_TRANSPORT_BORDER_H

#include "transport.h"

/* After the cells' own Jacobian of a state: exchange and rate are that evaluation's. Returns 0, or 1 if a surface finds no
 * balance. */
int sw_transport_fill_border(sw_transport *transport, double time, const double *state,
                             const double exchange[SW_EXCHANGE_COUNT], const double *rate, const sw_border *border);

#endif
