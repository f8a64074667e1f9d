/* SPDX-License-Identifier: BSD-3-Clause */
/* Water and heat between three cells where fibres run aslant to the faces between them: what the gradient of their values drives
 * beside what the faces carry. In a header, so that it goes into the clones of its caller's loop. Theory: docs/theory/section.md. */
#ifndef SW_FIBRE_FLUX_H
#define SW_FIBRE_FLUX_H

#include "transport.h"
#include "vector_clones.h"

#include <math.h>

/* What each of three cells gains, and its derivatives by T and X of the three. */
typedef struct fibre_flux {
    double water[3], heat[3];
    double water_by[3][6], heat_by[3][6];
} fibre_flux;

/* How easily heat and juice pass between two of the cells, beside what the faces carry [m]. */
static SW_INTO_CLONES double passage(const sw_fibre_triangle *f, int side, double ratio)
{
    return f->along[side] * fmax(ratio - 1.0, 0.0) + f->across[side] * fmax(1.0 - ratio, 0.0);
}

/* A mean of three cells' eases, and its derivatives by each. */
typedef struct fibre_mean {
    double value, by[3];
} fibre_mean;

/* The ease that counts between two of three cells. One mean for all pairs lets no flow go uphill as a whole. Between two that
 * the gradient drives the other way the mean is harmonic, so that it drains no dry cell; between the others arithmetic, so that
 * a drying skin does not choke its own supply, which adds flows that go downhill. */
static SW_INTO_CLONES fibre_mean mean_of(double a, double b, double c, const int is_backward)
{
    if (!is_backward)
        return (fibre_mean){(a + b + c) / 3.0, {1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0}};
    if (!(a > 0.0 && b > 0.0 && c > 0.0))
        return (fibre_mean){0.0, {0.0, 0.0, 0.0}};
    const double mean = 3.0 / (1.0 / a + 1.0 / b + 1.0 / c), of_a = mean / a, of_b = mean / b, of_c = mean / c;
    return (fibre_mean){mean, {of_a * of_a / 3.0, of_b * of_b / 3.0, of_c * of_c / 3.0}};
}

/* From the i-th to the j-th cell, past the k-th. */
static SW_INTO_CLONES void add_pair(const sw_transport *t, const sw_fibre_triangle *f, const double *state, int k,
                                    const int derivatives, fibre_flux *flux)
{
    const int i = (k + 1) % 3, j = (k + 2) % 3;
    const sw_properties p[3] = {sw_cell_of(&t->value, f->cell[0]), sw_cell_of(&t->value, f->cell[1]), sw_cell_of(&t->value, f->cell[2])};
    const double scale = t->meat_scale.area / t->meat_scale.distance;
    const double for_heat = scale * passage(f, k, t->fibre_conductivity), for_juice = scale * passage(f, k, t->fibre_permeability);
    const fibre_mean conductivity = mean_of(p[0].conductivity, p[1].conductivity, p[2].conductivity, for_heat < 0.0);
    const fibre_mean mobility = mean_of(p[0].mobility, p[1].mobility, p[2].mobility, for_juice < 0.0);
    const double drop = state[2 * f->cell[i]] - state[2 * f->cell[j]], pressure = p[i].juice_pressure - p[j].juice_pressure;
    const double enthalpy = 0.5 * (p[i].water_enthalpy + p[j].water_enthalpy), juice = for_juice * mobility.value * pressure;
    const double heat = for_heat * conductivity.value * drop + juice * enthalpy;
    flux->water[i] -= juice;
    flux->water[j] += juice;
    flux->heat[i] -= heat;
    flux->heat[j] += heat;
    for (int v = 0; derivatives && v < 6; v++) {
        const int c = v / 2, of_temperature = v % 2 == 0;
        const sw_properties d = sw_cell_of(of_temperature ? &t->by_temperature : &t->by_water, f->cell[c]);
        const double sign = c == i ? 1.0 : c == j ? -1.0 : 0.0;
        const double juice_by = for_juice * (mobility.by[c] * d.mobility * pressure + mobility.value * sign * d.juice_pressure);
        const double conduction_by = for_heat * (conductivity.by[c] * d.conductivity * drop +
                                                 (of_temperature ? conductivity.value * sign : 0.0));
        const double heat_by = conduction_by + juice_by * enthalpy + 0.5 * juice * fabs(sign) * d.water_enthalpy;
        flux->water_by[i][v] -= juice_by;
        flux->water_by[j][v] += juice_by;
        flux->heat_by[i][v] -= heat_by;
        flux->heat_by[j][v] += heat_by;
    }
}

static SW_INTO_CLONES fibre_flux flux_along_fibres(const sw_transport *t, const sw_fibre_triangle *f, const double *state,
                                                   const int derivatives)
{
    fibre_flux flux = {0};
    for (int k = 0; k < 3; k++)
        add_pair(t, f, state, k, derivatives, &flux);
    return flux;
}

#endif
