/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Runs a cook: integrates heat and moisture through its phases and returns what happened as a history. */
#ifndef STALLWRIGHT_COOK_H
#define STALLWRIGHT_COOK_H

#include <stallwright/kinetics.h>
#include <stallwright/scenario.h>

#include <math.h>
#include <stddef.h>

SW_BEGIN_DECLARATIONS

/** A figure that does not exist (the stall length of a cook that did not stall). Written as null in JSON, as an empty
 * field in CSV, as a dash in a table. */
#define SW_ABSENT ((double)NAN)
#define SW_IS_ABSENT(value) isnan(value)

/** Where heat and mass went: texts that series and budgets share. so_far: " so far" or nothing. */
#define SW_HEAT_SUM_LIST(X, so_far)                                                                                    \
    X(convection_heat, "J", "heat received by convection" so_far)                                                      \
    X(radiation_heat, "J", "heat received by radiation" so_far)                                                        \
    X(evaporation_heat, "J", "heat taken by evaporating water" so_far)                                                 \
    X(vapour_warming_heat, "J", "heat that had warmed the water that evaporated" so_far)                               \
    X(drip_heat, "J", "heat carried off by dripping juice" so_far)                                                     \
    X(rendered_fat_heat, "J", "heat carried off by rendered fat" so_far)                                               \
    X(warming_heat, "J", "heat that stayed in the meat, its melting fat included" so_far)                              \
    X(melting_heat, "J", "part of the heat that stayed: it melted fat that is still in the meat" so_far)
#define SW_EVAPORATED_TEXT "water evaporated, from meat and the juice on it"
#define SW_DRIPPED_TEXT "juice dripped, or still on the surface"
#define SW_RENDERED_TEXT "fat rendered"
#define SW_HELD_TEXT "liquid on the surface and in tray, foil, pan or paper"

/** The series of a history: name, unit (as UDUNITS writes it), long name. Each has one value a row. */
#define SW_SERIES_LIST(X)                                                                                              \
    X(time, "s", "time since the meat went on the pit")                                                                \
    X(probe_temperature, "K", "temperature at the probe")                                                              \
    X(probe_heating_rate, "K s-1", "rate of temperature rise at the probe")                                            \
    X(air_temperature, "K", "temperature of the air around the meat")                                                  \
    X(air_humidity_ratio, "1", "vapour per dry air around the meat, by mass")                                          \
    X(held_mass, "kg", SW_HELD_TEXT)                                                                                   \
    X(top_surface_temperature, "K", "temperature of the top surface of the meat")                                      \
    X(bottom_surface_temperature, "K", "temperature of the bottom surface of the meat")                                \
    X(lowest_temperature, "K", "lowest temperature anywhere in the meat")                                              \
    X(mean_temperature, "K", "mean temperature of the meat, by volume")                                                \
    X(top_water_content, "kg kg-1", "water in the outermost layer of the top, per dry matter without fat")             \
    X(top_water_activity, "1", "water activity of the top: of its film and the outermost layer together")                                     \
    X(top_film_share, "1", "share of the top that a film of juice or spray wets")                                      \
    X(bottom_water_activity, "1", "water activity of the bottom, the same way")                               \
    X(evaporation_rate, "kg s-1", "water evaporating from the whole cut and the film on it")                                              \
    X(drip_rate, "kg s-1", "juice dripping from the whole cut, less what wets its surface")                                                        \
    X(evaporated_mass, "kg", SW_EVAPORATED_TEXT " so far")                                                             \
    X(dripped_mass, "kg", SW_DRIPPED_TEXT " so far")                                                                   \
    X(probe_collagen, "1", "share of the collagen turned to gelatin at the probe where it is least")                  \
    X(rendered_mass, "kg", SW_RENDERED_TEXT " so far")                                                                 \
    SW_HEAT_SUM_LIST(X, " so far")

#define SW_SERIES_ENUMERATOR(name, unit, long_name) SW_SERIES_##name,
typedef enum sw_series { SW_SERIES_LIST(SW_SERIES_ENUMERATOR) SW_SERIES_COUNT } sw_series;
#undef SW_SERIES_ENUMERATOR

SW_API const char *sw_series_name(sw_series series);
SW_API const char *sw_series_unit(sw_series series);
SW_API const char *sw_series_long_name(sw_series series);

/** Phases of a cook, in order; a phase may be left out. */
typedef enum sw_phase { SW_PHASE_PIT, SW_PHASE_WRAPPED, SW_PHASE_REWRAPPED, SW_PHASE_REST, SW_PHASE_HOLD, SW_PHASE_COOLING,
                        SW_PHASE_COUNT } sw_phase;

/** "pit", "wrapped", "rewrapped", "rest", "hold", "cooling". */
SW_API const char *sw_phase_name(sw_phase phase);

/** Where heat and mass went since the meat went on, for the whole cut: name, unit, long name.
 * Enthalpies count from the meat's initial temperature, so what leaves carries the heat that warmed it. */
#define SW_BUDGET_LIST(X)                                                                                              \
    SW_HEAT_SUM_LIST(X, "")                                                                                            \
    X(initial_mass, "kg", "mass of the raw cut")                                                                       \
    X(evaporated_mass, "kg", SW_EVAPORATED_TEXT)                                                                       \
    X(dripped_mass, "kg", SW_DRIPPED_TEXT)                                                                             \
    X(rendered_mass, "kg", SW_RENDERED_TEXT)                                                                           \
    X(cap_rendered_mass, "kg", "fat rendered from fat cap and seam")                                                   \
    X(meat_mass, "kg", "mass of the meat left")                                                                        \
    X(added_mass, "kg", "liquid sprayed on or poured into the wrap")                                                   \
    X(kept_mass, "kg", SW_HELD_TEXT)                                                                                   \
    X(pool_vapour_mass, "kg", "water evaporated from tray or foil")                                                    \
    X(film_mass, "kg", "liquid evaporated from the film on the surface: juice, spray, or what paper holds")                                     \
    X(away_mass, "kg", "juice and liquid that ran off and was lost")                                                   \
    X(poured_mass, "kg", "juice poured off or left in a wrap taken off")                                               \
    X(fuel_mass, "kg", "fuel burnt, where the pit's damp is a balance")                                                \
    X(fuel_water_mass, "kg", "water the fuel gave to the air")                                                         \
    X(pan_vapour_mass, "kg", "water evaporated from the pan")                                                          \
    X(liquid_residual, "1", "liquid outside the meat not accounted for, over water at the start")                      \
    X(heat_residual, "1", "heat received less heat found, over the most heat moved at the end of a phase")           \
    X(water_residual, "1", "water lost less water found outside, over water at the start")

#define SW_BUDGET_FIELD(name, unit, long_name) double name;
typedef struct sw_budget {
    SW_BUDGET_LIST(SW_BUDGET_FIELD)
} sw_budget;
#undef SW_BUDGET_FIELD

/** The outermost layer of one side of the cut, mean by area: name, unit, long name. */
#define SW_SIDE_LIST(X)                                                                                                \
    X(area, "m2", "area of the side")                                                                                  \
    X(open_time, "s", "time it has lain open to the pit's air and smoke")                                              \
    X(temperature, "K", "temperature of the outermost layer")                                                          \
    X(water_content, "kg kg-1", "water in the outermost layer, per dry matter without fat")                            \
    X(water_activity, "1", "water activity of film and outermost layer together")                                                    \
    X(browning, "1", "how far the surface has browned, 0 to 1")                                                        \
    X(browning_outside, "1", "part of that gained outside the range of temperature of the law")

#define SW_SIDE_FIELD(name, unit, long_name) double name;
typedef struct sw_side_record {
    SW_SIDE_LIST(SW_SIDE_FIELD)
} sw_side_record;
#undef SW_SIDE_FIELD

/** One phase as it was run. */
typedef struct sw_phase_record {
    sw_phase phase;
    double start;              /**< [s] */
    double end;                /**< [s] */
    double probe_at_end;       /**< [K] */
    double top_surface_at_end; /**< [K] */
    double top_water_activity_at_end; /**< [-] */
    sw_budget budget_at_end;   /**< since the meat went on */
    sw_side_record sides_at_end[SW_SIDE_COUNT]; /**< SW_ABSENT for a side that the cut does not have */
} sw_phase_record;

/** The endings that may be planned and not come; the pull either comes or fails the cook. */
typedef enum sw_planned_end { SW_PLANNED_WRAP, SW_PLANNED_POUR, SW_PLANNED_REWRAP, SW_PLANNED_REST, SW_PLANNED_HOLD,
                              SW_PLANNED_COOLING, SW_PLANNED_COUNT } sw_planned_end;

/** The key of a scenario that plans it: "wrap.when", "wrap.pour_when", "rewrap.when", "rest.until", "hold.until",
 * "cooling.until". */
SW_API const char *sw_planned_end_key(sw_planned_end end);

/** Why an ending that was planned did not come. */
typedef enum sw_missing_reason {
    SW_MISSING_HOUR_PASSED, /**< its time of day had passed when its phase was to begin; the cook went on without it */
    SW_MISSING_TOO_COOL,    /**< the probe stays below its temperature; what comes later is missing too, as for the next two */
    SW_MISSING_TOO_HOT,     /**< the probe stays above its temperature */
    SW_MISSING_TOO_FAR,     /**< its time of day comes later than solver.longest_phase after its phase began */
    SW_MISSING_NOT_BEGUN,   /**< a phase before it does not end */
    SW_MISSING_PULLED_FIRST, /**< of wraps and pouring: the meat came off the pit before; the cook went on without it */
    SW_MISSING_REASON_COUNT
} sw_missing_reason;

/** "hour passed", "too cool", "too hot", "too far", "not begun", "pulled first". */
SW_API const char *sw_missing_reason_name(sw_missing_reason reason);

/** What is known of an ending that did not come: name, unit, long name. A figure that does not exist is SW_ABSENT. */
#define SW_MISSING_LIST(X)                                                                                             \
    X(planned, "s", "when the clock shows its time of day")                                                            \
    X(begin, "s", "when its phase was to begin, or began, or the meat was pulled before it")                                                             \
    X(late, "s", "how much later that is than its time of day")                                                        \
    X(target, "K", "probe temperature that was waited for")                                                            \
    X(nearest, "K", "probe temperature nearest to that")                                                               \
    X(last, "K", "probe temperature when the waiting was given up")                                                    \
    X(rate, "K s-1", "rate of temperature rise then")

#define SW_MISSING_FIELD(name, unit, long_name) double name;
typedef struct sw_missing {
    sw_planned_end end;
    sw_missing_reason reason;
    SW_MISSING_LIST(SW_MISSING_FIELD)
} sw_missing;
#undef SW_MISSING_FIELD

/** A moment and what the probe read: such as when it first reached a round temperature on the way up. */
typedef struct sw_milestone {
    double probe_temperature; /**< [K] */
    double time;              /**< [s] */
} sw_milestone;

#define SW_MILESTONES_MAX 24

typedef struct sw_history sw_history;

/** When a probe first rose through each whole ten degrees Celsius, or Fahrenheit.
 * @param probe number of the probe in the history
 * @param milestones room for SW_MILESTONES_MAX
 * @return how many there are */
SW_API size_t sw_history_milestones(const sw_history *history, size_t probe, sw_unit_system units, sw_milestone *milestones);

/** Share by which a balance of heat, water or liquid may be left open at the end of a cook: a choice, tens of times what the
 * default tolerance leaves, and less than any figure is told to. A cook that leaves more is refused. */
#define SW_OPEN_BALANCE_MAX 1e-3

/** Work of the time integrator, all phases together. */
typedef struct sw_solver_statistics {
    long steps;
    long right_hand_sides;
    long jacobians;
    long error_test_failures;
    long convergence_failures;
} sw_solver_statistics;

/** What happened, up to the end of the last phase that ended. Read only; created by sw_cook_run, destroyed by
 * sw_history_destroy. */
struct sw_history {
    sw_scenario scenario; /**< copy of what was run */

    size_t row_count;
    double *series[SW_SERIES_COUNT]; /**< row_count values each; rows at the output interval and at phase ends */

    size_t phase_count;
    sw_phase_record phases[SW_PHASE_COUNT]; /**< those that ended */

    size_t missing_count;
    sw_missing missing[SW_PLANNED_COUNT]; /**< what was planned and did not come, as the cook came to it */

    sw_milestone pour; /**< when the juice of a tray was poured, and the probe then; both SW_ABSENT if it was not */

    size_t milestone_count;
    sw_milestone milestones[SW_MILESTONES_MAX];

    size_t cell_count;
    double *cell_position; /**< cell centres, from the bottom up or from the axis out [m] */
    double *cell_across;   /**< cell centres along a section; all 0 in one dimension [m] */
    double *cell_bounds;   /**< cell_count + 1 faces in one dimension [m]; NULL for a section */
    double *cell_volume;   /**< [m3] */
    size_t *cell_first_corner;  /**< of a section: cell_count + 1, where each cell's corners begin in cell_corners; else NULL */
    double (*cell_corners)[2];  /**< of a section: the cells' corners, counter-clockwise, along and up [m]; else NULL */

    size_t probe_count;                        /**< 1 or more */
    sw_probe_place probes[SW_PROBES_MAX];      /**< where they are */
    double *probe_series[SW_PROBES_MAX];       /**< row_count temperatures each [K]; the series "probe_temperature" is
                                                  that of the probe that decides */

    size_t field_count;
    double *field_time;          /**< [s] */
    double *field_temperature;   /**< field_count x cell_count [K] */
    double *field_water_content; /**< field_count x cell_count [kg per kg dry matter without fat] */

    double *cell_extent[SW_INNER_REACTION_COUNT]; /**< cell_count shares reacted at the end; SW_ABSENT where the reaction
                                                     does not belong, as that of collagen in a fat cap */
    double probe_extent[SW_PROBES_MAX][SW_INNER_REACTION_COUNT];  /**< shares reacted at the probes at the end */
    double probe_outside[SW_PROBES_MAX][SW_INNER_REACTION_COUNT]; /**< of these, the part gained outside the range that the
                                                                     law was fitted to */
    double cell_outside[SW_INNER_REACTION_COUNT]; /**< of all that reacted in the cells, the share so gained */

    sw_budget budget; /**< at the end */
    sw_solver_statistics statistics;
};

/** Called now and then while a cook runs.
 * @param time reached [s]
 * @param probe_temperature [K]
 * @param data as passed to sw_cook_run
 * @return nonzero to cancel the run */
typedef int (*sw_cook_observer)(double time, double probe_temperature, void *data);

/** Cooks that differ only in how they are wrapped begin alike: what comes before the wraps is cooked once, and all go on from there
 * to the bit as they would have on their own. Those that wrap at a time, not by the probe or the bark, are cooked on their own. */
typedef struct sw_branches sw_branches;

/** Names the cooks that are going to be run; any may come, also such as have nothing in common.
 * @param scenarios copied; each is to be run, to the bit as it is here, at most once
 * @param branches out: owned by the caller, destroy with sw_branches_destroy; unchanged on error
 * @return SW_OK, SW_ERR_MEMORY */
SW_API sw_status sw_branches_create(sw_context *context, size_t count, const sw_scenario *const *scenarios, sw_branches **branches);

/** Destroys them; NULL is allowed. */
SW_API void sw_branches_destroy(sw_branches *branches);

/** The order in which such cooks are to be run: first the one that begins as the most of the others, then the others as they were given.
 * @param turn 0 to their count less one
 * @return the number of the cook */
SW_API size_t sw_branches_turn(const sw_branches *branches, size_t turn);

/** Runs a cook.
 * @param context for error sentences; may be NULL
 * @param scenario checked first (sw_scenario_check)
 * @param observer may be NULL
 * @param data passed to the observer
 * @param history out: owned by the caller, destroy with sw_history_destroy; unchanged on error
 * @return SW_OK, also if a phase after the pull does not end or misses its hour: history->missing tells; SW_ERR_RANGE or
 * SW_ERR_ARGUMENT (scenario); SW_ERR_NEVER_ENDS (a phase on the pit does not end: the sentence says at what temperature the
 * probe levelled); SW_ERR_SOLVER (also where a balance is left open by more than SW_OPEN_BALANCE_MAX); SW_ERR_CANCELLED;
 * SW_ERR_MEMORY */
SW_API sw_status sw_cook_run(sw_context *context, const sw_scenario *scenario, sw_cook_observer observer, void *data,
                             sw_history **history);

/** The same, as one of several that begin alike.
 * @param branches NULL for none; not from two threads at once */
SW_API sw_status sw_cook_run_branching(sw_context *context, const sw_scenario *scenario, sw_cook_observer observer, void *data,
                                       sw_branches *branches, sw_history **history);


/** Whether the meat gets ready to slice: whether rest and hold, as far as they were planned, ended or were missed. */
SW_API bool sw_history_is_ready(const sw_history *history);

/** What is missing of a planned ending; NULL if it came or was not planned. */
SW_API const sw_missing *sw_history_missing(const sw_history *history, sw_planned_end end);

/** Destroys a history; NULL is allowed. */
SW_API void sw_history_destroy(sw_history *history);

SW_END_DECLARATIONS

#endif
