/* The page of an explanation: its story in five sections, and a laboratory of cooks. */
#ifndef SW_APPS_STORY_PAGE_H
#define SW_APPS_STORY_PAGE_H

#include "cook_grid.h"
#include "explanation.h"

/* Writes it to the path of --page. Prints the reason if it fails; returns an exit status. */
int story_page_write(const command_options *options, const explanation *explanation, const cook_grid *grid);

#endif
