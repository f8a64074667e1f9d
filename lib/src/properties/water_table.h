/* SPDX-License-Identifier: BSD-3-Clause */
/* Water on its saturation line as a temperature table: shared by surfaces and materials of one cook. */
#ifndef SW_WATER_TABLE_H
#define SW_WATER_TABLE_H

#include "table.h"

enum {
    SW_WATER_SATURATION_PRESSURE, /* [Pa] */
    SW_WATER_LATENT_HEAT,         /* [J kg-1] */
    SW_WATER_LIQUID_ENTHALPY,     /* zero at the reference temperature [J kg-1] */
    SW_WATER_TABLE_WIDTH
};

typedef struct sw_water_table {
    sw_table table;
    double reference_temperature; /* where enthalpies are zero [K] */
} sw_water_table;

/* The context, which may be NULL, keeps the table for others. Returns 0 or -1 if memory is short. */
int sw_water_table_init(sw_context *context, sw_water_table *water, double reference_temperature);
void sw_water_table_free(sw_water_table *water);

/* A column of the table at a temperature [K], in the column's unit. */
static inline double sw_water_at(const sw_water_table *water, double temperature, size_t column)
{
    const sw_table_place place = sw_table_find(&water->table, temperature, 0);
    return sw_table_value(&place, SW_WATER_TABLE_WIDTH, column);
}

/* Enthalpy of liquid water above the reference temperature [J kg-1]. */
double sw_liquid_enthalpy(double temperature, double reference_temperature);

#endif
