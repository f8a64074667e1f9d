/* SPDX-License-Identifier: BSD-3-Clause */
#include "condensation.h"

bool has_condensed(const sw_outcome *o)
{
    return o->at_end.evaporated_mass < -0.005;
}

void say_condensation(const sw_outcome *o, const char *label, prose *p)
{
    prose_clear(p);
    prose_add(p, label ? "{text}: condensation, " : "{text}Condensation: ", label ? label : "");
    prose_add(p, "{mass} more vapour has condensed on the cold meat than evaporated from it, so it weighs {share} of its raw "
              "mass.", -o->at_end.evaporated_mass, o->at_end.meat_mass / o->at_end.initial_mass);
}
