#include "pit_usual.h"

/* Kinds of pit: guesses, ranges and how they hang together stand in docs/theory/pit.md. Flow and share of heat go by the
 * fuel a cook burns in an hour at 107 to 121 C (common practice, no source). */
static const sw_pit_usual usual[SW_PIT_KIND_COUNT] = {
    [SW_PIT_OFFSET] = {SW_FUEL_WOOD, 200.0 / 3600.0, 0.6, 0.5, 0.25},
    [SW_PIT_KETTLE] = {SW_FUEL_CHARCOAL, 30.0 / 3600.0, 0.35, 0.2, 0.12},
    [SW_PIT_CERAMIC] = {SW_FUEL_CHARCOAL, 10.0 / 3600.0, 0.25, 0.1, 0.1},
    [SW_PIT_PELLET] = {SW_FUEL_PELLETS, 60.0 / 3600.0, 0.5, 1.0, 0.2},
    [SW_PIT_ELECTRIC] = {SW_FUEL_NONE, 4.0 / 3600.0, 0.2, 0.1, 0.15},
    [SW_PIT_GAS] = {SW_FUEL_PROPANE, 45.0 / 3600.0, 0.4, 0.3, 0.25},
};

const sw_pit_usual *sw_pit_usual_of(sw_pit_kind kind)
{
    return &usual[kind];
}
