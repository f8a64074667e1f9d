/* SPDX-License-Identifier: BSD-3-Clause */
/* Setups and cooks go into files and come back the same, and what is no such file is refused. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <cmocka.h>
#include <stallwright/everything.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static sw_context *context;
static char folder[] = "/tmp/test_handle_files_XXXXXX", scenario_path[64], results_path[64];

static int make_files(void **state)
{
    (void)state;
    if (!mkdtemp(folder))
        return -1;
    snprintf(scenario_path, sizeof scenario_path, "%s/a.yaml", folder);
    snprintf(results_path, sizeof results_path, "%s/a.h5", folder);
    return sw_context_create(&context) == SW_OK ? 0 : -1;
}

static int remove_files(void **state)
{
    (void)state;
    sw_context_destroy(context);
    unlink(scenario_path);
    unlink(results_path);
    return rmdir(folder);
}

static void a_setup_comes_back_from_its_file(void **state)
{
    (void)state;
    sw_setup *setup, *other;
    double number;
    assert_int_equal(sw_setup_create(context, &setup), SW_OK);
    assert_int_equal(sw_setup_create(context, &other), SW_OK);
    assert_int_equal(sw_setup_assign(context, setup, "pit.temperature=250F"), SW_OK);
    assert_int_equal(sw_setup_number(context, setup, "pit.temperature", &number), SW_OK);
    assert_true(number > 394.26 && number < 394.262); /* (250 + 459.67) / 1.8 */
    assert_int_equal(sw_setup_assign(context, setup, "pit.temperature=250"), SW_ERR_INPUT);
    FILE *stream = fopen(scenario_path, "w");
    assert_non_null(stream);
    assert_int_equal(sw_setup_write(context, setup, SW_UNITS_US, stream), SW_OK);
    assert_int_equal(fclose(stream), 0);
    assert_int_equal(sw_setup_read(context, other, scenario_path), SW_OK);
    for (size_t i = 0; i < sw_scenario_key_count(); i++)
        assert_true(sw_scenario_key_same(sw_scenario_key_at(i), sw_setup_scenario(setup), sw_setup_scenario(other)));
    assert_int_equal(sw_setup_read(context, other, results_path), SW_ERR_FILE);
    sw_setup_destroy(other);
    sw_setup_destroy(setup);
}

static void a_cook_comes_back_from_its_file(void **state)
{
    (void)state;
    sw_setup *setup;
    sw_cooked *cooked, *read = NULL;
    assert_int_equal(sw_setup_create(context, &setup), SW_OK);
    assert_int_equal(sw_setup_assign(context, setup, "solver.cells=10"), SW_OK);
    assert_int_equal(sw_setup_cook(context, setup, NULL, NULL, &cooked), SW_OK);
    assert_int_equal(sw_cooked_write(context, cooked, results_path, "test", false), SW_OK);
    assert_int_equal(sw_cooked_write(context, cooked, results_path, "test", false), SW_ERR_EXISTS);
    assert_int_equal(sw_cooked_read(context, results_path, "paper", &read), SW_ERR_INPUT);
    assert_non_null(strstr(sw_context_message(context), "none with the label \"paper\""));
    assert_int_equal(sw_cooked_read(context, scenario_path, NULL, &read), SW_ERR_INPUT);
    assert_null(read);
    assert_int_equal(sw_cooked_read(context, results_path, NULL, &read), SW_OK);
    for (size_t i = 0; i < sw_cooked_figure_count(); i++) {
        double written, back;
        assert_int_equal(sw_cooked_figure(context, cooked, sw_cooked_figure_name(i), &written), SW_OK);
        assert_int_equal(sw_cooked_figure(context, read, sw_cooked_figure_name(i), &back), SW_OK);
        assert_memory_equal(&written, &back, sizeof written);
    }
    sw_cooked_destroy(read);
    sw_cooked_destroy(cooked);
    sw_setup_destroy(setup);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_setup_comes_back_from_its_file),
        cmocka_unit_test(a_cook_comes_back_from_its_file),
    };
    return cmocka_run_group_tests(tests, make_files, remove_files);
}
