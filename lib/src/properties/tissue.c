/* SPDX-License-Identifier: BSD-3-Clause */
#include "tissue.h"

#include "choi_okos.h"
#include "lanes.h"
#include "saturation.h"
#include "vector_clones.h"
#include "water_table.h"

#include <stallwright/moist_air.h>

#include <math.h>
#include <stdlib.h>

/* Functions of temperature alone, tabulated. */
enum {
    SATURATION_PRESSURE, /* [Pa] */
    VAPOUR_ENTHALPY,     /* [J kg-1] */
    DRY_HEAT_CAPACITY,   /* dry matter and fat, without melting, per raw volume [J m-3 K-1] */
    WATER_HEAT_CAPACITY, /* per raw volume and unit of X [J m-3 K-1] */
    EQUILIBRIUM_WATER,   /* water content the protein can hold [kg kg-1]; the first of four that runoff takes */
    MODULUS,             /* swelling pressure per unit of X above equilibrium [Pa] */
    RUNOFF,              /* rate of juice runoff times dry density [kg m-3 s-1] */
    WATER_ENTHALPY,      /* [J kg-1] */
    MOBILITY,            /* at raw water content [s] */
    DIFFUSIVITY,         /* of moist tissue, times dry density [kg m-1 s-1] */
    VAPOUR_PERMEABILITY, /* of dry tissue [s] */
    WATER_CONDUCTIVITY,  /* [W m-1 K-1] */
    WATER_VOLUME,        /* per raw volume and unit of X [-] */
    DRY_PARALLEL,        /* sum of volume times conductivity of dry matter and fat, per raw volume [W m-1 K-1] */
    DRY_VOLUME,          /* volume of dry matter and fat per raw volume [-] */
    DRY_SERIES,          /* sum of volume over conductivity, per raw volume [m K W-1] */
    COLUMN_COUNT
};

typedef struct tissue {
    sw_material material;
    sw_tissue_parameters parameters;
    sw_table table;    /* by temperature */
    sw_table sorption; /* water activity by water content */
    double per_initial_water, per_vapour_limit; /* reciprocals of these water contents */
    double dry[SW_COMPONENT_COUNT]; /* dry components and fat per raw volume [kg m-3]; water 0 */
    sw_quadratic dry_heat_capacity; /* of all of them per raw volume, by degrees Celsius [J m-3 K-1] */
    double dry_enthalpy_at_start;           /* its integral from 0 C to the initial temperature [J m-3] */
    double melted_at_start;                 /* share of the fat */
} tissue;

static const double gas_constant = 8.314462618; /* [J mol-1 K-1], CODATA 2018 */

/* Permeability to steam above the air pressure over that of the dry tissue to diffusing vapour [-]. Steam flows where vapour
 * would diffuse, through wet tissue too; any factor that keeps wet meat within a kelvin of boiling serves. A choice,
 * 50..1000. */
static const double steam_gain = 100.0;

/* Over this range above the air pressure steam begins to flow [Pa]. */
static const double steam_onset = 2000.0;

/* Over this range of swelling pressure juice begins to flow [Pa]. A choice, small beside the 10 to 90 kPa modulus. */
static const double juice_onset = 2000.0;

void sw_lean_parameters(sw_tissue_parameters *p)
{
    *p = (sw_tissue_parameters){
        .conductivity_mix = 0.5,
        .permeability = 5.4e-17,
        .holding_temperature = 273.15 + 67.0,
        .holding_steepness = 0.287,
        .holding_loss = 0.487,
        .late_loss = 0.093,
        .late_temperature = 273.15 + 87.4,
        .modulus_raw = 12e3,
        .modulus_rise = 83e3,
        .modulus_temperature = 273.15 + 60.0,
        .modulus_steepness = 0.3,
        .runoff_time = 0.62 * 3600.0,
        .runoff_energy = 90e3,
        .diffusivity = 4.6e-10,
        .diffusivity_energy = 28e3,
        .diffusivity_half_water = 0.3,
        .sorption_scale = 0.10,
        .sorption_exponent = 0.45,
        .vapour_openness = 0.0077,
        .vapour_water_limit = 1.0,
        .melting_start = 273.15 + 25.0,
        .melting_end = 273.15 + 50.0,
        .melting_heat = 80e3,
    };
}

void sw_fat_cap_parameters(sw_tissue_parameters *p)
{
    sw_lean_parameters(p);
    p->diffusivity = 1e-10;
}

double sw_melted_fraction(const sw_tissue_parameters *p, double temperature, double *slope)
{
    double width = p->melting_end - p->melting_start;
    double s = (temperature - p->melting_start) / width;
    s = s < 0.0 ? 0.0 : s > 1.0 ? 1.0 : s;
    *slope = 30.0 * s * s * (1.0 - s) * (1.0 - s) / width;
    return s * s * s * (10.0 - 15.0 * s + 6.0 * s * s);
}

static double logistic(double x)
{
    return 1.0 / (1.0 + exp(-x));
}

/* Viscosity of water [Pa s]: the Vogel form with its usual constants (from memory); 0.47 mPa s at 60 C. */
static double water_viscosity(double temperature)
{
    return 2.414e-5 * pow(10.0, 247.8 / (temperature - 140.0));
}

static double lost_share(const sw_tissue_parameters *p, double temperature)
{
    return p->holding_loss * logistic(p->holding_steepness * (temperature - p->holding_temperature)) +
           p->late_loss * logistic(p->holding_steepness * (temperature - p->late_temperature));
}

/* Water the protein can hold, over what raw meat holds. */
static double holding_share(const sw_tissue_parameters *p, double temperature)
{
    return (1.0 - lost_share(p, temperature)) / (1.0 - lost_share(p, p->initial_temperature));
}

static void tissue_functions(const void *parameters, double temperature, double *f)
{
    const tissue *t = parameters;
    const sw_tissue_parameters *p = &t->parameters;
    const sw_choi_okos *water = &sw_choi_okos_table[SW_COMPONENT_WATER];
    double celsius = temperature - 273.15, dry_density = t->material.dry_density, slope;

    sw_saturation(temperature, &f[SATURATION_PRESSURE], &slope);
    f[WATER_ENTHALPY] = sw_liquid_enthalpy(temperature, p->initial_temperature);
    f[VAPOUR_ENTHALPY] = f[WATER_ENTHALPY] + sw_latent_heat_unchecked(temperature);
    f[WATER_HEAT_CAPACITY] = dry_density * sw_quadratic_value(water->heat_capacity, celsius);

    f[EQUILIBRIUM_WATER] = t->material.initial_water * holding_share(p, temperature);
    f[MODULUS] = (p->modulus_raw + p->modulus_rise * logistic(p->modulus_steepness *
                                                              (temperature - p->modulus_temperature))) /
                 (1.0 + t->material.initial_water);
    double water_density = sw_quadratic_value(water->density, celsius);
    f[MOBILITY] = water_density * p->permeability / water_viscosity(temperature);
    f[RUNOFF] = dry_density / p->runoff_time *
                 exp(-p->runoff_energy / gas_constant * (1.0 / temperature - 1.0 / 343.15));
    f[DIFFUSIVITY] = dry_density * p->diffusivity *
                     exp(-p->diffusivity_energy / gas_constant * (1.0 / temperature - 1.0 / 333.15));
    double vapour_diffusivity = 0.0;
    sw_vapour_diffusivity(temperature < SW_MOIST_AIR_TEMPERATURE_MIN ? SW_MOIST_AIR_TEMPERATURE_MIN : temperature,
                          p->pressure, &vapour_diffusivity);
    f[VAPOUR_PERMEABILITY] = p->vapour_openness * vapour_diffusivity / (SW_VAPOUR_GAS_CONSTANT * temperature);

    f[WATER_CONDUCTIVITY] = sw_quadratic_value(water->conductivity, celsius);
    f[WATER_VOLUME] = dry_density / water_density;
    f[DRY_HEAT_CAPACITY] = sw_quadratic_value(t->dry_heat_capacity, celsius);
    f[DRY_PARALLEL] = f[DRY_VOLUME] = f[DRY_SERIES] = 0.0;
    for (int i = 0; i < SW_COMPONENT_COUNT; i++) {
        const sw_choi_okos *c = &sw_choi_okos_table[i];
        double volume = t->dry[i] / sw_quadratic_value(c->density, celsius);
        double conductivity = sw_quadratic_value(c->conductivity, celsius);
        f[DRY_VOLUME] += volume;
        f[DRY_PARALLEL] += volume * conductivity;
        f[DRY_SERIES] += volume / conductivity;
    }
}

/* Water activity by water content is tabulated too: a power costs more than the rest of a cell's vapour terms. */
static const sw_table_range water_range = {0.0, 0.01, 801};

/* Oswin isotherm: a = z / (1 + z) with z = (X / A)^(1 / B); odd about zero, so that its slope is smooth there. */
static void sorption_function(const void *parameters, double water, double *activity)
{
    const sw_tissue_parameters *p = parameters;
    double z = pow(fabs(water) / p->sorption_scale, 1.0 / p->sorption_exponent);
    activity[0] = copysign(z / (1.0 + z), water);
}

/* What exceeds 0, set in smoothly over a range, with its slope. */
SW_IN_LINE sw_lanes set_in(sw_lanes x, double range, sw_lanes *slope)
{
    const sw_lanes above = sw_at_least(x, 0.0), onset = sw_at_most(above, range);
    *slope = onset * (1.0 / range);
    return above - onset + onset * onset * (0.5 / range);
}

/* Water that the protein has let go [kg kg-1], and the pressure of that juice, from the swelling pressure. Below equilibrium the protein
 * holds its water: no juice flows, and the water that leaves does so by diffusion. */
SW_IN_LINE sw_lanes free_water(sw_lanes water, sw_lanes equilibrium, sw_lanes modulus, sw_lanes *pressure, sw_lanes *pressure_slope)
{
    *pressure = set_in(modulus * (water - equilibrium), juice_onset, pressure_slope);
    return *pressure / modulus;
}

/* Properties of four cells. */
#define LANES(name, meaning) sw_lanes name;
typedef struct lane_properties {
    SW_PROPERTY_LIST(LANES)
} lane_properties;
#undef LANES

/* Where four numbers lie in a table, and the Hermite weights there: sw_table_place. */
typedef struct lane_place {
    const double *row[SW_LANES];
    sw_lanes value_low, slope_low, value_high, slope_high;
    sw_lanes d_value_low, d_slope_low, d_value_high, d_slope_high;
} lane_place;

SW_IN_LINE void find(const sw_table *table, sw_lanes x, lane_place *p, const int derivatives)
{
    const double last = (double)(table->range.row_count - 1) - 1e-7, per_step = table->per_step;
    const sw_lanes position = sw_at_most(sw_at_least((x - table->range.first) * per_step, 0.0), last);
    sw_lanes floor = position;
    for (int k = 0; k < SW_LANES; k++) {
        const int index = (int)position[k];
        floor[k] = index;
        p->row[k] = table->rows + (size_t)index * 2 * table->width;
    }
    const sw_lanes s = position - floor, s2 = s * s, s3 = s2 * s;
    p->value_high = 3.0 * s2 - 2.0 * s3;
    p->value_low = 1.0 - p->value_high;
    p->slope_low = s3 - 2.0 * s2 + s;
    p->slope_high = s3 - s2;
    if (!derivatives)
        return;
    p->d_value_high = (6.0 * s - 6.0 * s2) * per_step;
    p->d_value_low = -p->d_value_high;
    p->d_slope_low = (3.0 * s2 - 4.0 * s + 1.0) * per_step;
    p->d_slope_high = (3.0 * s2 - 2.0 * s) * per_step;
}

/* Four columns from one on, of four cells: looked up side by side in each cell's row, then turned so that the cells are. */
SW_IN_LINE void look_up_four(const lane_place *p, size_t width, size_t column, sw_lanes *f, sw_lanes *g, const int derivatives)
{
    sw_lanes value[SW_LANES], slope[SW_LANES];
    for (int k = 0; k < SW_LANES; k++) {
        const double *at = p->row[k] + column;
        const sw_lanes low = sw_load(at), low_slope = sw_load(at + width), high = sw_load(at + 2 * width),
                       high_slope = sw_load(at + 3 * width);
        value[k] = p->value_low[k] * low + p->slope_low[k] * low_slope + p->value_high[k] * high + p->slope_high[k] * high_slope;
        if (derivatives)
            slope[k] = p->d_value_low[k] * low + p->d_slope_low[k] * low_slope + p->d_value_high[k] * high +
                       p->d_slope_high[k] * high_slope;
    }
    sw_transpose(&value[0], &value[1], &value[2], &value[3]);
    for (int j = 0; j < SW_LANES; j++)
        f[j] = value[j];
    if (!derivatives)
        return;
    sw_transpose(&slope[0], &slope[1], &slope[2], &slope[3]);
    for (int j = 0; j < SW_LANES; j++)
        g[j] = slope[j];
}

/* The tables of temperature at four cells, and their slopes. */
typedef struct columns {
    sw_lanes f[COLUMN_COUNT], g[COLUMN_COUNT];
} columns;
_Static_assert(COLUMN_COUNT % SW_LANES == 0, "columns are looked up four at a time");

SW_IN_LINE void look_up(const tissue *t, sw_lanes temperature, columns *c, const int derivatives)
{
    lane_place place;
    find(&t->table, temperature, &place, derivatives);
#pragma GCC unroll 4
    for (size_t j = 0; j < COLUMN_COUNT; j += SW_LANES)
        look_up_four(&place, COLUMN_COUNT, j, c->f + j, c->g + j, derivatives);
}

SW_IN_LINE void store_heat(const tissue *t, const columns *c, sw_lanes temperature, sw_lanes water, lane_properties *value,
                           lane_properties *by_t, lane_properties *by_x, const int derivatives)
{
    const sw_tissue_parameters *p = &t->parameters;
    const double melting_heat = t->material.fat_density * p->melting_heat, per_width = 1.0 / (p->melting_end - p->melting_start);
    const sw_lanes *f = c->f, *g = c->g;
    /* Slopes of the melted fraction, as sw_melted_fraction has it. */
    const sw_lanes s = sw_at_most(sw_at_least((temperature - p->melting_start) * per_width, 0.0), 1.0), left = 1.0 - s;
    value->heat_capacity = f[DRY_HEAT_CAPACITY] + water * f[WATER_HEAT_CAPACITY] +
                           (melting_heat * 30.0 * per_width) * (s * s) * (left * left);
    if (!derivatives)
        return;
    by_t->heat_capacity = g[DRY_HEAT_CAPACITY] + water * g[WATER_HEAT_CAPACITY] +
                          (melting_heat * 60.0 * per_width * per_width) * s * left * (1.0 - 2.0 * s);
    by_x->heat_capacity = f[WATER_HEAT_CAPACITY];
}

/* Conductivity between components in series and in parallel, and diffusivity, which falls as the tissue dries. */
SW_IN_LINE void conduct_and_diffuse(const tissue *t, const columns *c, sw_lanes water, lane_properties *value,
                                    lane_properties *by_t, lane_properties *by_x, const int derivatives)
{
    const double mix = t->parameters.conductivity_mix, half = t->parameters.diffusivity_half_water;
    const sw_lanes *f = c->f, *g = c->g, water_volume = water * f[WATER_VOLUME], volume = water_volume + f[DRY_VOLUME];
    const sw_lanes parallel = (water_volume * f[WATER_CONDUCTIVITY] + f[DRY_PARALLEL]) / volume;
    const sw_lanes series = volume * f[WATER_CONDUCTIVITY] / (water_volume + f[DRY_SERIES] * f[WATER_CONDUCTIVITY]);
    const sw_lanes dryness = water / (water + half);
    value->conductivity = mix * parallel + (1.0 - mix) * series;
    value->diffusivity = f[DIFFUSIVITY] * dryness;
    if (!derivatives)
        return;

    const sw_lanes volume_t = water * g[WATER_VOLUME] + g[DRY_VOLUME], volume_x = f[WATER_VOLUME];
    const sw_lanes sum_t = water * (g[WATER_VOLUME] * f[WATER_CONDUCTIVITY] + f[WATER_VOLUME] * g[WATER_CONDUCTIVITY]) +
                   g[DRY_PARALLEL];
    const sw_lanes sum_x = f[WATER_VOLUME] * f[WATER_CONDUCTIVITY];
    const sw_lanes layers_t = water * (g[WATER_VOLUME] - f[WATER_VOLUME] * g[WATER_CONDUCTIVITY] / f[WATER_CONDUCTIVITY]) /
                          f[WATER_CONDUCTIVITY] +
                      g[DRY_SERIES];
    const sw_lanes layers_x = f[WATER_VOLUME] / f[WATER_CONDUCTIVITY];
    const sw_lanes layers = water * layers_x + f[DRY_SERIES];
    by_t->conductivity = mix * (sum_t - parallel * volume_t) / volume +
                         (1.0 - mix) * (volume_t - series * layers_t) / layers;
    by_x->conductivity = mix * (sum_x - parallel * volume_x) / volume +
                         (1.0 - mix) * (volume_x - series * layers_x) / layers;
    by_t->diffusivity = g[DIFFUSIVITY] * dryness;
    by_x->diffusivity = f[DIFFUSIVITY] * half / ((water + half) * (water + half));
}

/* Juice that the protein has let go: its pressure, how easily it flows, and what runs off. */
SW_IN_LINE void let_juice_go(const tissue *t, const columns *c, sw_lanes water, lane_properties *value,
                             lane_properties *by_t, lane_properties *by_x, const int derivatives)
{
    const sw_lanes *f = c->f, *g = c->g, above = water - f[EQUILIBRIUM_WATER];
    sw_lanes juice_slope;
    const sw_lanes let_go = free_water(water, f[EQUILIBRIUM_WATER], f[MODULUS], &value->juice_pressure, &juice_slope);
    value->runoff = f[RUNOFF] * let_go;
    const sw_lanes wetness = water * t->per_initial_water, relative = wetness * wetness;
    value->mobility = f[MOBILITY] * relative;
    if (!derivatives)
        return;

    by_t->juice_pressure = juice_slope * (g[MODULUS] * above - f[MODULUS] * g[EQUILIBRIUM_WATER]);
    by_x->juice_pressure = juice_slope * f[MODULUS];
    by_t->runoff = g[RUNOFF] * let_go + f[RUNOFF] * (by_t->juice_pressure - let_go * g[MODULUS]) / f[MODULUS];
    by_x->runoff = f[RUNOFF] * juice_slope;
    by_t->mobility = g[MOBILITY] * relative;
    by_x->mobility = f[MOBILITY] * 2.0 * wetness * t->per_initial_water;
}

/* Water activity by water content: of four cells, the row of each being value, slope, value, slope of two points. */
SW_IN_LINE void take_activity(const tissue *t, sw_lanes water, sw_lanes *activity, sw_lanes *slope, const int derivatives)
{
    lane_place p;
    find(&t->sorption, water, &p, derivatives);
    sw_lanes low = sw_load(p.row[0]), low_slope = sw_load(p.row[1]), high = sw_load(p.row[2]), high_slope = sw_load(p.row[3]);
    sw_transpose(&low, &low_slope, &high, &high_slope);
    *activity = p.value_low * low + p.slope_low * low_slope + p.value_high * high + p.slope_high * high_slope;
    if (derivatives)
        *slope = p.d_value_low * low + p.d_slope_low * low_slope + p.d_value_high * high + p.d_slope_high * high_slope;
}

/* Vapour over the tissue, the way it has through a dry layer, and steam. */
SW_IN_LINE void give_vapour(const tissue *t, const columns *c, sw_lanes water, lane_properties *value,
                            lane_properties *by_t, lane_properties *by_x, const int derivatives)
{
    const sw_lanes *f = c->f, *g = c->g, open = sw_at_least(1.0 - water * t->per_vapour_limit, 0.0);
    value->vapour_permeability = f[VAPOUR_PERMEABILITY] * open * open;
    sw_lanes activity[SW_LANES] = {open}, slopes[SW_LANES] = {open}, steam_slope;
    take_activity(t, water, activity, slopes, derivatives);
    value->water_activity = activity[0];
    value->vapour_pressure = value->water_activity * f[SATURATION_PRESSURE];
    value->steam_permeability = steam_gain * f[VAPOUR_PERMEABILITY];
    value->steam_pressure = set_in(value->vapour_pressure - t->parameters.pressure, steam_onset, &steam_slope);
    value->water_enthalpy = f[WATER_ENTHALPY];
    value->vapour_enthalpy = f[VAPOUR_ENTHALPY];
    if (!derivatives)
        return;

    by_t->vapour_permeability = g[VAPOUR_PERMEABILITY] * open * open;
    by_x->vapour_permeability = f[VAPOUR_PERMEABILITY] * -2.0 * open * t->per_vapour_limit;
    by_t->steam_permeability = steam_gain * g[VAPOUR_PERMEABILITY];
    by_x->steam_permeability = sw_all(0.0);
    by_t->water_activity = sw_all(0.0);
    by_x->water_activity = slopes[0];
    by_t->vapour_pressure = value->water_activity * g[SATURATION_PRESSURE];
    by_x->vapour_pressure = slopes[0] * f[SATURATION_PRESSURE];
    by_t->steam_pressure = steam_slope * by_t->vapour_pressure;
    by_x->steam_pressure = steam_slope * by_x->vapour_pressure;
    by_t->water_enthalpy = g[WATER_ENTHALPY];
    by_x->water_enthalpy = sw_all(0.0);
    by_t->vapour_enthalpy = g[VAPOUR_ENTHALPY];
    by_x->vapour_enthalpy = sw_all(0.0);
}

/* Those of count cells that are wanted. */
SW_IN_LINE void store_some(sw_lanes x, size_t count, double *to)
{
    if (count == SW_LANES)
        sw_store(x, to);
    else
        for (size_t k = 0; k < count; k++)
            to[k] = x[k];
}

SW_IN_LINE void write_cells(const lane_properties *from, size_t first, size_t count, const sw_property_columns *to)
{
#define STORE(name, meaning) store_some(from->name, count, to->name + first);
    SW_PROPERTY_LIST(STORE)
#undef STORE
}

/* T and X of four cells, or of fewer and the last of them again. */
SW_IN_LINE void read_cells(const double *state, size_t count, sw_lanes *temperature, sw_lanes *water)
{
    for (size_t k = 0; k < SW_LANES; k++) {
        const size_t cell = k < count ? k : count - 1;
        (*temperature)[k] = state[2 * cell];
        (*water)[k] = state[2 * cell + 1];
    }
}

SW_IN_LINE void evaluate_cells(const tissue *t, size_t first, size_t count, const double *state, const sw_property_columns *value,
                               const sw_property_columns *by_t, const sw_property_columns *by_x, const int derivatives)
{
    columns c;
    lane_properties v, dt, dx;
    sw_lanes temperature = sw_all(0.0), water = sw_all(0.0);
    read_cells(state + 2 * first, count, &temperature, &water);
    look_up(t, temperature, &c, derivatives);
    store_heat(t, &c, temperature, water, &v, &dt, &dx, derivatives);
    conduct_and_diffuse(t, &c, water, &v, &dt, &dx, derivatives);
    let_juice_go(t, &c, water, &v, &dt, &dx, derivatives);
    give_vapour(t, &c, water, &v, &dt, &dx, derivatives);
    write_cells(&v, first, count, value);
    if (!derivatives)
        return;
    write_cells(&dt, first, count, by_t);
    write_cells(&dx, first, count, by_x);
}

SW_VECTOR_CLONES
static void tissue_evaluate(const sw_material *material, size_t first, size_t n, const double *state,
                            const sw_property_columns *value, const sw_property_columns *by_temperature,
                            const sw_property_columns *by_water)
{
    const tissue *t = (const tissue *)material;
    const size_t end = first + n;
    size_t i = first;
    if (by_temperature) {
        for (; i + SW_LANES <= end; i += SW_LANES)
            evaluate_cells(t, i, SW_LANES, state, value, by_temperature, by_water, 1);
        if (i < end)
            evaluate_cells(t, i, end - i, state, value, by_temperature, by_water, 1);
    } else {
        for (; i + SW_LANES <= end; i += SW_LANES)
            evaluate_cells(t, i, SW_LANES, state, value, NULL, NULL, 0);
        if (i < end)
            evaluate_cells(t, i, end - i, state, value, NULL, NULL, 0);
    }
}

SW_IN_LINE void evaluate_runoff(const tissue *t, size_t first, size_t count, const double *state, const sw_property_columns *value)
{
    lane_place place;
    sw_lanes f[SW_LANES], pressure, slope, temperature = sw_all(0.0), water = sw_all(0.0);
    read_cells(state + 2 * first, count, &temperature, &water);
    find(&t->table, temperature, &place, 0);
    look_up_four(&place, COLUMN_COUNT, EQUILIBRIUM_WATER, f, NULL, 0);
    const sw_lanes runoff = f[RUNOFF - EQUILIBRIUM_WATER] * free_water(water, f[0], f[MODULUS - EQUILIBRIUM_WATER], &pressure, &slope);
    store_some(runoff, count, value->runoff + first);
    store_some(f[WATER_ENTHALPY - EQUILIBRIUM_WATER], count, value->water_enthalpy + first);
}

SW_VECTOR_CLONES
static void tissue_runoff(const sw_material *material, size_t first, size_t n, const double *state, const sw_property_columns *value)
{
    const tissue *t = (const tissue *)material;
    const size_t end = first + n;
    size_t i = first;
    for (; i + SW_LANES <= end; i += SW_LANES)
        evaluate_runoff(t, i, SW_LANES, state, value);
    if (i < end)
        evaluate_runoff(t, i, end - i, state, value);
}

static double tissue_enthalpy(const sw_material *material, double temperature, double water_content)
{
    const tissue *t = (const tissue *)material;
    const sw_tissue_parameters *p = &t->parameters;
    double slope, melted = sw_melted_fraction(p, temperature, &slope) - t->melted_at_start;
    return material->dry_density * water_content * sw_liquid_enthalpy(temperature, p->initial_temperature) +
           sw_quadratic_integral(t->dry_heat_capacity, temperature - 273.15) - t->dry_enthalpy_at_start +
           material->fat_density * p->melting_heat * melted;
}

static double tissue_activity(const sw_material *material, double temperature, double water_content)
{
    (void)temperature;
    const sw_table_place place = sw_table_find(&((const tissue *)material)->sorption, water_content, 0);
    return sw_table_value(&place, 1, 0);
}

static void sum_dry_heat_capacity(tissue *t)
{
    const double start = t->parameters.initial_temperature;
    double slope;
    for (int i = 0; i < SW_COMPONENT_COUNT; i++) {
        const sw_quadratic c = sw_choi_okos_table[i].heat_capacity;
        t->dry_heat_capacity.constant += t->dry[i] * c.constant;
        t->dry_heat_capacity.linear += t->dry[i] * c.linear;
        t->dry_heat_capacity.square += t->dry[i] * c.square;
    }
    t->dry_enthalpy_at_start = sw_quadratic_integral(t->dry_heat_capacity, start - 273.15);
    t->melted_at_start = sw_melted_fraction(&t->parameters, start, &slope);
}

static void tissue_destroy(sw_material *material)
{
    tissue *t = (tissue *)material;
    sw_table_free(&t->table);
    sw_table_free(&t->sorption);
    free(t);
}

static const sw_material_functions tissue_material = {tissue_evaluate, tissue_runoff, tissue_enthalpy, tissue_activity, tissue_destroy};

_Static_assert(sizeof(sw_tissue_parameters) <= SW_SHELF_KEY_MAX, "its tables can be kept");

sw_status sw_tissue_create(sw_context *context, const sw_tissue_parameters *parameters, sw_material **material)
{
    const double isotherm[] = {parameters->sorption_scale, parameters->sorption_exponent};
    tissue *t = calloc(1, sizeof *t);
    if (!t)
        return SW_ERR_MEMORY;
    const sw_composition *c = &parameters->composition;
    sw_food_properties raw;
    sw_status status = sw_mixture_properties(c, parameters->initial_temperature, &raw);
    if (status != SW_OK) {
        free(t);
        return status;
    }
    t->parameters = *parameters;
    t->dry[SW_COMPONENT_PROTEIN] = raw.density * c->protein;
    t->dry[SW_COMPONENT_FAT] = raw.density * c->fat;
    t->dry[SW_COMPONENT_CARBOHYDRATE] = raw.density * c->carbohydrate;
    t->dry[SW_COMPONENT_ASH] = raw.density * c->ash;
    sum_dry_heat_capacity(t);
    double dry_fraction = c->protein + c->carbohydrate + c->ash;
    t->material.functions = &tissue_material;
    t->material.dry_density = raw.density * dry_fraction;
    t->material.fat_density = raw.density * c->fat;
    t->material.initial_water = c->water / dry_fraction;
    t->per_initial_water = 1.0 / t->material.initial_water;
    t->per_vapour_limit = 1.0 / parameters->vapour_water_limit;
    if (sw_table_init(context, &t->table, sw_temperature_range, COLUMN_COUNT, tissue_functions, t, parameters, sizeof *parameters) != 0 ||
        sw_table_init(context, &t->sorption, water_range, 1, sorption_function, parameters, isotherm, sizeof isotherm) != 0) {
        tissue_destroy(&t->material);
        return SW_ERR_MEMORY;
    }
    *material = &t->material;
    return SW_OK;
}
