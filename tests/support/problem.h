/* SPDX-License-Identifier: BSD-3-Clause */
/* A driver for problems with an exact solution: constant-property solids on a mesh, surfaces set by hand, integrated to
 * given times. Every failure fails the test. Temperatures are in degrees Celsius here, as the sources give them. */
#ifndef SW_TESTS_PROBLEM_H
#define SW_TESTS_PROBLEM_H

#include "transport_problem.h"
#include "section_mesh.h"
#include "solid.h"

typedef struct problem_setup {
    sw_shape shape;
    bool insulated_low;
    size_t layer_count;                        /* 1 or 2 */
    sw_layer layers[SW_REGION_COUNT];          /* layer i has solid i */
    sw_solid_parameters solids[SW_REGION_COUNT];
    double initial_temperature;                /* [C] */
    double initial_water;                      /* [kg kg-1] */
    double water_reference;                    /* where liquid water has no enthalpy; a solid's water has none anywhere, so
                                                  that evaporating it is consistent at this temperature [C] */
    double tolerance;                          /* relative; 0 for 1e-8 */
} problem_setup;

typedef struct problem {
    sw_context *context;
    sw_mesh *mesh;
    sw_material *materials[SW_REGION_COUNT];
    sw_water_table water;
    sw_transport *transport;
    sw_integrator *integrator;
    double time; /* reached [s] */
    bool symmetric_low;
} problem;

/* The meat of the checks: k 0.45 W/mK, 1050 kg/m3, 3500 J/kgK; diffusivity 1.22449e-7 m2/s. */
sw_solid_parameters reference_meat(void);

/* A slab of the reference meat of this half-thickness [m] with its middle plane at 0, from 5 C; uniform cells. */
problem_setup reference_slab(double half_thickness, size_t cells);

/* Extent is 1 (m2, m or piece). Release with problem_free. */
void problem_init(problem *p, const problem_setup *setup);
void problem_free(problem *p);

/* The same on a mesh of its own, which goes over to the problem; region i has solid i, and of the shape and the layers
 * only their number counts. */
void problem_init_on(problem *p, const problem_setup *setup, sw_mesh *mesh);

/* The surface of a side, to be filled; NULL if it has none. No heat passes a surface left as it is. */
sw_surface *problem_surface(problem *p, sw_side side);
sw_surface convective_surface(double air_temperature, double coefficient);
sw_surface fixed_surface(double temperature);
sw_surface flux_surface(double flux);

/* Gives every piece of surface on a side the same surface. */
void problem_set_side(problem *p, sw_side side, sw_surface surface);

/* Integrates on to a time; what has been set since counts from now. */
void problem_run_to(problem *p, double time);

/* Between cell centres the reading is linear; between the last and the surface too; at an insulated low end or a centre
 * it is the parabola with no slope there. [C] */
double problem_temperature(problem *p, double position);
double problem_surface_temperature(problem *p, sw_side side);

/* In a section, by a probe; exact where the temperature is linear. [C] */
double problem_temperature_in_section(const problem *p, sw_point place);
double problem_mean_temperature(const problem *p);
double *problem_state(problem *p);

/* Isothermal drying of a slab of half-thickness 1 cm through an air film: the heat capacity is huge, the isotherm straight
 * and the vapour pressures small, so that the evaporation law is linear. cells uniform, or growing from a surface cell [m].
 * biot is h_m L / D. */
void problem_init_drying(problem *p, size_t cells, double surface_cell, double tolerance, double biot);

/* Runs to a Fourier number D t / L^2 and returns the share of the water lost. */
double problem_dry_to(problem *p, double fourier);

/* All the water of that slab [kg]. */
double problem_drying_water(void);

#endif
