/* SPDX-License-Identifier: BSD-3-Clause */
/* An explanation in words. All of them come from computed numbers. */
#ifndef SW_APPS_EXPLANATION_WORDS_H
#define SW_APPS_EXPLANATION_WORDS_H

#include "prose.h"

#include <stallwright/explanation.h>

/* The paragraphs, in the order in which they are read. Each clears the prose first. */
void say_course(const sw_explanation *explanation, prose *prose);      /* the thermometer's course, or that it never ends */
void say_heat(const sw_explanation *explanation, prose *prose);        /* where it comes from and goes */
void say_share(const sw_explanation *explanation, prose *prose);       /* when evaporation takes nearly all */
void say_plateau(const sw_explanation *explanation, prose *prose);     /* why it sits where it does */
void say_water(const sw_explanation *explanation, prose *prose);       /* where the water comes from */
void say_ending(const sw_explanation *explanation, prose *prose);      /* what ends it */
void say_change(const sw_explanation *explanation, sw_cause cause, prose *prose);
void say_common(const sw_explanation *explanation, size_t number, prose *prose);

#endif
