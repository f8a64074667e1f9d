/* SPDX-License-Identifier: BSD-3-Clause */
/* Places of probes, which have names and so are no list of numbers. */
#include "cooked.h"

#include <stallwright/scenario_keys.h>

#include <string.h>

static const char key_name[] = "meat.probes";

static sw_status check_name(sw_context *context, size_t count, const char *const *names)
{
    const size_t longest = sizeof ((sw_probe_place *)NULL)->name - 1, length = strlen(names[count]);
    if (length < 1 || length > longest)
        return sw_fail(context, SW_ERR_ARGUMENT, "%s: the name of probe %zu has %zu bytes; allowed are 1 to %zu", key_name,
                       count + 1, length, longest);
    for (size_t i = 0; i < count; i++)
        if (strcmp(names[i], names[count]) == 0)
            return sw_fail(context, SW_ERR_ARGUMENT, "%s: two probes have the name \"%s\"", key_name, names[i]);
    return SW_OK;
}

static sw_status check_place(sw_context *context, const char *name, const double *place)
{
    const sw_range range = sw_scenario_key_find(key_name)->range;
    for (int i = 0; i < 2; i++)
        if (!(place[i] >= range.minimum && place[i] <= range.maximum))
            return sw_fail(context, SW_ERR_RANGE, "%s: \"%s\" is %g m %s; allowed %g m to %g m", key_name, name, place[i],
                           i == 0 ? "along" : "up", range.minimum, range.maximum);
    return SW_OK;
}

sw_status sw_setup_set_probes(sw_context *context, sw_setup *setup, size_t count, const char *const *names, const double *places)
{
    sw_probe_place probes[SW_PROBES_MAX];
    memset(probes, 0, sizeof probes);
    if (count > SW_PROBES_MAX)
        return sw_fail(context, SW_ERR_RANGE, "%s is given %zu places; allowed are 0 to %d", key_name, count, SW_PROBES_MAX);
    for (size_t i = 0; i < count; i++) {
        sw_status status = check_name(context, i, names);
        if (status == SW_OK)
            status = check_place(context, names[i], places + 2 * i);
        if (status != SW_OK)
            return status;
        memcpy(probes[i].name, names[i], strlen(names[i]));
        probes[i].across = places[2 * i];
        probes[i].height = places[2 * i + 1];
    }
    setup->scenario.meat.probe_count = count;
    memcpy(setup->scenario.meat.probes, probes, sizeof probes);
    return SW_OK;
}

size_t sw_setup_probe_count(const sw_setup *setup)
{
    return setup->scenario.meat.probe_count;
}

sw_status sw_setup_probe(sw_context *context, const sw_setup *setup, size_t number, const char **name, double *along, double *up)
{
    const sw_meat *meat = &setup->scenario.meat;
    if (number >= meat->probe_count)
        return sw_fail(context, SW_ERR_RANGE, "%s has %zu places; there is none with number %zu", key_name, meat->probe_count, number);
    *name = meat->probes[number].name;
    *along = meat->probes[number].across;
    *up = meat->probes[number].height;
    return SW_OK;
}
