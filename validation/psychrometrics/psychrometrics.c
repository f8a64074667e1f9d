/* SPDX-License-Identifier: BSD-3-Clause */
/* Moist air against the general open-source library psychrolib. */
#include "cases.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double celsius = 273.15;

/* What a row of the reference compares: its tolerance, absolute or relative, from the difference of the formulations. */
typedef struct compared {
    const char *name, *text;
    double tolerance;
    bool relative;
    sw_status (*compute)(const csv_table *t, size_t row, double *value);
} compared;

static sw_status saturation_pressure(const csv_table *t, size_t row, double *value)
{
    return sw_saturation_pressure(csv_number(t, row, "temperature") + celsius, value);
}

static sw_status vapour_pressure(const csv_table *t, size_t row, double *value)
{
    return sw_vapour_pressure(csv_number(t, row, "humidity_ratio"), csv_number(t, row, "pressure"), value);
}

static sw_status dew_point(const csv_table *t, size_t row, double *value)
{
    double pressure;
    sw_status status = vapour_pressure(t, row, &pressure);
    if (status == SW_OK)
        status = sw_saturation_temperature(pressure, value);
    *value -= celsius;
    return status;
}

static sw_status wet_bulb(const csv_table *t, size_t row, double *value)
{
    sw_status status = sw_wet_bulb(csv_number(t, row, "temperature") + celsius, csv_number(t, row, "humidity_ratio"),
                                   csv_number(t, row, "pressure"), value);
    *value -= celsius;
    return status;
}

static sw_status pressure_at_altitude(const csv_table *t, size_t row, double *value)
{
    return sw_pressure_at_altitude(csv_number(t, row, "altitude"), value);
}

static const compared quantities[] = {
    {"saturation_pressure", "saturation pressure", 6e-4, true, saturation_pressure},
    {"vapour_pressure", "vapour pressure from humidity ratio", 1e-5, true, vapour_pressure},
    {"dew_point", "dew point, C", 0.05, false, dew_point},
    {"wet_bulb", "thermodynamic wet-bulb, C", 0.1, false, wet_bulb},
    {"pressure_at_altitude", "pressure at altitude", 1e-4, true, pressure_at_altitude},
};

/* A wet bulb as warm as air that is far from saturated cannot be: the other library's bisection went astray above the
 * boiling point. */
static bool is_impossible(const csv_table *t, size_t row)
{
    double vapour, saturation, temperature = csv_number(t, row, "temperature");
    if (strcmp(csv_text(t, row, "quantity"), "wet_bulb") != 0)
        return false;
    if (vapour_pressure(t, row, &vapour) != SW_OK || sw_saturation_pressure(temperature + celsius, &saturation) != SW_OK)
        die("%s, row %zu: no such air", t->path, row + 1);
    return vapour < 0.9 * saturation && csv_number(t, row, "value") > temperature - 0.01;
}

static void compare(report_case *c, const csv_table *t, const compared *q, int *excluded)
{
    double worst = -1.0, reference = NAN, computed = NAN;
    size_t count = 0, at = 0;
    for (size_t i = 0; i < t->row_count; i++) {
        if (strcmp(csv_text(t, i, "quantity"), q->name) != 0)
            continue;
        if (is_impossible(t, i)) {
            ++*excluded;
            continue;
        }
        double value = 0.0, expected = csv_number(t, i, "value");
        if (q->compute(t, i, &value) != SW_OK)
            die("%s, row %zu: the library refuses it", t->path, i + 1);
        double error = fabs(value - expected) / (q->relative ? fabs(expected) : 1.0);
        count++;
        if (error > worst) {
            worst = error;
            reference = expected;
            computed = value;
            at = i;
        }
    }
    report_row row = {.verdict = worst <= q->tolerance ? VERDICT_PASS : VERDICT_FAIL};
    double where = csv_number(t, at, "temperature");
    int length = snprintf(row.quantity, TEXT_SIZE, "%s, worst of %zu", q->text, count);
    if (!isnan(where))
        snprintf(row.quantity + length, TEXT_SIZE - (size_t)length, " (at %g C)", where);
    snprintf(row.reference, TEXT_SIZE, "%.6g", reference);
    snprintf(row.computed, TEXT_SIZE, "%.6g", computed);
    if (q->relative) {
        snprintf(row.error, TEXT_SIZE, "%.4f %%", 100.0 * worst);
        snprintf(row.tolerance, TEXT_SIZE, "%g %%", 100.0 * q->tolerance);
    } else {
        snprintf(row.error, TEXT_SIZE, "%.4f K", worst);
        snprintf(row.tolerance, TEXT_SIZE, "%g K", q->tolerance);
    }
    add_row(c, &row);
}

void validate_psychrometrics(report_case *c)
{
    c->folder = "psychrometrics";
    c->title = "Moist air against psychrolib";
    csv_table *t = csv_read(c->folder, "reference.csv");
    int excluded = 0;
    for (size_t i = 0; i < sizeof quantities / sizeof *quantities; i++)
        compare(c, t, &quantities[i], &excluded);
    add_note(c, "%d wet bulbs of the reference are left out by one rule: unsaturated air (under 90 %% relative humidity) whose "
                "wet bulb is said to equal its dry bulb.", excluded);
    csv_free(t);
}
