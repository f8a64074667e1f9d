/* SPDX-License-Identifier: BSD-3-Clause */
/* A sweep as CSV and JSON: every cook with its values and figures. Written cook by cook, so that the memory needed does
 * not grow with their number. Return an exit status. */
#ifndef SW_APPS_SWEEP_TEXT_H
#define SW_APPS_SWEEP_TEXT_H

#include "sweep_view.h"

int sweep_print_csv(const sweep_view *view);
int sweep_print_json(const sweep_view *view);

#endif
