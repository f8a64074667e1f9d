/* SPDX-License-Identifier: BSD-3-Clause */
#include "told_unit.h"

typedef struct quantity_row {
    const char *si_unit;
    sw_told_unit si, us; /* us without a form: nobody has another than si */
} quantity_row;

static const quantity_row rows[SW_QUANTITY_COUNT] = {
    [SW_QUANTITY_NUMBER] = {"1", {"%.4g", 1.0, 0.0, 0.0}, {0}},
    [SW_QUANTITY_TEMPERATURE] = {"K", {"%.1f C", 1.0, 273.15, 0.0}, {"%.1f F", 1.8, 273.15, 32.0}},
    [SW_QUANTITY_TEMPERATURE_DIFFERENCE] = {"K", {"%.3g K", 1.0, 0.0, 0.0}, {"%.3g F", 1.8, 0.0, 0.0}},
    [SW_QUANTITY_HEATING_RATE] = {"K/s", {"%.2g K/h", 3600.0, 0.0, 0.0}, {"%.2g F/h", 1.8 * 3600.0, 0.0, 0.0}},
    [SW_QUANTITY_MASS] = {"kg", {"%.4g kg", 1.0, 0.0, 0.0}, {"%.4g lb", 1.0 / SW_POUND, 0.0, 0.0}},
    [SW_QUANTITY_LENGTH] = {"m", {"%.4g cm", 100.0, 0.0, 0.0}, {"%.4g in", 1.0 / SW_INCH, 0.0, 0.0}},
    [SW_QUANTITY_DURATION] = {"s", {"%.4g h", 1.0 / 3600.0, 0.0, 0.0}, {0}},
    [SW_QUANTITY_CLOCK] = {"s", {"%.6g s", 1.0, 0.0, 0.0}, {0}},
    [SW_QUANTITY_AREA] = {"m2", {"%.4g m2", 1.0, 0.0, 0.0}, {0}},
    [SW_QUANTITY_DIFFUSIVITY] = {"m2/s", {"%.4g m2/s", 1.0, 0.0, 0.0}, {0}},
    [SW_QUANTITY_HEAT_TRANSFER] = {"W/m2/K",
                                   {"%.4g W/m2/K", 1.0, 0.0, 0.0},
                                   {"%.4g BTU/h/ft2/F", 3600.0 * SW_FOOT * SW_FOOT / (1.8 * SW_BTU), 0.0, 0.0}},
    [SW_QUANTITY_THERMAL_RESISTANCE] = {"m2 K/W", {"%.4g m2 K/W", 1.0, 0.0, 0.0}, {0}},
    [SW_QUANTITY_PERMEANCE] = {"kg/s/m2/Pa", {"%.4g kg/s/m2/Pa", 1.0, 0.0, 0.0}, {0}},
    [SW_QUANTITY_HUMIDITY_RATIO] = {"1", {"%.4g", 1.0, 0.0, 0.0}, {0}},
    [SW_QUANTITY_SURFACE] = {"m2", {"%.4g cm2", 1e4, 0.0, 0.0}, {"%.4g in2", 1.0 / (SW_INCH * SW_INCH), 0.0, 0.0}},
    [SW_QUANTITY_SPEED] = {"m/s", {"%.4g m/s", 1.0, 0.0, 0.0}, {"%.4g ft/min", 60.0 / SW_FOOT, 0.0, 0.0}},
    [SW_QUANTITY_HEAT_CAPACITY] = {"J/K", {"%.4g kJ/K", 1e-3, 0.0, 0.0}, {"%.4g BTU/F", 1.0 / (1.8 * SW_BTU), 0.0, 0.0}},
    [SW_QUANTITY_HEAT_LOSS] = {"W/K", {"%.4g W/K", 1.0, 0.0, 0.0}, {"%.4g BTU/h/F", 3600.0 / (1.8 * SW_BTU), 0.0, 0.0}},
    [SW_QUANTITY_MASS_PER_AREA] = {"kg/m2",
                                   {"%.4g g/m2", 1e3, 0.0, 0.0},
                                   {"%.4g oz/ft2", SW_FOOT * SW_FOOT / SW_OUNCE, 0.0, 0.0}},
    [SW_QUANTITY_MASS_FLOW] = {"kg/s", {"%.4g kg/h", 3600.0, 0.0, 0.0}, {"%.4g lb/h", 3600.0 / SW_POUND, 0.0, 0.0}},
};

static const quantity_row *row_of(sw_quantity quantity)
{
    return &rows[quantity >= 0 && quantity < SW_QUANTITY_COUNT ? quantity : SW_QUANTITY_NUMBER];
}

const char *sw_quantity_si_unit(sw_quantity quantity)
{
    return row_of(quantity)->si_unit;
}

const sw_told_unit *sw_told_unit_of(sw_quantity quantity, sw_unit_system system)
{
    const quantity_row *row = row_of(quantity);
    return system == SW_UNITS_US && row->us.form ? &row->us : &row->si;
}
