/* SPDX-License-Identifier: BSD-3-Clause */
/* Cooks that are drawn from the population, read by probes that err, and tracked: does the band hold what it says? Prints a table.
 * twins [COUNT [FIRST]]: so many cooks from a number on. */
#include "error_model.h"

#include <stallwright/everything.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What one in ten readings, and one in ten probes, is off by. */
static const double noise = 2.0, bad = 8.0, bad_share = 0.1; /* [K], [K], [-] */
static const double every = 900.0;                           /* between readings [s] */
static const double longest = 36.0 * 3600.0;                 /* that a cook is followed [s] */
static const double fractions[] = {0.25, 0.5, 0.75};
enum { FRACTIONS = 3, MOMENTS = 400, DRAWS = 100, SEED = 2027 };

/* A cook as it went, by its probe. */
typedef struct twin {
    size_t count;
    double time[MOMENTS], probe[MOMENTS]; /* without noise */
    sw_reading readings[MOMENTS];
    double done, off; /* [s], of its probe [K] */
} twin;

typedef struct score {
    size_t count, inside, below;
    double errors[1000], widths[1000];
} score;

/* A stream of normal numbers for a twin. */
static double normal_of(size_t number, uint64_t which)
{
    return sw_random_normal(SEED, 100000 + number, which);
}

static double uniform_of(size_t number, uint64_t which)
{
    return 0.5 * erfc(-normal_of(number, which) / sqrt(2.0));
}

static double series_at(const sw_history *h, double at)
{
    size_t i = 1;
    while (i + 1 < h->row_count && h->series[SW_SERIES_time][i] < at)
        i++;
    const double *t = h->series[SW_SERIES_time], *y = h->series[SW_SERIES_probe_temperature];
    return y[i - 1] + (at - t[i - 1]) / (t[i] - t[i - 1]) * (y[i] - y[i - 1]);
}

/* Whether it gets to its pull, bias and drift of its probe included. */
static bool make_twin(sw_context *context, const sw_population *population, size_t number, twin *t)
{
    double z[SW_POPULATION_INPUTS_MAX], numbers[MOMENTS + 1], path[MOMENTS];
    const double pull = population->stated.pull.value;
    sw_run run = {.label = "twin"};
    for (size_t k = 0; k < population->count; k++)
        z[k] = normal_of(number, 10 + k);
    sw_population_scenario(population, z, &run.scenario);
    sw_population_coarsen(&run.scenario);
    run.scenario.solver.relative_tolerance = 1e-4; /* each must balance */
    run.scenario.pull = (sw_ending){SW_ENDING_DURATION, longest};
    if (sw_run_cook(context, &run, NULL) != SW_OK)
        return false;
    const double end = run.history->series[SW_SERIES_time][run.history->row_count - 1];
    t->count = 0;
    for (double at = every; at < end && t->count < MOMENTS; at += every, t->count++) {
        t->time[t->count] = at;
        t->probe[t->count] = series_at(run.history, at);
    }
    for (size_t i = 0; i <= t->count; i++)
        numbers[i] = normal_of(number, 1000 + i);
    sw_offset_path(t->count, t->time, t->probe, numbers, path);
    t->off = uniform_of(number, 1) < bad_share ? bad * normal_of(number, 2) : 0.0;
    t->done = SW_ABSENT;
    for (size_t i = 0; i < t->count; i++) {
        const double before = i > 0 ? t->probe[i - 1] : 0.0;
        t->probe[i] += path[i] + t->off;
        if (SW_IS_ABSENT(t->done) && i > 0 && t->probe[i] >= pull)
            t->done = t->time[i] - every * (t->probe[i] - pull) / fmax(t->probe[i] - before, 0.1);
        const double wild = uniform_of(number, 3000 + i) < bad_share ? bad : noise;
        t->readings[i] = (sw_reading){.time = t->time[i], .temperature = t->probe[i] + wild * normal_of(number, 5000 + i)};
    }
    sw_run_free(&run);
    return !SW_IS_ABSENT(t->done);
}

static sw_status score_twin(sw_context *context, const sw_scenario *s, const twin *t, double fraction, score *sc)
{
    sw_track_question q = {.scenario = *s, .now = fraction * t->done, .serve = SW_ABSENT, .draws = DRAWS, .threads = 2, .seed = 1};
    sw_track *track;
    q.readings.list = t->readings;
    while (q.readings.count < t->count && t->time[q.readings.count] <= q.now)
        q.readings.count++;
    const sw_status status = sw_track_find(context, &q, &track);
    if (status != SW_OK)
        return status;
    const sw_track_band *done = &track->choices[0].done;
    sc->inside += t->done >= done->low && t->done <= done->high ? 1 : 0;
    sc->below += t->done < done->middle ? 1 : 0;
    sc->errors[sc->count] = fabs(done->middle - t->done) / 60.0;
    sc->widths[sc->count++] = (done->high - done->low) / 60.0;
    if (getenv("TWINS_EACH"))
        fprintf(stderr, "bad %.1f seen %.2f true %.2f h: %.2f %.2f %.2f eff %.0f modes %zu failed %zu never %.2f off %.1f\n", t->off, fraction, t->done / 3600.0,
                done->low / 3600.0, done->middle / 3600.0, done->high / 3600.0, track->effective, track->modes, track->failed,
                track->choices[0].never, track->offset.middle);
    sw_track_destroy(track);
    return SW_OK;
}

/* Whether any row is worse than chance lets it be: of 20 cooks fewer than 10 within a band of 80 % happen once in 1800 times. */
static bool print_scores(score *scores)
{
    bool is_good = true;
    printf("| seen | cooks | band of 80 %% holds | standard error | median error | median width of the band | earlier than the middle |\n"
           "|---|---|---|---|---|---|---|\n");
    for (size_t i = 0; i <= FRACTIONS; i++) {
        score *s = &scores[i];
        const double share = (double)s->inside / (double)s->count;
        printf("| %.0f %% | %zu | %.1f %% | %.1f %% | %.0f min | %.0f min | %.0f %% |\n", i == 0 ? 0.0 : 100.0 * fractions[i - 1], s->count,
               100.0 * share, 100.0 * sqrt(share * (1.0 - share) / (double)s->count), sw_quantile(s->errors, s->count, 0.5),
               sw_quantile(s->widths, s->count, 0.5), 100.0 * (double)s->below / (double)s->count);
        is_good = is_good && share >= 0.5;
    }
    return is_good;
}

int main(int argc, char **argv)
{
    const size_t count = argc > 1 ? strtoul(argv[1], NULL, 10) : 200, first = argc > 2 ? strtoul(argv[2], NULL, 10) : 0;
    static score scores[FRACTIONS + 1];
    static twin t;
    sw_context *context;
    sw_scenario s;
    sw_population population;
    if (count > 1000 || sw_context_create(&context) != SW_OK)
        return 1;
    sw_scenario_init(&s);
    s.rest.until.kind = s.hold.until.kind = s.cooling.until.kind = SW_ENDING_NONE;
    sw_status status = sw_population_given(context, &s, &population);
    size_t lost = 0;
    for (size_t i = first; i < first + count && status == SW_OK; i++) {
        if (!make_twin(context, &population, i, &t)) {
            lost++;
            continue;
        }
        for (size_t k = 0; k <= FRACTIONS && status == SW_OK; k++)
            status = score_twin(context, &s, &t, k == 0 ? 0.0 : fractions[k - 1], &scores[k]);
    }
    if (status != SW_OK) {
        fprintf(stderr, "twins: %s\n", sw_context_message(context));
        return 1;
    }
    const bool is_good = print_scores(scores);
    printf("\n%zu of %zu cooks never read the pull temperature and are left out.\n", lost, count);
    sw_context_destroy(context);
    return is_good ? 0 : 1;
}
