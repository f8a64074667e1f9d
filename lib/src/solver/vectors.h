/* The integrator's vector operations as loops our own compiler makes fast: SUNDIALS as distributed may be built without
 * optimisation, and half of a small cook is spent in them. */
#ifndef SW_VECTORS_H
#define SW_VECTORS_H

#include <sundials/sundials_nvector.h>

/* Gives a serial vector, and those cloned from it later, the operations of this file. */
void sw_vectors_use(N_Vector vector);

#endif
