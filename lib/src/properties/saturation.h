/* Water on its saturation line: unchecked functions for tables and inner loops; the checked ones are public. */
#ifndef SW_SATURATION_H
#define SW_SATURATION_H

/* Saturation pressure [Pa] and its slope [Pa K-1] at a temperature of 273.15..647 K. */
void sw_saturation(double temperature, double *pressure, double *slope);

/* Latent heat of evaporation [J kg-1] at 273.15..647 K. */
double sw_latent_heat_unchecked(double temperature);

#endif
