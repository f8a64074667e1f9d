/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/cut_traits.h>

#include <math.h>
#include <string.h>

#define CELSIUS(degrees) ((degrees) + 273.15)

/* Composition: separable lean only, raw, of USDA National Nutrient Database SR28, by its number; to three digits, with fat as what
 * is left to 1. Carbohydrate is 0. Sides, trimming, bone and pull: common practice, no source, where nothing else is said; ranges
 * stand in docs/theory/parameters.md. Stoutness: worked out from the sides by the series solutions of conduction, as test_usual.c does;
 * of pork shoulders 0.887 of it, as measured cooks ask for (validation/calibration/report.md). */
static const sw_cut_traits traits[SW_CUT_COUNT] = {
    /* SR28 13023, brisket, whole. */
    [SW_CUT_PACKER] = {"packer", "whole trimmed brisket",
                       {.water = 0.703, .protein = 0.207, .fat = 0.08, .ash = 0.01},
                       0.42, 0.25, 0.055, .stoutness = 1.0, .trimming = 0.18, .pull = CELSIUS(95)},
    /* The same, cut across in the middle: half as long. */
    [SW_CUT_HALF_PACKER] = {"half-packer", "half a trimmed brisket",
                            {.water = 0.703, .protein = 0.207, .fat = 0.08, .ash = 0.01},
                            0.21, 0.25, 0.055, .stoutness = 1.3065, .trimming = 0.18, .pull = CELSIUS(95)},
    /* SR28 13595, brisket, flat half; sold trimmed to about 3 mm of fat. */
    [SW_CUT_FLAT] = {"flat", "brisket flat",
                     {.water = 0.727, .protein = 0.215, .fat = 0.048, .ash = 0.01},
                     0.30, 0.20, 0.038, .stoutness = 0.9663, .trimming = 0.08, .pull = CELSIUS(94)},
    /* No lean point is in SR28: twice 13023, the whole, less 13595, the flat, as if they weighed alike (a guess). */
    [SW_CUT_POINT] = {"point", "brisket point",
                      {.water = 0.679, .protein = 0.2, .fat = 0.111, .ash = 0.01},
                      0.25, 0.18, 0.065, .stoutness = 1.4946, .trimming = 0.12, .pull = CELSIUS(95)},
    /* SR28 10084, shoulder, blade (Boston butt); its refuse is 9 % bone. Little is trimmed off. */
    [SW_CUT_PORK_BUTT] = {"pork-butt", "pork butt",
                          {.water = 0.743, .protein = 0.187, .fat = 0.061, .ash = 0.009},
                          0.23, 0.18, 0.10, .stoutness = 1.5970, .trimming = 0.03, .bone = 0.09, .pull = CELSIUS(95)},
    /* SR28 10077, shoulder, arm picnic; its refuse is 16 % bone. The skin comes off. */
    [SW_CUT_PORK_PICNIC] = {"pork-picnic", "pork picnic",
                            {.water = 0.755, .protein = 0.203, .fat = 0.031, .ash = 0.011},
                            0.25, 0.18, 0.09, .stoutness = 1.5146, .trimming = 0.10, .bone = 0.16, .pull = CELSIUS(93)},
    /* SR28 13293 (under blade) and 13972 (chuck eye), the two muscles of the roll: their mean. */
    [SW_CUT_CHUCK_ROLL] = {"chuck-roll", "chuck roll",
                           {.water = 0.719, .protein = 0.209, .fat = 0.061, .ash = 0.011},
                           0.38, 0.20, 0.12, .stoutness = 1.6352, .trimming = 0.04, .pull = CELSIUS(95)},
    /* SR28 23513, chuck, clod roast. */
    [SW_CUT_CLOD] = {"clod", "shoulder clod",
                     {.water = 0.734, .protein = 0.196, .fat = 0.058, .ash = 0.012},
                     0.38, 0.26, 0.09, .stoutness = 1.3870, .trimming = 0.08, .pull = CELSIUS(93)},
    /* SR28 23068, chuck short ribs, boneless: the plate's are not in it. Bone and pull: practice. */
    [SW_CUT_PLATE_RIBS] = {"plate-ribs", "plate ribs",
                           {.water = 0.693, .protein = 0.197, .fat = 0.101, .ash = 0.009},
                           0.28, 0.18, 0.06, .stoutness = 1.3765, .trimming = 0.10, .bone = 0.25, .pull = CELSIUS(95)},
};

/* The part over the probe of a whole brisket [m] at this mass as bought [kg], 6.0 to 6.7 cm: validation/calibration/report.md. */
static const double packer_thickness = 0.0635, packer_mass = 6.5;

const sw_cut_traits *sw_cut_traits_of(sw_cut cut)
{
    return &traits[cut >= 0 && cut < SW_CUT_COUNT ? cut : SW_CUT_PACKER];
}

const char *sw_cut_name(sw_cut cut)
{
    return cut >= 0 && cut < SW_CUT_COUNT ? traits[cut].name : "unknown cut";
}

const char *sw_meat_name(const sw_meat *meat)
{
    return strcmp(meat->name, SW_USUAL_WORD) == 0 ? sw_cut_traits_of(meat->cut)->description : meat->name;
}

double sw_slab_thickness(sw_cut cut, double bought_mass)
{
    const sw_cut_traits *usual = sw_cut_traits_of(cut), *packer = sw_cut_traits_of(SW_CUT_PACKER);
    const double kept = (1.0 - usual->trimming) / (1.0 - packer->trimming);
    return packer_thickness * cbrt(bought_mass / packer_mass) * cbrt(kept) * usual->stoutness;
}
