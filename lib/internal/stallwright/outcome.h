/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * The figures a cook decides by, drawn from a history. */
#ifndef STALLWRIGHT_OUTCOME_H
#define STALLWRIGHT_OUTCOME_H

#include <stallwright/safety.h>

SW_BEGIN_DECLARATIONS

/** State of a surface as a cook would feel it, from its water activity.
 * The limits 0.75, 0.90 and 0.97 are a choice of this project, not a standard. */
typedef enum sw_surface_state {
    SW_SURFACE_DRY,     /**< water activity below 0.75 and no film to speak of: a dry bark */
    SW_SURFACE_FIRM,    /**< 0.75 to 0.90: firm, no longer sticky */
    SW_SURFACE_TACKY,   /**< 0.90 to 0.97, or a film of juice on part of it: tacky */
    SW_SURFACE_WET      /**< above: wet */
} sw_surface_state;

/** "dry", "firm", "tacky", "wet". */
SW_API const char *sw_surface_state_name(sw_surface_state state);

/** A film that wets less of a surface than this share is none to speak of, and the surface may be called dry: a choice [-]. */
#define SW_FILM_TO_SPEAK_OF 0.05

/** Surface state of a water activity in 0..1 [-], the mean of what a film wets and what it does not, and of the share in 0..1
 * that the film wets [-]: such a surface is called neither dry nor firm. */
SW_API sw_surface_state sw_surface_state_of(double water_activity, double film_share);

/** Collagen is called tender when this share of it has turned to gelatin. A guess: shares from 0.4 to 0.7 would do; it was
 * chosen together with the rate of the reaction, so that what cooks call tender is. */
#define SW_TENDER_COLLAGEN 0.5

/** What the share of collagen turned to gelatin says, its rate being uncertain. */
typedef enum sw_tenderness {
    SW_TENDERNESS_UNKNOWN,      /**< the meat does not get ready to slice */
    SW_TENDERNESS_NOT,          /**< below the limit even if the reaction is as fast as it may be */
    SW_TENDERNESS_PROBABLY_NOT, /**< below the limit, but not surely */
    SW_TENDERNESS_PROBABLY,     /**< above the limit, but not surely */
    SW_TENDERNESS_TENDER        /**< above the limit even if the reaction is as slow as it may be */
} sw_tenderness;

/** "unknown", "not tender", "probably not tender", "probably tender", "tender". */
SW_API const char *sw_tenderness_name(sw_tenderness tenderness);

/** Dryness index of a surface from its water activity: 1 where it counts as dry (0.75), 0 where it counts as wet (0.97),
 * straight between. */
SW_API double sw_dryness_index(double water_activity);

/** How far a reaction got in the meat: name, unit, long name. */
#define SW_REACTION_FIGURE_LIST(X)                                                                                     \
    X(probe, "1", "share reacted at the probe where it is least")                                                      \
    X(probe_outside, "1", "of that, the share gained outside the range the rate was fitted to")                        \
    X(least, "1", "share reacted in the cell where it is least")                                                       \
    X(mean, "1", "share reacted, mean of the cells by volume")                                                         \
    X(most, "1", "share reacted in the cell where it is most")                                                         \
    X(outside, "1", "of all that reacted in the cells, the share gained outside the range")

/** One probe: name, unit, long name. */
#define SW_PROBE_FIGURE_LIST(X)                                                                                        \
    X(stall_start, "s", "when its stall began")                                                                        \
    X(stall_end, "s", "when its stall ended")                                                                          \
    X(stall_length, "s", "how long its stall lasted")                                                                  \
    X(stall_probe, "K", "its temperature when its stall began")                                                        \
    X(stall_depth, "K", "how far it fell below its highest reading so far during its stall")                           \
    X(stall_slowest_rate, "K s-1", "slowest mean heating rate over stall.window during its stall")                     \
    X(done_time, "s", "when it first read the pull temperature, the pull at the latest; absent if it did not, or if the " \
                      "pull waits for no temperature")                                                                 \
    X(at_pull, "K", "its temperature at the pull")                                                                     \
    X(at_slicing, "K", "its temperature when ready to slice")

/** One side of the cut: name, unit, long name. Indices run from 0 to 1. */
#define SW_SIDE_FIGURE_LIST(X)                                                                                         \
    X(area, "m2", "area of the side")                                                                                  \
    X(open_time, "s", "time it lay open to the pit's air and smoke")                                                   \
    X(temperature_at_pull, "K", "temperature of its outermost layer at the pull")                                      \
    X(water_content_at_wrap, "kg kg-1", "water in its outermost layer when the wrap went on")                          \
    X(water_content_at_end, "kg kg-1", "water in its outermost layer when sliced")                                     \
    X(dryness_at_wrap, "1", "dryness index when the wrap went on")                                                     \
    X(dryness_at_pull, "1", "dryness index at the pull")                                                               \
    X(dryness_at_end, "1", "dryness index when sliced")                                                                \
    X(browning, "1", "how far it has browned")                                                                         \
    X(browning_outside, "1", "part of that gained outside the range the rate was guessed for")                         \
    X(bark, "1", "browning, half of it lost where wet when sliced")                                                                 \
    X(softening, "1", "share of the dryness at wrapping that was lost by slicing")

/** Outcome of one cook: name, unit, long name. Times count from the moment the meat went on. A figure that does not
 * exist is SW_ABSENT. */
#define SW_OUTCOME_LIST(X)                                                                                             \
    X(wrap_time, "s", "when the wrap went on")                                                                         \
    X(wrap_probe, "K", "probe temperature when the wrap went on")                                                      \
    X(pour_time, "s", "when the juice of the tray was poured")                                                         \
    X(pour_probe, "K", "probe temperature then")                                                                       \
    X(stall_start, "s", "when the stall began")                                                                        \
    X(stall_end, "s", "when the stall ended")                                                                          \
    X(stall_length, "s", "how long the stall lasted")                                                                  \
    X(stall_probe, "K", "probe temperature when the stall began")                                                      \
    X(stall_depth, "K", "how far the probe fell below its highest reading so far during the stall")                    \
    X(stall_slowest_rate, "K s-1", "slowest mean heating rate over stall.window during the stall")                      \
    X(done_time, "s", "when the meat was pulled")                                                                      \
    X(done_probe, "K", "probe temperature at the pull")                                                                \
    X(highest_probe, "K", "highest probe temperature, carry-over included")                                            \
    X(rest_end, "s", "when the rest ended")                                                                            \
    X(hold_end, "s", "when the hold ended")                                                                            \
    X(slice_time, "s", "when the last phase ended: ready to slice")                                                    \
    X(late, "s", "how much later than the time of day planned; 0 if in time, absent if none was planned")              \
    X(endless_phases, "1", "how many phases do not end, or do not begin for that")                                     \
    X(slice_probe, "K", "probe temperature when ready to slice")                                                       \
    X(lowest_after_pull, "K", "lowest temperature anywhere in the meat between pull and slicing")                      \
    X(yield_fraction, "1", "mass left at slicing over raw mass")                                                       \
    X(yield_at_pull, "1", "mass left at the pull over raw mass")                                                       \
    X(top_surface_at_pull, "K", "temperature of the top surface at the pull")                                          \
    X(top_water_activity_at_pull, "1", "water activity of the top surface at the pull")                                \
    X(top_film_share_at_pull, "1", "share of the top surface that a film wets at the pull")                            \
    X(probe_collagen_at_pull, "1", "share of collagen turned to gelatin at the toughest probe, at the pull")           \
    X(probe_collagen, "1", "the same when ready to slice")                                                             \
    X(probe_collagen_low, "1", "the same if the reaction is as slow as it may be")                                     \
    X(probe_collagen_high, "1", "the same if the reaction is as fast as it may be")                                    \
    X(tender_time, "s", "when the toughest probe passed the share that counts as tender")                              \
    X(open_surface_time, "s", "time the surface lay open to smoke, mean by area")                                      \
    X(bark, "1", "bark index, mean by area: browning, half of it lost where wet")                                  \
    X(softening, "1", "share of the dryness at wrapping that the surface lost by slicing, mean by area")               \
    X(kept_juice_mass, "kg", "juice that dripped into the tray or foil")                                               \
    X(kept_fat_mass, "kg", "fat that rendered into the tray or foil")                                                  \
    X(kept_cap_fat_mass, "kg", "of that, from fat cap and seam")                                                       \
    X(servings, "1", "mass left at slicing over the size of a serving")                                                \
    X(raw_mass_needed, "kg", "trimmed raw meat for the people to be fed, at this yield")                               \
    X(mass_to_buy, "kg", "the same before trimming")                                                                   \
    X(rest_to_slicing, "s", "from the pull until the probe falls to the slicing temperature")                          \
    X(kept_hot, "s", "from the pull until some of the meat falls below the hot-holding limit, or until slicing")        \
    X(unmet_rules, "1", "how many rules of food safety are not met")

#define SW_OUTCOME_FIELD(name, unit, long_name) double name;
typedef struct sw_reaction_outcome {
    SW_REACTION_FIGURE_LIST(SW_OUTCOME_FIELD)
} sw_reaction_outcome;

typedef struct sw_probe_outcome {
    SW_PROBE_FIGURE_LIST(SW_OUTCOME_FIELD)
    size_t milestone_count;
    sw_milestone milestones[SW_MILESTONES_MAX]; /**< its first rise through each whole ten degrees Celsius */
} sw_probe_outcome;

typedef struct sw_side_outcome {
    SW_SIDE_FIGURE_LIST(SW_OUTCOME_FIELD)
} sw_side_outcome;

typedef struct sw_outcome {
    SW_OUTCOME_LIST(SW_OUTCOME_FIELD)
    sw_tenderness tenderness; /**< when ready to slice */
    sw_reaction_outcome reactions[SW_INNER_REACTION_COUNT]; /**< when ready to slice */
    sw_side_outcome sides[SW_SIDE_COUNT]; /**< all absent for a side that the cut does not have */
    size_t probe_count;
    sw_probe_outcome probes[SW_PROBES_MAX]; /**< as in the history */
    sw_surface_state top_state_at_pull;
    sw_budget at_pull;
    sw_budget at_end; /**< of slicing; if the meat does not get ready, of the last phase that ended */
} sw_outcome;
#undef SW_OUTCOME_FIELD

/** Evaluates a history.
 * The stall: the first spell before the pull in which the mean rate of the probe over stall.window, centred, is below
 * stall.rate. It begins where the probe bends away from a line that rises at stall.rate, and ends where it bends back to
 * one (docs/theory/stall.md), within half a window of where the mean passes the limit; not before the probe first
 * reaches stall.above and not after it first reaches stall.below. Spells shorter than stall.duration are none, later
 * ones do not count.
 * If a rest or hold does not end (sw_history_is_ready), the figures of slicing are absent and those before it are there.
 * @param history borrowed
 * @param outcome out */
SW_API void sw_outcome_evaluate(const sw_history *history, sw_outcome *outcome);

/** The same, and what sw_safety_evaluate says, which the outcome counts. */
SW_API void sw_outcome_evaluate_with_safety(const sw_history *history, sw_outcome *outcome, sw_safety *safety);

/** Number of the probe whose reading decided at a time [s]: of several the coolest, or the hottest if
 * meat.last_probe_decides is no. 0 without probes. */
SW_API size_t sw_history_deciding_probe(const sw_history *history, double time);

/** Slowest mean rate of the probe over stall.window while the window's middle finds it between stall.above and
 * stall.below [K s-1].
 * @param history borrowed
 * @param until the pull [s]
 * @return SW_ABSENT if it was never between them for as long as a window */
SW_API double sw_slowest_mean_rate(const sw_history *history, double until);

SW_END_DECLARATIONS

#endif
