/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/cook.h>

#include "branches.h"
#include "history.h"
#include "pit_schedule.h"
#include "say.h"
#include "surround.h"

#include <stallwright/wrap_traits.h>

#include <math.h>
#include <stdlib.h>

/* When a phase ends: by the probe, by time, or by whichever comes first. */
typedef struct phase_end {
    bool by_bark;
    bool by_probe;
    double temperature; /* [K] */
    double time;        /* [s], INFINITY if no time ends it */
} phase_end;

/* Surroundings of a phase. The pit's temperature has steps, a place's has one. */
typedef struct phase_plan {
    sw_phase phase;
    const char *ending_name; /* of the field that ends it */
    phase_end end;
    const sw_place *place; /* NULL for the pit */
    sw_wrap_kind wrap;
    bool may_branch; /* other cooks may have begun like this */
} phase_plan;

/* Time at which an ending that is no probe temperature falls; durations count from a moment. */
static double ending_time(const sw_scenario *s, sw_ending ending, double from)
{
    return ending.kind == SW_ENDING_DURATION ? from + ending.value : sw_ending_clock_time(s->start_clock, ending);
}

static void let_end(phase_end *end, const sw_scenario *s, sw_ending ending, double from)
{
    if (ending.kind == SW_ENDING_PROBE_TEMPERATURE) {
        if (!end->by_probe || ending.value < end->temperature)
            end->temperature = ending.value;
        end->by_probe = true;
    }
    if (ending.kind == SW_ENDING_BARK)
        end->by_bark = true;
    end->time = fmin(end->time, ending_time(s, ending, from));
}

static double *lumped_of(const sw_cook *c)
{
    return sw_integrator_state(c->integrator) + 2 * c->body.mesh->cell_count;
}

/* Puts the meat where the plan says. */
static void enter(sw_cook *c, const phase_plan *plan)
{
    const sw_wrap_change change = sw_around_enter(&c->around, plan->place, plan->wrap, c->time, c->rendering.mass,
                                                  sw_surround_surface_temperature(&c->body, &c->around), lumped_of(c));
    c->poured += change.left;
    c->added += change.poured;
    sw_bark_surround(&c->bark, !plan->place, &c->scenario.wrap, plan->wrap);
}

/* The probes as an end that waits for a temperature sees them. */
static sw_segment_end segment_end(const sw_cook *c, const phase_end *end)
{
    return (sw_segment_end){.transport = c->body.transport,
                            .by_bark = end->by_bark,
                            .bark_face = c->top_face,
                            .bark_activity = c->scenario.wrap.bark_set,
                            .by_probe = end->by_probe,
                            .probe_count = c->body.probe_count,
                            .probes = c->body.probes,
                            .by_last = c->scenario.meat.last_probe_decides,
                            .temperature = end->temperature};
}

static double probe_value(const sw_cook *c, const double *state)
{
    return sw_probe_reading(sw_cook_deciding_probe(c, state), state);
}

/* How fast the probe has been rising lately [K s-1]. */
static double recent_rate(const sw_history *h)
{
    const double *probe = h->series[SW_SERIES_probe_temperature], *time = h->series[SW_SERIES_time];
    const size_t last = h->row_count - 1, earlier = last > 30 ? last - 30 : 0;
    return last > earlier ? (probe[last] - probe[earlier]) / (time[last] - time[earlier]) : 0.0;
}

static sw_status never_ends(sw_cook *c, const phase_plan *plan)
{
    const sw_history *h = c->history;
    const double probe = h->series[SW_SERIES_probe_temperature][h->row_count - 1];
    if (plan->place) /* not the end of the cook: the history says what is missing */
        return SW_ERR_NEVER_ENDS;
    if (!plan->end.by_probe)
        return sw_fail(c->context, SW_ERR_NEVER_ENDS,
                       "the phase \"%s\" does not end within solver.longest_phase, %.4g h: the time of %s comes after %.4g h",
                       sw_phase_name(plan->phase), c->scenario.solver.longest_phase / 3600.0, plan->ending_name,
                       plan->end.time / 3600.0);
    char target[SW_SAY_SIZE], level[SW_SAY_SIZE], rate[SW_SAY_SIZE];
    return sw_fail(c->context, SW_ERR_NEVER_ENDS,
                   "the phase \"%s\" does not end: %s waits for the probe to read %s, but after %.0f h it has levelled at %s, "
                   "changing by %s; a hotter pit, a wrap or a lower temperature would end it",
                   sw_phase_name(plan->phase), plan->ending_name,
                   sw_say(c->context, SW_QUANTITY_TEMPERATURE, plan->end.temperature, target),
                   c->scenario.solver.longest_phase / 3600.0, sw_say(c->context, SW_QUANTITY_TEMPERATURE, probe, level),
                   sw_say(c->context, SW_QUANTITY_HEATING_RATE, recent_rate(h), rate));
}

/* An ending that does not come. */
static sw_missing *miss(sw_cook *c, sw_planned_end end, sw_missing_reason reason, double planned)
{
    sw_missing *m = &c->history->missing[c->history->missing_count++];
#define MAKE_ABSENT(name, unit, long_name) m->name = SW_ABSENT;
    SW_MISSING_LIST(MAKE_ABSENT)
#undef MAKE_ABSENT
    m->end = end;
    m->reason = reason;
    if (isfinite(planned))
        m->planned = planned;
    if (reason != SW_MISSING_NOT_BEGUN)
        m->begin = c->time;
    return m;
}

/* Whether the time of day of an ending has passed now that its phase is to begin; then that is noted. */
static bool misses_hour(sw_cook *c, sw_planned_end end, sw_ending ending)
{
    const double planned = sw_ending_clock_time(c->scenario.start_clock, ending);
    if (planned >= c->time)
        return false;
    miss(c, end, SW_MISSING_HOUR_PASSED, planned)->late = c->time - planned;
    return true;
}

/* Notes what was to be done on the pit and was not, since the meat has come off. */
static void miss_on_pit(sw_cook *c, sw_planned_end end, sw_ending ending)
{
    sw_missing *m = miss(c, end, SW_MISSING_PULLED_FIRST, sw_ending_clock_time(c->scenario.start_clock, ending));
    if (ending.kind == SW_ENDING_PROBE_TEMPERATURE)
        m->target = ending.value;
}

/* Notes a temperature that was waited for in vain, and takes back the rows of the phase that waited. */
static void give_up(sw_cook *c, sw_planned_end end, double target, double start, size_t rows, size_t fields)
{
    sw_history *h = c->history;
    const double *probe = h->series[SW_SERIES_probe_temperature];
    const size_t last = h->row_count - 1;
    sw_missing *m = miss(c, end, probe[last] < target ? SW_MISSING_TOO_COOL : SW_MISSING_TOO_HOT, INFINITY);
    m->begin = start;
    m->target = target;
    m->nearest = m->last = probe[last];
    m->rate = recent_rate(h);
    for (size_t i = rows - 1; i <= last; i++)
        if (fabs(probe[i] - target) < fabs(m->nearest - target))
            m->nearest = probe[i];
    h->row_count = rows;
    h->field_count = fields;
    c->given_up = true;
}

static void add_work(sw_cook *c)
{
    const sw_integration_work work = sw_integrator_work(c->integrator);
    sw_solver_statistics *sum = &c->history->statistics;
    sum->steps += work.steps;
    sum->right_hand_sides += work.right_hand_sides;
    sum->jacobians += work.jacobians;
    sum->error_test_failures += work.error_test_failures;
    sum->convergence_failures += work.convergence_failures;
}

/* The row of a step's end, and what is followed beside the integrator. */
static sw_status end_step(sw_cook *c, double reached, bool ended)
{
    c->time = reached;
    const sw_status status = sw_record_step(c, ended);
    if (status == SW_OK && c->observer && c->observer(c->time, probe_value(c, sw_integrator_state(c->integrator)), c->observer_data) != 0)
        return sw_fail(c->context, SW_ERR_CANCELLED, "the cook was cancelled at %.4g h", c->time / 3600.0);
    return status;
}

static sw_status end_segment(sw_cook *c)
{
    /* What follows starts from the surfaces as they are now, not as the integrator last tried them. */
    double flows[SW_FLOW_COUNT];
    if (sw_transport_flows(c->body.transport, c->time, sw_integrator_state(c->integrator), flows) != 0)
        return sw_fail(c->context, SW_ERR_SOLVER, "no surface temperature was found at %.6g s", c->time);
    add_work(c);
    return SW_OK;
}

/* The end of a phase gets its own row and cross-section, unless they are there already. */
static sw_status end_phase(sw_cook *c, const phase_plan *plan, double start)
{
    const sw_history *h = c->history;
    if (c->time > h->series[SW_SERIES_time][h->row_count - 1]) {
        sw_status status = sw_record_at(c, c->time, true);
        if (status != SW_OK)
            return status;
    } else if (c->time > h->field_time[h->field_count - 1] &&
               sw_history_append_field(c->history, c->time, sw_integrator_state(c->integrator)) != 0) {
        return sw_record_out_of_memory(c);
    }
    return sw_record_phase(c, plan->phase, start);
}

/* Another cook branches off where it wraps: to the end of its first phase it comes with this one's integrator, whose step they
 * share, as it would with its own. */
static sw_status branch_off(sw_cook *c, const phase_plan *plan, double time, sw_branch *b)
{
    sw_cook *other = &b->cook;
    sw_status status = sw_branch_begin(b, c, time);
    if (status == SW_OK)
        status = end_step(other, time, true);
    if (status == SW_OK)
        status = end_segment(other);
    if (status == SW_OK)
        status = end_phase(other, plan, 0.0);
    if (status == SW_OK)
        sw_branch_keep(b, c);
    else
        sw_branch_drop(b);
    return status == SW_ERR_MEMORY ? status : SW_OK; /* what fails in it is told when it is cooked on its own */
}

/* Those that leave in the last step, which ends at a time. */
static sw_status let_branches_off(sw_cook *c, const phase_plan *plan, double time, const sw_step_end *step)
{
    sw_status status = SW_OK;
    for (size_t i = 0; i < step->mark_count; i++)
        for (sw_branch *b; status == SW_OK && (b = sw_branches_take(c->branches, step->marks[i].number));) {
            status = sw_integrator_visit(c->integrator, step->marks[i].time);
            if (status == SW_OK)
                status = branch_off(c, plan, step->marks[i].time, b);
        }
    return status == SW_OK && step->mark_count > 0 ? sw_integrator_visit(c->integrator, time) : status;
}

/* goes_on: from the last one's end, with the state that it left. */
static sw_status run_segment(sw_cook *c, const phase_plan *plan, double end_time, bool goes_on, bool *early)
{
    sw_mark marks[SW_MARKS_MAX];
    sw_segment_end end = segment_end(c, &plan->end);
    end.marks = marks;
    end.mark_count = plan->may_branch ? sw_branches_marks(c->branches, marks) : 0;
    const sw_roots roots = sw_segment_roots(&end);
    sw_status status = goes_on ? sw_integrator_go_on(c->integrator, c->time, end_time, &roots)
                               : sw_integrator_start(c->integrator, c->time, end_time, &roots);
    sw_step_end step = {.ended = false};
    while (status == SW_OK && !step.ended) {
        double reached = c->time;
        status = sw_integrator_step(c->integrator, &reached, &step);
        if (status == SW_OK)
            status = let_branches_off(c, plan, reached, &step);
        if (status == SW_OK)
            status = end_step(c, reached, step.ended);
    }
    if (status == SW_OK)
        status = end_segment(c);
    *early = c->time < end_time;
    return status;
}

static bool is_over(const sw_cook *c, const phase_end *end, bool from_below)
{
    const double *state = sw_integrator_state(c->integrator);
    if (end->time <= c->time)
        return true;
    if (end->by_bark &&
        sw_transport_surface_activity(c->body.transport, c->top_face, c->time, state) <= c->scenario.wrap.bark_set)
        return true;
    if (!end->by_probe)
        return false;
    /* On the pit the probe must come from below; in a rest or hold it may come from either side. */
    double above = probe_value(c, state) - end->temperature;
    return from_below ? above >= -1e-6 : fabs(above) < 1e-6;
}

static void spritz(sw_cook *c)
{
    c->added += c->scenario.spritz.amount;
    c->spilled += sw_around_spritz(&c->around, sw_surround_surface_temperature(&c->body, &c->around), lumped_of(c));
    c->next_spritz += c->scenario.spritz.every;
}

/* Whether the pit is set to a temperature more than 10 K off at a time. Going on over such a step now and then lets a bad step pass
 * (numerics.md), which a fresh start does not. The lid's jumps go on: the walls, which tell a step from a lid, stay. */
static bool pit_leaps(const sw_cook *c, double time)
{
    static const double largest = 10.0;
    const sw_pit *pit = &c->scenario.pit;
    return fabs(sw_pit_at(pit, time, INFINITY).wall_temperature - sw_pit_at(pit, time, time).wall_temperature) > largest;
}

/* Integrates to the end of a plan, from jump to jump of the surroundings. */
static sw_status run_stretch(sw_cook *c, const phase_plan *plan, double limit)
{
    const bool sprays = plan->phase == SW_PHASE_PIT; /* until a wrap goes on; not again once it is off */
    bool over = is_over(c, &plan->end, !plan->place), goes_on = false;
    while (!over && c->time < plan->end.time) {
        if (c->time >= limit)
            return never_ends(c, plan);
        if (sprays && c->time >= c->next_spritz) {
            spritz(c);
            goes_on = false; /* the film jumps, which is part of the state */
        }
        double jump = sw_surround_stretch(&c->body, &c->around, c->time, lumped_of(c));
        if (sprays)
            jump = fmin(jump, c->next_spritz);
        sw_status status = run_segment(c, plan, fmin(fmin(plan->end.time, limit), jump), goes_on, &over);
        if (status != SW_OK)
            return status;
        goes_on = plan->place || !pit_leaps(c, c->time);
    }
    return SW_OK;
}

/* While a wrap goes on or comes off the meat lies in outside air as it was, at most to the end of what follows. */
static sw_status lie_on_bench(sw_cook *c, const phase_plan *next)
{
    const double until = fmin(c->time + c->scenario.wrap.off_pit, next->end.time);
    phase_plan bench = {.phase = next->phase, .end = {.time = until}, .place = &c->bench, .wrap = c->around.wrap};
    if (until <= c->time)
        return SW_OK;
    enter(c, &bench);
    return run_stretch(c, &bench, INFINITY);
}

static sw_status begin_phase(sw_cook *c, const phase_plan *plan)
{
    enter(c, plan);
    if (c->history->row_count > 0)
        return SW_OK;
    sw_surround_stretch(&c->body, &c->around, c->time, lumped_of(c));
    return sw_record_start(c);
}

static sw_status run_phase(sw_cook *c, const phase_plan *plan)
{
    const double start = c->time;
    sw_status status = begin_phase(c, plan);
    if (status == SW_OK)
        status = run_stretch(c, plan, start + c->scenario.solver.longest_phase);
    return status == SW_OK ? end_phase(c, plan, start) : status;
}

/* A phase in a wrap, during which its juice may be poured. */
static sw_status run_in_wrap(sw_cook *c, const phase_plan *plan)
{
    const sw_wrap *wrap = &c->scenario.wrap;
    const double start = c->time, limit = start + c->scenario.solver.longest_phase;
    sw_status status = lie_on_bench(c, plan);
    if (status == SW_OK)
        status = begin_phase(c, plan);
    if (status == SW_OK && wrap->pour != SW_POUR_NO && sw_wrap_traits_of(plan->wrap)->is_open &&
        !misses_hour(c, SW_PLANNED_POUR, wrap->pour_when)) {
        phase_plan until = *plan;
        phase_end when = {.time = INFINITY};
        let_end(&when, &c->scenario, wrap->pour_when, 0.0);
        let_end(&until.end, &c->scenario, wrap->pour_when, 0.0);
        if (wrap->pour_when.kind == SW_ENDING_PROBE_TEMPERATURE)
            until.ending_name = "wrap.pour_when";
        status = run_stretch(c, &until, limit);
        if (status == SW_OK && is_over(c, &when, true)) {
            c->history->pour = (sw_milestone){probe_value(c, sw_integrator_state(c->integrator)), c->time};
            c->poured += sw_around_pour(&c->around, lumped_of(c));
        }
    }
    if (status == SW_OK)
        status = run_stretch(c, plan, limit);
    return status == SW_OK ? end_phase(c, plan, start) : status;
}

static const char *name_of_end(sw_ending ending, const char *name)
{
    return ending.kind == SW_ENDING_PROBE_TEMPERATURE ? name : "pull";
}

/* What is on the pit after the wrap's moment. */
static sw_status run_wrapped(sw_cook *c)
{
    const sw_scenario *s = &c->scenario;
    phase_end pull = {.time = INFINITY};
    let_end(&pull, s, s->pull, 0.0);
    if (is_over(c, &pull, true)) {
        miss_on_pit(c, SW_PLANNED_WRAP, s->wrap.when);
        return SW_OK;
    }
    const bool rewraps = s->rewrap.when.kind != SW_ENDING_NONE && s->rewrap.kind != s->wrap.kind &&
                         !misses_hour(c, SW_PLANNED_REWRAP, s->rewrap.when);
    phase_plan plan = {.phase = SW_PHASE_WRAPPED, .ending_name = "pull", .end = pull, .wrap = s->wrap.kind};
    if (rewraps) {
        plan.ending_name = name_of_end(s->rewrap.when, "rewrap.when");
        let_end(&plan.end, s, s->rewrap.when, 0.0);
    }
    sw_status status = run_in_wrap(c, &plan);
    if (status != SW_OK || !rewraps)
        return status;
    if (is_over(c, &pull, true)) {
        miss_on_pit(c, SW_PLANNED_REWRAP, s->rewrap.when);
        return SW_OK;
    }
    plan = (phase_plan){.phase = SW_PHASE_REWRAPPED, .ending_name = "pull", .end = pull, .wrap = s->rewrap.kind};
    return run_in_wrap(c, &plan);
}

static sw_status run_on_pit(sw_cook *c)
{
    const sw_scenario *s = &c->scenario;
    phase_plan plan = {.phase = SW_PHASE_PIT,
                       .ending_name = "pull",
                       .end = {.time = INFINITY},
                       .wrap = SW_WRAP_NONE,
                       .may_branch = true};
    phase_end pull = {.time = INFINITY};
    let_end(&pull, s, s->pull, 0.0);
    plan.end = pull;
    if (s->wrap.kind == SW_WRAP_NONE)
        return run_phase(c, &plan);

    plan.ending_name = name_of_end(s->wrap.when, "wrap.when");
    let_end(&plan.end, s, s->wrap.when, 0.0);
    const sw_status status = run_phase(c, &plan);
    return status == SW_OK ? run_wrapped(c) : status;
}

/* What the meat is wrapped in when it comes off the pit. */
static sw_wrap_kind last_wrap(const sw_cook *c)
{
    sw_wrap_kind wrap = SW_WRAP_NONE;
    for (size_t i = 0; i < c->history->phase_count; i++) {
        if (c->history->phases[i].phase == SW_PHASE_WRAPPED)
            wrap = c->scenario.wrap.kind;
        if (c->history->phases[i].phase == SW_PHASE_REWRAPPED)
            wrap = c->scenario.rewrap.kind;
    }
    return wrap;
}

/* Juice that was to be poured from the tray that the meat was pulled in. */
static void note_juice_not_poured(sw_cook *c)
{
    const sw_wrap *wrap = &c->scenario.wrap;
    if (wrap->pour != SW_POUR_NO && sw_wrap_traits_of(last_wrap(c))->is_open && SW_IS_ABSENT(c->history->pour.time) &&
        !sw_history_missing(c->history, SW_PLANNED_POUR))
        miss_on_pit(c, SW_PLANNED_POUR, wrap->pour_when);
}

/* A phase after the pull. What it lacks does not undo what was before it. */
static sw_status run_in_place(sw_cook *c, sw_phase phase, const sw_place *place, sw_planned_end end)
{
    const double start = c->time, planned = sw_ending_clock_time(c->scenario.start_clock, place->until);
    const size_t rows = c->history->row_count, fields = c->history->field_count;
    if (place->until.kind == SW_ENDING_NONE)
        return SW_OK;
    if (c->given_up) {
        miss(c, end, SW_MISSING_NOT_BEGUN, planned);
        return SW_OK;
    }
    if (misses_hour(c, end, place->until))
        return SW_OK;
    phase_plan plan = {.phase = phase,
                       .ending_name = sw_planned_end_key(end),
                       .end = {.time = INFINITY},
                       .place = place,
                       .wrap = place->keep_wrap ? last_wrap(c) : SW_WRAP_NONE};
    let_end(&plan.end, &c->scenario, place->until, c->time);
    if (!plan.end.by_probe && plan.end.time > start + c->scenario.solver.longest_phase) {
        miss(c, end, SW_MISSING_TOO_FAR, planned);
        c->given_up = true;
        return SW_OK;
    }
    sw_status status = run_phase(c, &plan);
    if (status != SW_ERR_NEVER_ENDS)
        return status;
    give_up(c, end, plan.end.temperature, start, rows, fields);
    return SW_OK;
}

static sw_status run_after_pit(sw_cook *c)
{
    note_juice_not_poured(c);
    sw_status status = run_in_place(c, SW_PHASE_REST, &c->scenario.rest, SW_PLANNED_REST);
    if (status == SW_OK)
        status = run_in_place(c, SW_PHASE_HOLD, &c->scenario.hold, SW_PLANNED_HOLD);
    if (status == SW_OK)
        status = run_in_place(c, SW_PHASE_COOLING, &c->scenario.cooling, SW_PLANNED_COOLING);
    return status;
}

/* Runs a cook that was made ready, or goes on with one that has come to its wrap. */
static sw_status run(sw_cook *c, bool is_begun, sw_history **history)
{
    sw_status status = is_begun ? run_wrapped(c) : run_on_pit(c);
    if (status == SW_OK)
        status = run_after_pit(c);
    if (status == SW_OK)
        status = sw_record_check_balances(c);
    if (status != SW_OK)
        return status;
    sw_history_find_milestones(c->history);
    *history = c->history;
    c->history = NULL;
    return SW_OK;
}

static sw_status go_on(sw_context *context, sw_branch *b, sw_cook_observer observer, void *data, sw_history **history)
{
    sw_cook *c = &b->cook;
    c->context = context;
    c->observer = observer;
    c->observer_data = data;
    const sw_status status = run(c, true, history);
    sw_branch_drop(b);
    return status;
}

sw_status sw_cook_run_branching(sw_context *context, const sw_scenario *scenario, sw_cook_observer observer, void *data,
                                sw_branches *branches, sw_history **history)
{
    sw_status status = sw_scenario_check(context, scenario);
    if (status != SW_OK)
        return status;
    sw_branch *begun = sw_branches_find(branches, scenario);
    if (begun)
        return go_on(context, begun, observer, data, history);
    sw_cook c;
    status = sw_cook_prepare(context, scenario, &c);
    if (status != SW_OK)
        return status;
    c.observer = observer;
    c.observer_data = data;
    c.branches = branches;
    sw_branches_begin(branches, scenario);
    status = run(&c, false, history);
    sw_cook_release(&c);
    return status;
}

sw_status sw_cook_run(sw_context *context, const sw_scenario *scenario, sw_cook_observer observer, void *data,
                      sw_history **history)
{
    return sw_cook_run_branching(context, scenario, observer, data, NULL, history);
}
