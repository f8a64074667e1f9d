/* SPDX-License-Identifier: BSD-3-Clause */
#include "progress.h"

#include "quantity.h"

#include <signal.h>
#include <unistd.h>

/* The signal that asked to stop; 0: none. */
static volatile sig_atomic_t interrupted;

static void note_interrupt(int signal_number)
{
    interrupted = signal_number;
}

bool was_interrupted(void)
{
    return interrupted != 0;
}

void forget_interrupt(void)
{
    interrupted = 0;
}

int report_interrupt(void)
{
    fputs("stallwright: note: interrupted\n", stderr);
    /* As a shell has it of a program that a signal ended. */
    return interrupted ? 128 + (int)interrupted : EXIT_INTERRUPTED;
}

/* Ctrl-C, the end that another program or a batch system asks for, and the end of the terminal. */
static const int stopping_signals[] = {SIGINT, SIGTERM, SIGHUP};

void take_over_interrupt(void)
{
    struct sigaction action = {.sa_handler = note_interrupt}, before;
    sigemptyset(&action.sa_mask);
    for (size_t i = 0; i < sizeof stopping_signals / sizeof *stopping_signals; i++) {
        /* Whoever started the program with one of them ignored wants it so. */
        if (sigaction(stopping_signals[i], NULL, &before) != 0 || before.sa_handler != SIG_IGN)
            sigaction(stopping_signals[i], &action, NULL);
    }
}

void progress_begin(progress *p, const command_options *o)
{
    take_over_interrupt();
    *p = (progress){.units = o->units};
    p->is_shown = o->progress == PROGRESS_ALWAYS || (o->progress == PROGRESS_AUTO && !o->quiet && isatty(STDERR_FILENO));
}

double seconds_since(const struct timespec *moment)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - moment->tv_sec) + 1e-9 * (double)(now.tv_nsec - moment->tv_nsec);
}

/* Whether the line is to be written again: at most ten times a second. */
static bool is_due(progress *p)
{
    if (!p->is_shown || seconds_since(&p->last) < 0.1)
        return false;
    clock_gettime(CLOCK_MONOTONIC, &p->last);
    p->is_dirty = true;
    return true;
}

int progress_observe(double time, double probe_temperature, void *data)
{
    progress *p = data;
    if (is_due(p)) {
        char duration[QUANTITY_SIZE], temperature[QUANTITY_SIZE];
        fprintf(stderr, "\r%-12.24s %s into the cook, probe at %s      ", p->label ? p->label : "",
                show_duration(time, duration), show_temperature(probe_temperature, p->units, temperature));
        fflush(stderr);
    }
    return interrupted != 0;
}

static void begin_cook(const char *label, void *data)
{
    progress *p = data;
    p->label = label;
}

static void end_cook(void *data)
{
    progress_end(data);
}

static bool is_interrupted(void *data)
{
    (void)data;
    return was_interrupted();
}

sw_watch progress_watch(progress *p)
{
    return (sw_watch){.begin = begin_cook, .observe = progress_observe, .end = end_cook, .is_cancelled = is_interrupted, .data = p};
}

void progress_count(progress *p, size_t done, size_t before, size_t total, const struct timespec *began)
{
    enum { BAR = 20 };
    if (!is_due(p))
        return;
    static const char full[BAR + 1] = "####################", empty[BAR + 1] = "....................";
    const int filled = (int)(BAR * (double)done / (double)total);
    const double spent = seconds_since(began), rate = spent > 0.0 ? (double)(done - before) / spent : 0.0;
    char left[QUANTITY_SIZE] = "-";
    if (rate > 0.0) {
        const double seconds = (double)(total - done) / rate;
        if (seconds < 90.0)
            snprintf(left, sizeof left, "%.0f s", seconds);
        else
            show_duration(seconds, left);
    }
    fprintf(stderr, "\r[%.*s%.*s] %zu of %zu cooks, %.3g a second, %s left    ", filled, full, BAR - filled, empty, done,
            total, rate, left);
    fflush(stderr);
}

void progress_end(progress *p)
{
    if (p->is_dirty)
        fprintf(stderr, "\r%*s\r", 78, "");
    p->is_dirty = false;
}
