/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Several pieces in one pit, all ready together, each with its own time to go on (<stallwright/plan.h>). docs/how-to/plan-a-supper.md.
 *
 * The pit is one: its temperature, air film and damp are drawn once for all pieces; what is open of its meat is drawn for each. Its
 * air takes up the vapour of all of them, as if they lay in it from first to last and gave it off in proportion: pit.pieces of each is
 * the sum of all loads over its own, a load being the power 2/3 of a mass. That some go on hours before others, and are wrapped
 * at other times, is left out, and so is that a full pit is slower to heat. */
#ifndef STALLWRIGHT_PLAN_PIECES_H
#define STALLWRIGHT_PLAN_PIECES_H

#include <stallwright/plan.h>

SW_BEGIN_DECLARATIONS

#define SW_PLAN_PIECES_MAX 8

/** Their plans. Read only. */
typedef struct sw_plan_of_pieces {
    size_t count;
    sw_plan *pieces[SW_PLAN_PIECES_MAX]; /**< each with the odds that are asked of it alone; what to buy is told below */
    double odds;                         /**< asked of all together */
    double odds_of_each;                 /**< the least share asked of each alone with which all together keep the odds */
    sw_odds in_time;                     /**< that all are, each from its recommended start; SW_ABSENT if one has none */
    sw_odds held_too_long;               /**< that one is, or more */
    double mass_to_buy_low, mass_to_buy, mass_to_buy_high; /**< of all, in the proportion they have; see sw_plan [kg] */
} sw_plan_of_pieces;

/** Sets pit.pieces of each, so that all meet the air of one pit with all of them in it. Of each piece as many are in the pit as its
 * pit.pieces says now.
 * @param pieces as their author left them; in and out
 * @return SW_OK; SW_ERR_ARGUMENT (count); what sw_scenario_check returns of a piece, all being unchanged then */
SW_API sw_status sw_plan_share_pit(sw_context *context, sw_scenario *pieces, size_t count);

/** Makes their plans.
 * @param question stated does not count; compared_draws are those of each choice of each piece
 * @param pieces those that sw_plan_share_pit left. All have one pit but for pit.pieces, and one serving but for its trimming; it is
 * the caller who sees to that
 * @param count 1..SW_PLAN_PIECES_MAX
 * @param plan out: owned by the caller, destroy with sw_plan_of_pieces_destroy; unchanged on error
 * @return as sw_plan_make; SW_ERR_ARGUMENT (count) */
SW_API sw_status sw_plan_make_together(sw_context *context, const sw_plan_question *question, const sw_scenario *pieces, size_t count,
                                       sw_plan_of_pieces **plan);

/** NULL is allowed. */
SW_API void sw_plan_of_pieces_destroy(sw_plan_of_pieces *plan);

SW_END_DECLARATIONS

#endif
