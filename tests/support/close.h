/* SPDX-License-Identifier: BSD-3-Clause */
/* Double-precision comparisons: cmocka's own compare floats. */
#ifndef SW_TESTS_CLOSE_H
#define SW_TESTS_CLOSE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* Fails unless |got - want| <= tolerance; prints both values, the difference and the tolerance. NaN always fails. */
#define assert_close_abs(got, want, tolerance)                                                                         \
    sw_assert_close((got), (want), (tolerance), 0, #got, __FILE__, __LINE__)

/* Fails unless |got - want| <= tolerance * |want|. */
#define assert_close_rel(got, want, tolerance)                                                                         \
    sw_assert_close((got), (want), (tolerance), 1, #got, __FILE__, __LINE__)

/* Fails unless low <= got <= high. */
#define assert_within(got, low, high) sw_assert_within((got), (low), (high), #got, __FILE__, __LINE__)

void sw_assert_close(double got, double want, double tolerance, int relative, const char *what, const char *file,
                     int line);
void sw_assert_within(double got, double low, double high, const char *what, const char *file, int line);

#endif
