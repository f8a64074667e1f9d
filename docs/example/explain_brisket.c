/* Says why a brisket stalls and how far the answer can be trusted, through the public interface: the heat of each hour, what ends
 * the stall, the same cook with one cause changed at a time, and what each uncertain input changes. */
#include <stallwright/stallwright.h>

#include <stdio.h>

static void print_hours(const sw_heat_hours *hours)
{
    printf("until   probe    heat in   evaporates\n");
    for (size_t i = 0; i < hours->count; i++)
        printf("%4.1f h  %5.1f C  %5.0f kJ  %5.0f %%\n", hours->end[i] / 3600.0, hours->probe[i] - 273.15,
               sw_heat_received(&hours->heat[i]) / 1000.0, 100.0 * sw_heat_evaporation_share(&hours->heat[i]));
}

static void print_cook(const char *name, const sw_run *run)
{
    if (run->status != SW_OK)
        printf("%-25s %s\n", name, run->failure);
    else if (SW_IS_ABSENT(run->outcome.stall_length))
        printf("%-25s done after %4.1f h, no stall\n", name, run->outcome.done_time / 3600.0);
    else
        printf("%-25s done after %4.1f h, stall of %.1f h\n", name, run->outcome.done_time / 3600.0,
               run->outcome.stall_length / 3600.0);
}

static void print_explanation(const sw_explanation *e)
{
    print_hours(&e->heat);
    printf("what ends the stall: %s\n\n", sw_stall_ending_name(e->ending));
    print_cook("as planned", &e->cook);
    for (int cause = 0; cause < SW_CAUSE_COUNT; cause++)
        if (!e->changed[cause].is_no_change)
            print_cook(sw_cause_long_name((sw_cause)cause), &e->changed[cause].run);
}

static void print_sensitivity(const sw_sensitivity *s)
{
    printf("\ndone later by, in h, with each input one standard range lower and higher\n");
    for (size_t i = 0; i < s->row_count; i++)
        printf("%-31s %+5.2f %+5.2f\n", s->rows[i].input->name, s->rows[i].changes[SW_SENSITIVE_done].low / 3600.0,
               s->rows[i].changes[SW_SENSITIVE_done].high / 3600.0);
    printf("together, if independent: +- %.1f h\n", s->together[SW_SENSITIVE_done] / 3600.0);
}

static sw_status tell(sw_context *context, const sw_scenario *scenario)
{
    sw_explanation *explanation;
    sw_sensitivity sensitivity;
    sw_status status = sw_explain(context, scenario, NULL, &explanation);
    if (status != SW_OK)
        return status;
    print_explanation(explanation);
    if (!explanation->never_ends)
        status = sw_sensitivity_find(context, &explanation->cook, NULL, &sensitivity);
    if (status == SW_OK && !explanation->never_ends)
        print_sensitivity(&sensitivity);
    sw_explanation_destroy(explanation);
    return status;
}

int main(void)
{
    sw_context *context;
    sw_scenario scenario;
    if (sw_context_create(&context) != SW_OK)
        return 1;
    sw_scenario_init(&scenario);
    scenario.solver.cells = 40; /* dozens of cooks: coarse ones will do */
    const sw_status status = tell(context, &scenario);
    if (status != SW_OK)
        fprintf(stderr, "%s\n", sw_context_message(context));
    sw_context_destroy(context);
    return status == SW_OK ? 0 : 1;
}
