/* What a kind of pit has when a scenario leaves it out. */
#ifndef SW_PIT_USUAL_H
#define SW_PIT_USUAL_H

#include <stallwright/scenario.h>

typedef struct sw_pit_usual {
    sw_fuel fuel;
    double air_flow;       /* dry air through the pit [kg s-1] */
    double air_heat_share; /* of the fuel's heat that leaves as warm air [-] */
    double air_speed;      /* at the meat [m s-1] */
    double volume;         /* of the chamber [m3] */
} sw_pit_usual;

const sw_pit_usual *sw_pit_usual_of(sw_pit_kind kind);

#endif
