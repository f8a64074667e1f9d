/* SPDX-License-Identifier: BSD-3-Clause */
/* The page of a plan: the timetable on one sheet for the fridge door, and on the screen the odds. */
#ifndef SW_APPS_PLAN_PAGE_H
#define SW_APPS_PLAN_PAGE_H

#include "options.h"
#include "plan_view.h"

/* Writes it to the path of --page. Prints the reason if it fails; returns an exit status. Of a plan with starts. */
int plan_page_write(const command_options *options, const plan_view *view);
int plan_page_write_pieces(const command_options *options, const plan_party *party);

#endif
