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

/* Properties of one cell, or their derivative with respect to T or X. */
typedef struct sw_properties {
    double heat_capacity;       /* at constant water, per raw volume [J m-3 K-1] */
    double conductivity;        /* [W m-1 K-1] */
    double juice_pressure;      /* of the juice the protein has let go [Pa] */
    double mobility;            /* juice flux per gradient of juice pressure [s] */
    double diffusivity;         /* water flux per gradient of X: dry density times D [kg m-1 s-1] */
    double vapour_permeability; /* vapour flux per gradient of vapour pressure [s] */
    double vapour_pressure;     /* [Pa] */
    double steam_permeability;  /* steam flux per gradient of steam pressure [s] */
    double steam_pressure;      /* vapour pressure above the air pressure [Pa] */
    double water_activity;      /* [-] */
    double runoff;              /* water let go into channels, from where it drips, per raw volume [kg m-3 s-1] */
    double water_enthalpy;      /* of liquid water [J kg-1] */
    double vapour_enthalpy;     /* of water vapour [J kg-1] */
} sw_properties;

typedef struct sw_material sw_material;

typedef struct sw_material_functions {
    /* Evaluates n cells; state holds T, X, T, X, ... The derivative arrays are both given or both NULL. */
    void (*evaluate)(const sw_material *material, size_t n, const double *state, sw_properties *value,
                     sw_properties *by_temperature, sw_properties *by_water);
    /* Of the values of n cells only runoff and water_enthalpy, as evaluate has them; NULL if nothing runs off. */
    void (*evaluate_runoff)(const sw_material *material, size_t n, const double *state, sw_properties *value);
    /* Enthalpy per raw volume [J m-3], zero at the reference temperature; its temperature derivative is the heat
     * capacity, its water derivative the dry density times the water enthalpy. */
    double (*enthalpy)(const sw_material *material, double temperature, double water_content);
    void (*destroy)(sw_material *material);
} sw_material_functions;

/* First member of every material. */
struct sw_material {
    const sw_material_functions *functions;
    double dry_density;   /* dry matter without fat per raw volume [kg m-3] */
    double fat_density;   /* fat per raw volume [kg m-3] */
    double initial_water; /* raw water content [kg kg-1] */
};

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
