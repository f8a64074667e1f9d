/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Many cooks side by side, in threads. What each cook is follows from its number alone, so results do not depend on which
 * thread made it or how many there are. */
#ifndef STALLWRIGHT_SIDE_BY_SIDE_H
#define STALLWRIGHT_SIDE_BY_SIDE_H

#include <stallwright/run.h>

SW_BEGIN_DECLARATIONS

#define SW_THREADS_MAX 256
#define SW_ALIKE_MAX 32

/** The work to be done. */
typedef struct sw_side_by_side {
    size_t count;   /**< of cooks */
    size_t alike;   /**< cooks, one after the other from 0 on, that may begin alike and are made together (sw_branches_create),
                         1..SW_ALIKE_MAX; 0 for 1. Changes no digit */
    size_t threads; /**< 1..SW_THREADS_MAX; a thread that the system does not grant only makes it slower */
    /** Gives cook `number`, 0..count - 1, its scenario. Called from any thread; must depend on the number alone. */
    void (*scenario)(size_t number, sw_scenario *scenario, void *data);
    /** Takes a finished cook, one at a time, in the order in which they finish; a cook that failed is a run with its status.
     * The run is released afterwards. A status other than SW_OK ends the work, its sentence in the context given. */
    sw_status (*take)(sw_context *context, size_t number, const sw_run *run, void *data);
    bool (*is_cancelled)(void *data); /**< asked from any thread, also while a cook runs; may be NULL */
    void *data;                       /**< for all of them */
} sw_side_by_side;

/** Does it. A cook that fails with SW_ERR_SOLVER is made again at a tenth of its tolerance, twice at most. That a cook fails is a result and not an error.
 * @return SW_OK; SW_ERR_ARGUMENT (threads); SW_ERR_MEMORY; SW_ERR_CANCELLED; the first status other than SW_OK that take
 * returned */
SW_API sw_status sw_cook_side_by_side(sw_context *context, const sw_side_by_side *work);

SW_END_DECLARATIONS

#endif
