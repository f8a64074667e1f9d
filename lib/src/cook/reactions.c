#include "reactions.h"

#include <math.h>
#include <stdlib.h>

static void tabulated_rates(const void *parameters, double temperature, double *value)
{
    (void)parameters;
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++)
        value[r] = sw_reaction_rate(sw_reaction_law_of((sw_reaction)r), temperature);
}

static double place_temperature(const sw_body *body, size_t place, const double *state)
{
    size_t cells = body->mesh->cell_count;
    return place < cells ? state[2 * place] : sw_probe_reading(&body->probes[place - cells], state);
}

int sw_reactions_init(sw_reactions *r, const sw_body *body, const double *state)
{
    *r = (sw_reactions){.body = body, .place_count = body->mesh->cell_count + body->probe_count};
    r->places = calloc(r->place_count, sizeof *r->places);
    if (!r->places ||
        sw_table_init(&r->rates, sw_temperature_range, SW_INNER_REACTION_COUNT, tabulated_rates, NULL) != 0) {
        sw_reactions_free(r);
        return -1;
    }
    for (size_t i = 0; i < r->place_count; i++) {
        sw_reacting_place *p = &r->places[i];
        p->temperature = place_temperature(body, i, state);
        tabulated_rates(NULL, p->temperature, p->rate);
        for (int k = 0; k < SW_INNER_REACTION_COUNT; k++)
            p->remaining[k] = 1.0;
    }
    return 0;
}

void sw_reactions_free(sw_reactions *r)
{
    free(r->places);
    sw_table_free(&r->rates);
    *r = (sw_reactions){0};
}

static void advance_place(const sw_reactions *r, sw_reacting_place *p, double temperature, double step)
{
    const sw_table_place place = sw_table_find(&r->rates, temperature, 0);
    for (int k = 0; k < SW_INNER_REACTION_COUNT; k++) {
        const sw_reaction_law *law = sw_reaction_law_of((sw_reaction)k);
        double rate = sw_table_value(&place, SW_INNER_REACTION_COUNT, (size_t)k);
        double mean = sw_mean_rate(p->rate[k], rate, sw_reaction_log_ratio(law, p->temperature, temperature));
        double remaining = p->remaining[k] * exp(-step * mean);
        p->outside[k] += (p->remaining[k] - remaining) * sw_reaction_share_outside(law, p->temperature, temperature);
        p->remaining[k] = remaining;
        p->rate[k] = rate;
    }
    p->temperature = temperature;
}

void sw_reactions_advance(sw_reactions *r, double time, const double *state)
{
    for (size_t i = 0; i < r->place_count; i++)
        advance_place(r, &r->places[i], place_temperature(r->body, i, state), time - r->last_time);
    r->last_time = time;
}

const sw_reacting_place *sw_reactions_at_probe(const sw_reactions *r, size_t probe)
{
    return &r->places[r->body->mesh->cell_count + probe];
}

bool sw_reaction_belongs(sw_reaction reaction, int region)
{
    return region == SW_REGION_LEAN || reaction == SW_REACTION_RENDERING;
}

double sw_reactions_outside(const sw_reactions *r, sw_reaction reaction)
{
    const sw_mesh *mesh = r->body->mesh;
    double reacted = 0.0, outside = 0.0;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        if (!sw_reaction_belongs(reaction, mesh->region[i]))
            continue;
        reacted += mesh->volume[i] * (1.0 - r->places[i].remaining[reaction]);
        outside += mesh->volume[i] * r->places[i].outside[reaction];
    }
    return reacted > 0.0 ? outside / reacted : 0.0;
}
