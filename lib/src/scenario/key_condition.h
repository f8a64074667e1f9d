/* SPDX-License-Identifier: BSD-3-Clause */
/* When a key counts: the last column of the table of keys. */
#ifndef SW_KEY_CONDITION_H
#define SW_KEY_CONDITION_H

#include <stallwright/wrap_traits.h>

typedef struct sw_key_condition {
    const char *words;                           /* follow "counts if"; "" if only the wrap matters */
    bool (*holds)(const sw_scenario *scenario);  /* NULL: in any scenario */
    bool (*wrap)(const sw_wrap_traits *traits);  /* NULL, or what one of the wraps that go on must be like; named by the traits */
} sw_key_condition;

/* One for each line of the list; sw_key_NAME is the condition. */
#define SW_KEY_CONDITION_LIST(X)                                                                                                \
    X(slab) X(late_loss) X(outline) X(not_outline) X(taper) X(packer) X(has_width) X(one_dimension) X(two_dimensions) X(may_have_cap) X(has_cap)     \
    X(lengthwise) X(several_probes)                                                                                             \
    X(pit_by_kind) X(draught) X(cycle) X(lid) X(lid_drops) X(given_humidity) X(air_speed) X(damp) X(burns) X(burns_wood) X(outside_heat)  \
    X(outside_damp) X(pan) X(pan_depth) X(pan_area)                                                                             \
    X(wrapped) X(bark) X(pool) X(open_tray) X(pours) X(paper) X(film) X(foil) X(foil_or_tray) X(closed) X(lid_over_pan)          \
    X(under) X(rim) X(ring) X(rewrap_kind) X(rewrap_when)                                                                       \
    X(spritz) X(cling)                                                                                                          \
    X(rest) X(rest_temperature) X(rest_cools) X(rest_wrap)                                                                      \
    X(hold) X(hold_temperature) X(hold_cools) X(hold_wrap)                                                                      \
    X(cooling) X(cooling_temperature) X(cooling_cools) X(cooling_wrap)                                                          \
    X(trimming)                                                                                                       \
    X(plan)

#define SW_DECLARE_CONDITION(name) extern const sw_key_condition sw_key_##name;
SW_KEY_CONDITION_LIST(SW_DECLARE_CONDITION)
#undef SW_DECLARE_CONDITION

bool sw_key_condition_holds(const sw_key_condition *condition, const sw_scenario *scenario);

/* Writes the words, with the names of the wraps that are so; returns text, room for size bytes. */
const char *sw_key_condition_words(const sw_key_condition *condition, char *text, size_t size);

#endif
