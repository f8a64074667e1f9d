/* SPDX-License-Identifier: BSD-3-Clause */
/* The page of an explanation: its story in five sections, and a laboratory of cooks. */
#ifndef SW_APPS_STORY_PAGE_H
#define SW_APPS_STORY_PAGE_H

#include "options.h"

/* Writes it to the path of --page. inputs: what moves the cook; NULL if it never ends. Prints the reason if it fails; returns an
 * exit status. */
int story_page_write(const command_options *options, const sw_explanation *explanation, const sw_cook_grid *grid,
                     const sw_sensitivity *inputs);

#endif
