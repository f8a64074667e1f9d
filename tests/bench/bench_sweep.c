/* SPDX-License-Identifier: BSD-3-Clause */
/* How fast a sweep is. Prints figures and passes no judgement.
 * Cooks a second with 1 and 2 threads and the efficiency of the second thread, in one dimension (20 cells, relative
 * tolerance 2e-4) and in two (12 x 16 cells); then how time and memory grow with the number of runs, results in a journal
 * on disk and at last in a results file. Usage: bench_sweep [most runs of the growth, 100000 by default] */
#include <stallwright/everything.h>

#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

static sw_context *context;
static sw_scenario_reader *reader;

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double processor_time(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double peak_memory(void)
{
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    return (double)usage.ru_maxrss / 1024.0;
}

static void must(sw_status status)
{
    if (status == SW_OK)
        return;
    fprintf(stderr, "bench_sweep: %s\n", sw_context_message(context));
    exit(1);
}

static sw_scenario coarse_scenario(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    s.solver.cells = 20;
    s.solver.relative_tolerance = 2e-4; /* at 5e-4 some of 1500 leave a balance open and are refused, at 1e-3 a tenth */
    s.solver.surface_cell = 1e-3;
    return s;
}

static sw_study *random_study(const sw_scenario *base, size_t runs)
{
    sw_study *study;
    must(sw_study_create(context, base, &study));
    must(sw_study_vary(context, reader, study, "meat.mass=normal(6kg,0.5kg)"));
    must(sw_study_vary(context, reader, study, "pit.temperature=uniform(120C,140C)"));
    must(sw_study_set_design(context, study, SW_DESIGN_HALTON, runs, 1));
    return study;
}

static sw_status count(sw_context *of_thread, const sw_study_result *result, void *data)
{
    size_t *counts = data;
    (void)of_thread;
    counts[0]++;
    counts[1] += result->status != SW_OK;
    return SW_OK;
}

/* Cooks a second of wall clock; *busy is how many processors the system granted meanwhile. */
static double rate(const sw_study *study, size_t threads, double *busy)
{
    size_t counts[2] = {0};
    const sw_study_work work = {.threads = threads, .take = count, .data = counts};
    const double start = now(), start_of_processor = processor_time();
    must(sw_study_run(context, study, &work));
    const double spent = now() - start;
    *busy = (processor_time() - start_of_processor) / spent;
    if (counts[1] > 0)
        printf("  (%zu of %zu cooks failed)\n", counts[1], counts[0]);
    return (double)counts[0] / spent;
}

static void print_rates(const char *title, const sw_scenario *base, size_t runs)
{
    double busy_one, busy_two;
    sw_study *study = random_study(base, runs);
    const double one = rate(study, 1, &busy_one), two = rate(study, 2, &busy_two);
    printf("%s, %zu cooks\n", title, runs);
    printf("  1 thread: %8.1f cooks a second (%.2f processors busy)\n", one, busy_one);
    printf("  2 threads: %7.1f cooks a second (%.2f processors busy)\n", two, busy_two);
    printf("  efficiency %.2f by the clock; %.2f by the processor time each cook took\n", two / one / 2.0,
           (two / busy_two) / (one / busy_one));
    sw_study_destroy(study);
}

static sw_status keep(sw_context *of_thread, const sw_study_result *result, void *data)
{
    return sw_study_journal_append(of_thread, data, result);
}

static double file_size(const char *path)
{
    struct stat about;
    return stat(path, &about) == 0 ? (double)about.st_size / 1048576.0 : 0.0;
}

static void print_growth(const sw_scenario *base, size_t runs)
{
    static const char journal_path[] = "bench_sweep.journal", path[] = "bench_sweep.h5";
    const sw_provenance from = {"bench_sweep", NULL, NULL};
    sw_study *study = random_study(base, runs);
    sw_study_journal *journal;
    double start = now();
    must(sw_study_journal_open(context, reader, journal_path, study, false, true, &journal));
    const sw_study_work work = {.threads = 2, .take = keep, .data = journal};
    must(sw_study_run(context, study, &work));
    const double cooked = now() - start, memory = peak_memory(), journal_size = file_size(journal_path);
    start = now();
    must(sw_study_results_write(context, reader, path, study, journal, &from, "complete", true));
    printf("  %6zu runs: cooks %7.2f s, peak memory %6.1f MiB, journal %6.1f MiB; file %6.2f s, %6.1f MiB, peak %6.1f MiB\n",
           runs, cooked, memory, journal_size, now() - start, file_size(path), peak_memory());
    fflush(stdout);
    sw_study_journal_close(journal, false);
    sw_study_destroy(study);
    unlink(path);
}

int main(int argc, char **argv)
{
    const size_t most = argc > 1 ? (size_t)strtoul(argv[1], NULL, 10) : 100000;
    if (sw_context_create(&context) != SW_OK)
        return 1;
    must(sw_scenario_reader_create(context, &reader));
    sw_scenario base = coarse_scenario();
    print_rates("1D, 20 cells, relative tolerance 1e-3", &base, 1500);
    sw_scenario usual;
    sw_scenario_init(&usual);
    print_rates("1D, the default solver settings", &usual, 300);
    sw_scenario section = base;
    section.meat.shape = SW_SHAPE_SECTION;
    section.meat.width = 0.25;
    section.solver.rows = 12;
    section.solver.columns = 16;
    print_rates("2D, half section of 12 x 16 cells, relative tolerance 1e-3", &section, 30);
    printf("growth, 1D, 2 threads, journal and file on disk\n");
    for (size_t runs = 100; runs <= most; runs *= 10)
        print_growth(&base, runs);
    sw_scenario_reader_destroy(reader);
    sw_context_destroy(context);
    return 0;
}
