/* Fits scenario keys to published figures, jointly: calibrate [PARAMETERS.csv [TARGETS.csv [REPORT.md]]].
 * Everything it needs to know stands in the two tables; the report says what was found and how far to trust it. */
#include "bounded_fit.h"
#include "cook_case.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

/* A cook that breaks, or lacks the quantity asked for, counts as so many standard deviations off. */
static const double missing_residual = 5.0;

typedef struct calibration {
    csv_table *parameters, *targets;
    sw_scenario_reader *reader;
    fit_parameter *fitted;
} calibration;

static bool is_logarithmic(const csv_table *parameters, size_t j)
{
    const char *scale = csv_text(parameters, j, "scale");
    if (strcmp(scale, "log") != 0 && strcmp(scale, "linear") != 0)
        die("%s: scale is \"%s\", neither log nor linear", parameters->path, scale);
    return scale[1] == 'o';
}

static double to_scale(const csv_table *parameters, size_t j, double value)
{
    return is_logarithmic(parameters, j) ? log10(value) : value;
}

static double from_scale(const csv_table *parameters, size_t j, double value)
{
    return is_logarithmic(parameters, j) ? pow(10.0, value) : value;
}

/* Whether a target is of the same cook as the one above it. */
static bool same_cook(const csv_table *targets, size_t i)
{
    return i > 0 && strcmp(csv_text(targets, i, "scenario"), csv_text(targets, i - 1, "scenario")) == 0 &&
           strcmp(csv_text(targets, i, "settings"), csv_text(targets, i - 1, "settings")) == 0;
}

static void run_target_cook(calibration *c, size_t i, const double *vector, cook_result *result)
{
    const size_t n = c->parameters->row_count;
    char text[32][TEXT_SIZE], *assignments[32];
    for (size_t j = 0; j < n; j++) {
        snprintf(text[j], TEXT_SIZE, "%s=%.17g %s", csv_text(c->parameters, j, "key"), from_scale(c->parameters, j, vector[j]),
                 csv_text(c->parameters, j, "unit"));
        assignments[j] = text[j];
    }
    const char *scenario = csv_text(c->targets, i, "scenario");
    char *path = *scenario ? validation_path(".", scenario) : NULL;
    cook_case_run(c->reader, path, csv_text(c->targets, i, "settings"), n, assignments, result);
    free(path);
}

static double residual_of(const csv_table *targets, size_t i, const cook_result *result)
{
    double value = cook_quantity(result, csv_text(targets, i, "quantity"));
    double residual = (value - csv_number(targets, i, "value")) / csv_number(targets, i, "uncertainty");
    return isfinite(residual) ? residual : missing_residual;
}

/* The share of one process: every so many-th cook of all vectors. */
static void run_share(calibration *c, size_t count, const double *vectors, double *residuals, size_t share, size_t shares)
{
    const size_t n = c->parameters->row_count, m = c->targets->row_count;
    size_t job = 0;
    for (size_t k = 0; k < count; k++)
        for (size_t i = 0, next; i < m; i = next, job++) {
            for (next = i + 1; next < m && same_cook(c->targets, next); next++)
                ;
            if (job % shares != share)
                continue;
            cook_result result;
            run_target_cook(c, i, vectors + k * n, &result);
            for (size_t t = i; t < next; t++)
                residuals[k * m + t] = residual_of(c->targets, t, &result);
            cook_case_free(&result);
        }
}

/* Processes, not threads: reading units has global state. */
static void evaluate(size_t count, const double *vectors, double *residuals, void *data)
{
    calibration *c = data;
    const size_t size = count * c->targets->row_count * sizeof *residuals;
    const long processors = sysconf(_SC_NPROCESSORS_ONLN);
    const size_t shares = processors > 1 && processors < 64 ? (size_t)processors : 1;
    double *shared = mmap(NULL, size, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (shared == MAP_FAILED)
        die("memory is short");
    pid_t children[64];
    fflush(NULL);
    for (size_t s = 0; s < shares; s++) {
        children[s] = fork();
        if (children[s] < 0)
            die("no process can be started");
        if (children[s] == 0) {
            run_share(c, count, vectors, shared, s, shares);
            _exit(0);
        }
    }
    for (size_t s = 0; s < shares; s++) {
        int status;
        if (waitpid(children[s], &status, 0) < 0 || !WIFEXITED(status) || WEXITSTATUS(status) != 0)
            die("a cook of the calibration could not be run: see the sentence above");
    }
    memcpy(residuals, shared, size);
    munmap(shared, size);
}

/* ---- the report ---- */

static void print_parameters(const calibration *c, FILE *out)
{
    fprintf(out, "## Fitted values\n\n"
                 "One standard error; of a logarithmic parameter a factor. *weight* is the standard error over that of the\n"
                 "range alone: near 1 the data say nothing, below 0.5 they decide.\n\n"
                 "| key | unit | start | range | fitted | standard error | weight | verdict |\n|---|---|---|---|---|---|---|---|\n");
    for (size_t j = 0; j < c->parameters->row_count; j++) {
        const fit_parameter *p = &c->fitted[j];
        const csv_table *t = c->parameters;
        double weight = p->standard_error / p->range_deviation, share = (p->value - p->lower) / (p->upper - p->lower);
        const char *bound = share < 0.01 ? ", at its lower bound" : share > 0.99 ? ", at its upper bound" : "";
        const char *pinned = weight > 0.8 ? "not pinned down" : weight > 0.5 ? "hardly pinned down" : "pinned down";
        char error[64];
        if (is_logarithmic(t, j))
            snprintf(error, sizeof error, "times or over %.2f", pow(10.0, p->standard_error));
        else
            snprintf(error, sizeof error, "%.2g", p->standard_error);
        fprintf(out, "| `%s` | %s | %s | %s to %s | %.3g | %s | %.2f | %s%s |\n", csv_text(t, j, "key"), csv_text(t, j, "unit"),
                csv_text(t, j, "start"), csv_text(t, j, "lower"), csv_text(t, j, "upper"), from_scale(t, j, p->value), error,
                weight, pinned, bound);
    }
}

static void print_correlations(const calibration *c, const fit_result *r, FILE *out)
{
    const size_t n = c->parameters->row_count;
    fprintf(out, "\n## Correlations\n\n|");
    for (size_t j = 0; j < n; j++)
        fprintf(out, " | %zu", j + 1);
    fprintf(out, " |\n|");
    for (size_t j = 0; j <= n; j++)
        fprintf(out, "---|");
    for (size_t j = 0; j < n; j++) {
        fprintf(out, "\n| %zu `%s`", j + 1, csv_text(c->parameters, j, "key"));
        for (size_t k = 0; k < n; k++)
            fprintf(out, " | %.2f", r->correlation[j * n + k] + 0.0);
        fprintf(out, " |");
    }
    fprintf(out, "\n");
}

static void print_targets(const calibration *c, const fit_result *r, FILE *out)
{
    const csv_table *t = c->targets;
    fprintf(out, "\n## Targets\n\n*off* is computed less target in standard uncertainties; %.0f also stands for a cook that fails\n"
                 "or lacks the quantity.\n\n"
                 "| cook | quantity | target | uncertainty | computed | off | source |\n|---|---|---|---|---|---|---|\n",
            missing_residual);
    for (size_t i = 0; i < t->row_count; i++) {
        double value = csv_number(t, i, "value"), uncertainty = csv_number(t, i, "uncertainty");
        const char *scenario = csv_text(t, i, "scenario"), *settings = csv_text(t, i, "settings");
        fprintf(out, "| %s%s%s | %s | %g | %g | %.2f | %+.1f | %s |\n", *scenario ? scenario : "default", *settings ? ", " : "",
                settings, csv_text(t, i, "quantity"), value, uncertainty, value + uncertainty * r->residuals[i], r->residuals[i],
                csv_text(t, i, "source"));
    }
}

static void print_report(const calibration *c, const fit_result *r, FILE *out)
{
    const size_t n = c->parameters->row_count, m = c->targets->row_count;
    fprintf(out, "# Calibration report\n\nMade by `sh validation/calibrate.sh`; do not edit. Method, targets and doubts: [README.md](README.md).\n\n"
                 "%zu parameters, %zu targets. Sum of squares from %.1f to %.1f, %.2f per degree of freedom; %s after %d evaluations of\n"
                 "all targets.\n\n",
            n, m, r->first_sum_of_squares, r->sum_of_squares, r->sum_of_squares / (m > n ? (double)(m - n) : 1.0),
            bounded_fit_text(r->code), r->evaluations);
    print_parameters(c, out);
    print_correlations(c, r, out);
    print_targets(c, r, out);
}

static void read_parameters(calibration *c)
{
    const csv_table *t = c->parameters;
    if (t->row_count == 0 || t->row_count > 32 || c->targets->row_count < t->row_count)
        die("1 to 32 parameters are needed, and as many targets or more");
    c->fitted = calloc(t->row_count, sizeof *c->fitted);
    if (!c->fitted)
        die("memory is short");
    for (size_t j = 0; j < t->row_count; j++) {
        fit_parameter *p = &c->fitted[j];
        p->start = to_scale(t, j, csv_number(t, j, "start"));
        p->lower = to_scale(t, j, csv_number(t, j, "lower"));
        p->upper = to_scale(t, j, csv_number(t, j, "upper"));
        if (!(p->lower < p->upper && p->start >= p->lower && p->start <= p->upper))
            die("%s: %s does not start between its bounds", t->path, csv_text(t, j, "key"));
    }
}

int main(int argc, char **argv)
{
    if (argc > 4)
        die("usage: calibrate [PARAMETERS.csv [TARGETS.csv [REPORT.md]]]");
    calibration c = {.parameters = argc > 1 ? csv_read_path(argv[1]) : csv_read("calibration", "parameters.csv"),
                     .targets = argc > 2 ? csv_read_path(argv[2]) : csv_read("calibration", "targets.csv")};
    fit_result result;
    if (sw_scenario_reader_create(NULL, &c.reader) != SW_OK)
        die("the unit database cannot be read");
    read_parameters(&c);
    bounded_fit(c.parameters->row_count, c.fitted, c.targets->row_count, evaluate, &c, &result);
    print_report(&c, &result, stdout);
    if (argc > 3) {
        FILE *out = fopen(argv[3], "w");
        if (!out)
            die("%s cannot be written", argv[3]);
        print_report(&c, &result, out);
        if (fclose(out) != 0)
            die("%s cannot be written", argv[3]);
    }
    bounded_fit_free(&result);
    sw_scenario_reader_destroy(c.reader);
    free(c.fitted);
    csv_free(c.parameters);
    csv_free(c.targets);
    return 0;
}
