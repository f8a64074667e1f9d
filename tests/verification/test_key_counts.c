/* SPDX-License-Identifier: BSD-3-Clause */
/* Each key counts when the table says so: two coarse cooks that differ in its value alone come out different where it counts, and
 * the same to the last bit where it does not. */
#include "close.h"

#include "coarse_cook.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static sw_context *context;
static sw_scenario_reader *reader;

static int set_up(void **state)
{
    (void)state;
    return sw_context_create(&context) == SW_OK && sw_scenario_reader_create(context, &reader) == SW_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    sw_scenario_reader_destroy(reader);
    sw_context_destroy(context);
    return 0;
}

/* A key, two values of it, and what else is set: where it counts, and where it does not. NULL: there is no such scenario, or it is
 * the coarse scenario as it is (""). What counts in a plan only has no cook in which it does. Settings are separated by a semicolon and a blank. */
typedef struct key_row {
    const char *key, *one, *other, *counts, *idle;
} key_row;

#define PACKER "meat.shape=packer"
#define TAPER "meat.shape=taper"
#define OUTLINE                                                                                                                  \
    "meat.shape=outline; meat.outline=[{x: 0 cm, y: 0 cm}, {x: 6 cm, y: 0 cm}, {x: 6 cm, y: 3 cm}, {x: 0 cm, y: 3 cm}, "         \
    "{x: 0 cm, y: 0 cm}]"
#define LEARNED(offset)                                                                                                            \
    "{cooks: 3, offset: " offset " K, offset_spread: 2 K, convection: 9 W/m2/K, convection_spread: 1.1, humidity_ratio: 0.04, "      \
    "humidity_ratio_spread: 1.2, offset_with_convection: -0.5, offset_with_humidity_ratio: 0, convection_with_humidity_ratio: 0.1}"
#define LID "pit.lid.openings=1 h"
#define BALANCE "pit.humidity=balance"
#define PAN BALANCE "; pit.pan.area=300 cm2"
#define USUAL "pit.humidity_ratio=usual"
#define PAPER "wrap.kind=paper"
#define TRAY "wrap.kind=open-tray"
#define FOIL "wrap.kind=closed-foil"
#define COVERED "wrap.kind=covered-pan"
#define SPRITZ "spritz.amount=20 g; spritz.from=20 min"
#define PEOPLE "serving.people=10"
#define PLACE_ROWS(place, short, never)                                                                                          \
    {place ".kind", "air", "box", short, never}, {place ".temperature", "40 C", "60 C", short, never},                           \
    {place ".temperature", "40 C", "60 C", short "; " place ".kind=box", never},                                                 \
    {place ".humidity_ratio", "0.01", "0.03", short, never}, {place ".convection", "5 W/m2/K", "7 W/m2/K", short, never},        \
    {place ".room_temperature", "15 C", "25 C", short "; " place ".kind=box", short},                                            \
    {place ".heat_capacity", "5 kJ/K", "9 kJ/K", short "; " place ".kind=cooling-pit", short},                                   \
    {place ".loss", "0.8 W/K", "2 W/K", short "; " place ".kind=box", short},                                                    \
    {place ".keep_wrap", "yes", "no", short "; " FOIL, short}, {place ".keep_wrap", "yes", "no", short "; " PAPER, FOIL},        \
    {place ".until", "20 min", "30 min", "", NULL}

static const key_row rows[] = {
    {"meat.shape", "slab", "cylinder", "", NULL},
    {"meat.cut", "packer", "pork-butt", "meat.bone=usual", NULL},
    {"meat.cut", "packer", "pork-butt", "meat.thickness=0 cm", NULL},
    {"meat.bone", "0", "0.1", "", NULL},
    {"meat.mass", "4 kg", "5 kg", "", NULL},
    {"meat.bought_mass", "5 kg", "6 kg", "", NULL},
    {"meat.thickness", "3 cm", "4 cm", "", OUTLINE},
    {"meat.width", "8 cm", "12 cm", "meat.shape=flat; meat.thickness=4cm", ""},
    {"meat.width", "30 cm", "40 cm", "meat.shape=cylinder; meat.thickness=0 cm; meat.mass=1 kg", "meat.shape=cylinder"},
    {"meat.width", "30 cm", "40 cm", PACKER, OUTLINE},
    {"meat.end_thickness", "2 cm", "3 cm", TAPER, "meat.shape=section"},
    {"meat.outline", "[{x: 0 cm, y: 0 cm}, {x: 6 cm, y: 0 cm}, {x: 6 cm, y: 4 cm}, {x: 0 cm, y: 0 cm}]",
     "[{x: 0 cm, y: 0 cm}, {x: 6 cm, y: 0 cm}, {x: 6 cm, y: 3 cm}, {x: 0 cm, y: 0 cm}]", "meat.shape=outline", NULL},
    {"meat.probes", "[{name: a, along: 20 cm, up: 1 cm}]", "[{name: a, along: 22 cm, up: 1 cm}]", PACKER, NULL},
    {"meat.initial_temperature", "5 C", "8 C", "", NULL},
    {"meat.composition.water", "0.703", "0.704", "", NULL},
    {"meat.composition.protein", "0.207", "0.208", "", NULL},
    {"meat.composition.fat", "0.08", "0.081", "", NULL},
    {"meat.composition.carbohydrate", "0", "0.001", "", NULL},
    {"meat.composition.ash", "0.01", "0.011", "", NULL},
    {"meat.fat_cap.thickness", "2 mm", "4 mm", "", NULL},
    {"meat.fat_cap.side", "top", "bottom", "meat.fat_cap.thickness=4mm", ""},
    {"meat.permeability", "1e-16 m2", "2e-16 m2", "", NULL},
    {"meat.water_holding_temperature", "62 C", "66 C", "", NULL},
    {"meat.water_holding_loss", "0.3", "0.4", "", NULL},
    {"meat.late_water_loss", "0.1", "0.2", "", NULL},
    {"meat.late_water_loss_temperature", "80 C", "86 C", "", "meat.late_water_loss=0"},
    {"meat.juice.on_surface", "0.6", "0.8", "", NULL},
    {"meat.juice.cling", "20 g/m2", "60 g/m2", "", NULL},
    {"meat.juice.wet_share", "0.4", "0.6", "", NULL},
    {"meat.juice.half_film", "6 g/m2", "12 g/m2", "", NULL},
    {"meat.shrinkage.area", "0.3", "0.5", "", NULL},
    {"meat.shrinkage.thickness", "0.1", "0.2", "", NULL},
    {"meat.edges", "yes", "no", "", "meat.shape=cylinder"},
    {"meat.edges", "yes", "no", "", PACKER},
    {"meat.juice_runoff_time", "1 h", "2 h", "", NULL},
    {"meat.fat_rendering", "1", "2", "", NULL},
    {"meat.bark_openness", "0.05", "0.1", "", NULL},
    {"meat.water_diffusivity", "1e-9 m2/s", "2e-9 m2/s", "", NULL},
    {"meat.seam_thickness", "5 mm", "8 mm", PACKER, NULL},
    {"meat.fibre_conductivity", "1", "1.2", PACKER, "meat.shape=flat"},
    {"meat.fibre_conductivity", "1", "1.2", "meat.shape=short-cylinder; meat.thickness=8cm; meat.mass=1kg", ""},
    {"meat.fibre_permeability", "1", "3", TAPER, "meat.shape=section"},
    {"meat.fibre_permeability", "1", "3", OUTLINE, "meat.shape=point"},
    {"meat.last_probe_decides", "yes", "no", PACKER, "meat.shape=flat"},
    {"meat.last_probe_decides", "yes", "no", TAPER, ""},
    {"meat.last_probe_decides", "yes", "no",
     "meat.shape=flat; meat.width=12 cm; meat.thickness=5 cm; meat.probes=[{name: a, along: 6 cm, up: 2 cm}, {name: b, along: 2 cm, up: 2 cm}]",
     PACKER "; meat.probes=[{name: a, along: 20 cm, up: 1 cm}]"},

    {"pit.kind", "offset", "ceramic", "pit.convection=0 W/m2/K", ""},
    {"pit.kind", "offset", "ceramic", BALANCE, "pit.convection=0 W/m2/K; pit.air_speed=1 m/s"},
    {"pit.kind", "offset", "ceramic",
     BALANCE "; pit.fuel=wood; pit.air_flow=100 kg/h; pit.air_heat_share=0.5", LID "; hold.until=30 min; hold.kind=cooling-pit"},
    {"pit.kind", "offset", "ceramic", "pit.convection=usual", "pit.convection=8 W/m2/K"},
    {"pit.kind", "offset", "ceramic", USUAL, LID},
    {"pit.draught", "1", "1.3", "pit.convection=usual", ""},
    {"pit.draught", "1", "1.3", USUAL, USUAL "; pit.air_flow=100 kg/h"},
    {"pit.draught", "1", "1.3", BALANCE, BALANCE "; pit.air_flow=100 kg/h"},
    {"pit.draught", "1", "1.3", "pit.convection=0 W/m2/K", "pit.convection=0 W/m2/K; pit.air_speed=1 m/s"},
    {"pit.learned", LEARNED("-4"), LEARNED("3"), "", NULL},
    {"pit.temperature", "110 C", "121 C", "", NULL},
    {"pit.cycle.swing", "0 K", "5 K", "", NULL},
    {"pit.cycle.period", "15 min", "20 min", "pit.cycle.swing=5K", ""},
    {"pit.lid.openings", "1 h", "1 h 10 min", "", NULL},
    {"pit.lid.duration", "1 min", "3 min", LID, ""},
    {"pit.lid.duration", "1 min", "3 min", LID "; pit.lid.drop=0.2", "pit.lid.drop=0.2"},
    {"pit.lid.drop", "0.5", "0.7", LID, ""},
    {"pit.lid.recovery", "5 min", "8 min", LID, ""},
    {"pit.humidity", "given", "balance", "", NULL},
    {"pit.humidity_ratio", "0.02", "0.03", "", BALANCE},
    {"pit.humidity_ratio", "0.02", "0.03", LID, BALANCE "; " LID},
    {"pit.convection", "6 W/m2/K", "7 W/m2/K", "", NULL},
    {"pit.air_speed", "0.5 m/s", "0.9 m/s", "pit.convection=0 W/m2/K", BALANCE},
    {"pit.wall_offset", "0 K", "5 K", "", NULL},
    {"pit.altitude", "0 m", "500 m", "", NULL},
    {"pit.heat_up", "30 min", "2 h", NULL, ""},
    {"pit.fuel", "wood", "charcoal", BALANCE, "pit.convection=0 W/m2/K"},
    {"pit.fuel", "wood", "charcoal", USUAL, "pit.convection=usual"},
    {"pit.fuel_moisture", "0.1", "0.3", USUAL, USUAL "; pit.fuel=pellets"},
    {"pit.air_flow", "100 kg/h", "150 kg/h", USUAL, ""},
    {"pit.air_heat_share", "0.6", "0.8", USUAL, USUAL "; pit.fuel=none"},
    {"pit.outside.temperature", "10 C", "20 C", USUAL, ""},
    {"pit.outside.relative_humidity", "0.4", "0.7", USUAL, ""},
    {"pit.pan.area", "200 cm2", "400 cm2", USUAL, USUAL "; pit.pan.depth=0 cm"},
    {"pit.pan.depth", "0 cm", "3 cm", USUAL "; pit.pan.area=300 cm2", USUAL},
    {"pit.pieces", "1", "2", USUAL, "pit.convection=usual"},
    {"pit.fuel_moisture", "0.1", "0.3", BALANCE, BALANCE "; pit.fuel=pellets"},
    {"pit.fuel_moisture", "0.1", "0.3", BALANCE "; pit.kind=gas; pit.fuel=wood", BALANCE "; pit.kind=electric"},
    {"pit.air_flow", "100 kg/h", "150 kg/h", BALANCE, LID "; hold.until=30 min; hold.kind=box"},
    {"pit.air_heat_share", "0.6", "0.8", BALANCE, BALANCE "; pit.fuel=none"},
    {"pit.outside.temperature", "10 C", "20 C", BALANCE, FOIL},
    {"pit.outside.temperature", "10 C", "20 C", LID, LID "; pit.lid.drop=0"},
    {"pit.outside.temperature", "10 C", "20 C", TRAY "; wrap.liquid=300 g", PAPER "; wrap.liquid=300 g"},
    {"pit.outside.relative_humidity", "0.4", "0.7", BALANCE, TRAY "; wrap.liquid=300 g"},
    {"pit.outside.relative_humidity", "0.4", "0.7", LID, LID "; pit.lid.drop=0"},
    {"pit.pan.area", "200 cm2", "400 cm2", BALANCE, BALANCE "; pit.pan.depth=0 cm"},
    {"pit.pan.area", "200 cm2", "400 cm2", PAN, ""},
    {"pit.pan.depth", "1 mm", "3 cm", PAN, "pit.pan.area=300 cm2"},
    {"pit.pan.depth", "1 mm", "3 cm", PAN, BALANCE},
    {"pit.pieces", "1", "2", BALANCE, ""},

    {"wrap.kind", "none", "paper", "", NULL},
    {"wrap.when", "55 C", "60 C", PAPER, ""},
    {"wrap.off_pit", "0 h", "0.2 h", PAPER, "wrap.kind=none"},
    {"wrap.bark_set", "0.8", "0.7", PAPER "; wrap.when=bark", PAPER},
    {"wrap.bark_set", "0.8", "0.7", TRAY "; wrap.when=40C; rewrap.when=bark; rewrap.kind=none", "wrap.when=bark"},
    {"wrap.liquid", "0 g", "200 g", TRAY, PAPER},
    {"wrap.liquid", "0 g", "200 g", PAPER "; rewrap.kind=closed-foil; rewrap.when=75C", "rewrap.kind=closed-foil; rewrap.when=75C"},
    {"wrap.pour", "off", "over", TRAY "; wrap.pour_when=75C", FOIL},
    {"wrap.pour", "no", "off", PAPER "; rewrap.kind=open-tray; rewrap.when=72C; wrap.pour_when=76C", COVERED},
    {"wrap.pour_when", "73 C", "76 C", TRAY "; wrap.pour=off", TRAY},
    {"wrap.pour_when", "73 C", "76 C", TRAY "; wrap.pour=over", FOIL "; wrap.pour=off"},
    {"wrap.paper.permeance", "2e-9 kg/s/m2/Pa", "4e-9 kg/s/m2/Pa", PAPER, FOIL},
    {"wrap.paper.resistance", "0.003 m2 K/W", "0.006 m2 K/W", PAPER, TRAY},
    {"wrap.paper.emissivity", "0.9", "0.7", PAPER, COVERED},
    {"wrap.paper.capacity", "1 g/m2", "20 g/m2", PAPER, FOIL},
    {"wrap.paper.wet_share", "0.7", "1", PAPER, FOIL},
    {"wrap.paper.greasy", "0.4", "0.2", PAPER, TRAY},
    {"wrap.foil.emissivity", "0.3", "0.1", FOIL, PAPER},
    {"wrap.foil.emissivity", "0.3", "0.1", TRAY, ""},
    {"wrap.foil.emissivity", "0.3", "0.1", COVERED, PAPER},
    {"wrap.foil.resistance", "0.003 m2 K/W", "0.01 m2 K/W", FOIL, COVERED},
    {"wrap.foil.resistance", "0.003 m2 K/W", "0.01 m2 K/W", FOIL, TRAY},
    {"wrap.foil.leak", "0.001", "0.1", FOIL, TRAY},
    {"wrap.foil.leak", "0.001", "0.1", COVERED, PAPER},
    {"wrap.lid.resistance", "0.3 m2 K/W", "0.2 m2 K/W", COVERED, FOIL},
    {"wrap.tray.resistance", "0.007 m2 K/W", "0.01 m2 K/W", TRAY, PAPER},
    {"wrap.tray.resistance", "0.007 m2 K/W", "0.01 m2 K/W", FOIL, FOIL "; meat.shape=cylinder"},
    {"wrap.tray.convection", "1", "0.5", FOIL, PAPER},
    {"wrap.tray.convection", "1", "0.5", COVERED, TRAY "; meat.shape=sphere; meat.mass=1kg; meat.thickness=0cm"},
    {"wrap.tray.rim", "0.5 cm", "5 cm", TRAY "; meat.shape=section; meat.thickness=4cm", TRAY},
    {"wrap.tray.rim", "0.5 cm", "5 cm", COVERED "; meat.shape=section; meat.thickness=4cm",
     FOIL "; meat.shape=section; meat.thickness=4cm"},
    {"wrap.tray.ring", "0.05", "0.3", TRAY, COVERED},
    {"wrap.tray.ring", "0.05", "0.3", TRAY, TRAY "; meat.shape=cylinder"},
    {"rewrap.kind", "none", "open-tray", PAPER "; rewrap.when=72C", PAPER},
    {"rewrap.kind", "none", "open-tray", PAPER "; rewrap.when=75C", "rewrap.when=75C"},
    {"rewrap.when", "72 C", "75 C", PAPER "; rewrap.kind=none", PAPER "; rewrap.kind=paper"},
    {"rewrap.when", "72 C", "75 C", TRAY "; rewrap.kind=none", ""},

    {"spritz.amount", "10 g", "20 g", "spritz.from=20 min", NULL},
    {"spritz.every", "10 min", "15 min", SPRITZ, ""},
    {"spritz.from", "10 min", "15 min", SPRITZ, ""},
    {"spritz.temperature", "10 C", "40 C", SPRITZ, ""},
    {"spritz.cling", "0.01 kg/m2", "0.02 kg/m2", SPRITZ, ""},
    {"spritz.cling", "0.01 kg/m2", "0.02 kg/m2", TRAY "; wrap.pour=over; wrap.pour_when=75C; wrap.liquid=400 g",
     TRAY "; wrap.pour=off; wrap.pour_when=75C; wrap.liquid=400 g"},
    {"pull", "76 C", "80 C", "", NULL},

    PLACE_ROWS("rest", "rest.until=30 min", ""),
    PLACE_ROWS("hold", "hold.until=30 min", ""),
    PLACE_ROWS("cooling", "cooling.until=30 min", ""),
    {"rest.temperature", "40 C", "60 C", "rest.until=20 min", "rest.until=20 min; rest.kind=cooling-pit"},
    {"cooling.temperature", "40 C", "60 C", "hold.until=20 min; cooling.until=30 min; cooling.kind=cooling-pit",
     "hold.until=none; cooling.until=30 min; cooling.kind=cooling-pit"},
    {"cooling.temperature", "40 C", "60 C", "cooling.until=30 min; cooling.kind=box",
     "hold.until=20 min; hold.kind=cooling-pit; cooling.until=30 min; cooling.kind=cooling-pit"},
    {"hold.temperature", "40 C", "60 C", "hold.until=30 min", "rest.until=none; hold.until=30 min; hold.kind=cooling-pit"},

    {"stall.above", "40 C", "60 C", "stall.rate=30 K/h; stall.duration=10 min; stall.window=20 min", NULL},
    {"stall.below", "65 C", "72 C", "stall.above=40C; stall.rate=40 K/h; stall.duration=10 min; stall.window=20 min", NULL},
    {"stall.rate", "30 K/h", "25 K/h", "stall.above=40C; stall.duration=10 min; stall.window=20 min", NULL},
    {"stall.window", "15 min", "25 min", "stall.above=40C; stall.rate=30 K/h; stall.duration=10 min", NULL},
    {"stall.duration", "5 min", "20 h", "stall.above=40C; stall.rate=30 K/h; stall.window=20 min", NULL},

    {"serving.size", "0.15 kg", "0.2 kg", "", NULL},
    {"serving.people", "10", "20", "", NULL},
    {"serving.temperature", "70 C", "60 C", "hold.until=3 h; hold.temperature=40C", NULL},
    {"serving.trimming", "0.1", "0.2", PEOPLE, "serving.people=0"},
    {"serving.trimming", "0.1", "0.2", "serving.people=0; meat.thickness=0 cm", "serving.people=0; meat.thickness=5 cm"},
    {"serving.trimming", "0.1", "0.2", "serving.people=0; meat.bought_mass=5 kg", "serving.people=0; meat.mass=5 kg"},
    {"serving.time", "12:00", "18:00", NULL, ""},
    {"serving.hold_at_least", "0 h", "2 h", NULL, ""},
    {"serving.hold_at_most", "4 h", "9 h", NULL, ""},

    {"solver.cells", "10", "14", "", "meat.shape=flat"},
    {"solver.rows", "8", "10", PACKER, ""},
    {"solver.columns", "8", "10", "meat.shape=flat", ""},
    {"solver.surface_cell", "0.3 mm", "0.5 mm", "", NULL},
    {"solver.relative_tolerance", "1e-3", "1e-4", "", NULL},
    {"solver.output_interval", "2 min", "5 min", "", NULL},
    {"solver.field_interval", "15 min", "10 min", "", NULL},
    {"solver.evaporation", "yes", "no", "", NULL},
    /* The hour of the hold comes sooner or later after the start. */
    {"start", "10:00", "11:00", "hold.until=21:00", NULL},
    /* Cooling to a temperature that never comes is given up sooner or later: told by its begin and rate only. */
    {"solver.longest_phase", "20 h", "30 h", "pull=24 h", NULL},
};

/* What no figure of a cook depends on. */
static const char *const told_as_they_are[] = {"title", "meat.name"};
/* What is only asked when the scenario is checked. */
static const char *const asked_of_the_pan = "pit.height";

static void set(sw_scenario *s, const char *settings)
{
    char copy[1024];
    snprintf(copy, sizeof copy, "%s", settings);
    for (char *at = copy, *next; at && *at; at = next) {
        next = strstr(at, "; ");
        if (next) {
            *next = '\0';
            next += 2;
        }
        if (sw_scenario_set(context, reader, at, s) != SW_OK)
            fail_msg("%s", sw_context_message(context));
    }
}

static sw_scenario with(const key_row *row, const char *settings, const char *value)
{
    char assignment[512];
    sw_scenario s = coarse_scenario();
    s.meat.thickness = 0.03;
    s.pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 273.15 + 78.0};
    s.wrap.when.value = 273.15 + 70.0;
    s.solver.rows = s.solver.columns = 8;
    s.solver.cells = 10;
    set(&s, settings);
    snprintf(assignment, sizeof assignment, "%s=%s", row->key, value);
    set(&s, assignment);
    return s;
}

static bool same_numbers(const double *one, const double *other, size_t count)
{
    return memcmp(one, other, count * sizeof *one) == 0;
}

static bool same_histories(const sw_history *a, const sw_history *b)
{
    bool same = a->row_count == b->row_count && a->field_count == b->field_count && a->phase_count == b->phase_count &&
                a->cell_count == b->cell_count && a->probe_count == b->probe_count;
    for (int i = 0; i < SW_SERIES_COUNT && same; i++)
        same = same_numbers(a->series[i], b->series[i], a->row_count);
    if (same)
        same = same_numbers(a->field_temperature, b->field_temperature, a->field_count * a->cell_count);
    return same;
}

static bool same_outcomes(const sw_outcome *a, const sw_outcome *b)
{
    bool same = true;
#define COMPARE(name, unit, long_name) same = same && same_numbers(&a->name, &b->name, 1);
    SW_OUTCOME_LIST(COMPARE)
#undef COMPARE
    return same;
}

/* Whether two cooks come out the same in everything that is told; one that the pit does not end differs from one that it does. */
static bool come_out_the_same(const key_row *row, const sw_scenario *one, const sw_scenario *other)
{
    const sw_scenario *scenarios[2] = {one, other};
    sw_history *histories[2] = {NULL, NULL};
    sw_outcome outcomes[2];
    sw_status statuses[2];
    for (int i = 0; i < 2; i++) {
        statuses[i] = sw_cook_run(context, scenarios[i], NULL, NULL, &histories[i]);
        if (statuses[i] != SW_OK && statuses[i] != SW_ERR_NEVER_ENDS && strcmp(row->key, "solver.longest_phase") != 0)
            fail_msg("%s: %s", row->key, sw_context_message(context));
        if (histories[i])
            sw_outcome_evaluate(histories[i], &outcomes[i]);
    }
    bool same = statuses[0] == statuses[1];
    if (same && histories[0])
        same = same_histories(histories[0], histories[1]) && same_outcomes(&outcomes[0], &outcomes[1]);
    sw_history_destroy(histories[0]);
    sw_history_destroy(histories[1]);
    return same;
}

static void check(const key_row *row, const char *settings, bool counts)
{
    const sw_scenario_key *key = sw_scenario_key_find(row->key);
    const sw_scenario one = with(row, settings, row->one), other = with(row, settings, row->other);
    if (sw_scenario_key_counts(key, &one) != counts || sw_scenario_key_counts(key, &other) != counts)
        fail_msg("%s is said %sto count with \"%s\"", row->key, counts ? "not " : "", settings);
    if (come_out_the_same(row, &one, &other) == counts)
        fail_msg("%s at %s and at %s comes out %s with \"%s\"", row->key, row->one, row->other, counts ? "the same" : "different",
                 settings);
}

static void test_where_it_counts(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (rows[i].counts)
            check(&rows[i], rows[i].counts, true);
}

static void test_where_it_does_not(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (rows[i].idle)
            check(&rows[i], rows[i].idle, false);
}

static bool is_exempt(const char *name)
{
    for (size_t i = 0; i < sizeof told_as_they_are / sizeof *told_as_they_are; i++)
        if (strcmp(name, told_as_they_are[i]) == 0)
            return true;
    return strcmp(name, asked_of_the_pan) == 0;
}

/* Every key has a row, and one in which it does nothing if the table has a condition, save those that are refused there. */
static void test_every_key_is_tried(void **state)
{
    (void)state;
    static const char *const refused_where_idle[] = {"meat.outline", "meat.probes", "meat.fat_cap.thickness",
                                                     "meat.seam_thickness"};
    for (size_t i = 0; i < sw_scenario_key_count(); i++) {
        const sw_scenario_key *key = sw_scenario_key_at(i);
        char condition[SW_KEY_CONDITION_SIZE];
        bool tried = is_exempt(key->name), idle = tried || !*sw_scenario_key_condition(key, condition);
        for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
            const bool is_row = strcmp(rows[k].key, key->name) == 0;
            tried = tried || is_row;
            idle = idle || (is_row && rows[k].idle);
        }
        for (size_t k = 0; k < sizeof refused_where_idle / sizeof *refused_where_idle; k++)
            idle = idle || strcmp(key->name, refused_where_idle[k]) == 0;
        if (!tried || !idle)
            fail_msg("%s is not tried where it %s", key->name, tried ? "does nothing" : "counts");
    }
}

static void test_the_pan_must_fit(void **state)
{
    (void)state;
    const sw_scenario_key *height = sw_scenario_key_find("pit.height");
    sw_scenario s = coarse_scenario();
    s.pit.height = 0.05;
    s.pit.pan_depth = 0.1;
    assert_false(sw_scenario_key_counts(height, &s));
    assert_int_equal(sw_scenario_check(context, &s), SW_OK);
    s.pit.pan_area = 0.03;
    assert_true(sw_scenario_key_counts(height, &s));
    assert_int_equal(sw_scenario_check(context, &s), SW_ERR_RANGE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_where_it_counts),
        cmocka_unit_test(test_where_it_does_not),
        cmocka_unit_test(test_every_key_is_tried),
        cmocka_unit_test(test_the_pan_must_fit),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
