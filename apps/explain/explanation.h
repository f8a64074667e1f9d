/* Why a cook goes as it goes: the hours of its heat, its plateau, and the same cook with one cause removed at a time. All
 * words come from computed numbers. */
#ifndef SW_APPS_EXPLANATION_H
#define SW_APPS_EXPLANATION_H

#include "cook_run.h"
#include "heat_budget.h"
#include "prose.h"

/* The causes that are removed or changed: name, what is done in the words of a table. */
#define CAUSE_LIST(X)                                                                                                  \
    X(no_evaporation, "no evaporation")                                                                                \
    X(damp_pit, "damp pit")                                                                                            \
    X(twice_the_draught, "twice the draught")                                                                          \
    X(half_the_thickness, "half the thickness")                                                                        \
    X(wrapped_from_the_start, "wrapped from the start")                                                                \
    X(holds_its_water, "meat that holds its water")

#define CAUSE_ENUMERATOR(name, words) CAUSE_##name,
typedef enum cause { CAUSE_LIST(CAUSE_ENUMERATOR) CAUSE_COUNT } cause;
#undef CAUSE_ENUMERATOR

/* The cook with one cause removed. */
typedef struct changed_cook {
    cook_run run;
    bool is_no_change; /* the cook is like that already; then it was not run again */
    bool is_impossible; /* no such cook can be computed; the run's failure says why */
} changed_cook;

/* What ends a stall. */
typedef enum stall_ending {
    STALL_ENDING_NONE,  /* no stall */
    STALL_ENDING_WRAP,  /* the wrap goes on */
    STALL_ENDING_PULL,  /* the meat is pulled in it */
    STALL_ENDING_PIT,   /* the pit is made hotter */
    STALL_ENDING_DRY,   /* the surface dries */
    STALL_ENDING_SHORT, /* less and less water comes out from within */
    STALL_ENDING_RANGE, /* the probe leaves the range in which a stall is looked for */
    STALL_ENDING_HEAT,  /* evaporation takes as much as before, but more heat comes in */
    STALL_ENDING_COUNT
} stall_ending;

const char *stall_ending_name(stall_ending ending);

/* The plateau: name, unit, long name. Means over the stall unless another moment is named. Absent without a stall. */
#define PLATEAU_LIST(X)                                                                                                \
    X(probe_at_start, "K", "probe when the stall begins")                                                              \
    X(probe_at_end, "K", "probe when it ends")                                                                         \
    X(surface, "K", "temperature of the top surface")                                                                  \
    X(air, "K", "temperature of the air around the meat")                                                              \
    X(wet_bulb, "K", "wet-bulb temperature of the pit's air")                                                          \
    X(heat_received, "J", "heat received")                                                                             \
    X(heat_an_hour, "J", "heat received an hour")                                                                      \
    X(evaporation_share, "1", "share of it that evaporation takes")                                                    \
    X(evaporated_an_hour, "kg", "water that evaporates an hour")                                                       \
    X(could_evaporate_an_hour, "kg", "water that all the heat received could evaporate in an hour")                    \
    X(evaporation_at_most, "kg", "water an hour when most evaporates")                                                 \
    X(evaporation_at_end, "kg", "water an hour when the stall ends")                                                   \
    X(lost_before, "kg", "water lost before the stall")                                                                \
    X(lost_after, "kg", "water lost when it ends")                                                                     \
    X(middle_at_start, "1", "water at the probe when it begins, over raw")                                             \
    X(middle_at_end, "1", "water at the probe when it ends, over raw")                                                 \
    X(dry_depth_at_start, "m", "depth to which half of the raw water is gone, when it begins; one dimension only")     \
    X(dry_depth_at_end, "m", "the same when it ends")                                                                  \
    X(activity_at_start, "1", "water activity of the top surface when it begins")                                      \
    X(activity_at_end, "1", "water activity of the top surface when it ends")

#define PLATEAU_FIELD(name, unit, long_name) double name;
typedef struct plateau {
    PLATEAU_LIST(PLATEAU_FIELD)
} plateau;
#undef PLATEAU_FIELD

/* A common explanation of the stall, and the heat it would take in this cut, from low to high [J]. */
typedef struct common_explanation {
    const char *name, *source;
    double low, high;
} common_explanation;

enum { HOURS_MAX = 48, COMMON_EXPLANATIONS = 3 };

typedef struct explanation {
    cook_run cook; /* as planned; as far as it was followed if it never ends */
    bool never_ends;
    char never_ends_reason[FAILURE_SIZE];

    double step;       /* of the hours below: 1 h, more for a long cook [s] */
    size_t hour_count; /* until the pull */
    double hour_start[HOURS_MAX], hour_end[HOURS_MAX]; /* [s] */
    double hour_probe[HOURS_MAX];                      /* at the end [K] */
    heat_budget hours[HOURS_MAX];
    heat_budget total; /* until the pull */
    size_t nearly_all;    /* the first hour in which evaporation takes nearly all; hour_count if there is none */
    size_t largest_share; /* the hour in which it takes the largest share; hour_count if none is received */

    plateau plateau;
    stall_ending ending;
    double slowest_rate; /* of the probe in the range in which a stall is looked for; absent if it was never there [K s-1] */
    changed_cook changed[CAUSE_COUNT];
    common_explanation common[COMMON_EXPLANATIONS];
} explanation;

/* Share of the heat received that counts as nearly all: a choice of this program. */
#define NEARLY_ALL 0.9

const char *cause_name(cause cause);
const char *cause_words(cause cause);

/* Runs a cook; if it never ends, runs it again to the pull, or for as long as a phase may last if that is never reached, and
 * says why in the reason (FAILURE_SIZE). Whether it never ends. */
bool run_or_follow(cook_run *run, sw_context *context, progress *progress, char *reason);

/* Changes the thickness of the meat, and all that is measured across it. modelled has the sizes the scenario left open. */
void scale_thickness(sw_scenario *scenario, const sw_scenario *modelled, double factor);

/* Runs and explains a scenario. The cook's status says whether there is anything to explain; a failed change is explained
 * in its place. Free it in any case. */
void explanation_make(explanation *explanation, const sw_scenario *scenario, sw_context *context, progress *progress);
void explanation_free(explanation *explanation);

/* The paragraphs, in the order in which they are read. Each clears the prose first. */
void say_course(const explanation *explanation, prose *prose);      /* the thermometer's course, or that it never ends */
void say_heat(const explanation *explanation, prose *prose);        /* where it comes from and goes */
void say_share(const explanation *explanation, prose *prose);       /* when evaporation takes nearly all */
void say_plateau(const explanation *explanation, prose *prose);     /* why it sits where it does */
void say_water(const explanation *explanation, prose *prose);       /* where the water comes from */
void say_ending(const explanation *explanation, prose *prose);      /* what ends it */
void say_change(const explanation *explanation, cause cause, prose *prose);
void say_common(const explanation *explanation, size_t number, prose *prose);

#endif
