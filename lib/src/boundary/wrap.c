#include "wrap.h"

/* Emissivity of meat, raw or with a bark: 0.90..0.97 in handbooks (from memory) [-]. */
static const double meat_emissivity = 0.95;

static sw_surface bare_surface(const sw_surroundings *around, sw_side side, bool evaporation)
{
    const double convection = around->convection_of_side ? around->convection_of_side[side] : around->convection;
    return (sw_surface){
        .air_temperature = around->air_temperature,
        .wall_temperature = around->wall_temperature,
        .pressure = around->pressure,
        .vapour_pressure = around->vapour_pressure,
        .convection = convection,
        .emissivity = meat_emissivity,
        .vapour_coefficient = evaporation ? sw_open_vapour_coefficient(convection, 0.0, around->pressure) : 0.0,
        .vents = evaporation,
        /* On top the juice stays as a film and evaporates; elsewhere it runs off. */
        .drips = side != SW_SIDE_TOP,
    };
}

static void cover_with_paper(sw_surface *s, const sw_wrap *wrap)
{
    s->emissivity = wrap->paper_emissivity;
    s->resistance = wrap->paper_resistance;
    if (s->vapour_coefficient > 0.0)
        s->vapour_coefficient = sw_open_vapour_coefficient(s->convection, wrap->paper_permeance, s->pressure);
}

static void cover_with_foil(sw_surface *s, const sw_wrap *wrap, double resistance, double leak)
{
    s->emissivity = wrap->foil_emissivity;
    s->resistance = resistance;
    s->vapour_coefficient *= leak;
    s->drips = true;
}

sw_surface sw_wrapped_surface(const sw_surroundings *surroundings, const sw_wrap *wrap, sw_wrap_kind kind, sw_side side,
                              bool evaporation)
{
    sw_surface s = bare_surface(surroundings, side, evaporation);
    switch (kind) {
    case SW_WRAP_PAPER:
        cover_with_paper(&s, wrap);
        break;
    case SW_WRAP_OPEN_TRAY:
        if (side == SW_SIDE_BOTTOM) {
            s.convection *= wrap->tray_convection;
            cover_with_foil(&s, wrap, wrap->tray_resistance, 0.0);
        }
        break;
    case SW_WRAP_CLOSED_FOIL:
        cover_with_foil(&s, wrap, wrap->foil_resistance, wrap->foil_leak);
        break;
    default:
        break;
    }
    return s;
}
