/* What follows from other values where a scenario leaves it open; sw_scenario_settle fills it in. */
#ifndef SW_SCENARIO_SETTLE_H
#define SW_SCENARIO_SETTLE_H

/* Thickness of a slab that stands for a cut of this mass [m], [kg]. */
double sw_slab_thickness(double mass);

#endif
