#include "surroundings.h"

#include "pit_convection.h"
#include "pit_schedule.h"
#include "saturation.h"

#include <math.h>

/* Heat capacity of tray or foil with what clings to it [J K-1]: 100 g of aluminium; keeps an empty pool's temperature
 * defined. From memory. */
static const double tray_capacity = 90.0;

/* Below this the pool no longer covers its floor, and evaporates less [kg]: a choice, 5..50 g. */
static const double covering_pool = 0.02;

/* Layer of fat that stops the pool's evaporation [kg m-2]: a millimetre, a guess, 0.3 to 3. */
static const double covering_fat = 0.9;

/* Film that wets half of the surface [kg m-2]: a guess, 0.02..0.05. */
static const double wetting_film = 0.03;

/* Fat that has soaked paper through [kg m-2]: a guess, 0.05..0.2, some times the paper's own 0.06. */
static const double soaking_fat = 0.1;

/* Volume of air in an insulated box beside the meat [m3], and its inner wall [m2]: a guess, 0.02..0.1 and 0.5..1.5. The air
 * is damp within minutes whatever its volume. */
static const double box_volume = 0.05, box_wall = 1.0;

static const double fat_capacity = 2100.0; /* liquid, near 80 C, from memory [J kg-1 K-1] */

static bool catches_juice(sw_wrap_kind kind)
{
    return kind == SW_WRAP_OPEN_TRAY || kind == SW_WRAP_CLOSED_FOIL;
}

static bool is_lumped_place(const sw_place *place)
{
    return place->until.kind != SW_ENDING_NONE && place->kind != SW_PLACE_AIR;
}

/* Whether a cook has any lumped unknown at any time. */
static bool needs_unknowns(const sw_scenario *s)
{
    const bool rewraps = s->wrap.kind != SW_WRAP_NONE && s->rewrap.when.kind != SW_ENDING_NONE;
    return s->wrap.kind != SW_WRAP_NONE || (rewraps && s->rewrap.kind != SW_WRAP_NONE) || s->spritz.amount > 0.0 ||
           s->pit.humidity == SW_HUMIDITY_BALANCE || is_lumped_place(&s->rest) || is_lumped_place(&s->hold) ||
           is_lumped_place(&s->cooling);
}

/* A column of the water table. */
static double of_water(const sw_around *a, double temperature, size_t column)
{
    const sw_table_place place = sw_table_find(&a->body->water.table, temperature, 0);
    return sw_table_value(&place, SW_WATER_TABLE_WIDTH, column);
}

/* Share of its full vapour pressure that a pool of this much water keeps up. */
static double pool_wetness(double water)
{
    return water > 0.0 ? water / (water + covering_pool) : 0.0;
}

double sw_around_air_temperature(const sw_around *a, double time, const double *lumped)
{
    if (a->has_air)
        return lumped[SW_AROUND_AIR_TEMPERATURE];
    return a->place ? a->place->temperature : sw_pit_at(&a->scenario->pit, time, a->jump).air_temperature;
}

double sw_around_humidity(const sw_around *a, double time, const double *lumped)
{
    if (a->place)
        return a->has_humidity ? lumped[SW_AROUND_AIR_HUMIDITY] : a->place->humidity_ratio;
    const sw_pit *pit = &a->scenario->pit;
    const double humidity = a->has_humidity ? lumped[SW_AROUND_AIR_HUMIDITY] : pit->humidity_ratio;
    /* An open lid mixes outside air in. */
    return humidity + sw_pit_at(pit, time, a->jump).outside_share * (a->pit_air.outside_humidity - humidity);
}

sw_status sw_around_check(sw_context *context, const sw_around *a, double time, const double *lumped)
{
    if (a->place || !a->has_humidity)
        return SW_OK;
    return sw_pit_air_check(context, "the pit's air, by pit.humidity: balance,", sw_around_air_temperature(a, time, lumped),
                            sw_around_humidity(a, time, lumped), a->body->pressure);
}

static sw_surroundings surroundings_at(const sw_around *a, double time, const double *lumped)
{
    const sw_scenario *s = a->scenario;
    sw_surroundings around = {.pressure = a->body->pressure};
    around.air_temperature = around.wall_temperature = sw_around_air_temperature(a, time, lumped);
    around.vapour_pressure = sw_vapour_pressure_unchecked(sw_around_humidity(a, time, lumped), around.pressure);
    if (a->place) {
        around.convection = a->place->convection;
        return around;
    }
    around.wall_temperature = sw_pit_at(&s->pit, time, a->jump).wall_temperature;
    around.convection = s->pit.convection > 0.0 ? s->pit.convection : a->side_convection[SW_SIDE_TOP];
    around.convection_of_side = s->pit.convection > 0.0 ? NULL : a->side_convection;
    return around;
}

static double fat_at(const sw_around *a, double time)
{
    return fmax(0.0, a->fat + a->fat_rate * (time - a->fat_time));
}

static sw_wrap_contents contents_at(const sw_around *a, double time, const double *lumped)
{
    const sw_wrap *wrap = &a->scenario->wrap;
    sw_wrap_contents c = sw_empty_wrap(wrap);
    if (a->has_pool) {
        c.has_pool = true;
        c.pool_temperature = lumped[SW_AROUND_POOL_TEMPERATURE];
        double pressure = pool_wetness(lumped[SW_AROUND_POOL_WATER]) *
                          of_water(a, c.pool_temperature, SW_WATER_SATURATION_PRESSURE);
        c.inside_vapour_pressure = fmin(pressure, 0.99 * a->body->pressure);
    }
    if (a->has_film && a->open_area > 0.0) {
        double film = fmax(lumped[SW_AROUND_FILM], 0.0) / a->open_area;
        c.film_share = film / (film + wetting_film);
        c.film_warming = a->film_warming;
    }
    if (a->wrap == SW_WRAP_PAPER && a->open_area > 0.0) {
        double left = exp(-fat_at(a, time) / (a->open_area * soaking_fat));
        c.paper_permeance *= wrap->paper_greasy + (1.0 - wrap->paper_greasy) * left;
    }
    return c;
}

static void surround(double time, const double *lumped, sw_transport *transport, void *data)
{
    (void)transport;
    sw_around *a = data;
    const sw_surroundings around = surroundings_at(a, time, lumped);
    const sw_wrap_contents contents = contents_at(a, time, lumped);
    sw_body_surround(a->body, a->scenario, &around, a->wrap, &contents);
}

/* What the pool gives to the air of the place: round the meat in a tray, through leaks of foil, as steam [kg s-1]. */
static double pool_vapour(const sw_around *a, const sw_surroundings *around, double time, const double *lumped)
{
    if (!a->scenario->solver.evaporation)
        return 0.0;
    sw_surface top = sw_pool_top(around);
    double slope, wet = pool_wetness(lumped[SW_AROUND_POOL_WATER]);
    double pressure = of_water(a, lumped[SW_AROUND_POOL_TEMPERATURE], SW_WATER_SATURATION_PRESSURE);
    if (a->wrap == SW_WRAP_OPEN_TRAY) {
        double ring = a->bottom_area * a->scenario->wrap.tray_ring;
        top.vapour_coefficient *= ring > 0.0 ? exp(-fat_at(a, time) / (ring * covering_fat)) : 0.0;
        return ring * wet * sw_surface_evaporation(&top, pressure, &slope);
    }
    /* Foil leaks over all its surface and opens to steam. */
    top.vapour_coefficient *= a->scenario->wrap.foil_leak;
    return (a->bottom_area + a->open_area) * sw_surface_evaporation(&top, wet * pressure, &slope);
}

static double pool_heat(const sw_around *a, const sw_surroundings *around, double temperature)
{
    const sw_surface outside = sw_pool_outside(around, &a->scenario->wrap);
    return a->bottom_area * (outside.convection * (outside.air_temperature - temperature) +
                             outside.emissivity * SW_STEFAN_BOLTZMANN *
                                 (pow(outside.wall_temperature, 4.0) - pow(temperature, 4.0)));
}

/* The pool: all juice that drips, and in foil what condenses, less what evaporates. Returns its vapour; heat: through tray or
 * foil. */
static double rate_pool(const sw_around *a, const sw_surroundings *around, double time, const double *lumped,
                        const double *exchange, double *rate, double *outside_heat)
{
    const double temperature = lumped[SW_AROUND_POOL_TEMPERATURE], water = fmax(lumped[SW_AROUND_POOL_WATER], 0.0);
    const double vapour = pool_vapour(a, around, time, lumped);
    const double gained = exchange[SW_EXCHANGE_DRIP] + exchange[SW_EXCHANGE_INSIDE_VAPOUR];
    const sw_table_place place = sw_table_find(&a->body->water.table, temperature, 1);
    const double enthalpy = exchange[SW_EXCHANGE_DRIP_HEAT] + exchange[SW_EXCHANGE_INSIDE_HEAT] -
                            gained * sw_table_value(&place, SW_WATER_TABLE_WIDTH, SW_WATER_LIQUID_ENTHALPY);
    *outside_heat = pool_heat(a, around, temperature);
    const double heat = *outside_heat - exchange[SW_EXCHANGE_POOL_HEAT] + enthalpy -
                        vapour * sw_table_value(&place, SW_WATER_TABLE_WIDTH, SW_WATER_LATENT_HEAT);
    /* The slope of the enthalpies that come and go, so that no heat is lost. */
    const double capacity = sw_table_slope(&place, SW_WATER_TABLE_WIDTH, SW_WATER_LIQUID_ENTHALPY);
    rate[SW_AROUND_POOL_WATER] = gained - vapour;
    rate[SW_AROUND_POOL_TEMPERATURE] = heat / (tray_capacity + water * capacity + fat_at(a, time) * fat_capacity);
    return vapour;
}

/* The film: what drips into paper as long as it holds it, less what evaporates. Returns what runs off. */
static double rate_film(const sw_around *a, const double *lumped, const double *exchange, double *rate)
{
    double caught = 0.0;
    if (a->wrap == SW_WRAP_PAPER) {
        double room = a->scenario->wrap.paper_capacity * a->open_area;
        double full = room > 0.0 ? fmax(0.0, fmin(lumped[SW_AROUND_FILM] / room, 1.0)) : 1.0;
        caught = exchange[SW_EXCHANGE_DRIP] * (1.0 - full * full);
    }
    rate[SW_AROUND_FILM] = caught - exchange[SW_EXCHANGE_FILM_VAPOUR];
    return exchange[SW_EXCHANGE_DRIP] - caught;
}

static int rate_pit_air(const sw_around *a, const sw_surroundings *around, double time, const double *lumped,
                        double vapour, double *rate, double *flows)
{
    const sw_pit_moment now = sw_pit_at(&a->scenario->pit, time, a->jump);
    double sources = vapour * a->pit_air.pieces;
    if (a->has_pan) {
        const sw_pan_state pan = {lumped[SW_AROUND_PAN_WATER], lumped[SW_AROUND_PAN_TEMPERATURE]};
        sw_pan_rates of_pan;
        if (sw_pan_rates_of(&a->pit_air, &a->body->water, &pan, around->air_temperature, around->wall_temperature,
                            sw_around_humidity(a, time, lumped), around->convection, &of_pan) != 0)
            return 1;
        rate[SW_AROUND_PAN_WATER] = -of_pan.evaporation;
        rate[SW_AROUND_PAN_TEMPERATURE] = of_pan.temperature_rate;
        sources += of_pan.evaporation;
        if (flows)
            flows[SW_AROUND_PAN_VAPOUR] = of_pan.evaporation;
    }
    rate[SW_AROUND_AIR_HUMIDITY] =
        sw_pit_humidity_rate(&a->pit_air, now.air_temperature, lumped[SW_AROUND_AIR_HUMIDITY], sources);
    if (flows)
        flows[SW_AROUND_FUEL] = sw_pit_fuel_rate(&a->pit_air, now.air_temperature);
    return 0;
}

/* A box, or a pit that cools: heat to the room, and what condenses on its walls. */
static void rate_box(const sw_around *a, const sw_surroundings *around, const double *lumped, const double *exchange,
                     double vapour, double pool_heat, double *rate, double *flows)
{
    const double temperature = lumped[SW_AROUND_AIR_TEMPERATURE];
    double condensed = 0.0;
    if (a->has_humidity) {
        const double humidity = lumped[SW_AROUND_AIR_HUMIDITY];
        sw_pit_air box = a->pit_air;
        box.volume = box_volume;
        sw_surface wall = sw_pool_top(around);
        double slope;
        const double saturation = of_water(a, temperature, SW_WATER_SATURATION_PRESSURE);
        condensed = fmax(0.0, -box_wall * sw_surface_evaporation(&wall, saturation, &slope));
        rate[SW_AROUND_AIR_HUMIDITY] = (vapour - condensed) / sw_pit_dry_air(&box, temperature, humidity);
    }
    const double heat = a->place->loss * (a->place->room_temperature - temperature) -
                        exchange[SW_EXCHANGE_AIR_HEAT] - pool_heat +
                        condensed * of_water(a, temperature, SW_WATER_LATENT_HEAT);
    rate[SW_AROUND_AIR_TEMPERATURE] = heat / a->place->heat_capacity;
    if (flows)
        flows[SW_AROUND_CONDENSED] = condensed;
}

static int rate_of(double time, const double *lumped, const double exchange[SW_EXCHANGE_COUNT], double *rate,
                   double flows[SW_LUMPED_FLOWS], void *data)
{
    const sw_around *a = data;
    const sw_surroundings around = surroundings_at(a, time, lumped);
    double vapour = exchange[SW_EXCHANGE_AIR_VAPOUR], away = exchange[SW_EXCHANGE_DRIP], from_pool = 0.0, into_pool = 0.0;
    for (int i = 0; i < SW_AROUND_COUNT; i++)
        rate[i] = 0.0;
    for (int i = 0; flows && i < SW_LUMPED_FLOWS; i++)
        flows[i] = 0.0;
    if (a->has_film)
        away = rate_film(a, lumped, exchange, rate);
    if (a->has_pool) {
        from_pool = rate_pool(a, &around, time, lumped, exchange, rate, &into_pool);
        vapour += from_pool;
        away = 0.0;
    }
    if (a->has_air)
        rate_box(a, &around, lumped, exchange, vapour, into_pool, rate, flows);
    else if (a->has_humidity && rate_pit_air(a, &around, time, lumped, vapour, rate, flows) != 0)
        return 1;
    if (flows) {
        flows[SW_AROUND_POOL_VAPOUR] = from_pool;
        flows[SW_AROUND_INSIDE] = exchange[SW_EXCHANGE_INSIDE_VAPOUR];
        flows[SW_AROUND_AWAY] = away;
    }
    return 0;
}

static double longest_step(double time, void *data)
{
    const sw_around *a = data;
    return a->place ? INFINITY : sw_pit_longest_step(&a->scenario->pit, time);
}

sw_status sw_around_init(sw_context *context, sw_around *a, const sw_scenario *scenario, sw_body *body)
{
    *a = (sw_around){.scenario = scenario, .body = body, .jump = INFINITY};
    sw_status status = sw_pit_air_init(context, &scenario->pit, body->pressure, &a->pit_air);
    if (status != SW_OK)
        return status;
    sw_lumped_model model = {.rate = rate_of, .longest_step = longest_step, .data = a};
    if (needs_unknowns(scenario))
        model.count = SW_AROUND_COUNT;
    static const double scale[SW_AROUND_COUNT] = {10.0, 0.05, 0.05, 10.0, 0.2, 10.0, 0.5};
    for (int i = 0; i < SW_AROUND_COUNT; i++)
        model.scale[i] = scale[i];
    if (sw_transport_set_lumped(body->transport, &model) != SW_OK)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the surroundings could not be allocated");
    return SW_OK;
}

void sw_around_start(const sw_around *a, double *lumped)
{
    const sw_scenario *s = a->scenario;
    if (a->body->transport->lumped.count == 0)
        return;
    lumped[SW_AROUND_AIR_TEMPERATURE] = s->pit.steps[0].temperature;
    lumped[SW_AROUND_AIR_HUMIDITY] = sw_pit_humidity_steady(&a->pit_air, s->pit.steps[0].temperature, 0.0);
    lumped[SW_AROUND_FILM] = 0.0;
    lumped[SW_AROUND_POOL_TEMPERATURE] = s->meat.initial_temperature;
    lumped[SW_AROUND_POOL_WATER] = 0.0;
    lumped[SW_AROUND_PAN_TEMPERATURE] = s->pit.outside_temperature;
    lumped[SW_AROUND_PAN_WATER] = a->pit_air.pan_water;
}

static void measure_areas(sw_around *a)
{
    const sw_mesh *mesh = a->body->mesh;
    a->open_area = a->bottom_area = 0.0;
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        const sw_boundary_face *face = &mesh->boundary_faces[i];
        const bool below = sw_side_under_wrap(face, &a->scenario->wrap, a->wrap) == SW_SIDE_BOTTOM;
        *(catches_juice(a->wrap) && below ? &a->bottom_area : &a->open_area) += face->area;
    }
}

double sw_around_surface_temperature(const sw_around *a)
{
    const sw_mesh *mesh = a->body->mesh;
    double sum = 0.0, area = 0.0;
    for (size_t i = 0; i < mesh->boundary_face_count; i++) {
        sum += mesh->boundary_faces[i].area * a->body->transport->balances[i].temperature;
        area += mesh->boundary_faces[i].area;
    }
    return sum > 0.0 ? sum / area : a->scenario->meat.initial_temperature;
}

double sw_around_held(const sw_around *a, const double *lumped)
{
    if (a->body->transport->lumped.count == 0)
        return 0.0;
    const double held = (a->has_pool ? lumped[SW_AROUND_POOL_WATER] : 0.0) + (a->has_film ? lumped[SW_AROUND_FILM] : 0.0);
    return fmax(held, 0.0); /* a pool that has dried up is off by the integrator's tolerance */
}

double sw_around_enter(sw_around *a, const sw_place *place, sw_wrap_kind wrap, double time, double rendered,
                       double *lumped)
{
    const sw_scenario *s = a->scenario;
    const bool unknowns = a->body->transport->lumped.count > 0;
    const bool was_in_pit = !a->place || a->place->kind == SW_PLACE_COOLING_PIT;
    const double held = sw_around_held(a, lumped), air = unknowns ? sw_around_air_temperature(a, time, lumped) : 0.0;
    const bool rewrapped = wrap != a->wrap;
    a->place = place;
    a->jump = INFINITY;
    a->wrap = wrap;
    measure_areas(a);
    if (!unknowns)
        return 0.0;
    a->has_air = place && place->kind != SW_PLACE_AIR;
    a->has_humidity = place ? place->kind == SW_PLACE_BOX : s->pit.humidity == SW_HUMIDITY_BALANCE;
    a->has_pan = !place && a->has_humidity && a->pit_air.pan_water > 0.0;
    if (a->has_air) {
        if (place->kind == SW_PLACE_BOX || !was_in_pit)
            lumped[SW_AROUND_AIR_TEMPERATURE] = place->temperature;
        else
            lumped[SW_AROUND_AIR_TEMPERATURE] = air;
        if (a->has_humidity)
            lumped[SW_AROUND_AIR_HUMIDITY] = place->humidity_ratio;
    }
    const bool film_stays = a->has_film && !rewrapped;
    a->has_pool = catches_juice(wrap);
    a->has_film = film_stays || wrap == SW_WRAP_PAPER || (wrap == SW_WRAP_NONE && !place && s->spritz.amount > 0.0);
    if (!rewrapped)
        return 0.0;
    a->film_warming = 0.0; /* the next film is juice, as warm as the meat */
    a->fat_before = rendered;
    a->fat = a->fat_rate = 0.0;
    a->fat_time = time;
    lumped[SW_AROUND_FILM] = 0.0;
    lumped[SW_AROUND_POOL_WATER] = 0.0;
    double poured = 0.0;
    if (a->has_pool) {
        poured = lumped[SW_AROUND_POOL_WATER] = s->wrap.liquid;
        lumped[SW_AROUND_POOL_TEMPERATURE] = sw_around_surface_temperature(a);
        if (poured > 0.0) /* poured in at room temperature */
            lumped[SW_AROUND_POOL_TEMPERATURE] = s->pit.outside_temperature;
    }
    return held - poured;
}

static bool pit_stands_still(const sw_pit *pit)
{
    return pit->step_count == 1 && pit->cycle_swing == 0.0 && pit->opening_count == 0;
}

double sw_around_surround(sw_around *a, double time, const double *lumped)
{
    const sw_scenario *s = a->scenario;
    sw_transport *transport = a->body->transport;
    if (!a->place) {
        a->jump = sw_pit_next_jump(&s->pit, time);
        if (s->pit.convection == 0.0)
            sw_pit_convection(s, sw_material_raw_density(a->body->materials[SW_REGION_LEAN]),
                              sw_pit_at(&s->pit, time, a->jump).air_temperature, a->body->pressure, a->side_convection);
    }
    const bool moves = transport->lumped.count > 0 || (!a->place && !pit_stands_still(&s->pit));
    transport->lumped.surround = moves ? surround : NULL;
    surround(time, lumped, transport, a);
    return a->jump;
}

void sw_around_follow(sw_around *a, double time, double rendered)
{
    const double fat = rendered - a->fat_before;
    if (time > a->fat_time)
        a->fat_rate = (fat - a->fat) / (time - a->fat_time);
    a->fat = fat;
    a->fat_time = time;
}

double sw_around_spritz(sw_around *a, double *lumped)
{
    const sw_spritz *spritz = &a->scenario->spritz;
    double room = spritz->cling * a->open_area - lumped[SW_AROUND_FILM];
    double clings = fmax(0.0, fmin(spritz->amount, room));
    lumped[SW_AROUND_FILM] += clings;
    a->film_warming = fmax(0.0, of_water(a, sw_around_surface_temperature(a), SW_WATER_LIQUID_ENTHALPY) -
                                    of_water(a, spritz->temperature, SW_WATER_LIQUID_ENTHALPY));
    return spritz->amount - clings;
}
