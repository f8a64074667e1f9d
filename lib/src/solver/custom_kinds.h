/* SPDX-License-Identifier: BSD-3-Clause */
/* What matrices and solvers of our own say of themselves to SUNDIALS. */
#ifndef SW_CUSTOM_KINDS_H
#define SW_CUSTOM_KINDS_H

#include <sundials/sundials_linearsolver.h>

static inline SUNMatrix_ID sw_custom_matrix_id(SUNMatrix matrix)
{
    (void)matrix;
    return SUNMATRIX_CUSTOM;
}

static inline SUNLinearSolver_ID sw_custom_solver_id(SUNLinearSolver solver)
{
    (void)solver;
    return SUNLINEARSOLVER_CUSTOM;
}

static inline SUNLinearSolver_Type sw_direct_solver_type(SUNLinearSolver solver)
{
    (void)solver;
    return SUNLINEARSOLVER_DIRECT;
}

#endif
