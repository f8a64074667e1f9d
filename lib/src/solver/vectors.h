/* SPDX-License-Identifier: BSD-3-Clause */
/* The integrator's vector operations as loops our own compiler makes fast: SUNDIALS as distributed may be built without
 * optimisation, and half of a small cook is spent in them. */
#ifndef SW_VECTORS_H
#define SW_VECTORS_H

#include <stdbool.h>
#include <sundials/sundials_nvector.h>

/* A vector of zeros with these operations, for its clones as well, which it must outlive. NULL without memory. */
N_Vector sw_vector_create(sunindextype length, SUNContext context);

/* Gives another serial vector, such as a view, the loops of this file. */
void sw_vectors_use(N_Vector vector);

/* Whether a clone, of it or of a clone, got no memory: such clones share one place, and nothing may be computed with them. */
bool sw_vector_misses_clones(N_Vector vector);

#endif
