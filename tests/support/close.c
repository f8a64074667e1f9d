/* SPDX-License-Identifier: BSD-3-Clause */
#include "close.h"

#include <math.h>

void sw_assert_close(double got, double want, double tolerance, int relative, const char *what, const char *file,
                     int line)
{
    double allowed = relative ? tolerance * fabs(want) : tolerance;
    double difference = fabs(got - want);
    if (difference <= allowed)
        return;
    print_error("%s = %.15g, expected %.15g, difference %.3g, allowed %.3g\n", what, got, want, difference, allowed);
    _fail(file, line);
}

void sw_assert_within(double got, double low, double high, const char *what, const char *file, int line)
{
    if (got >= low && got <= high)
        return;
    print_error("%s = %.15g, expected %.15g .. %.15g\n", what, got, low, high);
    _fail(file, line);
}
