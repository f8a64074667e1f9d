/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * When the meat must go on so that it is served in time, with the odds: draws of the population (<stallwright/population.h>), each
 * a cook of its own, counted. Times of a cook count from the moment the meat went on; leads count backwards, from going on to
 * serving: a longer lead is an earlier start. docs/how-to/plan-a-supper.md. */
#ifndef STALLWRIGHT_PLAN_H
#define STALLWRIGHT_PLAN_H

#include <stallwright/population.h>
#include <stallwright/run.h>

SW_BEGIN_DECLARATIONS

/* ---- counting ---- */

/** A share of draws, and how well so many tell it. */
typedef struct sw_odds {
    double share; /**< counted [-] */
    double error; /**< one standard error of a share of as many random draws, never 0 [-] */
} sw_odds;

/** Odds of some draws among all. The error is that of Agresti and Coull (1998): two are added that met it and two that did not. */
SW_API sw_odds sw_odds_of(size_t met, size_t draws);

/** Odds that meat is ready and has been held for as long as it must when it is served.
 * @param ready when each draw is ready, in any order; INFINITY: never [s after it went on]
 * @param lead [s] */
SW_API sw_odds sw_odds_in_time(const double *ready, size_t count, double hold_at_least, double lead);

/** Odds that it is ready so soon that it must be held for longer than it may. */
SW_API sw_odds sw_odds_held_too_long(const double *ready, size_t count, double hold_at_most, double lead);

/** The time by which a share of draws have something, 0 < share <= 1: the least of their times that so many have reached.
 * @param sorted rising; INFINITY: never */
SW_API double sw_time_reached_by(const double *sorted, size_t count, double share);

/** When the meat may go on: leads [s], in whole steps of SW_PLAN_STEP to the side that keeps what it promises. */
typedef struct sw_plan_starts {
    double latest;      /**< least lead that is in time with the odds asked; SW_ABSENT if none is */
    double earliest;    /**< greatest lead that with the same odds is held no longer than it may be; below latest if cooks differ by
                             more than the holds do. INFINITY if so many never get ready that none is held too long */
    double recommended; /**< of those between, the middle of those that most draws are served from in time and not held too long;
                             the latest if there is none between; SW_ABSENT as latest is */
} sw_plan_starts;

#define SW_PLAN_STEP 300.0

/** Finds them.
 * @param sorted when each draw is ready, rising; INFINITY: never
 * @param odds above 0, at most 1 */
SW_API void sw_plan_starts_find(const double *sorted, size_t count, double hold_at_least, double hold_at_most, double odds,
                                sw_plan_starts *starts);

/* ---- a plan ---- */

/** What happens in a cook before it is served: name, long name. */
#define SW_PLAN_EVENT_LIST(X)                                                                                                    \
    X(stall_start, "the stall begins")                                                                                           \
    X(wrap, "the wrap goes on")                                                                                                  \
    X(rewrap, "the wrap is changed")                                                                                             \
    X(stall_end, "the stall ends")                                                                                               \
    X(pull, "the meat comes off")                                                                                                \
    X(ready, "the rest is over")

#define SW_PLAN_EVENT_ENUMERATOR(name, long_name) SW_PLAN_EVENT_##name,
typedef enum sw_plan_event { SW_PLAN_EVENT_LIST(SW_PLAN_EVENT_ENUMERATOR) SW_PLAN_EVENT_COUNT } sw_plan_event;
#undef SW_PLAN_EVENT_ENUMERATOR

/** "stall_start" and "the stall begins", and so on. */
SW_API const char *sw_plan_event_name(sw_plan_event event);
SW_API const char *sw_plan_event_long_name(sw_plan_event event);

/** When it happens in the draws in which it does [s after the meat went on]. */
typedef struct sw_plan_window {
    size_t draws;             /**< in which it happens; the three below are SW_ABSENT if in none */
    double low, middle, high; /**< one in ten is earlier, one in two, one in ten later */
} sw_plan_window;

/** What is asked. */
typedef struct sw_plan_question {
    const sw_scenario *stated; /**< as its author left it, not settled; start, hold.until and cooling.until do not count */
    double odds;               /**< of being in time: 0.01 to 0.999 */
    uint64_t seed;
    size_t draws;              /**< of the plan: SW_PLAN_DRAWS_MIN..SW_PLAN_DRAWS_MAX */
    size_t compared_draws;     /**< of each choice it is compared with, at most draws; 0: no comparison */
    double longest_lead;       /**< starts further back are past; 0: none is. Does not hold back the latest start [s] */
    size_t threads;            /**< changes no digit */
    void (*count)(size_t done, size_t total, void *data); /**< cooks done so far, from any thread, one at a time; may be NULL */
    bool (*is_cancelled)(void *data); /**< from any thread; may be NULL */
    void *data;
} sw_plan_question;

#define SW_PLAN_DRAWS_MIN 20
#define SW_PLAN_DRAWS_MAX 10000

/** How much hotter and cooler the pits are that a plan is compared with [K]. */
#define SW_PLAN_PIT_STEP 15.0

/** Another wrap or pit, with the same draws. */
typedef struct sw_plan_choice {
    sw_wrap_kind wrap;
    double pit_change; /**< [K] */
    bool is_asked;     /**< it is the scenario's own */
    size_t count;
    double *ready;     /**< when each of its draws is ready, rising; INFINITY: never [s] */
    sw_plan_starts starts;
} sw_plan_choice;

#define SW_PLAN_CHOICES_MAX (3 * SW_WRAP_COUNT)

/** What may be done with a cook that runs late. */
typedef enum sw_plan_rescue { SW_RESCUE_NOTHING, SW_RESCUE_FOIL, SW_RESCUE_HOTTER, SW_RESCUE_BOTH, SW_RESCUE_COUNT } sw_plan_rescue;

/** "nothing", "closed foil", "pit hotter", "closed foil and pit hotter". */
SW_API const char *sw_plan_rescue_name(sw_plan_rescue rescue);

/** A slow cook, and when it shows. */
typedef struct sw_plan_late {
    bool is_found;   /**< false if slow cooks do not show before their pull; then there is nothing else here */
    double shows;    /**< a moment to look at the probe [s after the meat went on] */
    double probe;    /**< what it reads then [K] */
    double usual;    /**< what that of the median cook reads then [K] */
    bool is_open[SW_RESCUE_COUNT]; /**< whether it may be done: no foil in foil, no hotter pit than a pit may be */
    sw_run run[SW_RESCUE_COUNT];   /**< with its rest, and the hold that is left of the recommended start, with its verdicts */
    double ready[SW_RESCUE_COUNT]; /**< [s]; INFINITY: never */
} sw_plan_late;

/** Of this share of cooks the slowest is told as the late one, of this the fastest as the early one. */
#define SW_PLAN_LATE_SHARE 0.95
#define SW_PLAN_EARLY_SHARE 0.1

/** The plan. Read only; of what no start can promise, starts and all that follows from them are missing. */
typedef struct sw_plan {
    sw_scenario stated;  /**< settled */
    double odds;
    size_t draws, never_ready;
    double *ready;       /**< when each draw is ready, rising [s] */
    double rest;         /**< between pull and ready in the median cook [s] */
    sw_plan_starts starts;
    sw_plan_window windows[SW_PLAN_EVENT_COUNT];
    double mass_to_buy_low, mass_to_buy, mass_to_buy_high; /**< for the people, a tenth, half and nine tenths of draws need no
                                                                more [kg]; SW_ABSENT if nobody is to be fed */
    size_t choice_count;
    sw_plan_choice choices[SW_PLAN_CHOICES_MAX];
    bool is_median_run; /**< false where the median cook never ends or no start is possible: then none of the runs below */
    sw_run median;      /**< the cook of median inputs from the recommended start, held until served: as sw_cook_run has it */
    sw_run longest;     /**< the same held for as long as the scenario allows: its verdicts */
    sw_run early;       /**< a fast cook from the recommended start, held until served */
    double early_ready; /**< when that is ready [s] */
    sw_plan_late late;
} sw_plan;

/** Makes a plan.
 * @param plan out: owned by the caller, destroy with sw_plan_destroy; unchanged on error
 * @return SW_OK, also if no start can promise the odds (starts.latest is SW_ABSENT); what sw_scenario_check returns;
 * SW_ERR_ARGUMENT (a phase before the hold ends at a time of day, which needs a start; hold_at_least over hold_at_most; odds; draws;
 * threads); SW_ERR_CANCELLED; SW_ERR_MEMORY; SW_ERR_SOLVER */
SW_API sw_status sw_plan_make(sw_context *context, const sw_plan_question *question, sw_plan **plan);

/** NULL is allowed. */
SW_API void sw_plan_destroy(sw_plan *plan);

/** The scenario of a cook from a lead that is served at serving.time: what `stallwright cook` takes to replay the plan. */
SW_API void sw_plan_scenario(const sw_scenario *stated, double lead, sw_scenario *scenario);

SW_END_DECLARATIONS

#endif
