/* SPDX-License-Identifier: BSD-3-Clause */
/* The analytic Jacobian against central difference quotients of the rate. */
#include "close.h"

#include "cuts.h"

#include <math.h>
#include <stdlib.h>

/* All blocks of a matrix of n unknowns, one after the other. */
static size_t dense_offset(size_t row, size_t column, const void *layout)
{
    const size_t n = *(const size_t *)layout;
    return row / 2 * 2 * n + column / 2 * 4 + 2 * (row % 2) + column % 2;
}

/* A small change of an unknown: temperatures [K], water contents [kg kg-1]. */
static double small_step(size_t unknown)
{
    return unknown % 2 ? 2e-6 : 2e-4;
}

static void difference_column(sw_body *body, double *state, size_t column, double *low, double *high, double *quotient)
{
    const size_t n = 2 * body->mesh->cell_count;
    const double kept = state[column], step = small_step(column);
    state[column] = kept - step;
    assert_int_equal(sw_transport_rate(body->transport, 0.0, state, low), 0);
    state[column] = kept + step;
    assert_int_equal(sw_transport_rate(body->transport, 0.0, state, high), 0);
    state[column] = kept;
    for (size_t i = 0; i < n; i++)
        quotient[i] = (high[i] - low[i]) / (2.0 * step);
}

/* Compares all entries; each may be off by a share of the largest in its row of its kind (T or X by T or X). Returns
 * the largest such share. */
static double check_state(sw_body *body, double *state)
{
    const size_t n = 2 * body->mesh->cell_count;
    sw_jacobian_layout layout = {dense_offset, &n};
    sw_transport_set_layout(body->transport, &layout);
    double *analytic = calloc(n * n, sizeof *analytic), *numeric = malloc((n * n + 5 * n) * sizeof *numeric);
    assert_true(analytic && numeric);
    double *rate = numeric + n * n, *plain = rate + n, *low = plain + n, *high = low + n, *quotient = high + n;
    assert_int_equal(sw_transport_rate(body->transport, 0.0, state, plain), 0);
    assert_int_equal(sw_transport_jacobian(body->transport, 0.0, state, rate, analytic, NULL), 0);
    for (size_t i = 0; i < n; i++)
        assert_close_abs(rate[i], plain[i], 1e-9 * fabs(plain[i]) + 1e-18);
    for (size_t column = 0; column < n; column++) {
        difference_column(body, state, column, low, high, quotient);
        for (size_t row = 0; row < n; row++)
            numeric[row * n + column] = quotient[row];
    }
    double worst = 0.0;
    for (size_t row = 0; row < n; row++)
        for (size_t kind = 0; kind < 2; kind++) {
            double scale = 0.0;
            for (size_t column = kind; column < n; column += 2)
                scale = fmax(scale, fabs(analytic[dense_offset(row, column, &n)]));
            for (size_t column = kind; column < n; column += 2) {
                double share = fabs(analytic[dense_offset(row, column, &n)] - numeric[row * n + column]) / (scale + 1e-15);
                if (share > 1e-3)
                    print_message("row %zu column %zu: analytic %.9g, difference quotient %.9g, scale %.3g\n", row,
                                  column, analytic[dense_offset(row, column, &n)], numeric[row * n + column], scale);
                worst = fmax(worst, share);
            }
        }
    free(analytic);
    free(numeric);
    return worst;
}

static void test_jacobian(void **unused)
{
    (void)unused;
    unsigned long long seed = 3;
    for (int cut = 0; cut < CUT_COUNT; cut++) {
        sw_scenario scenario;
        cut_scenario(cut, &scenario);
        scenario.solver.cells = 20;
        scenario.solver.rows = 8;
        scenario.solver.columns = 8;
        scenario.meat.fibre_conductivity = 1.2;
        scenario.meat.fibre_permeability = 3.0;
        sw_body body;
        assert_int_equal(sw_body_init(NULL, &scenario, &body), SW_OK);
        double *state = malloc(2 * body.mesh->cell_count * sizeof *state);
        assert_true(state != NULL);
        for (int wrap = 0; wrap < SW_WRAP_COUNT; wrap++) {
            sw_surroundings around = pit_air(&scenario, &body);
            surround_body(&body, &scenario, &around, (sw_wrap_kind)wrap);
            double worst = 0.0;
            for (int i = 0; i < 5; i++) {
                random_state(&body, &seed, state);
                worst = fmax(worst, check_state(&body, state));
            }
            print_message("  %-28s %-12s worst entry off by %.1e of its row\n", cut_name(cut),
                          sw_wrap_name((sw_wrap_kind)wrap), worst);
            assert_true(worst < 1e-5);
        }
        free(state);
        sw_body_free(&body);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_jacobian),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
