#include "say.h"

#include <stdio.h>

/* value in this unit = (SI value - zero) * per_si + offset. */
typedef struct way_to_say {
    const char *form; /* printf format of the number and its unit */
    double per_si, zero, offset;
} way_to_say;

/* Exact by definition but for the BTU, that of the International Table (NIST SP 811). */
static const double pound = 0.45359237, ounce = 0.45359237 / 16.0, inch = 0.0254, foot = 0.3048, btu = 1055.05585262;

static way_to_say si_way(sw_quantity quantity)
{
    switch (quantity) {
    case SW_QUANTITY_TEMPERATURE:
        return (way_to_say){"%.1f C", 1.0, 273.15, 0.0};
    case SW_QUANTITY_TEMPERATURE_DIFFERENCE:
        return (way_to_say){"%.3g K", 1.0, 0.0, 0.0};
    case SW_QUANTITY_HEATING_RATE:
        return (way_to_say){"%.2g K/h", 3600.0, 0.0, 0.0};
    case SW_QUANTITY_MASS:
        return (way_to_say){"%.4g kg", 1.0, 0.0, 0.0};
    case SW_QUANTITY_LENGTH:
        return (way_to_say){"%.4g cm", 100.0, 0.0, 0.0};
    case SW_QUANTITY_DURATION:
        return (way_to_say){"%.4g h", 1.0 / 3600.0, 0.0, 0.0};
    case SW_QUANTITY_CLOCK:
        return (way_to_say){"%.6g s", 1.0, 0.0, 0.0};
    case SW_QUANTITY_AREA:
        return (way_to_say){"%.4g m2", 1.0, 0.0, 0.0};
    case SW_QUANTITY_DIFFUSIVITY:
        return (way_to_say){"%.4g m2/s", 1.0, 0.0, 0.0};
    case SW_QUANTITY_HEAT_TRANSFER:
        return (way_to_say){"%.4g W/m2/K", 1.0, 0.0, 0.0};
    case SW_QUANTITY_THERMAL_RESISTANCE:
        return (way_to_say){"%.4g m2 K/W", 1.0, 0.0, 0.0};
    case SW_QUANTITY_PERMEANCE:
        return (way_to_say){"%.4g kg/s/m2/Pa", 1.0, 0.0, 0.0};
    case SW_QUANTITY_SURFACE:
        return (way_to_say){"%.4g cm2", 1e4, 0.0, 0.0};
    case SW_QUANTITY_SPEED:
        return (way_to_say){"%.4g m/s", 1.0, 0.0, 0.0};
    case SW_QUANTITY_HEAT_CAPACITY:
        return (way_to_say){"%.4g kJ/K", 1e-3, 0.0, 0.0};
    case SW_QUANTITY_HEAT_LOSS:
        return (way_to_say){"%.4g W/K", 1.0, 0.0, 0.0};
    case SW_QUANTITY_MASS_PER_AREA:
        return (way_to_say){"%.4g g/m2", 1e3, 0.0, 0.0};
    case SW_QUANTITY_MASS_FLOW:
        return (way_to_say){"%.4g kg/h", 3600.0, 0.0, 0.0};
    case SW_QUANTITY_NUMBER:
    case SW_QUANTITY_HUMIDITY_RATIO:
    case SW_QUANTITY_COUNT:
        break;
    }
    return (way_to_say){"%.4g", 1.0, 0.0, 0.0};
}

static way_to_say us_way(sw_quantity quantity)
{
    switch (quantity) {
    case SW_QUANTITY_TEMPERATURE:
        return (way_to_say){"%.1f F", 1.8, 273.15, 32.0};
    case SW_QUANTITY_TEMPERATURE_DIFFERENCE:
        return (way_to_say){"%.3g F", 1.8, 0.0, 0.0};
    case SW_QUANTITY_HEATING_RATE:
        return (way_to_say){"%.2g F/h", 1.8 * 3600.0, 0.0, 0.0};
    case SW_QUANTITY_MASS:
        return (way_to_say){"%.4g lb", 1.0 / pound, 0.0, 0.0};
    case SW_QUANTITY_LENGTH:
        return (way_to_say){"%.4g in", 1.0 / inch, 0.0, 0.0};
    case SW_QUANTITY_HEAT_TRANSFER:
        return (way_to_say){"%.4g BTU/h/ft2/F", 3600.0 * foot * foot / (1.8 * btu), 0.0, 0.0};
    case SW_QUANTITY_SURFACE:
        return (way_to_say){"%.4g in2", 1.0 / (inch * inch), 0.0, 0.0};
    case SW_QUANTITY_SPEED:
        return (way_to_say){"%.4g ft/min", 60.0 / foot, 0.0, 0.0};
    case SW_QUANTITY_HEAT_CAPACITY:
        return (way_to_say){"%.4g BTU/F", 1.0 / (1.8 * btu), 0.0, 0.0};
    case SW_QUANTITY_HEAT_LOSS:
        return (way_to_say){"%.4g BTU/h/F", 3600.0 / (1.8 * btu), 0.0, 0.0};
    case SW_QUANTITY_MASS_PER_AREA:
        return (way_to_say){"%.4g oz/ft2", foot * foot / ounce, 0.0, 0.0};
    case SW_QUANTITY_MASS_FLOW:
        return (way_to_say){"%.4g lb/h", 3600.0 / pound, 0.0, 0.0};
    default:
        return si_way(quantity); /* nobody has another */
    }
}

static const char *put(way_to_say way, double value, char text[SW_SAY_SIZE])
{
    snprintf(text, SW_SAY_SIZE, way.form, (value - way.zero) * way.per_si + way.offset);
    return text;
}

const char *sw_say(const sw_context *context, sw_quantity quantity, double value, char text[SW_SAY_SIZE])
{
    return put(sw_context_units(context) == SW_UNITS_US ? us_way(quantity) : si_way(quantity), value, text);
}

const char *sw_say_altitude(const sw_context *context, double metres, char text[SW_SAY_SIZE])
{
    const way_to_say way = sw_context_units(context) == SW_UNITS_US ? (way_to_say){"%.0f ft", 1.0 / foot, 0.0, 0.0}
                                                                    : (way_to_say){"%.0f m", 1.0, 0.0, 0.0};
    return put(way, metres, text);
}
