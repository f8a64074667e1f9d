/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * A cook that is under way: what readings of its probes say of it, and when it will be done. The readings narrow the population of
 * cooks (<stallwright/population.h>) to those that could have given them; each of these goes on from here.
 * docs/theory/tracking.md has the method and what it is worth. */
#ifndef STALLWRIGHT_TRACK_H
#define STALLWRIGHT_TRACK_H

#include <stallwright/population.h>
#include <stallwright/safety.h>
#include <stallwright/side_by_side.h>

SW_BEGIN_DECLARATIONS

#define SW_READINGS_MAX 20000
#define SW_TRACK_PROBES_MAX 2
#define SW_TRACK_DRAWS_MAX 2000
#define SW_TRACK_MOMENTS 49

/** One reading of a meat probe. */
typedef struct sw_reading {
    double time;        /**< after the meat went on, 0 or more [s] */
    double temperature; /**< [K] */
    size_t probe;       /**< which of the probes, below SW_TRACK_PROBES_MAX */
} sw_reading;

/** Readings, in any order. */
typedef struct sw_readings {
    size_t count;
    const sw_reading *list;                      /**< borrowed */
    char probe_names[SW_TRACK_PROBES_MAX][32];   /**< of a scenario with several probes: those it belongs to; else "" */
} sw_readings;

/** What is asked. */
typedef struct sw_track_question {
    sw_scenario scenario;  /**< as its author left it, what happened so far put into it, at its times; pull: a temperature */
    sw_readings readings;
    double now;            /**< no earlier than the last reading [s after the meat went on] */
    double serve;          /**< when the meat is to come off at the latest [s]; SW_ABSENT: not asked */
    size_t draws;          /**< of cooks that go on as planned, 10..SW_TRACK_DRAWS_MAX */
    size_t choice_draws;   /**< of each other choice, 0 for none, at most draws */
    size_t threads;        /**< 1..SW_THREADS_MAX */
    uint64_t seed;
    bool (*is_cancelled)(void *data); /**< may be NULL */
    void *data;
} sw_track_question;

/** 10, 50 and 90 % of a figure; INFINITY for what does not come, SW_ABSENT where there is no figure. */
typedef struct sw_track_band {
    double low, middle, high;
} sw_track_band;

/** What may be done from here. */
typedef enum sw_track_choice_kind {
    SW_TRACK_AS_PLANNED,
    SW_TRACK_UNWRAPPED,  /**< never wrapped */
    SW_TRACK_PAPER,      /**< now, as the next three */
    SW_TRACK_OPEN_TRAY,
    SW_TRACK_CLOSED_FOIL,
    SW_TRACK_HOTTER,     /**< the pit SW_TRACK_HOTTER_BY up */
    SW_TRACK_CHOICE_COUNT
} sw_track_choice_kind;

/** By how much a hotter pit is hotter [K]. */
#define SW_TRACK_HOTTER_BY 15.0

/** "as planned", "left unwrapped", "paper now", "open tray now", "foil now", "hotter pit". */
SW_API const char *sw_track_choice_name(sw_track_choice_kind kind);

/** One of them. */
typedef struct sw_track_choice {
    sw_track_choice_kind kind;
    size_t draws;
    sw_track_band done;   /**< the probe reads the pull temperature [s after the meat went on] */
    sw_track_band yield;  /**< mass left then over raw mass [-] */
    sw_track_band bark;   /**< bark index then [-] */
    double odds;          /**< that it is done by serve [-]; SW_ABSENT if not asked */
    double odds_error;    /**< its standard error from the number of draws [-] */
    double never;         /**< share of cooks that do not get there [-] */
} sw_track_choice;

/** One cook of those that agree with the readings. */
typedef struct sw_track_draw {
    double normal[SW_POPULATION_INPUTS_MAX];
    double weight; /**< they sum to 1 */
    double done;   /**< going on as planned; INFINITY if it does not get there [s] */
} sw_track_draw;

/** Doubts about the readings. */
typedef enum sw_track_doubt {
    SW_TRACK_PIT_COLDER,   /**< the pit as felt lies far below what is told: the fire may be out */
    SW_TRACK_PROBE_OFF,    /**< the readings lie beside what any cook does: in fat, at a bone, at an edge, another piece */
    SW_TRACK_STUCK,        /**< the same value for hours */
    SW_TRACK_FALLING,      /**< the meat cools */
    SW_TRACK_DOUBT_COUNT
} sw_track_doubt;

/** What is known now. Release with sw_track_destroy. */
typedef struct sw_track {
    sw_population population;
    size_t used;              /**< readings put together so that neighbours do not count again and again; 0 without readings */
    double best[SW_POPULATION_INPUTS_MAX];         /**< the likeliest cook, in normal coordinates */
    double precision[SW_POPULATION_INPUTS_MAX * SW_POPULATION_INPUTS_MAX]; /**< of the normal distribution about it, count x count: the
                                                                              inverse of its covariance */
    sw_track_band values[SW_POPULATION_INPUTS_MAX]; /**< of each unknown [SI unit of its key] */
    double effective;         /**< how many equally weighted draws the weighted ones are worth */
    size_t modes;             /**< 2 if two different cooks explain the readings */
    size_t failed;            /**< draws that the integrator gave up on; they are left out */
    size_t deciding;          /**< the probe that answers: the coolest */
    double now, reading;      /**< [s]; what the probe reads now as the model and its readings have it [K] */
    sw_track_band offset;     /**< by how much readings lie above the curve now: probe's bias and model's drift [K] */
    double off_readings;      /**< share of the readings used that lie off by more than heavy noise explains [-] */
    bool is_doubted[SW_TRACK_DOUBT_COUNT];
    bool is_done;             /**< the probe reads the pull temperature already */
    sw_track_band stall_start, stall_end; /**< [s]; of those cooks that stall */
    double stalls;            /**< share of cooks that stall [-] */
    double stalls_now;        /**< share of cooks in the stall now [-] */
    sw_track_band wrap;       /**< when the planned wrap goes on, if it is still to come [s] */
    size_t choice_count;
    sw_track_choice choices[SW_TRACK_CHOICE_COUNT]; /**< the first: as planned */
    double moments[SW_TRACK_MOMENTS];               /**< from now on [s] */
    sw_track_band fan[SW_TRACK_MOMENTS];            /**< what the probe reads then; the pull temperature once it is done [K] */
    size_t curve_count;
    double *curve_time, *curve; /**< the likeliest cook to its pull, offset not included [s], [K] */
    size_t draw_count;
    sw_track_draw *draws;
} sw_track;

/** Since when readings have been at the temperature that a scenario plans its wrap at. Whether the wrap went on they do not tell: until the
 * scenario has it at a time, the meat is taken to lie open, and the wrap to go on now.
 * @param now [s after the meat went on]
 * @return [s after the meat went on]; SW_ABSENT: not reached, or no wrap is planned at a temperature */
SW_API double sw_track_wrap_due(const sw_readings *readings, double now, const sw_scenario *scenario);

/** Answers. Without readings the draws are those of sw_population_draw, nothing added.
 * @param track out; unchanged on error
 * @return SW_OK; SW_ERR_ARGUMENT (the question; pull not a temperature); what sw_population_given returns; SW_ERR_SOLVER (no cook
 * runs); SW_ERR_CANCELLED; SW_ERR_MEMORY */
SW_API sw_status sw_track_find(sw_context *context, const sw_track_question *question, sw_track **track);

/** Adds what a cook under way, or done, told of its pit: not of the meat.
 * @param question that the track answers
 * @param learned in: of the cooks before, none if its cooks is 0; out; unchanged on error
 * @return SW_OK; SW_ERR_ARGUMENT (no readings); SW_ERR_SOLVER */
SW_API sw_status sw_track_learn(sw_context *context, const sw_track_question *question, const sw_track *track, sw_pit_learned *learned);

/** What measured readings alone, no model, say of the rules that a cook under way may break. Between readings the worse is taken. */
typedef struct sw_track_safety {
    sw_verdict come_up;      /**< of the rule come_up, at the probe: not assessed while it is under way within its limit */
    double come_up_time;     /**< through its band so far, or in all [s]; SW_ABSENT if no reading is past its lower end */
    double come_up_least;    /**< the least it can have taken, by readings within the band; 0 if they are none [s] */
    bool is_through;         /**< the last readings lie above the band */
    sw_verdict fall_back;    /**< whether meat that was a thermometer's error above the hot-holding limit stayed at it; not assessed before it was */
    double lowest_after;     /**< lowest reading since [K]; SW_ABSENT before */
} sw_track_safety;

/** Judges readings of one probe.
 * @param probe which of them
 * @param safety out */
SW_API void sw_track_judge(const sw_readings *readings, size_t probe, double now, sw_track_safety *safety);

/** Destroys it; NULL is allowed. */
SW_API void sw_track_destroy(sw_track *track);

SW_END_DECLARATIONS

#endif
