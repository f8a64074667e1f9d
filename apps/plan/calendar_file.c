/* SPDX-License-Identifier: BSD-3-Clause */
#include "calendar_file.h"

#include "output_file.h"

#ifdef SW_HAVE_LIBICAL
#include <libical/ical.h>

#include <errno.h>
#include <stdlib.h>
#include <string.h>

bool calendar_is_built_in(void)
{
    return true;
}

/* What is only looked for rings no bell; the wrap and the pull ring a quarter of an hour before the earliest of ten. */
static const struct {
    const char *key;
    int minutes_before; /* of the alarm; -1: none */
} alarms[] = {{"fire", 15}, {"meat_on", 10}, {"spritz", 5}, {"wrap", 15}, {"rewrap", 15}, {"pull", 15}, {"serve", 30}};

static int alarm_of(const char *key)
{
    for (size_t i = 0; i < sizeof alarms / sizeof *alarms; i++)
        if (strcmp(alarms[i].key, key) == 0)
            return alarms[i].minutes_before;
    return -1;
}

/* A moment in the zone's clock, or in universal time where the machine does not tell its zone. */
static struct icaltimetype time_of(const plan_view *v, double before, icaltimezone *zone)
{
    icaltimezone *universal = icaltimezone_get_utc_timezone();
    return icaltime_convert_to_zone(icaltime_from_timet_with_zone(plan_clock_moment(&v->clock, before), 0, universal), zone);
}

/* The zone is called as people call it, Europe/Lisbon: libical puts a name of its own before that. */
static icalproperty *with_zone(icalproperty *property, icaltimezone *zone)
{
    if (zone != icaltimezone_get_utc_timezone())
        icalproperty_add_parameter(property, icalparameter_new_tzid(icaltimezone_get_location(zone)));
    return property;
}

static icalcomponent *new_zone(icaltimezone *zone)
{
    icalcomponent *component = icalcomponent_new_clone(icaltimezone_get_component(zone));
    icalproperty_set_tzid(icalcomponent_get_first_property(component, ICAL_TZID_PROPERTY), icaltimezone_get_location(zone));
    return component;
}

static void add_alarm(icalcomponent *event, const char *what, int minutes)
{
    icalcomponent *alarm = icalcomponent_new(ICAL_VALARM_COMPONENT);
    const struct icaltriggertype when = {.time = icaltime_null_time(), .duration = icaldurationtype_from_int(-60 * minutes)};
    icalcomponent_add_property(alarm, icalproperty_new_action(ICAL_ACTION_DISPLAY));
    icalcomponent_add_property(alarm, icalproperty_new_description(what));
    icalcomponent_add_property(alarm, icalproperty_new_trigger(when));
    icalcomponent_add_component(event, alarm);
}

/* A window lasts from when one in ten have it until nine in ten have. */
static void add_event(icalcomponent *calendar, const plan_view *v, const plan_row *row, size_t number, icaltimezone *zone,
                      sw_unit_system units)
{
    char text[PROSE_TEXT_SIZE], id[128], summary[128];
    icalcomponent *event = icalcomponent_new(ICAL_VEVENT_COMPONENT);
    const struct icaltimetype now = icaltime_from_timet_with_zone(time(NULL), 0, icaltimezone_get_utc_timezone());
    snprintf(id, sizeof id, "%s-%zu-%lld@stallwright.invalid", row->key, number, (long long)plan_clock_moment(&v->clock, row->middle));
    snprintf(summary, sizeof summary, "%s", row->what);
    if (!row->piece)
        summary[0] = (char)(summary[0] - 'a' + 'A');
    icalcomponent_add_property(event, icalproperty_new_uid(id));
    icalcomponent_add_property(event, icalproperty_new_dtstamp(now));
    icalcomponent_add_property(event, with_zone(icalproperty_new_dtstart(time_of(v, row->first, zone)), zone));
    if (row->first > row->last)
        icalcomponent_add_property(event, with_zone(icalproperty_new_dtend(time_of(v, row->last, zone)), zone));
    icalcomponent_add_property(event, icalproperty_new_summary(summary));
    if (row->look.count > 0)
        icalcomponent_add_property(event, icalproperty_new_description(prose_plain(&row->look, units, text, sizeof text)));
    if (alarm_of(row->key) >= 0)
        add_alarm(event, summary, alarm_of(row->key));
    icalcomponent_add_component(calendar, event);
}

static icaltimezone *zone_in_force(void)
{
    char name[CLOCK_TEXT_SIZE];
    icaltimezone *zone = plan_clock_zone_name(name) ? icaltimezone_get_builtin_timezone(name) : NULL;
    return zone ? zone : icaltimezone_get_utc_timezone();
}

static icalcomponent *make_calendar(const plan_view *views, size_t pieces, sw_unit_system units)
{
    size_t count;
    const plan_row *rows = plan_timetable(views, pieces, &count);
    icaltimezone *zone = zone_in_force();
    icalcomponent *calendar = icalcomponent_new(ICAL_VCALENDAR_COMPONENT);
    icalcomponent_add_property(calendar, icalproperty_new_version("2.0"));
    icalcomponent_add_property(calendar, icalproperty_new_prodid("-//stallwright//plan//EN"));
    if (zone != icaltimezone_get_utc_timezone())
        icalcomponent_add_component(calendar, new_zone(zone));
    for (size_t i = 0; i < count; i++)
        add_event(calendar, &views[0], &rows[i], i, zone, units);
    return calendar;
}

static int write_text(const char *text, const output_file *file)
{
    FILE *stream = fopen(file->temporary, "wb");
    const bool written = stream && fputs(text, stream) >= 0;
    const bool closed = stream && fclose(stream) == 0;
    if (written && closed)
        return EXIT_DONE;
    print_error("\"%s\" cannot be written: %s", file->path, strerror(errno));
    return EXIT_FAILED;
}

int calendar_write(const plan_view *views, size_t pieces, const command_options *o, const char *path)
{
    output_file file;
    int status = output_file_begin(&file, path, "BEGIN:VCALENDAR\r\n", o->force);
    if (status != EXIT_DONE)
        return status;
    icalcomponent *calendar = make_calendar(views, pieces, o->units);
    char *text = icalcomponent_as_ical_string_r(calendar);
    if (text) {
        status = write_text(text, &file);
    } else {
        print_error("the calendar could not be made: %s", sw_status_text(SW_ERR_MEMORY));
        status = EXIT_FAILED;
    }
    free(text);
    icalcomponent_free(calendar);
    icaltimezone_free_builtin_timezones();
    if (status != EXIT_DONE) {
        output_file_abandon(&file);
        return status;
    }
    status = output_file_finish(&file);
    if (status == EXIT_DONE)
        print_note(o, "calendar written to \"%s\"", path);
    return status;
}

#else

bool calendar_is_built_in(void)
{
    return false;
}

int calendar_write(const plan_view *views, size_t pieces, const command_options *o, const char *path)
{
    (void)views;
    (void)pieces;
    (void)o;
    print_error("\"%s\" cannot be written: this stallwright was built without libical", path);
    return EXIT_FAILED;
}

#endif
