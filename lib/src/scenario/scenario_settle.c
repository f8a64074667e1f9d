/* SPDX-License-Identifier: BSD-3-Clause */
/* Puts values in the place of what a scenario leaves open. */
#include <stallwright/cut_traits.h>
#include <stallwright/moist_air.h>

#include "pit_usual.h"

#include <math.h>
#include <stdio.h>

static void fill(double *value, double usual)
{
    if (*value == SW_USUAL)
        *value = usual;
}

static void settle_cut(sw_scenario *s, const sw_cut_traits *cut)
{
    char name[SW_TEXT_MAX];
    snprintf(name, sizeof name, "%s", sw_meat_name(&s->meat));
    snprintf(s->meat.name, sizeof s->meat.name, "%s", name);
    fill(&s->meat.composition.water, cut->composition.water);
    fill(&s->meat.composition.protein, cut->composition.protein);
    fill(&s->meat.composition.fat, cut->composition.fat);
    fill(&s->meat.composition.carbohydrate, cut->composition.carbohydrate);
    fill(&s->meat.composition.ash, cut->composition.ash);
    fill(&s->meat.bone, cut->bone);
    fill(&s->serving.trimming, cut->trimming);
}

static void settle_size(sw_scenario *s)
{
    const double left = 1.0 - s->serving.trimming;
    if (s->meat.bought_mass > 0.0) {
        s->meat.mass = s->meat.bought_mass * left;
        s->meat.bought_mass = 0.0;
    }
    if (s->meat.shape == SW_SHAPE_SLAB && s->meat.thickness <= 0.0)
        s->meat.thickness = sw_slab_thickness(s->meat.cut, s->meat.mass / left);
}

static sw_ending settled_pull(const sw_scenario *s, double usual)
{
    double pressure, boiling, temperature = usual;
    if (sw_pressure_at_altitude(s->pit.altitude, &pressure) == SW_OK &&
        sw_saturation_temperature(pressure, &boiling) == SW_OK)
        temperature = fmin(temperature, boiling - SW_USUAL_PULL_BELOW_BOILING);
    return (sw_ending){SW_ENDING_PROBE_TEMPERATURE, temperature};
}

/* What was learned of the pit goes before what is usual of its kind. The offset moves the gauge's readings once. */
static void take_learned(sw_pit *pit)
{
    if (pit->learned.cooks == 0)
        return;
    for (size_t i = 0; i < pit->step_count; i++)
        pit->steps[i].temperature += pit->learned.offset;
    pit->learned.offset = 0.0;
    fill(&pit->convection, pit->learned.convection);
    if (pit->humidity == SW_HUMIDITY_GIVEN)
        fill(&pit->humidity_ratio, pit->learned.humidity_ratio);
}

void sw_scenario_settle(sw_scenario *s)
{
    const sw_cut_traits *cut = sw_cut_traits_of(s->meat.cut);
    settle_cut(s, cut);
    settle_size(s);
    if (s->pull.kind == SW_ENDING_USUAL)
        s->pull = settled_pull(s, cut->pull);
    take_learned(&s->pit);
    fill(&s->pit.heat_up, sw_pit_usual_of(s->pit.kind)->heat_up);
    fill(&s->pit.wall_offset, sw_usual_wall_offset(&s->pit));
    fill(&s->pit.convection, sw_usual_convection(&s->pit));
    fill(&s->pit.humidity_ratio, sw_usual_humidity(&s->pit, s->meat.mass));
}
