/* SPDX-License-Identifier: BSD-3-Clause */
#include "manual_words.h"

#include <stddef.h>
#include <string.h>

enum { PARAGRAPHS_MAX = 6 };

static const struct {
    const char *name;
    const char *paragraphs[PARAGRAPHS_MAX + 1];
} rows[] = {
    {"stallwright",
     {"A pit cook has a big tough cut of beef, a fire to hold near one temperature for half a day, and people to feed at a set "
      "hour. stallwright computes how long the stall will last, what each wrap does to time, bark, juice and yield, when to pull, "
      "and how the meat fares in the rest and the hold until slicing; and it shows why the meat stalls.",
      "Each app takes a scenario, a YAML file that need only say what differs from the default, and --set for single values. "
      "Without either it cooks a built-in brisket. \"stallwright cook --print-scenario\" writes every key with its meaning.",
      "It is a model, not a thermometer: trust differences between choices more than hours on the clock.",
      "\"stallwright --complete WORD...\" prints what could come next on a command line, for the shells; \"stallwright --manual "
      "PAGE\" prints a page of this manual."}},
    {"cook",
     {"Prints the timeline of one cook by the clock, its stall, where the heat went, the mass, how tender the meat gets, and "
      "which rules of food safety it meets. --verbose shows each verdict with its rule, limit and margin.",
      "--plot draws the curves, of a section also maps at the moments of --hours; --output keeps everything in an HDF5 file, "
      "which \"stallwright draw\" draws again."}},
    {"compare",
     {"Cooks the same meat with each wrap of --wraps and prints what differs: when it is done, what it weighs, its bark, its juice. "
      "A wrap may have its own moment: paper@165F, closed-foil@bark, paper@3h. --by ranks them and says why."}},
    {"sweep",
     {"Cooks once for every combination of the values that --vary names, or for as many points as --runs says, evenly spread over "
      "distributions. With --output a sweep that was stopped can continue: --resume. Started by mpirun or srun it "
      "shares the work between machines."}},
    {"explain",
     {"Follows the heat of each hour: what came from air and walls, what the water took along, what warmed the meat; says "
      "what ends the stall; cooks again with one cause changed at a time; and says how large other explanations are beside "
      "evaporation. "
      "--page writes a page to explore in a browser, for a class."}},
    {"draw", {"Draws the pictures of cooks that \"stallwright cook\" or \"stallwright compare\" kept in a results file."}},
    {"plan", {"Counts back from the hour of the meal to the hour at which to light the fire."}},
    {"track", {"Takes the readings of a cook under way and says how it will go on."}},
    {"scenario",
     {"A scenario is a YAML file. A key that is left out keeps its default. A name with dots stands for the groups it is in: "
      "meat.cut is \"cut\" in \"meat\"; the dotted name is what --set takes. Every number carries a unit, in either system: 250 F, "
      "121 C, 14 lb 6 oz, 8 cm, 2 h 30 min, 17:30. Nothing is guessed: an unknown key, a value without a unit or out of its range "
      "is an error that names the place.",
      "An ending says how a phase ends: a temperature of the probe (203 F), a time since the phase began (4 h), a time of day "
      "(12:00, 12:00 +1 day), or a word that the key allows."}},
    {"exit", {"0 if all was done, 1 if something failed, 2 if the command line or a file was not understood, 130 if interrupted. What "
              "was wrong is one sentence on standard error."}},
    {"files", {"share/stallwright/scenarios below the folder of the installation has scenarios to begin with, share/doc/stallwright "
               "the pages of the documentation, share/stallwright/schema JSON Schemas of scenario files and of what apps print as JSON, "
               "which stallwright --schema prints too."}},
    {"cautions",
     {"Keep hot food at 57.3 C (135 F) or more from the pull to the plate, or cool it fast; check meat, pit and holding place with a "
      "thermometer. The program can warn, but never promise. Local food codes and licensed practice come first.",
      "Keep fire in its box, away from walls and roofs, and never alone. Never burn charcoal, wood or gas indoors or in a closed "
      "tent or garage: carbon monoxide kills. Hot fat burns."}},
};

const char *const *manual_words(const char *name)
{
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (strcmp(rows[i].name, name) == 0)
            return rows[i].paragraphs;
    return NULL;
}
