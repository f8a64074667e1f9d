/* SPDX-License-Identifier: BSD-3-Clause */
#include "plan_clock.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *const weekdays[] = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
static const char *const months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
static const char zone_folder[] = "/usr/share/zoneinfo/";

/* Names of zones are words between slashes, none of them beginning with a dot. */
static bool is_zone(const char *zone)
{
    char path[sizeof zone_folder + CLOCK_TEXT_SIZE];
    const size_t length = strlen(zone);
    if (length == 0 || length >= CLOCK_TEXT_SIZE || zone[0] == '/' || zone[0] == '.' || strstr(zone, "/.") || zone[length - 1] == '/' ||
        strspn(zone, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_+-/") != length)
        return false;
    snprintf(path, sizeof path, "%s%s", zone_folder, zone);
    FILE *file = fopen(path, "rb");
    char magic[4] = "";
    const bool good = file && fread(magic, 1, sizeof magic, file) == sizeof magic && memcmp(magic, "TZif", 4) == 0;
    if (file)
        fclose(file);
    return good;
}

bool plan_clock_zone(const char *zone)
{
    if (zone && (!is_zone(zone) || setenv("TZ", zone, 1) != 0))
        return false;
    tzset();
    return true;
}

const char *plan_clock_zone_name(char *text)
{
    char target[256];
    const char *zone = getenv("TZ"), *found;
    if (zone && *zone == ':')
        zone++;
    if (zone && *zone && is_zone(zone)) {
        snprintf(text, CLOCK_TEXT_SIZE, "%s", zone);
        return text;
    }
    const ssize_t length = readlink("/etc/localtime", target, sizeof target - 1);
    if (zone || length <= 0)
        return NULL;
    target[length] = '\0';
    found = strstr(target, "zoneinfo/");
    if (!found || !is_zone(found + strlen("zoneinfo/")))
        return NULL;
    snprintf(text, CLOCK_TEXT_SIZE, "%.60s", found + strlen("zoneinfo/"));
    return text;
}

/* Four, two and two digits; nothing else. */
static bool read_date(const char *date, struct tm *day)
{
    static const char pattern[] = "dddd-dd-dd";
    if (strlen(date) != strlen(pattern))
        return false;
    for (size_t i = 0; pattern[i]; i++)
        if (pattern[i] == '-' ? date[i] != '-' : date[i] < '0' || date[i] > '9')
            return false;
    day->tm_year = atoi(date) - 1900;
    day->tm_mon = atoi(date + 5) - 1;
    day->tm_mday = atoi(date + 8);
    return true;
}

static bool is_same_clock(const struct tm *a, const struct tm *b)
{
    return a->tm_year == b->tm_year && a->tm_mon == b->tm_mon && a->tm_mday == b->tm_mday && a->tm_hour == b->tm_hour &&
           a->tm_min == b->tm_min;
}

bool plan_clock_set(plan_clock *clock, const char *date, double time_of_day, char *why)
{
    const int minutes = (int)floor(fmod(time_of_day, 86400.0) / 60.0);
    *clock = (plan_clock){.has_date = date, .time_of_day = 60.0 * minutes};
    if (!date)
        return true;
    struct tm asked = {.tm_hour = 12, .tm_isdst = -1}, noon;
    if (!read_date(date, &asked)) {
        snprintf(why, CLOCK_WHY_SIZE, "--date is \"%.40s\"; a date is written 2026-11-28: year, month, day", date);
        return false;
    }
    noon = asked;
    if (mktime(&noon) == (time_t)-1 || !is_same_clock(&noon, &asked)) {
        snprintf(why, CLOCK_WHY_SIZE, "--date is %s; there is no such day", date);
        return false;
    }
    asked.tm_hour = minutes / 60;
    asked.tm_min = minutes % 60;
    struct tm there = asked;
    clock->serving = mktime(&there);
    if (!is_same_clock(&there, &asked)) {
        snprintf(why, CLOCK_WHY_SIZE, "the clock never shows %02d:%02d on %s: it is put forward for summer time then", asked.tm_hour,
                 asked.tm_min, date);
        return false;
    }
    return true;
}

time_t plan_clock_moment(const plan_clock *clock, double before)
{
    return clock->serving - (time_t)lround(before);
}

/* Without a date: the minute of its day, and the day counted from that of serving. */
static int split(const plan_clock *clock, double before, int *day)
{
    const long minutes = lround((clock->time_of_day - before) / 60.0);
    *day = (int)floor((double)minutes / 1440.0);
    return (int)(minutes - 1440L * *day);
}

static const char *show(const plan_clock *clock, double before, bool is_brief, char *text)
{
    static const char *const days[] = {"", " the day before", " two days before", " three days before"};
    if (isnan(before))
        return strcpy(text, "-");
    if (clock->has_date) {
        const time_t moment = plan_clock_moment(clock, before);
        char day[16] = "";
        struct tm t;
        localtime_r(&moment, &t);
        if (!is_brief)
            snprintf(day, sizeof day, " %d %s", t.tm_mday, months[t.tm_mon]);
        snprintf(text, CLOCK_TEXT_SIZE, "%s%s %02d:%02d", weekdays[t.tm_wday], day, t.tm_hour, t.tm_min);
        return text;
    }
    int day;
    const int minute = split(clock, before, &day);
    const int length = snprintf(text, CLOCK_TEXT_SIZE, "%02d:%02d", minute / 60, minute % 60);
    char *rest = text + length;
    const size_t room = CLOCK_TEXT_SIZE - (size_t)length;
    if (is_brief && day != 0)
        snprintf(rest, room, " %+d d", day);
    else if (day <= 0 && day > -4)
        snprintf(rest, room, "%s", days[-day]);
    else
        snprintf(rest, room, " %+d day%s", day, day == 1 ? "" : "s");
    return text;
}

const char *show_moment(const plan_clock *clock, double before, char *text)
{
    return show(clock, before, false, text);
}

const char *show_moment_briefly(const plan_clock *clock, double before, char *text)
{
    return show(clock, before, true, text);
}

const char *show_serving(const plan_clock *clock, char *text)
{
    struct tm t;
    int day;
    const int minute = split(clock, 0.0, &day);
    snprintf(text, CLOCK_TEXT_SIZE, "%02d:%02d", minute / 60, minute % 60);
    if (clock->has_date) {
        localtime_r(&clock->serving, &t);
        snprintf(text, CLOCK_TEXT_SIZE, "%02d:%02d on %s %d %s %d", t.tm_hour, t.tm_min, weekdays[t.tm_wday], t.tm_mday,
                 months[t.tm_mon], t.tm_year + 1900);
    }
    return text;
}
