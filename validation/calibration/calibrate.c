/* SPDX-License-Identifier: BSD-3-Clause */
/* Fits what all cooks share, and each measured cook's own, to readings, ends and published figures: calibrate REPORT.md PICTURES.
 * README.md has the method; the report what was found, and how well cooks that were left out are foretold. */
#include "left_out.h"
#include "small_multiples.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROUNDS = 3, FOLD_ROUNDS = 1, FOLDS_MAX = 16 };

/* Holds a parameter, on the scale of the fit. */
static void hold(population_fit *fit, const char *name, double value)
{
    bool found = false;
    for (size_t j = 0; j < fit->parameter_count; j++) {
        parameter *p = &fit->parameters[j];
        if (strcmp(p->name, name) == 0) {
            fit->values[j] = p->start = p->prior = value;
            p->lower = value - 1e-9;
            p->upper = value + 1e-9;
            found = true;
        }
    }
    if (!found)
        die("%s is no parameter", name);
}

/* Fits without a fold, from where the whole fit is, and foretells the fold. */
static void leave_out(const population_fit *whole, const measured_cook *cooks, size_t count, size_t fold, left_out sums[2])
{
    const measured_cook *kept[COOKS_MAX];
    size_t kept_count = 0;
    population_fit fit;
    for (size_t c = 0; c < count; c++)
        if (cooks[c].fold != fold)
            kept[kept_count++] = &cooks[c];
    population_fit_begin(&fit, kept, kept_count);
    memcpy(fit.parameters, whole->parameters, sizeof fit.parameters);
    memcpy(fit.values, whole->values, sizeof fit.values);
    memcpy(fit.spreads, whole->spreads, sizeof fit.spreads);
    fit.error = whole->error;
    population_fit_run(&fit, FOLD_ROUNDS);
    for (size_t c = 0; c < count; c++)
        if (cooks[c].fold == fold)
            left_out_add(&sums[cooks[c].is_pork], &fit, &cooks[c]);
    population_fit_end(&fit);
}

static void print_score(FILE *out, const char *what, const left_out *s)
{
    const double n = (double)s->readings;
    fprintf(out, "| %s | %zu | %+.1f | %+.1f (%zu) | %.1f | %.1f | %.0f %% | %.2f | %zu | %+.0f %% | %.0f %% | %zu of %zu |\n", what,
            s->readings, s->sum / n, s->early_sum / (double)s->early, s->early, sqrt(s->squares / n), sqrt(s->own_squares / n),
            100.0 * (double)s->within / n, s->score / n, s->ends, 100.0 * left_out_median_end(s, true),
            100.0 * left_out_median_end(s, false), s->ends_within, s->ends);
}

static void print_parameters(FILE *out, const population_fit *fit)
{
    fprintf(out, "## What all cooks share\n\nOne standard error; of a logarithmic one a factor. *weight*: that error over the spread of what was "
                 "known before: near 1 the cooks\nsay nothing, below 0.5 they decide.\n\n"
                 "| name | start | before | fitted | error | weight | |\n|---|---|---|---|---|---|---|\n");
    for (size_t j = 0; j < fit->parameter_count; j++) {
        const parameter *p = &fit->parameters[j];
        const fit_parameter *f = &fit->fitted[j];
        const double share = (f->value - p->lower) / (p->upper - p->lower), weight = f->standard_error / p->spread;
        const double error = p->is_logarithmic ? exp(f->standard_error) : f->standard_error;
        fprintf(out, "| `%s%s%s` | %.4g | %.4g %s %.3g | %.4g | %s%.3g | %.2f | %s%s |\n", p->key->name, *p->group ? " @" : "",
                p->group, parameter_told(p, p->start), parameter_told(p, p->prior), p->is_logarithmic ? "x/" : "+-",
                p->is_logarithmic ? exp(p->spread) : p->spread, parameter_told(p, f->value), p->is_logarithmic ? "x/ " : "+- ", error,
                weight, weight > 0.8 ? "not identified" : weight > 0.5 ? "hardly identified" : "identified",
                share < 0.01 ? ", at its lower bound" : share > 0.99 ? ", at its upper bound" : "");
    }
    fprintf(out, "\nCorrelations of 0.5 and more:");
    for (size_t j = 0; j < fit->parameter_count; j++)
        for (size_t k = 0; k < j; k++) {
            const double r = fit->result.correlation[j * fit->parameter_count + k];
            if (fabs(r) >= 0.5)
                fprintf(out, " `%s%s%s` and `%s%s%s` %.2f;", fit->parameters[j].key->name, *fit->parameters[j].group ? " @" : "",
                        fit->parameters[j].group, fit->parameters[k].key->name,
                        *fit->parameters[k].group ? " @" : "", fit->parameters[k].group, r);
        }
    fprintf(out, "\n\n");
}

static void print_spreads(FILE *out, const population_fit *fit)
{
    const sw_population *p = &fit->cooks[0].population;
    double product[OWN_MAX][OWN_MAX] = {{0.0}};
    for (size_t c = 0; c < fit->cook_count; c++)
        for (size_t i = 0; i < p->count; i++)
            for (size_t k = 0; k < p->count; k++)
                product[i][k] += fit->cooks[c].at[i] * fit->cooks[c].at[k] + fit->cooks[c].covariance[i][k];
    fprintf(out, "## From cook to cook\n\n| unknown | in the table | found | |\n|---|---|---|---|\n");
    for (size_t i = 0; i < p->count; i++) {
        const sw_population_input *input = &p->inputs[i];
        const double found = input->spread, before = found / fit->spreads[i];
        fprintf(out, "| `%s` | %.3g | %.3g | %s |\n", input->key->name, input->is_logarithmic ? exp(before) : before,
                input->is_logarithmic ? exp(found) : found, input->is_logarithmic ? "times or over" : "more or less, K");
    }
    fprintf(out, "\nCorrelations found:");
    for (size_t i = 0; i < p->count; i++)
        for (size_t k = 0; k < i; k++)
            fprintf(out, " `%s` and `%s` %.2f;", p->inputs[i].key->name, p->inputs[k].key->name,
                    product[i][k] / sqrt(product[i][i] * product[k][k]));
    fprintf(out, "\n\nA reading is off a known curve by %.1f K and its probe by %.1f K more, an end by %.0f %%, one standard deviation; Student's\n"
                 "distribution of %.0f degrees of freedom lets one in ten be far off.\n\n",
            fit->error.noise, fit->error.bias, 100.0 * fit->error.end, fit->error.freedom);
}

static void print_cooks(FILE *out, const population_fit *fit)
{
    fprintf(out, "## Each cook, fitted in its own unknowns\n\nStandard deviations from the median; residuals are computed less read, K.\n\n"
                 "| cook | readings |");
    const sw_population *p = &fit->cooks[0].population;
    for (size_t i = 0; i < p->count; i++)
        fprintf(out, " %s |", p->inputs[i].key->name);
    fprintf(out, " probe | rms | end off |\n|---|---|---|---|---|---|---|---|---|\n");
    for (size_t c = 0; c < fit->cook_count; c++) {
        const cook_fit *f = &fit->cooks[c];
        double squares = 0.0;
        for (size_t i = 0; i < f->cook->reading_count; i++)
            squares += pow(f->computed[i] - observed_value(f->cook, i), 2.0);
        fprintf(out, "| %s | %zu |", f->cook->id, f->cook->reading_count);
        for (size_t u = 0; u < f->own; u++)
            fprintf(out, " %+.1f |", f->at[u]);
        if (f->cook->reading_count)
            fprintf(out, " %.1f |", sqrt(squares / (double)f->cook->reading_count));
        else
            fprintf(out, " - |");
        if (f->observed > f->cook->reading_count)
            fprintf(out, " %+.0f %% |\n", 100.0 * (exp(f->computed[f->observed - 1]) / f->cook->done - 1.0));
        else
            fprintf(out, " - |\n");
    }
    fprintf(out, "\n");
}

/* Residuals of each cook's readings over time, with the range of two standard deviations of noise and bias. */
static int draw_residuals(const char *folder, const population_fit *fit)
{
    const double hour = 3600.0, range = 2.0 * hypot(fit->error.noise, fit->error.bias);
    small_multiples *sheet = small_multiples_begin(folder, "residuals", "h", "K", -25.0, 25.0);
    for (size_t c = 0; c < fit->cook_count; c++) {
        const cook_fit *f = &fit->cooks[c];
        double at[READINGS_MAX], off[READINGS_MAX], last = 1.0;
        for (size_t i = 0; i < f->cook->reading_count; i++) {
            at[i] = f->cook->time[i] / hour;
            off[i] = f->computed[i] - observed_value(f->cook, i);
            last = at[i] + 0.5 > last ? at[i] + 0.5 : last;
        }
        const double x[2] = {0.0, last}, low[2] = {-range, -range}, middle[2] = {0.0, 0.0}, high[2] = {range, range};
        if (f->cook->reading_count > 0)
            small_multiples_add(sheet, &(small_panel){.title = f->cook->id, .count = 2, .x = x, .low = low, .middle = middle, .high = high,
                                                      .mark_count = f->cook->reading_count, .mark_x = at, .mark_y = off});
    }
    return small_multiples_end(sheet);
}

static void print_targets(FILE *out, const population_fit *fit)
{
    double computed[TARGETS_MAX];
    targets_compute(fit, fit->values, computed);
    fprintf(out, "## Targets\n\n| cook | more than | quantity | target | uncertainty | computed | off | source |\n"
                 "|---|---|---|---|---|---|---|---|\n");
    for (size_t t = 0; t < fit->target_count; t++) {
        const target *g = &fit->targets[t];
        const target_cook *cook = &fit->target_cooks[g->cook], *other = &fit->target_cooks[g->against];
        fprintf(out, "| %s %s | %s | %s | %g | %g | %.2f | %+.1f | %s |\n", *cook->file ? cook->file : "default", cook->settings,
                cook == other ? "" : other->settings, g->quantity, g->value, g->uncertainty, computed[t],
                (computed[t] - g->value) / g->uncertainty, g->source);
    }
}

static void print_left_out_head(FILE *out)
{
    fprintf(out, "| cooks | readings | mean | first 4 h | rms | rms, own fitted | in the 80 %% band | score, K | ends | median | median size | in the band "
                 "|\n|---|---|---|---|---|---|---|---|---|---|---|---|\n");
}

static double own_rms(const population_fit *fit)
{
    double squares = 0.0, n = 0.0;
    for (size_t c = 0; c < fit->cook_count; c++)
        for (size_t i = 0; i < fit->cooks[c].cook->reading_count; i++, n += 1.0)
            squares += pow(fit->cooks[c].computed[i] - observed_value(fit->cooks[c].cook, i), 2.0);
    return sqrt(squares / n);
}

/* Of residuals of the fit: those of cooks, of targets and of priors stand one after the other. */
static double squares_of(const population_fit *fit, size_t from, size_t count)
{
    double sum = 0.0;
    for (size_t i = from; i < from + count; i++)
        sum += fit->result.residuals[i] * fit->result.residuals[i];
    return sum;
}

int main(int argc, char **argv)
{
    static measured_cook cooks[COOKS_MAX];
    const measured_cook *all[COOKS_MAX];
    const size_t count = measured_cooks_read(cooks);
    left_out sums[2] = {{0}}, now[2] = {{0}}, seen[2] = {{0}};
    size_t folds = 0;
    population_fit fit;
    if (argc < 3)
        die("usage: calibrate REPORT.md PICTURES [name=value ...], the latter holding a parameter on the scale of the fit");
    for (size_t c = 0; c < count; c++) {
        all[c] = &cooks[c];
        folds = cooks[c].fold + 1 > folds ? cooks[c].fold + 1 : folds;
    }
    population_fit_begin(&fit, all, count);
    for (int i = 3; i < argc; i++) {
        char name[64];
        double value;
        if (sscanf(argv[i], "%63[^=]=%lf", name, &value) != 2)
            die("\"%s\" is no name=value", argv[i]);
        hold(&fit, name, value);
    }
    for (size_t c = 0; c < count; c++)
        left_out_add(&now[cooks[c].is_pork], &fit, &cooks[c]);
    population_fit_run(&fit, ROUNDS);
    for (size_t f = 0; f < folds && !getenv("SW_NO_FOLDS"); f++)
        leave_out(&fit, cooks, count, f, sums);
    for (size_t c = 0; c < count; c++)
        left_out_add(&seen[cooks[c].is_pork], &fit, &cooks[c]);
    const size_t observed = population_fit_observed(&fit);
    FILE *out = fopen(argv[1], "w");
    if (!out)
        die("%s cannot be written", argv[1]);
    fprintf(out, "# Calibration report\n\nMade by `sh validation/calibrate.sh`; do not edit. Method and doubts: [README.md](README.md).\n\n"
                 "%zu cooks, %zu parameters, %zu targets. Sum of squares %.1f, %s: %.1f of what was observed of cooks (%zu), %.1f of\n"
                 "targets, %.1f of what was known before. Readings are met within %.1f K (rms) once each cook's own unknowns are fitted.\n\n",
            count, fit.parameter_count, fit.target_count, fit.result.sum_of_squares, bounded_fit_text(fit.result.code),
            squares_of(&fit, 0, observed), observed, squares_of(&fit, observed, fit.target_count),
            squares_of(&fit, observed + fit.target_count, fit.parameter_count), own_rms(&fit));
    fprintf(out, "## Cooks left out\n\nEach foretold from what its cook stated alone, by a fit that did not see it (%zu folds); computed less read, K.\n\n", folds);
    print_left_out_head(out);
    if (sums[0].readings > 0) {
        print_score(out, "beef", &sums[0]);
        print_score(out, "pork", &sums[1]);
    }
    print_score(out, "beef, in-sample", &seen[0]);
    print_score(out, "pork, in-sample", &seen[1]);
    print_score(out, "beef, defaults before this fit", &now[0]);
    print_score(out, "pork, defaults before this fit", &now[1]);
    fprintf(out, "\n");
    print_parameters(out, &fit);
    print_spreads(out, &fit);
    print_cooks(out, &fit);
    const int sheets = draw_residuals(argv[2], &fit);
    for (int s = 1; s <= sheets; s++)
        fprintf(out, "![Computed less read of each cook, its own unknowns fitted, K, by hours](residuals-%d.png)\n\n", s);
    print_targets(out, &fit);
    if (fclose(out) != 0)
        die("%s cannot be written", argv[1]);
    population_fit_end(&fit);
    return 0;
}
