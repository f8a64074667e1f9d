/* A program of others: cooks for an hour, writes the results file argv[1] and reads it back. */
#include <stallwright/stallwright.h>

#include <stdio.h>

static sw_status write_and_read(sw_context *context, const char *path)
{
    sw_scenario scenario;
    sw_history *history;
    sw_results *results;
    sw_provenance from = {"write_results", "write_results", ""};
    const char *label = "none";
    sw_scenario_init(&scenario);
    scenario.solver.cells = 10;
    scenario.pull.kind = SW_ENDING_DURATION;
    scenario.pull.value = 3600.0;
    scenario.rest.until.kind = SW_ENDING_NONE;
    scenario.hold.until.kind = SW_ENDING_NONE;
    sw_status status = sw_cook_run(context, &scenario, NULL, NULL, &history);
    if (status != SW_OK)
        return status;
    const sw_history *written = history;
    status = sw_results_write(context, path, 1, &written, &label, &from, true);
    if (status == SW_OK)
        status = sw_results_read(context, path, &results);
    if (status == SW_OK) {
        printf("rows %zu, read back %zu\n", history->row_count, results->histories[0]->row_count);
        sw_results_destroy(results);
    }
    sw_history_destroy(history);
    return status;
}

int main(int argc, char **argv)
{
    sw_context *context;
    if (argc != 2 || sw_context_create(&context) != SW_OK)
        return 2;
    const sw_status status = write_and_read(context, argv[1]);
    if (status != SW_OK)
        fprintf(stderr, "%s\n", sw_context_message(context));
    sw_context_destroy(context);
    return status == SW_OK ? 0 : 1;
}
