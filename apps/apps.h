/* SPDX-License-Identifier: BSD-3-Clause */
/* The apps of the program; each stands in a file of its name. */
#ifndef SW_APPS_APPS_H
#define SW_APPS_APPS_H

#include "options.h"

extern const subcommand cook_app;
extern const subcommand compare_app;
extern const subcommand sweep_app;
extern const subcommand draw_app;
extern const subcommand explain_app;
extern const subcommand plan_app;
extern const subcommand track_app;

#endif
