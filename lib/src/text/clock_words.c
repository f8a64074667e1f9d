/* SPDX-License-Identifier: BSD-3-Clause */
#include "clock_words.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* Length of am, pm, a.m. or p.m. at the start of text, 0 if it is none or goes on as another word. */
static size_t half_of_day(const char *text, int *is_afternoon)
{
    static const char *const forms[] = {"am", "pm", "a.m.", "p.m."};
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        size_t length = strlen(forms[i]);
        if (strncasecmp(text, forms[i], length) == 0 && !isalnum((unsigned char)text[length])) {
            *is_afternoon = i % 2 == 1;
            return length;
        }
    }
    return 0;
}

static size_t word_for_twelve(const char *text, char plain[SW_CLOCK_WORDS_SIZE])
{
    static const struct {
        const char *word, *plain;
    } words[] = {{"noon", "12:00"}, {"midnight", "00:00"}};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        size_t length = strlen(words[i].word);
        if (strncasecmp(text, words[i].word, length) == 0 && !isalnum((unsigned char)text[length])) {
            strcpy(plain, words[i].plain);
            return length;
        }
    }
    return 0;
}

size_t sw_clock_words(const char *text, char plain[SW_CLOCK_WORDS_SIZE])
{
    size_t digits = strspn(text, "0123456789"), length = digits;
    if (digits == 0)
        return word_for_twelve(text, plain);
    int hour = digits <= 2 ? atoi(text) : 0, minute = 0, is_afternoon = 0;
    if (text[length] == ':') {
        if (strspn(text + length + 1, "0123456789") != 2)
            return 0;
        minute = atoi(text + length + 1);
        length += 3;
    }
    length += strspn(text + length, " \t");
    size_t half = half_of_day(text + length, &is_afternoon);
    if (half == 0 || hour < 1 || hour > 12 || minute > 59)
        return 0;
    snprintf(plain, SW_CLOCK_WORDS_SIZE, "%02d:%02d", hour % 12 + 12 * is_afternoon, minute);
    return length + half;
}
