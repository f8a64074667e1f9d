/* SPDX-License-Identifier: BSD-3-Clause */
#include "log_moment.h"

#include "clock_words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double day = 86400.0;

/* Reads so many digits and moves past them. */
static bool read_digits(const char **text, size_t least, size_t most, int *number)
{
    size_t length = strspn(*text, "0123456789");
    if (length < least || length > most)
        return false;
    *number = atoi(*text);
    *text += length;
    return true;
}

/* H:MM, H:MM:SS or H:MM:SS.s, with as many hours as may be. */
static bool read_hours(const char **text, size_t least_digits, double *seconds)
{
    int hours, minutes, whole = 0;
    double part = 0.0;
    if (!read_digits(text, least_digits, 4, &hours) || **text != ':')
        return false;
    ++*text;
    if (!read_digits(text, 2, 2, &minutes) || minutes > 59)
        return false;
    if (**text == ':') {
        ++*text;
        if (!read_digits(text, 2, 2, &whole) || whole > 59)
            return false;
        if (**text == '.') {
            size_t digits = strspn(*text + 1, "0123456789");
            part = digits > 0 ? strtod(*text, NULL) : 0.0;
            *text += 1 + digits;
        }
    }
    *seconds = 3600.0 * hours + 60.0 * minutes + whole + part;
    return true;
}

/* Days since 1 January 1970 of the Gregorian calendar, years counted from March so that a leap day comes last. */
static long days_since_1970(int year, int month, int date)
{
    const long y = month <= 2 ? year - 1 : year, m = (month + 9) % 12;
    return 365 * y + y / 4 - y / 100 + y / 400 + (153 * m + 2) / 5 + date - 1 - 719468;
}

static int days_of(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return days[month - 1] + (month == 2 && leap);
}

/* Z, +HH:MM, +HHMM or +HH behind a time of day, or nothing. */
static bool read_offset(const char **text, double *offset)
{
    int hours = 0, minutes = 0;
    const char sign = **text;
    *offset = 0.0;
    if (sign == 'Z')
        ++*text;
    if (sign != '+' && sign != '-')
        return true;
    ++*text;
    if (strspn(*text, "0123456789") == 4) {
        int both;
        read_digits(text, 4, 4, &both);
        hours = both / 100;
        minutes = both % 100;
    } else if (!read_digits(text, 2, 2, &hours)) {
        return false;
    } else if (**text == ':') {
        ++*text;
        if (!read_digits(text, 2, 2, &minutes))
            return false;
    }
    *offset = (sign == '-' ? -1.0 : 1.0) * (3600.0 * hours + 60.0 * minutes);
    return hours < 24 && minutes < 60;
}

static bool read_dated(const char *text, sw_moment *moment)
{
    int year, month, date;
    double offset;
    if (!read_digits(&text, 4, 4, &year) || *text++ != '-' || !read_digits(&text, 2, 2, &month) || *text++ != '-' ||
        !read_digits(&text, 2, 2, &date) || (*text != 'T' && *text != ' '))
        return false;
    text++;
    if (month < 1 || month > 12 || date < 1 || date > days_of(year, month))
        return false;
    if (!read_hours(&text, 2, &moment->clock) || moment->clock >= day || !read_offset(&text, &offset) || *text != '\0')
        return false;
    moment->kind = SW_MOMENT_DATED;
    moment->seconds = day * (double)days_since_1970(year, month, date) + moment->clock - offset;
    return true;
}

bool sw_log_moment_read(const char *text, sw_moment *moment)
{
    char plain[SW_CLOCK_WORDS_SIZE];
    size_t words = sw_clock_words(text, plain);
    if (strspn(text, "0123456789") == 4 && text[4] == '-')
        return read_dated(text, moment);
    if (words > 0 && text[words] == '\0')
        text = plain;
    else if (!strchr(text, ':')) {
        moment->kind = SW_MOMENT_NUMBER;
        return true;
    }
    if (!read_hours(&text, 1, &moment->seconds) || *text != '\0')
        return false;
    moment->kind = SW_MOMENT_HOURS;
    moment->clock = moment->seconds;
    return true;
}
