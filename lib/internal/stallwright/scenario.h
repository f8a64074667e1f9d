/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * A scenario: everything a cook decides before the fire is lit, as a plain value in SI units.
 * docs/reference/scenario.md lists each field by the name it has in a scenario file. */
#ifndef STALLWRIGHT_SCENARIO_H
#define STALLWRIGHT_SCENARIO_H

#include <stallwright/composition.h>
#include <stallwright/context.h>
#include <stallwright/quantity.h>

#include <stdbool.h>
#include <stddef.h>

SW_BEGIN_DECLARATIONS

#define SW_TEXT_MAX 128
#define SW_PIT_STEPS_MAX 1024
#define SW_PIT_OPENINGS_MAX 32

#define SW_OUTLINE_MAX 256
#define SW_PROBES_MAX 4

/** Shape of the modelled body. */
typedef enum sw_shape {
    SW_SHAPE_SLAB,           /**< one-dimensional: heat and water move across the thickness only */
    SW_SHAPE_CYLINDER,       /**< one-dimensional: a long cylinder */
    SW_SHAPE_SPHERE,         /**< one-dimensional */
    SW_SHAPE_SECTION,        /**< a rectangular section, width by thickness */
    SW_SHAPE_TAPER,          /**< a lengthwise section, its thickness running straight from end_thickness to thickness */
    SW_SHAPE_SHORT_CYLINDER, /**< a standing cylinder, thickness across and width tall */
    SW_SHAPE_FLAT,           /**< a crosswise section through the flat of a brisket, with rounded edges */
    SW_SHAPE_POINT,          /**< a crosswise section through the point */
    SW_SHAPE_PACKER,         /**< a lengthwise section through a whole brisket, flat and point */
    SW_SHAPE_OUTLINE,        /**< a section with an outline of the user's own */
    SW_SHAPE_COUNT
} sw_shape;

/** Whether a shape is modelled in two dimensions. */
SW_API bool sw_shape_is_section(sw_shape shape);

/** Whether a section lies across the fibres; the others lie along them. */
SW_API bool sw_shape_is_crosswise(sw_shape shape);

/** A probe: its name and where its tip is. */
typedef struct sw_probe_place {
    char name[32];
    double across; /**< along the section from its left end [m] */
    double height; /**< above its lowest point [m] */
} sw_probe_place;

/** A side of the cut: what faces up, down, or sideways. A cylinder and a sphere in one dimension have only an outside,
 * which counts as the top. */
typedef enum sw_side { SW_SIDE_TOP, SW_SIDE_BOTTOM, SW_SIDE_END, SW_SIDE_COUNT } sw_side;

typedef enum sw_wrap_kind {
    SW_WRAP_NONE,
    SW_WRAP_PAPER,
    SW_WRAP_OPEN_TRAY,
    SW_WRAP_CLOSED_FOIL,
    SW_WRAP_COVERED_PAN,
    SW_WRAP_COUNT
} sw_wrap_kind;

/** How a phase of the cook ends. */
typedef enum sw_ending_kind {
    SW_ENDING_NONE,              /**< the phase is left out */
    SW_ENDING_PROBE_TEMPERATURE, /**< the probe reaches a temperature, from below or from above [K] */
    SW_ENDING_DURATION,          /**< so long after the phase began; the pull: after the meat went on [s] */
    SW_ENDING_BARK,              /**< the top of the meat is as dry as wrap.bark_set; no value */
    SW_ENDING_CLOCK,             /**< the clock first shows a time of day after the start [s after midnight] */
    SW_ENDING_CLOCK_ON_DAY,      /**< the same on a day that is given: 13:00 +1 day [s after midnight of the day on which
                                      the meat went on] */
    SW_ENDING_USUAL              /**< the probe reaches what is usual for the cut, or, where water boils too low for it,
                                      SW_USUAL_PULL_BELOW_BOILING under the boiling point; the pull only, no value */
} sw_ending_kind;

/** Most days that a time of day may be away from the start. */
#define SW_ENDING_DAYS_MAX 30

/** So far a usual pull stays under the boiling point, since nearer it would creep, a choice [K]. */
#define SW_USUAL_PULL_BELOW_BOILING 2.0

typedef struct sw_ending {
    sw_ending_kind kind;
    double value;
} sw_ending;

/** In the place of a number that may be left open: what is usual for the cut or the kind of pit, which
 * sw_scenario_settle puts there. The same word leaves a name open. */
#define SW_USUAL (-1e300)
#define SW_USUAL_WORD "usual"

/** Cuts by the trade's names: they set what a scenario leaves to the cut (<stallwright/cut_traits.h>), never its shape. */
typedef enum sw_cut {
    SW_CUT_PACKER,      /**< a whole brisket */
    SW_CUT_HALF_PACKER, /**< a whole brisket cut across in two */
    SW_CUT_FLAT,        /**< the lean half of a brisket alone */
    SW_CUT_POINT,       /**< the fat half of a brisket alone */
    SW_CUT_PORK_BUTT,
    SW_CUT_PORK_PICNIC,
    SW_CUT_CHUCK_ROLL,
    SW_CUT_CLOD,
    SW_CUT_PLATE_RIBS,
    SW_CUT_COUNT
} sw_cut;

/** Juice that the protein has let go, on its way over the surface (docs/theory/wraps.md). */
typedef struct sw_juice {
    double on_surface; /**< share of it that runs over open surfaces; the rest drips [-] */
    double cling;      /**< what of it clings at most [kg m-2] */
    double wet_share;  /**< share of the surface that a thick film wets; 0 for none [-] */
    double half_film;  /**< film that wets half of that [kg m-2] */
} sw_juice;

/** The meat. Mass, and composition of its lean part, are those of the trimmed raw cut. */
typedef struct sw_meat {
    char name[SW_TEXT_MAX];        /**< SW_USUAL_WORD: of the cut */
    sw_cut cut;                    /**< sets what is left open, nothing else */
    sw_shape shape;
    double mass;                   /**< of the whole trimmed raw cut; 0: from bought_mass and serving.trimming [kg] */
    double bought_mass;            /**< of the cut as bought, before it is trimmed; 0: mass is given instead [kg] */
    double thickness;              /**< greatest, fat cap included, or diameter; 0: from mass and shape [m] */
    double width;                  /**< of a section: its other side; 0: from usual proportions [m] */
    double end_thickness;          /**< of a taper, at its thin end [m] */
    size_t outline_count;          /**< corners of an outline */
    double outline[SW_OUTLINE_MAX][2]; /**< along and up, counter-clockwise or clockwise, the first not repeated [m] */
    double initial_temperature;    /**< [K] */
    sw_composition composition;    /**< of the lean part, as raw mass fractions [kg kg-1]; they sum to 1; each may be SW_USUAL */
    double bone;                   /**< share of the trimmed cut that is bone: cooked as if it were meat, not eaten; SW_USUAL:
                                        of the cut [-] */
    double fat_cap_thickness;      /**< 0 for none; slab and sections only [m] */
    sw_side fat_cap_side;          /**< which side it lies on */
    double permeability;           /**< of lean meat to its own juice, raw [m2] */
    double water_holding_temperature; /**< middle of the temperature range where the protein lets its water go [K] */
    double water_holding_loss;     /**< fraction of the raw water the fully cooked protein cannot hold [-] */
    double shrinkage_area;         /**< share of its surface that meat without water would have lost [-] */
    double shrinkage_thickness;    /**< share of its thickness; more than shrinkage_area shrinks meat across [-] */
    double late_water_loss;        /**< fraction of the raw water let go besides at a later temperature [-] */
    double late_water_loss_temperature; /**< middle of that loss [K] */
    double juice_runoff_time;      /**< time constant at 70 C with which water above equilibrium drips off [s] */
    sw_juice juice;
    double fat_rendering;          /**< how fast fat renders, over the law of <stallwright/kinetics.h> [-] */
    double bark_openness;          /**< porosity over tortuosity of dry meat, to vapour [-] */
    double water_diffusivity;      /**< of water in lean meat at 60 C [m2 s-1] */
    double seam_thickness;         /**< of the fat seam between flat and point of a packer; 0 for none [m] */
    double fibre_conductivity;     /**< conductivity along the fibres over across them [-] */
    double fibre_permeability;     /**< permeability along the fibres over across them [-] */
    bool has_edges;                /**< a slab's surface includes its ends, whose heat and water then pass its two faces */
    size_t probe_count;            /**< 0: where cooks put them for this shape */
    sw_probe_place probes[SW_PROBES_MAX]; /**< sections only */
    bool last_probe_decides;       /**< with several probes: a temperature is reached when the last one reads it */
} sw_meat;

/** Temperature of the pit from a moment on, until the next step. */
typedef struct sw_pit_step {
    double start;       /**< after the meat went on [s] */
    double temperature; /**< of the air [K] */
    bool ramp;          /**< it then runs straight to the next step's temperature; never the last step */
} sw_pit_step;

/** Kinds of pit, by the trade's names: they set what a scenario leaves to the kind (docs/theory/pit.md). */
typedef enum sw_pit_kind {
    SW_PIT_OFFSET,   /**< a firebox beside the chamber */
    SW_PIT_KETTLE,   /**< a steel kettle over charcoal */
    SW_PIT_BULLET,   /**< an upright steel pit over charcoal, with room for a pan */
    SW_PIT_DRUM,     /**< a steel drum over charcoal */
    SW_PIT_CERAMIC,  /**< thick ceramic walls over charcoal */
    SW_PIT_PELLET,   /**< pellets and a fan */
    SW_PIT_ELECTRIC, /**< an electric cabinet with a small vent */
    SW_PIT_GAS,      /**< a gas cabinet */
    SW_PIT_FAN_OVEN, /**< an oven with a fan */
    SW_PIT_HOUSE_OVEN, /**< an oven without one */
    SW_PIT_KIND_COUNT
} sw_pit_kind;

typedef enum sw_fuel {
    SW_FUEL_USUAL, /**< of the kind of pit */
    SW_FUEL_WOOD,
    SW_FUEL_PELLETS,
    SW_FUEL_CHARCOAL,
    SW_FUEL_PROPANE,
    SW_FUEL_NONE, /**< electric heat */
    SW_FUEL_COUNT
} sw_fuel;

/** Where the humidity of the pit's air comes from. */
typedef enum sw_pit_humidity { SW_HUMIDITY_GIVEN, SW_HUMIDITY_BALANCE, SW_HUMIDITY_COUNT } sw_pit_humidity;

/** What cooks in one pit told of it (<stallwright/track.h>): of the pit itself, middle and one standard deviation; a cook in it differs by more.
 * Taken for what the scenario leaves open. */
typedef struct sw_pit_learned {
    int cooks;                      /**< 0: nothing is known, and the numbers do not count */
    double offset;                  /**< the pit as the meat feels it, less its gauge [K] */
    double offset_spread;           /**< [K] */
    double convection;              /**< [W m-2 K-1] */
    double convection_spread;       /**< times or over this [-] */
    double humidity_ratio;          /**< [kg per kg dry air] */
    double humidity_ratio_spread;   /**< times or over this [-] */
    double offset_with_convection;  /**< correlations, of the logarithms [-] */
    double offset_with_humidity_ratio;
    double convection_with_humidity_ratio;
} sw_pit_learned;

/** The pit, while the meat is on it. */
typedef struct sw_pit {
    sw_pit_kind kind;
    size_t step_count;                   /**< 1..SW_PIT_STEPS_MAX */
    sw_pit_step steps[SW_PIT_STEPS_MAX]; /**< starts strictly rising, the first 0 */
    bool is_log;                         /**< the steps were measured: after the last the air is not known but taken as it was */
    double cycle_swing;                  /**< of the controller, above and below the set temperature; 0 for none [K] */
    double cycle_period;                 /**< of the controller [s] */
    size_t opening_count;                /**< 0..SW_PIT_OPENINGS_MAX */
    double openings[SW_PIT_OPENINGS_MAX]; /**< when the lid is opened, after the meat went on, strictly rising [s] */
    double lid_duration;                 /**< how long it stays open each time [s] */
    double lid_drop;                     /**< share of outside air in the pit's while it is open [-] */
    double lid_recovery;                 /**< time constant in which that share falls again [s] */
    sw_pit_humidity humidity;            /**< whether humidity_ratio holds or a balance makes it */
    double humidity_ratio;               /**< of the pit's air; SW_USUAL: by kind, air flow, fuel, pan and load [kg per kg
                                              dry air] */
    double convection;                   /**< heat transfer coefficient of the air at the meat; SW_USUAL: by kind and draught;
                                              0: from air_speed and the cut's size [W m-2 K-1] */
    double draught;                      /**< air through the pit and past the meat over what is usual for the kind [-] */
    double air_speed;                    /**< at the meat; 0: usual for the kind [m s-1] */
    sw_fuel fuel;
    double fuel_moisture;                /**< of wood, water per wet wood [-] */
    double air_flow;                     /**< dry air through the pit; 0: usual for the kind [kg s-1] */
    double air_heat_share;               /**< of the fuel's heat that leaves as warm air; 0: usual for the kind [-] */
    double outside_temperature;          /**< [K] */
    double outside_relative_humidity;    /**< over liquid water [-] */
    double height;                       /**< of the chamber, inside [m] */
    double pan_area;                     /**< of the water in a pan; 0 for no pan [m2] */
    double pan_depth;                    /**< of that water at the start [m] */
    double pieces;                       /**< of meat like this one in the pit, 1 or more; others count by the vapour they give,
                                              (their mass over this one's)^(2/3) [-] */
    double wall_offset;                  /**< wall temperature less air temperature; SW_USUAL: by kind and weather [K] */
    double altitude;                     /**< of the place, sets the air pressure everywhere [m] */
    double heat_up;                      /**< from lighting the fire until the meat may go on, for plans; SW_USUAL: of the kind [s] */
    sw_pit_learned learned;              /**< settling takes it over */
} sw_pit;

/** What is done with the juice in a tray or foil. */
typedef enum sw_pour { SW_POUR_NO, SW_POUR_OFF, SW_POUR_OVER, SW_POUR_COUNT } sw_pour;

/** The wrap. Numbers of wraps that are not used do no harm. */
typedef struct sw_wrap {
    sw_wrap_kind kind;
    sw_ending when;            /**< when it goes on; ends the unwrapped phase */
    double paper_permeance;    /**< to water vapour [kg s-1 m-2 Pa-1] */
    double paper_resistance;   /**< thermal, of paper and the air under it [m2 K W-1] */
    double paper_emissivity;   /**< [-] */
    double foil_emissivity;    /**< of its outside [-] */
    double foil_resistance;    /**< thermal, of the gap under closed foil [m2 K W-1] */
    double lid_resistance;     /**< thermal, of the gap under a covered pan's lid [m2 K W-1] */
    double foil_leak;          /**< share of an open surface's vapour that escapes from closed foil [-] */
    double tray_resistance;    /**< thermal, of the juice between meat and tray [m2 K W-1] */
    double tray_convection;    /**< share of the pit's convection that reaches the tray's outside [-] */
    double tray_rim;           /**< height to which the tray covers the ends of a section [m] */
    double tray_ring;          /**< free surface of the pool beside the meat over the meat's underside [-] */
    double paper_capacity;     /**< juice the paper holds before it drips [kg m-2] */
    double paper_wet_share;    /**< of the surface, wetted by paper full of juice [-] */
    double paper_greasy;       /**< share of its permeance that paper soaked with fat keeps [-] */
    double liquid;             /**< poured into tray or foil when it goes on [kg] */
    double bark_set;           /**< water activity of the top at which the bark counts as set, for the ending "bark" [-] */
    double off_pit;            /**< how long the meat is off the pit, in outside air, each time a wrap goes on or comes off [s] */
    sw_pour pour;              /**< what is done with the pool */
    sw_ending pour_when;       /**< when; not bark */
} sw_wrap;

/** A second wrap, or none to take the first off again. */
typedef struct sw_rewrap {
    sw_wrap_kind kind;
    sw_ending when;            /**< SW_ENDING_NONE: the first wrap stays */
} sw_rewrap;

/** Liquid sprayed or mopped on the open surfaces on the pit, until a wrap goes on. */
typedef struct sw_spritz {
    double amount;             /**< each time; 0 for none [kg] */
    double every;              /**< [s] */
    double from;               /**< the first time, after the meat went on [s] */
    double temperature;        /**< of the liquid [K] */
    double cling;              /**< what clings at most; the rest drips off [kg m-2] */
} sw_spritz;

/** What a place does with the heat of the meat. */
typedef enum sw_place_kind {
    SW_PLACE_AIR,         /**< a room, oven or cabinet: air and walls at the place's temperature and humidity */
    SW_PLACE_BOX,         /**< an insulated box, preheated to that temperature, that cools in a room */
    SW_PLACE_COOLING_PIT, /**< the pit, its fire out, that cools from where it was; its own temperature counts only if the
                               meat comes from another place than the pit */
    SW_PLACE_KIND_COUNT
} sw_place_kind;

/** A place the meat rests, is held or is cooled in. */
typedef struct sw_place {
    sw_place_kind kind;
    double temperature;    /**< of air and walls, to begin with in a box [K] */
    double room_temperature; /**< around a box or a pit that cools [K] */
    double heat_capacity;  /**< of box or pit [J K-1] */
    double loss;           /**< heat lost to the room [W K-1] */
    double humidity_ratio; /**< [kg per kg dry air] */
    double convection;     /**< [W m-2 K-1] */
    bool keep_wrap;        /**< whether the wrap stays on */
    sw_ending until;       /**< SW_ENDING_NONE leaves the phase out */
} sw_place;

/** What counts as a stall: the probe, between two temperatures, heats slower than a rate, on the mean over a window, for at
 * least a time. */
typedef struct sw_stall_definition {
    double above;    /**< [K] */
    double rate;     /**< [K s-1] */
    double window;   /**< the mean rate is that over so long a time, half of it before and half after [s] */
    double duration; /**< [s] */
    double below;    /**< where the last approach to the pit's temperature begins [K] */
} sw_stall_definition;

/** Who is to be fed. */
typedef struct sw_serving {
    double size;     /**< sliced meat a person [kg] */
    int people;      /**< to be fed; 0: not asked */
    double temperature; /**< at the probe, at which the meat may be sliced [K] */
    double trimming; /**< share of the cut as bought that is trimmed off before it goes on; SW_USUAL: of the cut [-] */
    double time;     /**< when the people sit down, for plans; of a day or more the plan leaves the day aside, since it finds the
                          start [s after midnight] */
    double hold_at_least, hold_at_most; /**< of a plan, between rest and slicing [s] */
} sw_serving;

/** How finely and for how long to compute. */
typedef struct sw_solver_settings {
    int cells;                 /**< in one dimension: across the thickness */
    int rows;                  /**< of a section: across its thickness */
    int columns;               /**< of a section: along it */
    double surface_cell;       /**< thickness of the outermost cell [m] */
    double relative_tolerance; /**< of the time integration [-] */
    double output_interval;    /**< between rows of the history [s] */
    double field_interval;     /**< between stored cross-sections [s] */
    double longest_phase;      /**< a phase that lasts longer is reported as never ending [s] */
    bool evaporation;          /**< false seals every surface, for comparison */
} sw_solver_settings;

typedef struct sw_scenario {
    char title[SW_TEXT_MAX];
    double start_clock; /**< time of day the meat goes on [s after midnight] */
    sw_meat meat;
    sw_pit pit;
    sw_wrap wrap;
    sw_rewrap rewrap;
    sw_spritz spritz;
    sw_ending pull; /**< when the meat comes off the pit */
    sw_place rest;
    sw_place hold;
    sw_place cooling; /**< of what is not eaten at once, after the hold */
    sw_stall_definition stall;
    sw_serving serving;
    sw_solver_settings solver;
} sw_scenario;

/** Fills a scenario with the defaults: a whole trimmed brisket for a village hall supper, not wrapped. */
SW_API void sw_scenario_init(sw_scenario *scenario);

/** Puts values in the place of what a scenario leaves open and what needs no model to tell: what is usual for the cut and the
 * kind of pit, the mass from bought_mass, which is then 0, the thickness of a slab from its mass, a usual pull as a probe
 * temperature. A cook does so itself. */
SW_API void sw_scenario_settle(sw_scenario *scenario);

/** Checks that a scenario makes sense as a whole (each number on its own is checked too).
 * @return SW_OK, SW_ERR_RANGE or SW_ERR_ARGUMENT with a sentence in the context that names the field as it is called in
 * a scenario file, its value and the allowed range */
SW_API sw_status sw_scenario_check(sw_context *context, const sw_scenario *scenario);

/** When a time of day falls.
 * @param start_clock time of day the meat goes on [s after midnight]
 * @return [s after the meat went on], always above 0; INFINITY for an ending that is no time of day */
SW_API double sw_ending_clock_time(double start_clock, sw_ending ending);

/** Names used in scenario files and output: "none", "paper", "open-tray", "closed-foil", "covered-pan". */
SW_API const char *sw_wrap_name(sw_wrap_kind kind);

/** The opposite of sw_wrap_name.
 * @return SW_OK or SW_ERR_ARGUMENT; kind is unchanged on error */
SW_API sw_status sw_wrap_from_name(const char *name, sw_wrap_kind *kind);

/** Outline of a section whose thickness and width are known (as in the scenario of a history), counter-clockwise, along and
 * up from its left end and lowest point; a short cylinder's is that of its right half.
 * @param corners room for SW_OUTLINE_MAX points [m]
 * @return number of corners; 0 for a shape that is no section */
SW_API size_t sw_section_outline(const sw_meat *meat, double (*corners)[2]);

/** What the cut is called: its own name, else that of its kind of cut. */
SW_API const char *sw_meat_name(const sw_meat *meat);

SW_API const char *sw_cut_name(sw_cut cut);
SW_API const char *sw_shape_name(sw_shape shape);
SW_API const char *sw_side_name(sw_side side);
SW_API const char *sw_pour_name(sw_pour pour);
SW_API const char *sw_place_kind_name(sw_place_kind kind);
SW_API const char *sw_pit_kind_name(sw_pit_kind kind);
SW_API const char *sw_fuel_name(sw_fuel fuel);
SW_API const char *sw_pit_humidity_name(sw_pit_humidity humidity);

SW_END_DECLARATIONS

#endif
