/* SPDX-License-Identifier: BSD-3-Clause */
#include "thermal_death.h"

#include <math.h>

const sw_thermal_death sw_appendix_a_fit = {.reference = 273.15 + 60.0,
                                            .d_value = 1.77 * 60.0,
                                            .z = 5.56,
                                            .lowest = 273.15 + (130 - 32) / 1.8,
                                            .highest = 273.15 + (157 - 32) / 1.8};

/* Seconds at the reference that are worth one second at a temperature. */
static double worth(const sw_thermal_death *law, double temperature)
{
    return pow(10.0, (temperature - law->reference) / law->z);
}

static double of_straight(const sw_thermal_death *law, double duration, double a, double b)
{
    double low = fmin(a, b), high = fmax(a, b), span = high - low;
    if (high < law->lowest)
        return 0.0;
    if (span < 1e-9)
        return duration * worth(law, fmin(high, law->highest));
    double from = fmin(fmax(low, law->lowest), law->highest), to = fmin(high, law->highest);
    double within = law->z / log(10.0) * (worth(law, to) - worth(law, from));
    double above = fmax(high - fmax(low, law->highest), 0.0) * worth(law, law->highest);
    return duration / span * (within + above);
}

double sw_log_reduction(const sw_thermal_death *law, const double *time, const double *temperature, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i + 1 < count; i++)
        sum += of_straight(law, time[i + 1] - time[i], temperature[i], temperature[i + 1]);
    return sum / law->d_value;
}
