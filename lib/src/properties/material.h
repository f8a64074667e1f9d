/* SPDX-License-Identifier: BSD-3-Clause */
/* A material: what the solver needs to know about what it is made of, as a table of functions of temperature and water
 * content. Lean meat, fat cap and a constant-property solid are three materials for the same solver.
 *
 * Unknowns of a cell: temperature T [K] and water content X [kg water per kg dry matter, fat not counted as dry matter],
 * both per raw (reference) volume. */
#ifndef SW_MATERIAL_H
#define SW_MATERIAL_H

#include <stallwright/status.h>

#include <stddef.h>

/* Properties of a cell: name and meaning. */
#define SW_PROPERTY_LIST(X)                                                                                            \
    X(heat_capacity, "at constant water, per raw volume [J m-3 K-1]")                                                  \
    X(conductivity, "[W m-1 K-1]")                                                                                     \
    X(juice_pressure, "of the juice the protein has let go [Pa]")                                                      \
    X(mobility, "juice flux per gradient of juice pressure [s]")                                                       \
    X(diffusivity, "water flux per gradient of X: dry density times D [kg m-1 s-1]")                                   \
    X(vapour_permeability, "vapour flux per gradient of vapour pressure [s]")                                          \
    X(vapour_pressure, "[Pa]")                                                                                         \
    X(steam_permeability, "steam flux per gradient of steam pressure [s]")                                             \
    X(steam_pressure, "vapour pressure above the air pressure [Pa]")                                                   \
    X(water_activity, "[-]")                                                                                           \
    X(runoff, "water let go into channels, from where it drips, per raw volume [kg m-3 s-1]")                          \
    X(water_enthalpy, "of liquid water [J kg-1]")                                                                      \
    X(vapour_enthalpy, "of water vapour [J kg-1]")

/* Properties of one cell, or their derivative with respect to T or X. */
#define SW_PROPERTY_FIELD(name, meaning) double name;
typedef struct sw_properties {
    SW_PROPERTY_LIST(SW_PROPERTY_FIELD)
} sw_properties;
#undef SW_PROPERTY_FIELD

/* The same of many cells: of each property those of all cells, so that cells lie side by side. */
#define SW_PROPERTY_COLUMN(name, meaning) double *name;
typedef struct sw_property_columns {
    SW_PROPERTY_LIST(SW_PROPERTY_COLUMN)
} sw_property_columns;
#undef SW_PROPERTY_COLUMN

enum { SW_PROPERTY_COUNT = sizeof(sw_properties) / sizeof(double) };

/* Columns of n cells each in room for SW_PROPERTY_COUNT times as many numbers. */
static inline sw_property_columns sw_columns_in(double *room, size_t n)
{
    sw_property_columns columns;
#define SW_PLACE(name, meaning) columns.name = room, room += n;
    SW_PROPERTY_LIST(SW_PLACE)
#undef SW_PLACE
    (void)room;
    return columns;
}

static inline void sw_set_cell(const sw_property_columns *columns, size_t cell, sw_properties value)
{
#define SW_SET(name, meaning) columns->name[cell] = value.name;
    SW_PROPERTY_LIST(SW_SET)
#undef SW_SET
}

static inline sw_properties sw_cell_of(const sw_property_columns *columns, size_t cell)
{
    sw_properties value;
#define SW_GET(name, meaning) value.name = columns->name[cell];
    SW_PROPERTY_LIST(SW_GET)
#undef SW_GET
    return value;
}

typedef struct sw_material sw_material;

typedef struct sw_material_functions {
    /* Evaluates n cells from the first on; state holds T, X, T, X, ... of all cells. The derivatives are both given or
     * both NULL. */
    void (*evaluate)(const sw_material *material, size_t first, size_t n, const double *state,
                     const sw_property_columns *value, const sw_property_columns *by_temperature,
                     const sw_property_columns *by_water);
    /* Of the values of n cells only runoff and water_enthalpy, as evaluate has them; NULL if nothing runs off. */
    void (*evaluate_runoff)(const sw_material *material, size_t first, size_t n, const double *state,
                            const sw_property_columns *value);
    /* Enthalpy per raw volume [J m-3], zero at the reference temperature; its temperature derivative is the heat
     * capacity, its water derivative the dry density times the water enthalpy. */
    double (*enthalpy)(const sw_material *material, double temperature, double water_content);
    /* Water activity alone, as evaluate has it to round-off; NULL if evaluate is the way to it. */
    double (*activity)(const sw_material *material, double temperature, double water_content);
    void (*destroy)(sw_material *material);
} sw_material_functions;

/* First member of every material. */
struct sw_material {
    const sw_material_functions *functions;
    double dry_density;   /* dry matter without fat per raw volume [kg m-3] */
    double fat_density;   /* fat per raw volume [kg m-3] */
    double initial_water; /* raw water content [kg kg-1] */
};

/* One state of T and X alone; the derivatives are both given or both NULL. */
static inline void sw_material_at(const sw_material *material, const double state[2], sw_properties *value,
                                  sw_properties *by_temperature, sw_properties *by_water)
{
    const sw_property_columns to = sw_columns_in(&value->heat_capacity, 1);
    if (!by_temperature) {
        material->functions->evaluate(material, 0, 1, state, &to, NULL, NULL);
        return;
    }
    const sw_property_columns by_t = sw_columns_in(&by_temperature->heat_capacity, 1);
    const sw_property_columns by_x = sw_columns_in(&by_water->heat_capacity, 1);
    material->functions->evaluate(material, 0, 1, state, &to, &by_t, &by_x);
}

static inline void sw_material_destroy(sw_material *material)
{
    if (material)
        material->functions->destroy(material);
}

static inline double sw_material_raw_density(const sw_material *material)
{
    return material->dry_density * (1.0 + material->initial_water) + material->fat_density;
}

#endif
