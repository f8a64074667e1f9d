#include "progress.h"

#include "quantity.h"

#include <signal.h>
#include <unistd.h>

static volatile sig_atomic_t interrupted;

static void note_interrupt(int signal_number)
{
    (void)signal_number;
    interrupted = 1;
}

bool was_interrupted(void)
{
    return interrupted != 0;
}

int report_interrupt(void)
{
    fputs("stallwright: note: interrupted\n", stderr);
    return EXIT_INTERRUPTED;
}

void take_over_interrupt(void)
{
    struct sigaction action = {.sa_handler = note_interrupt}, before;
    /* Whoever started the program with interrupts ignored wants it so. */
    if (sigaction(SIGINT, NULL, &before) == 0 && before.sa_handler == SIG_IGN)
        return;
    sigemptyset(&action.sa_mask);
    sigaction(SIGINT, &action, NULL);
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
