/* SPDX-License-Identifier: BSD-3-Clause */
/* Keys that hold lists, as rows of numbers. */
#include "cooked.h"
#include "pit_learned.h"

#include <stallwright/scenario_keys.h>

#include <math.h>
#include <string.h>

enum { STEP_COLUMNS = 3, CORNER_COLUMNS = 2, LEARNED_COLUMNS = 1 + SW_LEARNED_NUMBERS };

static sw_status refuse(sw_context *context, const char *key)
{
    return sw_fail(context, SW_ERR_ARGUMENT, "\"%.60s\" holds no list of numbers; pit.temperature, pit.lid.openings, pit.learned and meat.outline do", key);
}

static sw_status check_rows(sw_context *context, const char *key, size_t rows, size_t least, size_t most)
{
    return rows >= least && rows <= most
               ? SW_OK
               : sw_fail(context, SW_ERR_RANGE, "%s is given %zu rows; allowed are %zu to %zu", key, rows, least, most);
}

static sw_status set_steps(sw_context *context, sw_pit *pit, const char *key, size_t rows, const double *values)
{
    const sw_status status = check_rows(context, key, rows, 1, SW_PIT_STEPS_MAX);
    if (status != SW_OK)
        return status;
    memset(pit->steps, 0, sizeof pit->steps);
    pit->step_count = rows;
    pit->is_log = false;
    for (size_t i = 0; i < rows; i++)
        pit->steps[i] = (sw_pit_step){.start = values[STEP_COLUMNS * i],
                                      .temperature = values[STEP_COLUMNS * i + 1],
                                      .ramp = values[STEP_COLUMNS * i + 2] != 0.0};
    return SW_OK;
}

static sw_status set_times(sw_context *context, sw_pit *pit, const char *key, size_t rows, const double *values)
{
    const sw_status status = check_rows(context, key, rows, 0, SW_PIT_OPENINGS_MAX);
    if (status != SW_OK)
        return status;
    memset(pit->openings, 0, sizeof pit->openings);
    pit->opening_count = rows;
    for (size_t i = 0; i < rows; i++)
        pit->openings[i] = values[i];
    return SW_OK;
}

static sw_status set_corners(sw_context *context, sw_meat *meat, const char *key, size_t rows, const double *values)
{
    const sw_status status = check_rows(context, key, rows, 0, SW_OUTLINE_MAX);
    if (status != SW_OK)
        return status;
    memset(meat->outline, 0, sizeof meat->outline);
    meat->outline_count = rows;
    for (size_t i = 0; i < rows; i++) {
        meat->outline[i][0] = values[CORNER_COLUMNS * i];
        meat->outline[i][1] = values[CORNER_COLUMNS * i + 1];
    }
    return SW_OK;
}

static sw_status set_learned(sw_context *context, sw_pit *pit, const char *key, size_t rows, const double *values)
{
    sw_pit_learned learned = {0};
    sw_status status = check_rows(context, key, rows, 0, 1);
    if (status == SW_OK && rows == 1 && !(values[0] >= 1.0 && values[0] <= SW_LEARNED_COOKS_MAX && values[0] == floor(values[0])))
        return sw_fail(context, SW_ERR_RANGE, "%s is of %g cooks; a whole number from 1 to %d is allowed", key, values[0], SW_LEARNED_COOKS_MAX);
    if (status == SW_OK && rows == 1) {
        learned.cooks = (int)values[0];
        for (size_t i = 0; i < SW_LEARNED_NUMBERS; i++)
            *(double *)((char *)&learned + sw_learned_numbers[i].offset) = values[1 + i];
        status = sw_check_learned(context, key, &learned);
    }
    if (status == SW_OK)
        pit->learned = learned;
    return status;
}

static sw_key_type type_of(const char *key)
{
    const sw_scenario_key *found = sw_scenario_key_find(key);
    return found ? found->type : SW_KEY_TEXT;
}

sw_status sw_setup_set_list(sw_context *context, sw_setup *setup, const char *key, size_t rows, const double *values)
{
    switch (type_of(key)) {
    case SW_KEY_SCHEDULE:
        return set_steps(context, &setup->scenario.pit, key, rows, values);
    case SW_KEY_TIMES:
        return set_times(context, &setup->scenario.pit, key, rows, values);
    case SW_KEY_OUTLINE:
        return set_corners(context, &setup->scenario.meat, key, rows, values);
    case SW_KEY_LEARNED:
        return set_learned(context, &setup->scenario.pit, key, rows, values);
    default:
        return refuse(context, key);
    }
}

static void read_steps(const sw_pit *pit, double *values)
{
    for (size_t i = 0; i < pit->step_count; i++) {
        values[STEP_COLUMNS * i] = pit->steps[i].start;
        values[STEP_COLUMNS * i + 1] = pit->steps[i].temperature;
        values[STEP_COLUMNS * i + 2] = pit->steps[i].ramp ? 1.0 : 0.0;
    }
}

static void read_learned(const sw_pit_learned *learned, double *values)
{
    values[0] = learned->cooks;
    for (size_t i = 0; i < SW_LEARNED_NUMBERS; i++)
        values[1 + i] = *(const double *)((const char *)learned + sw_learned_numbers[i].offset);
}

sw_status sw_setup_list(sw_context *context, const sw_setup *setup, const char *key, size_t room, double *values, size_t *rows)
{
    const sw_pit *pit = &setup->scenario.pit;
    const sw_meat *meat = &setup->scenario.meat;
    switch (type_of(key)) {
    case SW_KEY_SCHEDULE:
        *rows = pit->step_count;
        if (room >= STEP_COLUMNS * pit->step_count)
            read_steps(pit, values);
        return SW_OK;
    case SW_KEY_TIMES:
        *rows = pit->opening_count;
        if (room >= pit->opening_count && pit->opening_count > 0)
            memcpy(values, pit->openings, pit->opening_count * sizeof *values);
        return SW_OK;
    case SW_KEY_OUTLINE:
        *rows = meat->outline_count;
        if (room >= CORNER_COLUMNS * meat->outline_count && meat->outline_count > 0)
            memcpy(values, meat->outline, meat->outline_count * sizeof meat->outline[0]);
        return SW_OK;
    case SW_KEY_LEARNED:
        *rows = pit->learned.cooks > 0 ? 1 : 0;
        if (*rows > 0 && room >= LEARNED_COLUMNS)
            read_learned(&pit->learned, values);
        return SW_OK;
    default:
        return refuse(context, key);
    }
}
