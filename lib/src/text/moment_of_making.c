/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/text.h>

#include <errno.h>
#include <stdlib.h>
#include <time.h>

/* The first second of the year 10000, which a date of four digits cannot tell. */
static const long long too_late = 253402300800;

sw_status sw_moment_of_making(sw_context *context, int64_t *seconds)
{
    const char *set = getenv("SOURCE_DATE_EPOCH");
    char *end;
    if (!set) {
        *seconds = (int64_t)time(NULL);
        return SW_OK;
    }
    errno = 0;
    const long long moment = strtoll(set, &end, 10);
    if (set[0] < '0' || set[0] > '9' || *end || errno || moment >= too_late)
        return sw_fail(context, SW_ERR_ARGUMENT, "SOURCE_DATE_EPOCH is \"%.60s\"; it must be seconds since 1970, 0 to %lld", set,
                       too_late - 1);
    *seconds = moment;
    return SW_OK;
}
