/* SPDX-License-Identifier: BSD-3-Clause */
#include "surface.h"

#include <stallwright/moist_air.h>

#include <math.h>

/* Lewis number of water vapour in air, thermal over mass diffusivity [-]; handbook value, 0.85 to 0.87 between 60 and
 * 120 C (from memory). */
static const double lewis_number = 0.86;

/* Heat capacity of water vapour [J kg-1 K-1]; steam tables near 80 C (from memory). */
static const double vapour_heat_capacity = 1900.0;

/* How readily steam above the air pressure escapes [kg s-1 m-2 Pa-1]: large enough that the overpressure stays under
 * 600 Pa (0.15 K) at the heat fluxes of a pit up to 149 C. A choice, 1e-6 or more. */
static const double vent_conductance = 1e-6;

/* Over this overpressure the vent sets in smoothly [Pa]. */
static const double vent_onset = 50.0;

/* Above this share of the air pressure the logarithm of eq. 4 goes on as its tangent, so that it stays finite. */
static const double logarithm_limit = 0.97;

double sw_open_vapour_coefficient(double convection, double permeance, double pressure)
{
    double film = SW_WATER_AIR_MASS_RATIO * convection / (SW_AIR_HEAT_CAPACITY * pow(lewis_number, 2.0 / 3.0));
    if (permeance <= 0.0)
        return film;
    return 1.0 / (1.0 / film + 1.0 / (permeance * pressure));
}

double sw_surface_evaporation(const sw_surface *s, double vapour_pressure, double *slope)
{
    double p = vapour_pressure, limit = logarithm_limit * s->pressure, rate = 0.0;
    *slope = 0.0;
    if (s->vapour_coefficient > 0.0) {
        double at = p < limit ? p : limit;
        double tangent = 1.0 / (s->pressure - at);
        *slope = s->vapour_coefficient * tangent;
        rate = s->vapour_coefficient *
               (log((s->pressure - s->vapour_pressure) / (s->pressure - at)) + (p - at) * tangent);
    }
    double excess = p - s->pressure;
    if (s->vents && excess > 0.0) {
        double onset = excess < vent_onset ? excess : vent_onset;
        rate += vent_conductance * (excess - onset + onset * onset / (2.0 * vent_onset));
        *slope += vent_conductance * onset / vent_onset;
    }
    return rate;
}

/* Ackermann's factor x / (exp(x) - 1): vapour leaving through the air film weakens its heat transfer. */
static double film_weakening(double x, double *slope)
{
    /* The series costs less and loses nothing near 0; the first term left out is 1e-12 at the limit. */
    if (fabs(x) < 0.6) {
        const double y = x * x;
        *slope = -0.5 + x * (1.0 / 6.0 - y * (1.0 / 180.0 - y * (1.0 / 5040.0 - y * (1.0 / 151200.0 - y / 4790016.0))));
        return 1.0 - 0.5 * x + y * (1.0 / 12.0 - y * (1.0 / 720.0 - y * (1.0 / 30240.0 - y * (1.0 / 1209600.0 - y / 47900160.0))));
    }
    double e = expm1(x), factor = x / e;
    *slope = (1.0 - factor * (e + 1.0)) / e;
    return factor;
}

typedef struct outside_heat {
    double convection, radiation, total;
    double radiation_slope; /* of radiation, the outside of the wrap changing temperature */
    double by_temperature; /* of total, surface temperature changing, evaporation fixed */
    double by_evaporation; /* of total, evaporation changing, surface temperature fixed */
} outside_heat;

/* Heat from air and walls through the wrap to the surface. The outside of the wrap is hotter than the surface by the
 * heat times the wrap's resistance: a scalar equation in the heat, solved by Newton. */
static outside_heat heat_from_outside(const sw_surface *s, double temperature, double evaporation)
{
    outside_heat h = {0};
    double weakening_slope = 0.0, weakening = 1.0;
    /* Vapour that stays under a wrap, or bubbles through the pool, does not cross the film that brings the heat. */
    if (s->convection > 0.0 && s->contact == SW_CONTACT_AIR) {
        weakening = film_weakening(evaporation * vapour_heat_capacity / s->convection, &weakening_slope);
        weakening_slope *= vapour_heat_capacity / s->convection;
    }
    const double wall2 = s->wall_temperature * s->wall_temperature;
    double slope = 0.0, difference = 0.0;
    for (int i = 0; i < 20; i++) {
        double outer = temperature + h.total * s->resistance;
        difference = s->air_temperature - outer;
        h.convection = s->convection * weakening * difference;
        h.radiation = s->emissivity * SW_STEFAN_BOLTZMANN * (wall2 * wall2 - outer * outer * outer * outer);
        h.radiation_slope = -4.0 * s->emissivity * SW_STEFAN_BOLTZMANN * outer * outer * outer;
        slope = -s->convection * weakening + h.radiation_slope;
        if (s->resistance == 0.0) {
            h.total = h.convection + h.radiation;
            break;
        }
        double error = h.total - (h.convection + h.radiation);
        double step = error / (1.0 - s->resistance * slope);
        h.total -= step;
        if (fabs(step) <= 1e-13 * (fabs(h.total) + 1.0))
            break;
    }
    const double share = s->resistance == 0.0 ? 1.0 : 1.0 / (1.0 - s->resistance * slope);
    h.by_temperature = slope * share;
    h.by_evaporation = s->convection * weakening_slope * difference * share;
    return h;
}

static void fixed_surface(const sw_surface *s, const sw_behind *behind, sw_surface_balance *b)
{
    *b = (sw_surface_balance){.temperature = s->fixed_temperature,
                              .convection_heat = behind->conductance * (s->fixed_temperature - behind->temperature)};
}

/* Water at the surface temperature, and what evaporates. */
typedef struct surface_water {
    double saturation, latent, latent_slope, enthalpy, enthalpy_slope;
    double evaporation;
    double by_temperature, by_activity; /* of evaporation */
    double film_part, film_part_by_activity;
} surface_water;

static surface_water water_at(const sw_surface *s, const sw_water_table *water, double activity, double temperature)
{
    const size_t width = SW_WATER_TABLE_WIDTH;
    const sw_table_place place = sw_table_find(&water->table, temperature, 1);
    surface_water w = {
        .saturation = sw_table_value(&place, width, SW_WATER_SATURATION_PRESSURE),
        .latent = sw_table_value(&place, width, SW_WATER_LATENT_HEAT),
        .latent_slope = sw_table_slope(&place, width, SW_WATER_LATENT_HEAT),
        .enthalpy = sw_table_value(&place, width, SW_WATER_LIQUID_ENTHALPY),
        .enthalpy_slope = sw_table_slope(&place, width, SW_WATER_LIQUID_ENTHALPY),
    };
    double by_pressure;
    w.evaporation = sw_surface_evaporation(s, activity * w.saturation, &by_pressure);
    w.by_temperature = by_pressure * activity * sw_table_slope(&place, width, SW_WATER_SATURATION_PRESSURE);
    w.by_activity = by_pressure * w.saturation;
    return w;
}

/* The balance a short step from where it was evaluated: all its terms go along their tangents, so that they still close. */
static sw_surface_balance balance_after(double step, const sw_surface *s, double temperature, const surface_water *w,
                                        const outside_heat *outside, const sw_behind *behind, double slope)
{
    const double more_evaporation = w->by_temperature * step;
    const double more_heat = outside->by_temperature * step + outside->by_evaporation * more_evaporation;
    const double more_radiation = outside->radiation_slope * (step + s->resistance * more_heat);
    return (sw_surface_balance){
        .temperature = temperature + step,
        .evaporation = w->evaporation + more_evaporation,
        .film_part = w->film_part,
        .film_part_by_activity = w->film_part_by_activity,
        .latent_heat = w->latent + w->latent_slope * step,
        .latent_heat_slope = w->latent_slope,
        .convection_heat = outside->convection + more_heat - more_radiation,
        .radiation_heat = outside->radiation + more_radiation,
        .evaporation_heat = w->evaporation * w->latent + more_evaporation * w->latent +
                            w->evaporation * w->latent_slope * step,
        .water_enthalpy = w->enthalpy + w->enthalpy_slope * step,
        .water_enthalpy_slope = w->enthalpy_slope,
        .temperature_by_cell = -behind->conductance / slope,
        .temperature_by_conductance = (temperature - behind->temperature) / slope,
        .temperature_by_activity = -(outside->by_evaporation - w->latent) * w->by_activity / slope,
        .evaporation_by_temperature = w->by_temperature,
        .evaporation_by_activity = w->by_activity,
    };
}

int sw_surface_follow(const sw_surface *s, const sw_water_table *water, const sw_behind *behind, double guess,
                      double last_step, sw_surface_balance *b)
{
    if (s->is_fixed) {
        fixed_surface(s, behind, b);
        return 0;
    }
    /* Where a film wets it the surface is as the film; film and meat evaporate in proportion to their activities. */
    const double bare = 1.0 - s->film_share, activity = sw_surface_activity(s->film_share, behind->water_activity);
    double temperature = guess;
    for (int i = 0; i < 60; i++) {
        surface_water w = water_at(s, water, activity, temperature);
        w.by_activity *= bare;
        if (s->film_share > 0.0) {
            w.film_part = s->film_share * SW_FILM_ACTIVITY / activity;
            w.film_part_by_activity = -w.film_part * bare / activity;
        }
        const outside_heat outside = heat_from_outside(s, temperature, w.evaporation);

        /* error = heat from outside - evaporation heat - heat passed on; it falls with the surface temperature. */
        double error = outside.total + s->heat_flux - w.evaporation * w.latent -
                       behind->conductance * (temperature - behind->temperature);
        double slope = outside.by_temperature + outside.by_evaporation * w.by_temperature -
                       w.by_temperature * w.latent - w.evaporation * w.latent_slope - behind->conductance;
        double step = -error / slope;
        if (!isfinite(step))
            return -1;
        if (fabs(step) < last_step) {
            *b = balance_after(step, s, temperature, &w, &outside, behind, slope);
            return 0;
        }
        /* The vapour pressure is convex: far steps overshoot, so they are kept short. */
        temperature += fmax(-20.0, fmin(step, 20.0));
        if (temperature < SW_TEMPERATURE_MIN - 20.0 || temperature > SW_TEMPERATURE_MAX + 20.0)
            return -1;
    }
    return -1;
}

/* A last step this short is taken along the tangents: what it misses is of its square, under 1e-13 K, and the balance closes all the
 * same [K]. */
static const double short_step = 1e-6;

int sw_surface_solve(const sw_surface *s, const sw_water_table *water, const sw_behind *behind, double guess,
                     sw_surface_balance *b)
{
    return sw_surface_follow(s, water, behind, guess, short_step, b);
}
