#include "condensation.h"

bool has_condensed(const cook_run *run)
{
    return run->status == SW_OK && run->outcome.at_end.evaporated_mass < -0.005;
}

void say_condensation(const cook_run *run, const char *label, prose *p)
{
    prose_clear(p);
    prose_add(p, label ? "{text}: condensation, " : "{text}Condensation: ", label ? label : "");
    prose_add(p, "{mass} more vapour has condensed on the cold meat than evaporated from it, so it weighs {share} of its raw "
              "mass.", -run->outcome.at_end.evaporated_mass, run->outcome.at_end.meat_mass / run->outcome.at_end.initial_mass);
}
