/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * What each wrap is and does, in one table: whoever asks what a wrap does asks here, and whoever adds one begins here. */
#ifndef STALLWRIGHT_WRAP_TRAITS_H
#define STALLWRIGHT_WRAP_TRAITS_H

#include <stallwright/scenario.h>

SW_BEGIN_DECLARATIONS

/** What lies between the pit and the sides of the meat that do not lie in juice. */
typedef enum sw_wrap_cover {
    SW_COVER_NONE,  /**< nothing: they are bare */
    SW_COVER_PAPER, /**< paper against the meat; vapour goes through it, in series with the air's film */
    SW_COVER_FOIL,  /**< foil against the meat; vapour goes to the gas inside, which leaks */
    SW_COVER_LID    /**< foil over the rim of a rigid pan, clear of the meat; vapour as under foil */
} sw_wrap_cover;

/** The traits of a wrap. */
typedef struct sw_wrap_traits {
    const char *name;    /**< in scenario files and output, for example "closed-foil" */
    const char *holder;  /**< what holds its juice, in a sentence: "tray"; "" if it holds none as a pool */
    sw_wrap_cover cover;
    bool holds_pool;     /**< it catches what drips in a pool, in which the underside lies, and liquid can be poured in */
    bool is_open;        /**< the pool lies open to the air round the meat, and can be poured off or over the meat */
    bool has_rim;        /**< its walls stand as high as wrap.tray.rim round the ends of a section */
    bool holds_film;     /**< it soaks up what drips, as far as it can */
    bool is_compared;    /**< among the wraps that are compared when none are named */
} sw_wrap_traits;

/** The traits of a kind, one of those below SW_WRAP_COUNT; of none for any other. */
SW_API const sw_wrap_traits *sw_wrap_traits_of(sw_wrap_kind kind);

/** Whether a wrap leaves the top of the meat open to smoke. */
static inline bool sw_wrap_leaves_top_open(sw_wrap_kind kind)
{
    return sw_wrap_traits_of(kind)->cover == SW_COVER_NONE;
}

SW_END_DECLARATIONS

#endif
