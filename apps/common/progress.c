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

int progress_observe(double time, double probe_temperature, void *data)
{
    progress *p = data;
    if (p->is_shown) {
        struct timespec now;
        clock_gettime(CLOCK_MONOTONIC, &now);
        double since = (double)(now.tv_sec - p->last.tv_sec) + 1e-9 * (double)(now.tv_nsec - p->last.tv_nsec);
        if (since >= 0.1) {
            char duration[QUANTITY_SIZE], temperature[QUANTITY_SIZE];
            fprintf(stderr, "\r%-12.24s %s into the cook, probe at %s      ", p->label ? p->label : "",
                    show_duration(time, duration), show_temperature(probe_temperature, p->units, temperature));
            fflush(stderr);
            p->last = now;
            p->is_dirty = true;
        }
    }
    return interrupted != 0;
}

void progress_end(progress *p)
{
    if (p->is_dirty)
        fprintf(stderr, "\r%*s\r", 78, "");
    p->is_dirty = false;
}
