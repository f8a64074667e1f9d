/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/kinetics.h>

#include <math.h>

/* CODATA 2018 [J mol-1 K-1]. */
static const double gas_constant = 8.314462618;

#define CELSIUS(degrees) ((degrees) + 273.15)

/* Myosin and actin: k at the peak of a calorimeter's curve follows from the peak temperature and the activation energy,
 * k = E b / (R T^2) (Kissinger), b being the heating rate, 10 K/min (guess; 5 to 20 are usual). */
static const sw_reaction_law laws[SW_REACTION_COUNT] = {
    [SW_REACTION_MYOSIN] = {"myosin", "myosin denatured", SW_RATE_ARRHENIUS, 0.138, CELSIUS(56.5), 751e3, 3.0,
                            CELSIUS(45.0), CELSIUS(65.0),
                            "peak 55.2 to 57.8 C in beef: Findlay and Stanley 1984 (abstract); energy, of pork: Foods "
                            "2023 12:2867 (abstract); heating rate: guess"},
    [SW_REACTION_ACTIN] = {"actin", "actin denatured", SW_RATE_ARRHENIUS, 0.0525, CELSIUS(82.5), 331e3, 3.0,
                           CELSIUS(65.0), CELSIUS(92.0),
                           "peak 81.8 to 83.2 C in beef: Findlay and Stanley 1984 (abstract); energy, of pork: Foods "
                           "2023 12:2867 (abstract); heating rate: guess"},
    /* 7.98e43 1/min exp(-290 kJ/mol / RT) at 60 C. */
    [SW_REACTION_MYOGLOBIN] = {"myoglobin", "myoglobin denatured", SW_RATE_ARRHENIUS, 4.50e-4, CELSIUS(60.0), 290e3, 2.0,
                               CELSIUS(50.0), CELSIUS(75.0),
                               "Geileskey et al. 1998, read in an excerpt of a thesis; its range of temperature: guess"},
    [SW_REACTION_COLLAGEN] = {"collagen", "collagen turned to gelatin", SW_RATE_ARRHENIUS, 2.5e-5, CELSIUS(80.0), 110e3,
                              2.0, CELSIUS(60.0), CELSIUS(95.0),
                              "guess: fitted to what cooks find tender at 60 to 95 C (common practice) and to the order of "
                              "Kerth et al.'s smoked briskets (abstract)"},
    [SW_REACTION_RENDERING] = {"rendering", "fat rendered", SW_RATE_ARRHENIUS, 7e-6, CELSIUS(80.0), 110e3, 4.0,
                               CELSIUS(60.0), CELSIUS(95.0),
                               "guess: no rate of intact beef was found; 1e-6 to 3e-5 1/s at 80 C; energy of collagen's, "
                               "since fat drains as its net gives way"},
    [SW_REACTION_BROWNING] = {"browning", "browning of the dry surface", SW_RATE_ARRHENIUS, 2e-4, CELSIUS(100.0), 110e3,
                              5.0, CELSIUS(70.0), CELSIUS(130.0),
                              "guess: bark is well browned when cooks wrap it (common practice), half browned in 1 h at 100 C; "
                              "80 to 160 kJ/mol are usual of browning (from memory)"},
};

const sw_reaction_law *sw_reaction_law_of(sw_reaction reaction)
{
    return &laws[reaction];
}

double sw_reaction_log_ratio(const sw_reaction_law *law, double first, double second)
{
    if (law->form == SW_RATE_Z_VALUE)
        return log(10.0) * (second - first) / law->sensitivity;
    return law->sensitivity / gas_constant * (second - first) / (first * second);
}

double sw_reaction_rate(const sw_reaction_law *law, double temperature)
{
    return law->rate * exp(sw_reaction_log_ratio(law, law->reference_temperature, temperature));
}

double sw_reaction_share_outside(const sw_reaction_law *law, double first, double second)
{
    double low = fmin(first, second), high = fmax(first, second);
    double from = fmax(low, law->lowest_temperature), to = fmin(high, law->highest_temperature);
    if (from > to)
        return 1.0;
    return high > low ? 1.0 - (to - from) / (high - low) : 0.0;
}

/* Mean of a rate whose logarithm runs straight from one value to another: (b - a)/ln(b/a). log_ratio: ln(b/a). */
static double mean_rate(double a, double b, double log_ratio)
{
    /* (b - a)/(b + a) is tanh(log_ratio/2), so nothing cancels. */
    double half = 0.5 * log_ratio;
    return 0.5 * (a + b) * (fabs(half) < 0.1 ? 1.0 - half * half * (1.0 / 3.0 - 2.0 / 15.0 * half * half) : tanh(half) / half);
}

double sw_reaction_exposure(const sw_reaction_law *law, double first, double second, double duration)
{
    return duration * mean_rate(sw_reaction_rate(law, first), sw_reaction_rate(law, second),
                                sw_reaction_log_ratio(law, first, second));
}

/* One piece of a history, in parts of at most 1 K. */
static void follow_piece(const sw_reaction_law *law, double first, double second, double duration,
                         sw_reaction_progress *p)
{
    double parts = fmax(1.0, ceil(fabs(second - first))), rise = (second - first) / parts;
    for (double i = 0.0; i < parts; i += 1.0) {
        double from = first + i * rise, to = from + rise, before = p->extent;
        p->exposure += sw_reaction_exposure(law, from, to, duration / parts);
        p->extent = -expm1(-p->exposure);
        p->outside += (p->extent - before) * sw_reaction_share_outside(law, from, to);
    }
}

sw_status sw_reaction_follow(const sw_reaction_law *law, size_t count, const double *times, const double *temperatures,
                             sw_reaction_progress *progress)
{
    sw_reaction_progress p = {0};
    for (size_t i = 0; i < count; i++)
        if (!(temperatures[i] > 0.0) || !isfinite(temperatures[i]) || (i > 0 && !(times[i] > times[i - 1])))
            return SW_ERR_RANGE;
    if (count == 0)
        return SW_ERR_RANGE;
    for (size_t i = 0; i + 1 < count; i++)
        follow_piece(law, temperatures[i], temperatures[i + 1], times[i + 1] - times[i], &p);
    *progress = p;
    return SW_OK;
}

double sw_browning_share(double water_activity)
{
    return fmin(1.0, fmax(0.0, (1.0 - water_activity) / 0.25));
}
