/* SPDX-License-Identifier: BSD-3-Clause */
#include "convection.h"

#include <stallwright/moist_air.h>

#include <math.h>

static const double gravity = 9.80665; /* [m s-2] */

double sw_nusselt_along_plate(double reynolds, double prandtl)
{
    /* F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, eqs. 7.30 and 7.38 (from memory): Blasius and
     * Pohlhausen's layer, then one that turns turbulent at 5e5; without its start all along it would be 0.037 Re^0.8. */
    const double third = cbrt(prandtl);
    return reynolds < 5e5 ? 0.664 * sqrt(reynolds) * third : (0.037 * pow(reynolds, 0.8) - 871.0) * third;
}

double sw_nusselt_across_cylinder(double reynolds, double prandtl)
{
    /* S. W. Churchill, M. Bernstein, J. Heat Transfer 99 (1977) 300 (from memory). */
    return 0.3 + 0.62 * sqrt(reynolds) * cbrt(prandtl) / pow(1.0 + pow(0.4 / prandtl, 2.0 / 3.0), 0.25) *
                     pow(1.0 + pow(reynolds / 282000.0, 0.625), 0.8);
}

/* S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323 and 1049 (from memory). */
static double churchill_chu(double rayleigh, double prandtl, double still, double prandtl_scale)
{
    double root = still + 0.387 * pow(rayleigh, 1.0 / 6.0) /
                              pow(1.0 + pow(prandtl_scale / prandtl, 9.0 / 16.0), 8.0 / 27.0);
    return root * root;
}

double sw_nusselt_vertical_plate(double rayleigh, double prandtl)
{
    return churchill_chu(rayleigh, prandtl, 0.825, 0.492);
}

double sw_nusselt_horizontal_cylinder(double rayleigh, double prandtl)
{
    return churchill_chu(rayleigh, prandtl, 0.60, 0.559);
}

double sw_nusselt_horizontal_plate(double rayleigh, bool stirred)
{
    /* J. R. Lloyd, W. R. Moran, J. Heat Transfer 96 (1974) 443, and W. H. McAdams, as in Incropera and DeWitt, eqs. 9.30 to
     * 9.32 (from memory); used below their lower limits of 1e4 and 1e5 too. */
    if (!stirred)
        return 0.27 * pow(rayleigh, 0.25);
    return rayleigh < 1e7 ? 0.54 * pow(rayleigh, 0.25) : 0.15 * cbrt(rayleigh);
}

static double rayleigh_number(const sw_air_stream *stream, const sw_air_properties *air, double length)
{
    double film = 0.5 * (stream->air_temperature + stream->surface_temperature);
    double kinematic = air->viscosity / air->density;
    double difference = fabs(stream->air_temperature - stream->surface_temperature);
    return gravity * difference * length * length * length * air->prandtl_number / (film * kinematic * kinematic);
}

static double natural_convection(const sw_air_stream *stream, const sw_body_size *size, sw_side side,
                                 const sw_air_properties *air)
{
    double length = side == SW_SIDE_END || size->is_round
                        ? size->height
                        : size->width * size->length / (2.0 * (size->width + size->length));
    double rayleigh = rayleigh_number(stream, air, length), nusselt;
    bool is_cold = stream->surface_temperature < stream->air_temperature;
    if (size->is_round)
        nusselt = sw_nusselt_horizontal_cylinder(rayleigh, air->prandtl_number);
    else if (side == SW_SIDE_END)
        nusselt = sw_nusselt_vertical_plate(rayleigh, air->prandtl_number);
    else
        nusselt = sw_nusselt_horizontal_plate(rayleigh, is_cold == (side == SW_SIDE_BOTTOM));
    return nusselt * air->thermal_conductivity / length;
}

static double forced_convection(const sw_air_stream *stream, const sw_body_size *size, const sw_air_properties *air)
{
    double length = size->is_round ? size->height : size->width;
    double reynolds = stream->speed * length * air->density / air->viscosity;
    double nusselt = size->is_round ? sw_nusselt_across_cylinder(reynolds, air->prandtl_number)
                                    : sw_nusselt_along_plate(reynolds, air->prandtl_number);
    return nusselt * air->thermal_conductivity / length;
}

sw_status sw_side_convection(const sw_air_stream *stream, const sw_body_size *size, sw_side side, double *coefficient)
{
    sw_air_properties air;
    sw_status status = sw_dry_air_properties(0.5 * (stream->air_temperature + stream->surface_temperature),
                                             stream->pressure, &air);
    if (status != SW_OK)
        return status;
    double natural = natural_convection(stream, size, side, &air), forced = forced_convection(stream, size, &air);
    *coefficient = cbrt(natural * natural * natural + forced * forced * forced);
    return SW_OK;
}
