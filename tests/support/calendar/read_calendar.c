/* SPDX-License-Identifier: BSD-3-Clause */
/* Reads a calendar with libical and prints its events: start and end as seconds since 1970, zone, number of alarms, summary. */
#include <libical/ical.h>

#include <stdio.h>
#include <stdlib.h>

static char *read_line(char *line, size_t size, void *file)
{
    return fgets(line, (int)size, file);
}

static void print_event(icalcomponent *event)
{
    const struct icaltimetype start = icalcomponent_get_dtstart(event), end = icalcomponent_get_dtend(event);
    const char *id = icaltime_get_tzid(start);
    printf("%lld\t%lld\t%s\t%d\t%s\n", (long long)icaltime_as_timet_with_zone(start, icaltime_get_timezone(start)),
           (long long)icaltime_as_timet_with_zone(end, icaltime_get_timezone(end)), id ? id : "none",
           icalcomponent_count_components(event, ICAL_VALARM_COMPONENT), icalcomponent_get_summary(event));
}

int main(int argc, char **argv)
{
    FILE *file = argc == 2 ? fopen(argv[1], "r") : NULL;
    if (!file)
        return 2;
    icalparser *parser = icalparser_new();
    icalparser_set_gen_data(parser, file);
    icalcomponent *calendar = icalparser_parse(parser, read_line);
    fclose(file);
    if (!calendar || !icalrestriction_check(calendar) || icalcomponent_count_errors(calendar) > 0)
        return 1;
    for (icalcomponent *event = icalcomponent_get_first_component(calendar, ICAL_VEVENT_COMPONENT); event;
         event = icalcomponent_get_next_component(calendar, ICAL_VEVENT_COMPONENT))
        print_event(event);
    icalcomponent_free(calendar);
    icalparser_free(parser);
    return 0;
}
