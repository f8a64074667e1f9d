/* SPDX-License-Identifier: BSD-3-Clause */
/* Measured cooks beside what the program foretells of them from what their cooks stated: measured_cooks REPORT.md PICTURES.
 * Nothing is fitted here. */
#include "measured_cook.h"
#include "processors.h"
#include "small_multiples.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DRAWS = 100, POINTS = 61, KIND_COUNT = SW_PIT_KIND_COUNT };

static const double hour = 3600.0, celsius = 273.15;

/* One cook of the draws; the last is the median. */
typedef struct drawn {
    double curve[POINTS];               /* at equal steps to the end [K] */
    double computed[READINGS_MAX], done;
} drawn;

typedef struct foretold {
    const measured_cook *cook;
    sw_population population;
    double end; /* of the picture [s] */
    drawn draws[DRAWS + 1];
} foretold;

static void scenario_of(size_t number, sw_scenario *s, void *data)
{
    const foretold *f = data;
    double normal[SW_POPULATION_INPUTS_MAX] = {0.0};
    if (number < DRAWS)
        sw_population_draw(&f->population, 1, number, normal);
    sw_population_scenario(&f->population, normal, s);
    if (number < DRAWS)
        sw_population_coarsen(s);
}

static sw_status take(sw_context *context, size_t number, const sw_run *run, void *data)
{
    foretold *f = data;
    drawn *d = &f->draws[number];
    if (run->status != SW_OK)
        return sw_fail(context, run->status, "%s: %s", f->cook->id, run->failure);
    measured_cook_follow(f->cook, run->history, d->computed, &d->done);
    for (int i = 0; i < POINTS; i++)
        d->curve[i] = measured_cook_at(run->history, f->end * i / (POINTS - 1));
    return SW_OK;
}

static double end_of_picture(const measured_cook *m)
{
    double end = SW_IS_ABSENT(m->done) ? 0.0 : 1.15 * m->done;
    for (size_t i = 0; i < m->reading_count; i++)
        end = fmax(end, m->time[i] + 0.5 * hour);
    return end;
}

static void foretell(sw_context *context, const measured_cook *m, foretold *f)
{
    f->cook = m;
    f->end = end_of_picture(m);
    if (sw_population_given(context, &m->stated, &f->population) != SW_OK)
        die("%s: %s", m->id, sw_context_message(context));
    const sw_side_by_side work = {.count = DRAWS + 1,
                                  .threads = count_processors(),
                                  .scenario = scenario_of,
                                  .take = take,
                                  .data = f};
    if (sw_cook_side_by_side(context, &work) != SW_OK)
        die("%s", sw_context_message(context));
}

/* ---- sums ---- */

typedef struct sums {
    size_t count, within;
    double sum, squares;
} sums;

static void add(sums *s, double error, bool within)
{
    s->count++;
    s->within += within;
    s->sum += error;
    s->squares += error * error;
}

static void print_row(FILE *out, const char *what, const sums *s)
{
    if (s->count > 0)
        fprintf(out, "| %s | %zu | %+.1f | %.1f | %.0f %% |\n", what, s->count, s->sum / (double)s->count, sqrt(s->squares / (double)s->count),
                100.0 * (double)s->within / (double)s->count);
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* A share of the draws of a reading, or of the end. */
static double quantile(const foretold *f, size_t reading, double share)
{
    double values[DRAWS];
    for (int d = 0; d < DRAWS; d++)
        values[d] = reading < READINGS_MAX ? f->draws[d].computed[reading] : f->draws[d].done;
    return sw_quantile(values, DRAWS, share);
}

/* How far a reading is from the curve of a cook that is known, one standard deviation [K]: noise and bias of a probe, as the
 * calibration has them. */
static const double reading_noise = 3.6;

static bool is_within(const foretold *f, size_t reading)
{
    double middle = quantile(f, reading, 0.5), low = quantile(f, reading, 0.1), high = quantile(f, reading, 0.9);
    const double noise = 1.2816 * reading_noise; /* of a normal distribution, to its 10 % points */
    low = middle - hypot(middle - low, noise);
    high = middle + hypot(high - middle, noise);
    return f->cook->temperature[reading] >= low && f->cook->temperature[reading] <= high;
}

/* ---- the report ---- */

enum { SPAN_COUNT = 6, RATE_GROUPS = 3, ENDS_MAX = 2 * COOKS_MAX };
static const double spans[SPAN_COUNT + 1] = {0.0, 2.0, 4.0, 6.0, 8.0, 12.0, 40.0}; /* [h] */

/* Done times of whole briskets over 4.4 kg by pit, from a larger collection that these cooks are part of: hours per kg as bought,
 * least, median, most, and of how many; common practice, no source. */
static const struct {
    const char *pit;
    double low, high; /* [C] */
    int count;
    double least, median, most;
} rates[RATE_GROUPS] = {{"90 to 113 C", 90, 113.5, 15, 1.64, 2.41, 3.30},
                        {"114 to 128 C", 113.5, 128.5, 8, 0.94, 1.53, 2.19},
                        {"129 to 155 C", 128.5, 155, 4, 0.88, 1.14, 1.26}};

typedef struct totals {
    sums all, beef, pork, early, span[SPAN_COUNT], kind[KIND_COUNT];
    size_t end_count, ends_in_80, ends_in_90, whole_ends, whole_in_90;
    double ends_off[ENDS_MAX];
} totals;

static void sum_up(totals *t, const foretold *f)
{
    const measured_cook *m = f->cook;
    for (size_t i = 0; i < m->reading_count; i++) {
        const double error = f->draws[DRAWS].computed[i] - m->temperature[i], at = m->time[i] / hour;
        const bool within = is_within(f, i);
        add(&t->all, error, within);
        add(m->is_pork ? &t->pork : &t->beef, error, within);
        add(&t->kind[m->stated.pit.kind], error, within);
        if (at <= 4.0)
            add(&t->early, error, within);
        for (int s = 0; s < SPAN_COUNT; s++)
            if (at > spans[s] && at <= spans[s + 1])
                add(&t->span[s], error, within);
    }
    if (SW_IS_ABSENT(m->done))
        return;
    const bool in_90 = m->done >= quantile(f, READINGS_MAX, 0.05) && m->done <= quantile(f, READINGS_MAX, 0.95);
    t->ends_in_80 += m->done >= quantile(f, READINGS_MAX, 0.1) && m->done <= quantile(f, READINGS_MAX, 0.9);
    t->ends_in_90 += in_90;
    t->ends_off[t->end_count++] = f->draws[DRAWS].done / m->done - 1.0;
    if (!m->is_pork && m->bought_mass >= 4.4) {
        t->whole_ends++;
        t->whole_in_90 += in_90;
    }
}

static double median_of(const double *values, size_t count, bool sizes)
{
    double sorted[ENDS_MAX];
    for (size_t i = 0; i < count; i++)
        sorted[i] = sizes ? fabs(values[i]) : values[i];
    return sw_quantile(sorted, count, 0.5);
}

static void print_totals(FILE *out, const totals *t)
{
    char text[64];
    fprintf(out, "# Measured cooks\n\nWritten by `sh validation/measured_cooks.sh`; see the README beside it. Computed less read, K, of the median cook\n"
                 "of what was stated; *in the band*: within the 10 and 90 %% points of 100 draws of the population and a probe's %.1f K.\n\n"
                 "| readings | number | mean | rms | in the band |\n|---|---|---|---|---|\n",
            reading_noise);
    print_row(out, "all", &t->all);
    print_row(out, "beef", &t->beef);
    print_row(out, "pork", &t->pork);
    print_row(out, "first four hours", &t->early);
    for (int s = 0; s < SPAN_COUNT; s++) {
        snprintf(text, sizeof text, "%.0f to %.0f h", spans[s], spans[s + 1]);
        print_row(out, text, &t->span[s]);
    }
    for (int k = 0; k < KIND_COUNT; k++)
        print_row(out, sw_pit_kind_name((sw_pit_kind)k), &t->kind[k]);
    fprintf(out, "\nEnds of %zu cooks: the median is %+.0f %% off, the median size of the error %.0f %%; %zu lie in the 10 to 90 %% band of draws, %zu in\n"
                 "the 5 to 95 %% band; of %zu briskets of 4.4 kg and more %zu.\n\n",
            t->end_count, 100.0 * median_of(t->ends_off, t->end_count, false), 100.0 * median_of(t->ends_off, t->end_count, true),
            t->ends_in_80, t->ends_in_90, t->whole_ends, t->whole_in_90);
}

/* ---- hours per kilogram, by pit ---- */

typedef struct rate_work {
    sw_population population;
    double mass, done[DRAWS];
} rate_work;

static void rate_scenario(size_t number, sw_scenario *s, void *data)
{
    const rate_work *w = data;
    double normal[SW_POPULATION_INPUTS_MAX];
    sw_population_draw(&w->population, 2, number, normal);
    sw_population_scenario(&w->population, normal, s);
    sw_population_coarsen(s);
}

static sw_status take_rate(sw_context *context, size_t number, const sw_run *run, void *data)
{
    rate_work *w = data;
    if (run->status != SW_OK && run->status != SW_ERR_NEVER_ENDS)
        return sw_fail(context, run->status, "%s", run->failure);
    w->done[number] = run->status == SW_OK ? run->outcome.done_time / hour / w->mass : INFINITY;
    return SW_OK;
}

static void print_number(FILE *out, double number, const char *format, const char *endless)
{
    if (isfinite(number))
        fprintf(out, format, number);
    else
        fputs(endless, out);
}

/* A brisket of 6.5 kg as bought, unwrapped, done at 92 C, in the middle of each range of pits. */
static void print_rates(FILE *out, sw_context *context)
{
    fprintf(out, "| pit | diaries: least, median, most, h/kg | computed at, C | 5 %% | median | 95 %% | median off |\n|---|---|---|---|---|---|---|\n");
    for (int g = 0; g < RATE_GROUPS; g++) {
        const double middle = g == 0 ? 107.0 : g == 1 ? 121.0 : 140.0;
        sw_scenario s;
        rate_work w = {.mass = 6.5};
        sw_scenario_init(&s);
        s.meat.mass = 0.0;
        s.meat.bought_mass = w.mass;
        s.pit.steps[0].temperature = middle + celsius;
        s.pull = (sw_ending){SW_ENDING_PROBE_TEMPERATURE, 92.0 + celsius};
        s.rest.until.kind = s.hold.until.kind = SW_ENDING_NONE;
        const sw_side_by_side work = {.count = DRAWS, .threads = count_processors(), .scenario = rate_scenario, .take = take_rate, .data = &w};
        if (sw_population_given(context, &s, &w.population) != SW_OK || sw_cook_side_by_side(context, &work) != SW_OK)
            die("%s", sw_context_message(context));
        const double median = sw_quantile(w.done, DRAWS, 0.5);
        fprintf(out, "| %s (%d) | %.2f, %.2f, %.2f | %.0f | %.2f | %.2f | ", rates[g].pit, rates[g].count, rates[g].least,
                rates[g].median, rates[g].most, middle, sw_quantile(w.done, DRAWS, 0.05), median);
        print_number(out, sw_quantile(w.done, DRAWS, 0.95), "%.2f", "never");
        fprintf(out, " | %+.0f %% |\n", 100.0 * (median / rates[g].median - 1.0));
    }
    fprintf(out, "\n");
}

/* A cook is computed up to its stated end, a duration; a probe that is not there by then is taken to be there at it. */
static void print_end(FILE *out, const foretold *f, double done, const char *before)
{
    fprintf(out, "%s%s%.1f", before, done >= f->cook->stated.pull.value - 1.0 ? "over " : "", done / hour);
}

static void print_cook(FILE *out, const foretold *f)
{
    const measured_cook *m = f->cook;
    sums own = {0};
    for (size_t i = 0; i < m->reading_count; i++)
        add(&own, f->draws[DRAWS].computed[i] - m->temperature[i], is_within(f, i));
    fprintf(out, "| %s | %s | %.2f | %.0f | %s | %s |", m->id, sw_cut_traits_of(m->stated.meat.cut)->name, m->bought_mass,
            m->stated.pit.steps[0].temperature - celsius, sw_pit_kind_name(m->stated.pit.kind), sw_wrap_name(m->stated.wrap.kind));
    if (own.count)
        fprintf(out, " %zu | %+.1f | %.1f |", own.count, own.sum / (double)own.count, sqrt(own.squares / (double)own.count));
    else
        fprintf(out, " - | - | - |");
    if (SW_IS_ABSENT(m->done))
        fprintf(out, " - | - |\n");
    else {
        fprintf(out, " %.1f |", m->done / hour);
        print_end(out, f, f->draws[DRAWS].done, " ");
        print_end(out, f, quantile(f, READINGS_MAX, 0.1), " (");
        print_end(out, f, quantile(f, READINGS_MAX, 0.9), " to ");
        fprintf(out, ") |\n");
    }
}

static void add_to_sheet(small_multiples *sheet, const foretold *f)
{
    double low[POINTS], middle[POINTS], high[POINTS], at[POINTS], read_at[READINGS_MAX], read[READINGS_MAX];
    for (int i = 0; i < POINTS; i++) {
        double values[DRAWS];
        for (int d = 0; d < DRAWS; d++)
            values[d] = f->draws[d].curve[i] - celsius;
        qsort(values, DRAWS, sizeof *values, by_size);
        at[i] = f->end * i / (POINTS - 1) / hour;
        low[i] = values[DRAWS / 10];
        high[i] = values[DRAWS - 1 - DRAWS / 10];
        middle[i] = f->draws[DRAWS].curve[i] - celsius;
    }
    for (size_t i = 0; i < f->cook->reading_count; i++) {
        read_at[i] = f->cook->time[i] / hour;
        read[i] = f->cook->temperature[i] - celsius;
    }
    const double done[2] = {f->cook->done / hour, f->cook->pull - celsius};
    small_multiples_add(sheet, &(small_panel){.title = f->cook->id, .count = POINTS, .x = at, .low = low, .middle = middle, .high = high,
                                              .mark_count = f->cook->reading_count, .mark_x = read_at, .mark_y = read,
                                              .end = SW_IS_ABSENT(f->cook->done) ? NULL : done});
}

int main(int argc, char **argv)
{
    static measured_cook cooks[COOKS_MAX];
    static foretold f;
    static totals t;
    char *rows = NULL;
    size_t rows_size = 0;
    sw_context *context;
    const size_t count = measured_cooks_read(cooks);
    if (argc != 3)
        die("usage: measured_cooks REPORT.md PICTURES, of which the latter is a folder");
    if (sw_context_create(&context) != SW_OK)
        die("memory is short");
    FILE *row_stream = open_memstream(&rows, &rows_size), *out = fopen(argv[1], "w");
    if (!row_stream || !out)
        die("%s cannot be written", argv[1]);
    small_multiples *sheet = small_multiples_begin(argv[2], "cooks", "h", "C", 0.0, 105.0);
    for (size_t c = 0; c < count; c++) {
        foretell(context, &cooks[c], &f);
        sum_up(&t, &f);
        print_cook(row_stream, &f);
        add_to_sheet(sheet, &f);
    }
    const int pages = small_multiples_end(sheet);
    fclose(row_stream);
    print_totals(out, &t);
    print_rates(out, context);
    fprintf(out, "| cook | cut | kg as bought | pit at first, C | kind | wrap | readings | mean | rms | done after, h | computed, h |\n"
                 "|---|---|---|---|---|---|---|---|---|---|---|\n%s\n", rows);
    for (int p = 1; p <= pages; p++)
        fprintf(out, "![Readings, the median cook of what was stated, and the band of four in five](cooks-%d.png)\n", p);
    free(rows);
    if (fclose(out) != 0)
        die("%s cannot be written", argv[1]);
    sw_context_destroy(context);
    return 0;
}
