/* SPDX-License-Identifier: BSD-3-Clause */
/* A program of others: cooks for an hour, writes the results file argv[1] and reads it back. */
#include <stallwright/stallwright.h>

#include <stdio.h>

static sw_status prepare(sw_context *context, sw_setup *setup)
{
    static const char *const assignments[] = {"solver.cells=10", "pull=1h", "rest.until=none", "hold.until=none"};
    sw_status status = SW_OK;
    for (size_t i = 0; i < sizeof assignments / sizeof *assignments && status == SW_OK; i++)
        status = sw_setup_assign(context, setup, assignments[i]);
    return status;
}

static size_t rows_of(const sw_cooked *cooked)
{
    const double *values;
    size_t length = 0;
    return sw_cooked_curve(NULL, cooked, "time", &values, &length) == SW_OK ? length : 0;
}

static sw_status write_and_read(sw_context *context, sw_setup *setup, const char *path)
{
    sw_cooked *cooked, *read;
    sw_status status = sw_setup_cook(context, setup, NULL, NULL, &cooked);
    if (status != SW_OK)
        return status;
    status = sw_cooked_write(context, cooked, path, "write_results", true);
    if (status == SW_OK)
        status = sw_cooked_read(context, path, NULL, &read);
    if (status == SW_OK) {
        printf("rows %zu, read back %zu\n", rows_of(cooked), rows_of(read));
        sw_cooked_destroy(read);
    }
    sw_cooked_destroy(cooked);
    return status;
}

int main(int argc, char **argv)
{
    sw_context *context;
    sw_setup *setup = NULL;
    if (argc != 2 || sw_context_create(&context) != SW_OK)
        return 2;
    sw_status status = sw_setup_create(context, &setup);
    if (status == SW_OK)
        status = prepare(context, setup);
    if (status == SW_OK)
        status = write_and_read(context, setup, argv[1]);
    if (status != SW_OK)
        fprintf(stderr, "%s\n", sw_context_message(context));
    sw_setup_destroy(setup);
    sw_context_destroy(context);
    return status == SW_OK ? 0 : 1;
}
