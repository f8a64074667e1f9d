/* SPDX-License-Identifier: BSD-3-Clause */
#include "schema.h"

#include "json_output.h"
#include "messages.h"
#include "output_file.h"

#include <string.h>

static const char *const names[] = {"scenario", "cook", "compare", "sweep", "explain", "plan", "track"};
enum { NAMES = sizeof names / sizeof *names };

int schema_print(const char *name)
{
    for (size_t i = 0; i < NAMES; i++) {
        if (!name)
            puts(names[i]);
        else if (strcmp(name, names[i]) == 0)
            return json_print(i == 0 ? schema_of_scenarios() : schema_of_output(name));
    }
    if (!name)
        return flush_standard_output();
    print_error("there is no schema \"%s\"; \"stallwright --schema\" lists them", name);
    return EXIT_BAD_USE;
}
