/* SPDX-License-Identifier: BSD-3-Clause */
#include "near_miss.h"

#include <stallwright/text.h>

#include <stdbool.h>
#include <stdint.h>
#include <string.h>
#include <strings.h>

enum { LONGEST_WORD = 64, MOST_SLIPS = 3 };

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

size_t sw_edit_distance(const char *one, const char *other)
{
    size_t rows = strlen(one), columns = strlen(other);
    if (rows > LONGEST_WORD || columns > LONGEST_WORD)
        return SIZE_MAX;
    size_t table[LONGEST_WORD + 1][LONGEST_WORD + 1];
    for (size_t i = 0; i <= rows; i++)
        table[i][0] = i;
    for (size_t j = 0; j <= columns; j++)
        table[0][j] = j;
    for (size_t i = 1; i <= rows; i++)
        for (size_t j = 1; j <= columns; j++) {
            size_t cost = one[i - 1] != other[j - 1];
            size_t best = least(table[i - 1][j - 1] + cost, least(table[i - 1][j], table[i][j - 1]) + 1);
            if (i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1])
                best = least(best, table[i - 2][j - 2] + 1);
            table[i][j] = best;
        }
    return table[rows][columns];
}

/* What cooks call some of the choices. */
static const struct {
    const char *said, *named;
} other_words[] = {
    {"foil", "closed-foil"},      {"aluminium", "closed-foil"}, {"aluminum", "closed-foil"}, {"crutch", "closed-foil"},
    {"butcher-paper", "paper"},   {"butcher", "paper"},         {"peach-paper", "paper"},    {"pink-paper", "paper"},
    {"tray", "open-tray"},        {"boat", "open-tray"},        {"foil-boat", "open-tray"},  {"foil-tray", "open-tray"},
    {"unwrapped", "none"},        {"naked", "none"},            {"bare", "none"},            {"cooler", "box"},
    {"oven", "air"},              {"whole", "packer"},          {"brisket", "packer"},       {"stick-burner", "offset"},
    {"coal", "charcoal"},         {"briquettes", "charcoal"},
};

static bool is_other_word(const char *word, const char *candidate)
{
    for (size_t i = 0; i < sizeof other_words / sizeof *other_words; i++)
        if (strcasecmp(word, other_words[i].said) == 0 && strcmp(candidate, other_words[i].named) == 0)
            return true;
    return false;
}

sw_near_miss sw_near_miss_of(const char *word, size_t length)
{
    size_t slips = least(length / 3, MOST_SLIPS);
    return (sw_near_miss){.word = word, .best = NULL, .distance = (slips ? slips : 1) + 1};
}

void sw_near_miss_offer(sw_near_miss *miss, const char *candidate)
{
    size_t distance = is_other_word(miss->word, candidate) ? 0 : sw_edit_distance(miss->word, candidate);
    if (distance >= miss->distance)
        return;
    miss->best = candidate;
    miss->distance = distance;
}

const char *sw_nearest_word(const char *typed, const char *const *words, size_t count)
{
    sw_near_miss miss = sw_near_miss_of(typed, strlen(typed));
    for (size_t i = 0; i < count; i++)
        sw_near_miss_offer(&miss, words[i]);
    return miss.best;
}
