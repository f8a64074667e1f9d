/* SPDX-License-Identifier: BSD-3-Clause */
/* Measured cooks tracked: the readings before the half foretell those after it, and the sizes of the error model are learned on cooks
 * that are left out. tracked_cooks REPORT.md */
#include "dense.h"
#include "estimate.h"
#include "measured_cook.h"
#include "processors.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DRAWS = 200, FOLDS = 6, LEAST_READINGS = 4, NOISES = 400 };

static const double hour = 3600.0;
static const double below_boiling = 3.0; /* of the hottest pull that is tracked [K] */
static const double single_noise = 3.75; /* of a reading, Student's with 4 degrees of freedom: lib/src/tracking/knots.c [K] */

/* A cook in one line: readings about its likeliest curve, with the slopes there. */
typedef struct linear_cook {
    const measured_cook *cook;
    size_t unknowns;
    sw_knots knots;
    double left[SW_KNOTS_MAX];                  /* read less the curve of the population's middle cook, by the slopes [K] */
    double factors[SW_KNOTS_MAX];               /* of the noise */
    double slope[SW_POPULATION_INPUTS_MAX][SW_KNOTS_MAX];
} linear_cook;

typedef struct sums {
    size_t readings, within, ends, ends_within;
    double sum, squares, ends_off[COOKS_MAX];
} sums;

/* The hottest pull that a cook can be tracked to [K]. */
static double hottest_pull(const measured_cook *m)
{
    double pressure, boiling;
    if (sw_pressure_at_altitude(m->stated.pit.altitude, &pressure) != SW_OK || sw_saturation_temperature(pressure, &boiling) != SW_OK)
        die("%s: water does not boil there", m->id);
    return boiling - below_boiling;
}

static size_t list_readings(const measured_cook *m, double until, sw_reading *list)
{
    size_t count = 0;
    for (size_t i = 0; i < m->reading_count; i++)
        if (m->time[i] <= until)
            list[count++] = (sw_reading){.time = m->time[i], .temperature = m->temperature[i]};
    return count;
}

/* A wrap told by its temperature went on when that was read. */
static sw_scenario told(const measured_cook *m, const sw_readings *readings, double now, double pull)
{
    sw_scenario s = m->stated;
    const double due = sw_track_wrap_due(readings, now, &s);
    if (!SW_IS_ABSENT(due))
        s.wrap.when = (sw_ending){SW_ENDING_DURATION, due};
    s.pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, pull};
    return s;
}

/* ---- halfway ---- */

static sw_track *track_until(sw_context *context, const measured_cook *m, double now, double pull)
{
    sw_reading list[READINGS_MAX];
    sw_track *t;
    sw_track_question q = {.now = now, .serve = SW_ABSENT, .draws = DRAWS, .threads = count_processors(), .seed = 1};
    q.readings = (sw_readings){.count = list_readings(m, now, list), .list = list};
    q.scenario = told(m, &q.readings, now, pull);
    if (sw_track_find(context, &q, &t) != SW_OK)
        die("%s: %s", m->id, sw_context_message(context));
    return t;
}

/* The fan's temperature at a moment, at a share of its cooks: straight between its three lines, and on beyond them. */
static double fan_at(const sw_track *t, double time, double share)
{
    size_t i = 1;
    while (i + 1 < SW_TRACK_MOMENTS && t->moments[i] < time)
        i++;
    const double part = fmin(fmax((time - t->moments[i - 1]) / (t->moments[i] - t->moments[i - 1]), 0.0), 1.0);
    const sw_track_band *a = &t->fan[i - 1], *b = &t->fan[i];
    const double low = a->low + part * (b->low - a->low), middle = a->middle + part * (b->middle - a->middle),
                 high = a->high + part * (b->high - a->high);
    return share < 0.5 ? middle + (share - 0.5) / 0.4 * (middle - low) : middle + (share - 0.5) / 0.4 * (high - middle);
}

/* Student's noise of 4 degrees of freedom at a share: its quantile has a closed form (Shaw 2006). */
static double noise_at(double share)
{
    const double a = sqrt(4.0 * share * (1.0 - share)), q = 2.0 * sqrt(fmax(cos(acos(a) / 3.0) / a - 1.0, 0.0));
    return single_noise * (share < 0.5 ? -q : q);
}

static int by_value(const void *a, const void *b)
{
    const double one = *(const double *)a, other = *(const double *)b;
    return (one > other) - (one < other);
}

/* Whether a reading lies between the tenth and the ninetieth of cooks with their noise. */
static bool is_foretold(const sw_track *t, double time, double kelvin)
{
    double values[NOISES];
    for (int i = 0; i < NOISES; i++)
        values[i] = fan_at(t, time, fmod((i + 0.5) * 0.6180339887498949, 1.0)) + noise_at((i + 0.5) / NOISES);
    qsort(values, NOISES, sizeof *values, by_value);
    return kelvin >= values[NOISES / 10] && kelvin <= values[NOISES - NOISES / 10 - 1];
}

static double end_of(const measured_cook *m)
{
    double end = SW_IS_ABSENT(m->done) ? 0.0 : m->done;
    for (size_t i = 0; i < m->reading_count; i++)
        end = fmax(end, m->time[i]);
    return end;
}

static void track_halfway(sw_context *context, const measured_cook *m, FILE *report, sums *all)
{
    const double now = 0.5 * end_of(m), cap = hottest_pull(m);
    sw_reading list[READINGS_MAX];
    const size_t before = list_readings(m, now, list);
    if (before == 0 || m->reading_count < LEAST_READINGS || before == m->reading_count)
        return;
    sw_track *t = track_until(context, m, now, cap);
    sums own = {0};
    for (size_t i = 0; i < m->reading_count; i++) {
        if (m->time[i] <= now || m->temperature[i] > cap)
            continue;
        const double off = fan_at(t, m->time[i], 0.5) - m->temperature[i];
        own.readings++;
        own.sum += off;
        own.squares += off * off;
        own.within += is_foretold(t, m->time[i], m->temperature[i]) ? 1 : 0;
    }
    sw_track_destroy(t);
    fprintf(report, "| %s | %.1f | %zu | %zu of %zu | %+.1f K |", m->id, now / hour, before, own.within, own.readings,
            own.readings ? own.sum / (double)own.readings : 0.0);
    all->readings += own.readings;
    all->within += own.within;
    all->sum += own.sum;
    all->squares += own.squares;
    if (!SW_IS_ABSENT(m->done) && m->done > now && m->pull <= cap) {
        t = track_until(context, m, now, m->pull);
        const sw_track_band *done = &t->choices[0].done;
        all->ends_off[all->ends++] = done->middle / m->done - 1.0;
        all->ends_within += m->done >= done->low && m->done <= done->high ? 1 : 0;
        fprintf(report, " %.1f to %.1f h | %.1f h |\n", done->low / hour, done->high / hour, m->done / hour);
        sw_track_destroy(t);
    } else {
        fprintf(report, " | |\n");
    }
}

static void report_halfway(sw_context *context, const measured_cook *cooks, size_t count, FILE *report)
{
    sums all = {0};
    double sizes[COOKS_MAX];
    fprintf(report, "## Halfway\n\nCooks with %d readings or more, of which some are of the first half of the time; in-sample as to the population, "
            "which these cooks are a part of. A reading is within if it lies in the 80 %% band of the fan with the noise of one reading; readings within "
            "%.0f K of boiling are left out.\n\n"
            "| cook | h seen | readings seen | later ones within | their mean, foretold less read | end foretold | end |\n|---|---|---|---|---|---|---|\n",
            (int)LEAST_READINGS, below_boiling);
    for (size_t i = 0; i < count; i++)
        track_halfway(context, &cooks[i], report, &all);
    for (size_t i = 0; i < all.ends; i++)
        sizes[i] = fabs(all.ends_off[i]);
    const double n = (double)all.readings, share = (double)all.within / n;
    fprintf(report, "\nOf %zu later readings %.0f %% lie within (standard error, as if they were independent, %.0f %%); foretold less read: mean %+.1f K, rms %.1f K. "
            "Of %zu ends %zu lie within; they are off by %.0f %% on the median.\n\n", all.readings, 100.0 * share, 100.0 * sqrt(share * (1.0 - share) / n),
            all.sum / n, sqrt(all.squares / n), all.ends, all.ends_within, 100.0 * sw_quantile(sizes, all.ends, 0.5));
}

/* ---- sizes of the error model ---- */

static bool make_linear(sw_context *context, const measured_cook *m, linear_cook *c)
{
    static double root[SW_KNOTS_MAX * SW_KNOTS_MAX];
    static sw_estimate e;
    sw_population population;
    sw_reading list[READINGS_MAX];
    sw_track_question q = {.threads = count_processors()};
    q.readings = (sw_readings){.count = list_readings(m, INFINITY, list), .list = list};
    q.scenario = told(m, &q.readings, INFINITY, hottest_pull(m));
    *c = (linear_cook){.cook = m};
    if (q.readings.count == 0)
        return false;
    e = (sw_estimate){.question = &q, .population = &population, .knots = &c->knots, .root = root, .history_probe = {-1, -1}};
    if (sw_population_given(context, &q.scenario, &population) != SW_OK || sw_knots_make(context, &q.readings, &c->knots) != SW_OK ||
        sw_estimate_find(context, &e) != SW_OK)
        die("%s: %s", m->id, sw_context_message(context));
    const sw_mode *mode = &e.modes[0];
    c->unknowns = population.count;
    memcpy(c->slope, mode->slope, sizeof c->slope);
    memcpy(c->factors, e.noise_factors, sizeof c->factors);
    for (size_t i = 0; i < c->knots.count; i++) {
        c->left[i] = c->knots.list[i].temperature - mode->curve[i];
        for (size_t k = 0; k < c->unknowns; k++)
            c->left[i] += mode->slope[k][i] * mode->normal[k];
    }
    return true;
}

/* Logarithm of the density of a cook's readings, its unknowns integrated out. left: whitened, out. */
static double log_density(const linear_cook *c, const sw_error_sizes *errors, double *left)
{
    static double root[SW_KNOTS_MAX * SW_KNOTS_MAX];
    const size_t n = c->knots.count;
    double squares = 0.0;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j <= i; j++) {
            const sw_knot *a = &c->knots.list[i];
            root[i * n + j] = sw_offset_covariance(errors, a, &c->knots.list[j]) + (i == j ? a->noise * a->noise * c->factors[i] : 0.0);
            for (size_t k = 0; k < c->unknowns; k++)
                root[i * n + j] += c->slope[k][i] * c->slope[k][j];
        }
    if (!sw_cholesky(n, root))
        die("%s: a covariance is not positive definite", c->cook->id);
    memcpy(left, c->left, n * sizeof *left);
    sw_forward_solve(n, root, left);
    for (size_t i = 0; i < n; i++)
        squares += left[i] * left[i];
    return -0.5 * squares - sw_log_root(n, root);
}

static double log_density_of(const linear_cook *cooks, size_t count, size_t fold, bool is_left_out, const sw_error_sizes *errors)
{
    double left[SW_KNOTS_MAX], sum = 0.0;
    for (size_t i = 0; i < count; i++)
        if ((cooks[i].cook->fold == fold) == is_left_out)
            sum += log_density(&cooks[i], errors, left);
    return sum;
}

static sw_error_sizes best_of(const linear_cook *cooks, size_t count, size_t fold)
{
    static const double biases[] = {1.0, 2.0, 3.0, 4.0, 5.0}, drifts[] = {0.5, 1.5, 2.5, 3.5, 4.5}, lates[] = {1.5, 3.0, 4.5, 6.0, 8.0}, memories[] = {2.0, 4.0, 8.0, 16.0};
    sw_error_sizes best = sw_usual_errors;
    double most = -INFINITY;
    for (size_t i = 0; i < sizeof biases / sizeof *biases; i++)
        for (size_t j = 0; j < sizeof drifts / sizeof *drifts; j++)
            for (size_t k = 0; k < sizeof lates / sizeof *lates; k++)
                for (size_t l = 0; l < sizeof memories / sizeof *memories; l++) {
                    const sw_error_sizes tried = {biases[i], drifts[j], lates[k], memories[l] * hour};
                    const double density = log_density_of(cooks, count, fold, false, &tried);
                    best = density > most ? tried : best;
                    most = fmax(most, density);
                }
    return best;
}

static void print_sizes(FILE *report, const char *words, const sw_error_sizes *e, size_t readings, double found, double usual)
{
    fprintf(report, "| %s | %.1f | %.1f | %.1f | %.0f | %zu | %+.1f |\n", words, e->bias, e->drift, e->late_drift, e->memory / hour, readings, found - usual);
}

static void report_sizes(sw_context *context, const measured_cook *cooks, size_t count, FILE *report)
{
    static linear_cook linear[COOKS_MAX];
    size_t used = 0, all = 0;
    double gained = 0.0;
    for (size_t i = 0; i < count; i++)
        used += make_linear(context, &cooks[i], &linear[used]) ? 1 : 0;
    fprintf(report, "## Sizes of bias and drift\n\nEach row: the sizes under which the readings of the other folds' cooks are likeliest, their unknowns integrated "
            "out (straight about each cook's likeliest curve), and by how much they make the left-out cooks' readings likelier than the sizes in use.\n\n"
            "| left out | bias, K | drift, K | late drift, K | memory, h | readings left out | gain in log density |\n|---|---|---|---|---|---|---|\n");
    for (size_t fold = 0; fold < FOLDS; fold++) {
        const sw_error_sizes best = best_of(linear, used, fold);
        const double found = log_density_of(linear, used, fold, true, &best), usual = log_density_of(linear, used, fold, true, &sw_usual_errors);
        char words[16];
        size_t readings = 0;
        for (size_t i = 0; i < used; i++)
            readings += linear[i].cook->fold == fold ? linear[i].knots.count : 0;
        snprintf(words, sizeof words, "fold %zu", fold);
        print_sizes(report, words, &best, readings, found, usual);
        gained += found - usual;
        all += readings;
    }
    const sw_error_sizes best = best_of(linear, used, FOLDS);
    print_sizes(report, "none", &best, all, gained, 0.0);
    fprintf(report, "\nIn use: %.1f, %.1f, %.1f K, %.0f h. The gain of the last row is the sum over the folds.\n", sw_usual_errors.bias, sw_usual_errors.drift,
            sw_usual_errors.late_drift, sw_usual_errors.memory / hour);
}

int main(int argc, char **argv)
{
    static measured_cook cooks[COOKS_MAX];
    sw_context *context;
    FILE *report = argc == 2 ? fopen(argv[1], "w") : NULL;
    if (!report || sw_context_create(&context) != SW_OK) {
        fprintf(stderr, "usage: tracked_cooks REPORT.md\n");
        return 1;
    }
    const size_t count = measured_cooks_read(cooks);
    fprintf(report, "# Measured cooks, tracked\n\nWritten by `sh validation/tracked_cooks.sh`; the cooks are those of [measured_cooks](../measured_cooks/README.md).\n\n");
    report_halfway(context, cooks, count, report);
    report_sizes(context, cooks, count, report);
    sw_context_destroy(context);
    return fclose(report) == 0 ? 0 : 1;
}
