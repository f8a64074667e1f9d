/* SPDX-License-Identifier: BSD-3-Clause */
/* What pages of the manual say that no table does. */
#ifndef SW_APPS_MANUAL_WORDS_H
#define SW_APPS_MANUAL_WORDS_H

/* Paragraphs of an app or a part of a page, ended by NULL; NULL if there are none. */
const char *const *manual_words(const char *name);

#endif
