/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/wrap_traits.h>

#include <string.h>

static const sw_wrap_traits traits[SW_WRAP_COUNT] = {
    [SW_WRAP_NONE] = {.name = "none", .holder = "", .cover = SW_COVER_NONE, .is_compared = true},
    [SW_WRAP_PAPER] = {.name = "paper", .holder = "", .cover = SW_COVER_PAPER, .holds_film = true, .is_compared = true},
    [SW_WRAP_OPEN_TRAY] = {.name = "open-tray",
                           .holder = "tray",
                           .cover = SW_COVER_NONE,
                           .holds_pool = true,
                           .is_open = true,
                           .has_rim = true,
                           .is_compared = true},
    [SW_WRAP_CLOSED_FOIL] = {.name = "closed-foil",
                             .holder = "foil",
                             .cover = SW_COVER_FOIL,
                             .holds_pool = true,
                             .is_compared = true},
    [SW_WRAP_COVERED_PAN] = {.name = "covered-pan", .holder = "pan", .cover = SW_COVER_LID, .holds_pool = true, .has_rim = true},
};

const sw_wrap_traits *sw_wrap_traits_of(sw_wrap_kind kind)
{
    return &traits[kind >= 0 && kind < SW_WRAP_COUNT ? kind : SW_WRAP_NONE];
}

const char *sw_wrap_name(sw_wrap_kind kind)
{
    return kind >= 0 && kind < SW_WRAP_COUNT ? traits[kind].name : "unknown wrap";
}

sw_status sw_wrap_from_name(const char *name, sw_wrap_kind *kind)
{
    for (int i = 0; i < SW_WRAP_COUNT; i++)
        if (strcmp(name, traits[i].name) == 0) {
            *kind = (sw_wrap_kind)i;
            return SW_OK;
        }
    return SW_ERR_ARGUMENT;
}
