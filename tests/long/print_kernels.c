/* SPDX-License-Identifier: BSD-3-Clause */
/* Prints right-hand sides and Jacobians of a slab, of one with a fat cap and of a section in some states, for tests/long/lanes.sh, which
 * compares those of different machines: a kind of number, and its value, on each line. */
#include "body.h"
#include "wrap.h"

#include <stallwright/everything.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* All blocks of a matrix of n unknowns, one after the other. */
static size_t dense_offset(size_t row, size_t column, const void *layout)
{
    const size_t n = *(const size_t *)layout;
    return row / 2 * 2 * n + column / 2 * 4 + 2 * (row % 2) + column % 2;
}

/* Warm at the surfaces and dry there, moist and still giving juice within. */
static void set_state(const sw_body *body, double height, int number, double *state)
{
    for (size_t i = 0; i < body->mesh->cell_count; i++) {
        const double depth = 2.0 * body->mesh->position[i] / height - 1.0, outward = depth * depth;
        state[2 * i] = 300.0 + 15.0 * number + 40.0 * outward + 3.0 * sin(9.0 * body->mesh->across[i]);
        state[2 * i + 1] *= 1.0 - (0.1 + 0.08 * number) * (1.0 + outward) / 2.0 - 0.4 * pow(outward, 20.0);
    }
}

static void print_state(sw_body *body, const double *state)
{
    const size_t n = 2 * body->mesh->cell_count;
    const sw_jacobian_layout layout = {dense_offset, &n};
    double *jacobian = calloc(n * n, sizeof *jacobian), *rate = calloc(n, sizeof *rate);
    static const char *const kinds[2] = {"T", "X"};
    sw_transport_set_layout(body->transport, &layout);
    if (!jacobian || !rate || sw_transport_rate(body->transport, 0.0, state, rate) != 0)
        exit(1);
    for (size_t i = 0; i < n; i++)
        printf("rate_%s %.17g\n", kinds[i % 2], rate[i]);
    if (sw_transport_jacobian(body->transport, 0.0, state, rate, jacobian, NULL) != 0)
        exit(1);
    for (size_t row = 0; row < n; row++)
        for (size_t column = 0; column < n; column++)
            if (jacobian[dense_offset(row, column, &n)] != 0.0)
                printf("d%s/d%s %.17g\n", kinds[row % 2], kinds[column % 2], jacobian[dense_offset(row, column, &n)]);
    free(jacobian);
    free(rate);
}

static void print_body(sw_scenario scenario)
{
    sw_body body;
    if (sw_body_init(NULL, &scenario, &body) != SW_OK)
        exit(1);
    const sw_surroundings around = {394.15, 394.15, 101325.0, 3000.0, 10.0, NULL};
    const sw_wrap_contents empty = sw_empty_wrap(&scenario.wrap);
    double *state = calloc(2 * body.mesh->cell_count, sizeof *state);
    if (!state)
        exit(1);
    sw_wrapped_surfaces(body.mesh, &around, &scenario.wrap, SW_WRAP_NONE, &empty, true, body.transport->surfaces);
    for (int number = 0; number < 4; number++) {
        sw_body_raw_state(&body, &scenario, state);
        set_state(&body, scenario.meat.thickness, number, state);
        print_state(&body, state);
    }
    free(state);
    sw_body_free(&body);
}

int main(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.solver.cells = 31; /* no whole number of lanes */
    print_body(s);
    s.meat.fat_cap_thickness = 0.006;
    print_body(s);
    s.meat.fat_cap_thickness = 0.0;
    s.meat.shape = SW_SHAPE_SECTION;
    s.meat.width = 0.25;
    s.solver.rows = 7;
    s.solver.columns = 9;
    print_body(s);
    return 0;
}
