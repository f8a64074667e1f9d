/* SPDX-License-Identifier: BSD-3-Clause */
/* Outlines for tests of sections: some drawn, some random. */
#ifndef SW_TESTS_OUTLINES_H
#define SW_TESTS_OUTLINES_H

#include "section_mesh.h"

enum { TEST_OUTLINE_COUNT = 9, TEST_CORNERS_MAX = 256 };

typedef struct test_outline {
    const char *name;
    size_t count;
    sw_point v[TEST_CORNERS_MAX];
} test_outline;

/* A rectangle, slanted, notched, stepped and thin ones, a polygon on a circle, and the built-in ones. */
test_outline drawn_outline(int kind);

/* Corners on a circle about 0, 0; the polygon has the circle's area if asked for. */
test_outline round_outline(size_t count, double radius, bool of_equal_area);

/* The same number makes the same outline: star-shaped (even numbers) or with a bay (odd), 6 to 30 corners, 6 to 40 cm long. */
test_outline random_outline(unsigned number);

/* A fitted section of so many rows and columns with its first layer [m], as whole cuts get it; vertices are borrowed. */
void fit_section(const test_outline *o, size_t rows, size_t columns, double surface_cell, sw_fitted_section *f);

/* Its mesh; a failure fails the test. */
sw_mesh *fitted_mesh(const sw_fitted_section *f);

#endif
