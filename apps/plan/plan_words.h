/* SPDX-License-Identifier: BSD-3-Clause */
/* What a plan says in sentences, the same on the terminal, in JSON and on the page. Each clears the prose first; an empty one has
 * nothing to say. */
#ifndef SW_APPS_PLAN_WORDS_H
#define SW_APPS_PLAN_WORDS_H

#include "plan_view.h"

/* When the meat goes on, and between what. */
void say_start(const plan_view *view, prose *prose);

/* The odds of the recommended start. */
void say_odds(const plan_view *view, prose *prose);

/* That cooks differ by more than the holds leave room for. */
void say_narrow(const plan_view *view, prose *prose);

/* Why no start promises the odds; of a plan without starts. */
void say_impossible(const plan_view *view, prose *prose);

/* Ready, but too hot to slice. */
void say_slicing(const plan_view *view, prose *prose);

/* If it runs late: how it shows, and what each step buys. */
void say_late(const plan_view *view, prose *prose);
void say_rescue(const plan_view *view, sw_plan_rescue rescue, prose *prose);

/* If it is early: how soon, and the hold. */
void say_early(const plan_view *view, prose *prose);
void say_longest(const plan_view *view, prose *prose);

/* How much meat to buy. */
void say_mass(const plan_view *view, prose *prose);

/* Of several pieces: the odds of all together; that they share a pit, and what that leaves out; how much meat to buy. */
void say_together(const plan_party *party, prose *prose);
void say_one_pit(prose *prose);
void say_mass_of_all(const plan_party *party, prose *prose);

/* How well such odds did, and whether this cook is like those they were tried on. */
void say_honestly(prose *prose);
void say_outside(const plan_view *view, prose *prose);

#endif
