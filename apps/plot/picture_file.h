/* SPDX-License-Identifier: BSD-3-Clause */
/* What the drawing library leaves out of a picture's file: its title and description, the size of its dots, the date of its making. */
#ifndef SW_APPS_PICTURE_FILE_H
#define SW_APPS_PICTURE_FILE_H

#include "output_file.h"

typedef enum picture_kind { PICTURE_SVG, PICTURE_PNG, PICTURE_PDF } picture_kind;

/* Adds it to a file that is drawn whole. Prints the reason if it fails and returns an exit status. */
int picture_file_describe(const output_file *file, picture_kind kind, const char *title, const char *description, int dots_per_inch);

#endif
