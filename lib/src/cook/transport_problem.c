/* SPDX-License-Identifier: BSD-3-Clause */
#include "transport_problem.h"

#include <math.h>
#include <stdio.h>

static void set_layout(const sw_jacobian_layout *layout, void *data)
{
    sw_transport_set_layout(data, layout);
}

static int rate(double time, const double *state, double *values, void *data)
{
    return sw_transport_rate(data, time, state, values);
}

static int jacobian(double time, const double *state, double *rates, double *values, const sw_border *border, void *data)
{
    return sw_transport_jacobian(data, time, state, rates, values, border);
}

static int flows(double time, const double *state, double *values, void *data)
{
    return sw_transport_flows(data, time, state, values);
}

static double longest_step(double time, void *data)
{
    const sw_lumped_model *model = &((const sw_transport *)data)->lumped;
    return model->longest_step ? model->longest_step(time, model->data) : INFINITY;
}

static size_t bad_cell(const void *data)
{
    return ((const sw_transport *)data)->bad_cell;
}

static void describe(size_t cell, const double *state, char *text, size_t size, const void *data)
{
    (void)data;
    snprintf(text, size, "temperature %.6g K and water content %.4g kg/kg", state[2 * cell], state[2 * cell + 1]);
}

sw_status sw_transport_integrator(sw_context *context, sw_transport *transport, double relative_tolerance,
                                  sw_integrator **integrator)
{
    /* Scales: the kelvin temperature plus 10 K, and the water content plus 3 kg/kg, about what raw meat holds. */
    sw_problem problem = {.mesh = transport->mesh,
                          .cell_scale = {10.0, 3.0},
                          .bordered_count = transport->lumped.count,
                          .bordered_in_use = transport->lumped.in_use,
                          .sum_count = SW_FLOW_COUNT,
                          .set_layout = set_layout,
                          .rate = rate,
                          .jacobian = jacobian,
                          .sums = flows,
                          .longest_step = longest_step,
                          .bad_cell = bad_cell,
                          .describe = describe,
                          .data = transport};
    for (size_t i = 0; i < problem.bordered_count; i++)
        problem.bordered_scale[i] = transport->lumped.scale[i];
    return sw_integrator_create(context, &problem, relative_tolerance, integrator);
}

const sw_probe *sw_deciding_probe(const sw_segment_end *end, const double *state)
{
    const sw_probe *deciding = &end->probes[0];
    double reading = sw_probe_reading(deciding, state);
    for (size_t i = 1; i < end->probe_count; i++) {
        double other = sw_probe_reading(&end->probes[i], state);
        if (end->by_last ? other < reading : other > reading) {
            reading = other;
            deciding = &end->probes[i];
        }
    }
    return deciding;
}

static double bark_activity(const sw_segment_end *end, double time, const double *state)
{
    return sw_transport_surface_activity(end->transport, end->bark_face, time, state);
}

static void distances_to_end(double time, const double *state, double *values, const void *data)
{
    const sw_segment_end *end = data;
    if (end->by_probe)
        *values++ = sw_probe_reading(sw_deciding_probe(end, state), state) - end->temperature;
    if (end->by_bark)
        *values++ = bark_activity(end, time, state) - end->bark_activity;
    for (size_t i = 0; i < end->mark_count; i++) {
        const sw_mark *mark = &end->marks[i];
        *values++ = (mark->is_bark ? bark_activity(end, time, state)
                                   : sw_probe_reading(sw_deciding_probe(end, state), state)) - mark->value;
    }
}

sw_roots sw_segment_roots(const sw_segment_end *end)
{
    return (sw_roots){.count = (int)end->by_probe + (int)end->by_bark + (int)end->mark_count,
                      .mark_count = (int)end->mark_count,
                      .values = distances_to_end,
                      .data = end};
}
