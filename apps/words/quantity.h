/* SPDX-License-Identifier: BSD-3-Clause */
/* Numbers with their unit as a table shows them. Every function writes into a text of QUANTITY_SIZE and returns it; a
 * figure that does not exist is a dash. */
#ifndef SW_APPS_QUANTITY_H
#define SW_APPS_QUANTITY_H

#include <stallwright/everything.h>

enum { QUANTITY_SIZE = 48 };

/* "74.0 C" or "165.2 F". */
const char *show_temperature(double kelvin, sw_unit_system units, char *text);

/* A temperature that must not be read too high, or too low: rounded to a tenth. Within 1e-7 of a tenth it is that tenth,
 * so that 135 F stays 135.0 F. */
const char *show_temperature_rounded_down(double kelvin, sw_unit_system units, char *text);
const char *show_temperature_rounded_up(double kelvin, sw_unit_system units, char *text);

/* A difference: "2.1 K" or "3.8 F". */
const char *show_temperature_difference(double kelvin, sw_unit_system units, char *text);
const char *show_temperature_difference_rounded_down(double kelvin, sw_unit_system units, char *text);
const char *show_temperature_difference_rounded_up(double kelvin, sw_unit_system units, char *text);

/* A plain number, rounded to a tenth: "6.5". */
const char *show_number_rounded_down(double number, char *text);
const char *show_number_rounded_up(double number, char *text);

/* "1.6 K/h" or "2.9 F/h". */
const char *show_heating_rate(double kelvin_per_second, sw_unit_system units, char *text);

/* "11 h 24 min". */
const char *show_duration(double seconds, char *text);

/* A duration that must not be read too short: rounded up to a minute. */
const char *show_duration_rounded_up(double seconds, char *text);

/* A duration that must not be read too long: rounded down to a minute. */
const char *show_duration_rounded_down(double seconds, char *text);

/* "22:00", and "+1 day" behind it on a later day. */
const char *show_clock(double start_clock, double seconds, char *text);

/* "2.35 kg" or "5.18 lb". */
const char *show_mass(double kilograms, sw_unit_system units, char *text);

/* Where the thickness of a cut comes from: "as given", "from its mass". asked: as the scenario says. */
const char *thickness_origin(const sw_meat *asked);

/* Mass and thickness of a cut, and whether the thickness was given: "6.50 kg, 7.5 cm thick (from its mass)".
 * asked: as the scenario says; modelled: as it was cooked. */
enum { CUT_TEXT_SIZE = 160 };
const char *show_cut(const sw_meat *asked, const sw_meat *modelled, sw_unit_system units, char text[CUT_TEXT_SIZE]);

/* "7.5 cm" or "2.95 in". */
const char *show_length(double metres, sw_unit_system units, char *text);

/* Height of a place above the sea: "1609 m" or "5280 ft". */
const char *show_altitude(double metres, sw_unit_system units, char *text);

/* "60.6 %". */
const char *show_share(double share, char *text);

/* What counting draws gives, whose last digits say nothing: "61 %"; "under 1 %" and "over 99 %" of what
 * is not none and not all, rounding apart. */
const char *show_chance(double share, char *text);

/* "4.26 MJ" or "4040 BTU". */
const char *show_heat(double joules, sw_unit_system units, char *text);

/* What counts as a stall: "from 55.0 C to 85.0 C, 1 h mean under 3.0 K/h for at least 45 min". */
enum { STALL_TEXT_SIZE = 320 };
const char *show_stall_definition(const sw_stall_definition *stall, sw_unit_system units, char text[STALL_TEXT_SIZE]);

/* A temperature on an axis. */
double axis_temperature(double kelvin, sw_unit_system units);

#endif
