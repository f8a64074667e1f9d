/** @file
 * The figures a cook decides by, drawn from a history. */
#ifndef STALLWRIGHT_OUTCOME_H
#define STALLWRIGHT_OUTCOME_H

#include <stallwright/cook.h>

SW_BEGIN_DECLARATIONS

/** State of a surface as a cook would feel it, from its water activity.
 * The limits 0.75, 0.90 and 0.97 are a choice of this project, not a standard. */
typedef enum sw_surface_state {
    SW_SURFACE_DRY,     /**< water activity below 0.75: a dry bark */
    SW_SURFACE_FIRM,    /**< 0.75 to 0.90: firm, no longer sticky */
    SW_SURFACE_TACKY,   /**< 0.90 to 0.97: tacky */
    SW_SURFACE_WET      /**< above: wet */
} sw_surface_state;

/** "dry", "firm", "tacky", "wet". */
SW_API const char *sw_surface_state_name(sw_surface_state state);

/** Surface state of a water activity in 0..1 [-]. */
SW_API sw_surface_state sw_surface_state_of(double water_activity);

/** Outcome of one cook: name, unit, long name. Times count from the moment the meat went on. A figure that does not
 * exist is SW_ABSENT. */
#define SW_OUTCOME_LIST(X)                                                                                             \
    X(wrap_time, "s", "when the wrap went on")                                                                         \
    X(wrap_probe, "K", "probe temperature when the wrap went on")                                                      \
    X(stall_start, "s", "when the stall began")                                                                        \
    X(stall_end, "s", "when the stall ended")                                                                          \
    X(stall_length, "s", "how long the stall lasted")                                                                  \
    X(stall_probe, "K", "probe temperature when the stall began")                                                      \
    X(stall_depth, "K", "how far the probe fell below its highest reading so far during the stall")                    \
    X(stall_slowest_rate, "K s-1", "slowest heating rate during the stall")                                            \
    X(done_time, "s", "when the meat was pulled")                                                                      \
    X(done_probe, "K", "probe temperature at the pull")                                                                \
    X(highest_probe, "K", "highest probe temperature, carry-over included")                                            \
    X(rest_end, "s", "when the rest ended")                                                                            \
    X(hold_end, "s", "when the hold ended")                                                                            \
    X(slice_time, "s", "when the last phase ended: ready to slice")                                                    \
    X(slice_probe, "K", "probe temperature when ready to slice")                                                       \
    X(lowest_after_pull, "K", "lowest temperature anywhere in the meat between pull and slicing")                      \
    X(yield_fraction, "1", "mass left at slicing over raw mass")                                                       \
    X(yield_at_pull, "1", "mass left at the pull over raw mass")                                                       \
    X(top_surface_at_pull, "K", "temperature of the top surface at the pull")                                          \
    X(top_water_activity_at_pull, "1", "water activity of the top surface at the pull")

#define SW_OUTCOME_FIELD(name, unit, long_name) double name;
typedef struct sw_outcome {
    SW_OUTCOME_LIST(SW_OUTCOME_FIELD)
    sw_surface_state top_state_at_pull;
    sw_budget at_pull;
    sw_budget at_end;
} sw_outcome;
#undef SW_OUTCOME_FIELD

/** Evaluates a history.
 * The stall: the first spell before the pull in which the probe, between stall.above and stall.below, heats slower than
 * stall.rate without a break for at least stall.duration. It ends when the probe heats at stall.rate again, passes
 * stall.below, or at the pull. Later spells do not count.
 * @param history borrowed
 * @param outcome out */
SW_API void sw_outcome_evaluate(const sw_history *history, sw_outcome *outcome);

SW_END_DECLARATIONS

#endif
