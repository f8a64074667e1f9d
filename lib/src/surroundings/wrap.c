/* SPDX-License-Identifier: BSD-3-Clause */
#include "wrap.h"

#include <stallwright/wrap_traits.h>

#include <math.h>

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
        .drips = true,
    };
}

/* Convection between the meat and the gas that fills closed foil: still, humid, a centimetre or less of it [W m-2 K-1]. A
 * guess, 3..10; what it carries as vapour is large beside all other heat, so that its value hardly matters. */
static const double inside_convection = 5.0;

sw_wrap_contents sw_empty_wrap(const sw_wrap *wrap)
{
    return (sw_wrap_contents){.paper_permeance = wrap->paper_permeance};
}

static void cover_with_paper(sw_surface *s, const sw_wrap *wrap, double permeance)
{
    s->emissivity = wrap->paper_emissivity;
    s->resistance = wrap->paper_resistance;
    if (s->vapour_coefficient > 0.0)
        s->vapour_coefficient = sw_open_vapour_coefficient(s->convection, permeance, s->pressure);
}

static void cover_with_foil(sw_surface *s, const sw_wrap *wrap, double resistance, double leak)
{
    s->emissivity = wrap->foil_emissivity;
    s->resistance = resistance;
    s->vapour_coefficient *= leak;
}

/* A resistance under this is perfect contact: juice 0.1 micrometre deep. A choice: it is under 1e-2 of the meat's own across
 * half of the thinnest outermost cell there may be, and heat over it is still told from round-off [m2 K W-1]. */
static const double perfect_contact = 1e-7;

/* Lying in the pool: heat through the juice, no vapour. */
static void lie_in_pool(sw_surface *s, const sw_wrap *wrap, double temperature)
{
    s->contact = SW_CONTACT_POOL;
    s->air_temperature = s->wall_temperature = temperature;
    s->emissivity = 0.0;
    s->resistance = 0.0;
    s->convection = 1.0 / fmax(wrap->tray_resistance, perfect_contact);
    s->vapour_coefficient = 0.0;
}

/* Under foil or a lid with a pool below: heat through it and the gap under it, vapour to and from the gas inside. */
static void meet_gas_inside(sw_surface *s, const sw_wrap *wrap, double resistance, double vapour_pressure, bool evaporation)
{
    cover_with_foil(s, wrap, resistance, 0.0);
    s->contact = SW_CONTACT_INSIDE;
    s->vapour_pressure = vapour_pressure;
    s->vapour_coefficient = evaporation ? sw_open_vapour_coefficient(inside_convection, 0.0, s->pressure) : 0.0;
}

/* The underside without a pool under it: tight, on the tray's floor. */
static void lie_on_floor(sw_surface *s, const sw_wrap *wrap)
{
    s->convection *= wrap->tray_convection;
    cover_with_foil(s, wrap, wrap->tray_resistance, 0.0);
}

static void close_over(sw_surface *s, const sw_wrap *wrap, double resistance, const sw_wrap_contents *contents,
                       bool evaporation)
{
    if (contents->has_pool)
        meet_gas_inside(s, wrap, resistance, contents->inside_vapour_pressure, evaporation);
    else
        cover_with_foil(s, wrap, resistance, wrap->foil_leak);
}

static void cover(sw_surface *s, const sw_wrap *wrap, sw_wrap_cover cover, const sw_wrap_contents *contents, bool evaporation)
{
    switch (cover) {
    case SW_COVER_NONE:
        break;
    case SW_COVER_PAPER:
        cover_with_paper(s, wrap, contents->paper_permeance);
        break;
    case SW_COVER_FOIL:
        close_over(s, wrap, wrap->foil_resistance, contents, evaporation);
        break;
    case SW_COVER_LID:
        close_over(s, wrap, wrap->lid_resistance, contents, evaporation);
        break;
    }
}

sw_surface sw_wrapped_surface(const sw_surroundings *surroundings, const sw_wrap *wrap, sw_wrap_kind kind, sw_side side,
                              const sw_wrap_contents *contents, bool evaporation)
{
    const sw_wrap_traits *traits = sw_wrap_traits_of(kind);
    sw_surface s = bare_surface(surroundings, side, evaporation);
    if (side == SW_SIDE_BOTTOM && contents->has_pool)
        lie_in_pool(&s, wrap, contents->pool_temperature);
    else if (side == SW_SIDE_BOTTOM && traits->has_rim)
        lie_on_floor(&s, wrap);
    else
        cover(&s, wrap, traits->cover, contents, evaporation);
    if (s.contact == SW_CONTACT_AIR && s.vapour_coefficient > 0.0) {
        s.film_share = contents->film_share;
        s.film_warming = contents->film_warming;
    }
    return s;
}

sw_side sw_side_under_wrap(const sw_boundary_face *face, const sw_wrap *wrap, sw_wrap_kind kind)
{
    if (sw_wrap_traits_of(kind)->has_rim && face->side == SW_SIDE_END && face->height < wrap->tray_rim)
        return SW_SIDE_BOTTOM;
    return face->side;
}

bool sw_lies_in_pool(const sw_boundary_face *face, const sw_wrap *wrap, sw_wrap_kind kind)
{
    return sw_wrap_traits_of(kind)->holds_pool && sw_side_under_wrap(face, wrap, kind) == SW_SIDE_BOTTOM;
}

void sw_wrapped_surfaces(const sw_mesh *mesh, const sw_surroundings *surroundings, const sw_wrap *wrap, sw_wrap_kind kind,
                         const sw_wrap_contents *contents, bool evaporation, sw_surface *surfaces)
{
    for (size_t i = 0; i < mesh->boundary_face_count; i++)
        surfaces[i] = sw_wrapped_surface(surroundings, wrap, kind, sw_side_under_wrap(&mesh->boundary_faces[i], wrap, kind),
                                         contents, evaporation);
}

sw_surface sw_pool_outside(const sw_surroundings *surroundings, const sw_wrap *wrap)
{
    sw_surface s = bare_surface(surroundings, SW_SIDE_BOTTOM, false);
    s.convection *= wrap->tray_convection;
    s.emissivity = wrap->foil_emissivity;
    return s;
}

sw_surface sw_pool_top(const sw_surroundings *surroundings)
{
    sw_surface s = bare_surface(surroundings, SW_SIDE_TOP, true);
    s.emissivity = SW_WATER_EMISSIVITY;
    return s;
}
