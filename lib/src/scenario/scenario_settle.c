/* Puts values in the place of what a scenario leaves open. */
#include <stallwright/scenario.h>

#include "scenario_settle.h"

#include <stallwright/moist_air.h>

#include <math.h>

/* A slab stands for the part over the probe, thicker than the mean of the cut: 7.5 cm at 6.5 kg (a guess, 5 to 8 cm; measured
 * cooks have not been fitted). Cuts of one shape scale alike in all three directions. */
static const double slab_thickness = 0.075, slab_mass = 6.5;

double sw_slab_thickness(double mass)
{
    return slab_thickness * cbrt(mass / slab_mass);
}

static sw_ending settled_pull(const sw_scenario *s)
{
    double pressure, boiling, temperature = s->pull.value;
    if (sw_pressure_at_altitude(s->pit.altitude, &pressure) == SW_OK &&
        sw_saturation_temperature(pressure, &boiling) == SW_OK)
        temperature = fmin(temperature, boiling - SW_USUAL_PULL_BELOW_BOILING);
    return (sw_ending){SW_ENDING_PROBE_TEMPERATURE, temperature};
}

void sw_scenario_settle(sw_scenario *s)
{
    if (s->meat.bought_mass > 0.0) {
        s->meat.mass = s->meat.bought_mass * (1.0 - s->serving.trimming);
        s->meat.bought_mass = 0.0;
    }
    if (s->meat.shape == SW_SHAPE_SLAB && s->meat.thickness <= 0.0)
        s->meat.thickness = sw_slab_thickness(s->meat.mass);
    if (s->pull.kind == SW_ENDING_USUAL)
        s->pull = settled_pull(s);
}
