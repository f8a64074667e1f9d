/* What a side of the cut meets in a place, bare or wrapped. Theory: docs/theory/wraps.md. */
#ifndef SW_WRAP_H
#define SW_WRAP_H

#include "surface.h"

#include <stallwright/scenario.h>

/* Air and walls of a place. */
typedef struct sw_surroundings {
    double air_temperature;  /* [K] */
    double wall_temperature; /* [K] */
    double pressure;         /* [Pa] */
    double vapour_pressure;  /* [Pa] */
    double convection;       /* [W m-2 K-1] */
    const double *convection_of_side; /* by sw_side; NULL: convection on all */
} sw_surroundings;

/* The surface of one side under a wrap. evaporation: false seals it. */
sw_surface sw_wrapped_surface(const sw_surroundings *surroundings, const sw_wrap *wrap, sw_wrap_kind kind, sw_side side,
                              bool evaporation);

#endif
