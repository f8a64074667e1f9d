/* SPDX-License-Identifier: BSD-3-Clause */
#include "ranks.h"

#include "messages.h"

#ifdef SW_HAVE_MPI

#include <mpi.h>

#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { TAG_ASK = 1, TAG_RUN, TAG_RESULT, TAG_GOODBYE };

static const uint64_t no_run = UINT64_MAX;
static int count = 1, number = 0;
static bool is_joined = false;

/* Whether a starter of parallel programs has started this one; alone, the second that MPI takes to begin is saved. */
static bool is_started_in_parallel(void)
{
    static const char *const marks[] = {"OMPI_COMM_WORLD_SIZE", "PMIX_RANK", "PMI_RANK", "PMI_SIZE"};
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (getenv(marks[i]))
            return true;
    return false;
}

int ranks_begin(void)
{
    int provided;
    if (!is_started_in_parallel() || MPI_Init_thread(NULL, NULL, MPI_THREAD_SERIALIZED, &provided) != MPI_SUCCESS)
        return EXIT_DONE;
    is_joined = true;
    MPI_Comm_size(MPI_COMM_WORLD, &count);
    MPI_Comm_rank(MPI_COMM_WORLD, &number);
    if (number == 0)
        return EXIT_DONE;
    /* Rank 0 speaks for all, and alone decides when to stop. */
    signal(SIGINT, SIG_IGN);
    signal(SIGTERM, SIG_IGN);
    signal(SIGHUP, SIG_IGN);
    if (!freopen("/dev/null", "w", stdout) || !freopen("/dev/null", "w", stderr))
        MPI_Abort(MPI_COMM_WORLD, 1);
    return EXIT_DONE;
}

int ranks_count(void)
{
    return count;
}

int ranks_number(void)
{
    return number;
}

/* ---- rank 0 ---- */

static void take_result(const ranks_service *s, int source, int size)
{
    void *bytes = malloc(size > 0 ? (size_t)size : 1);
    if (!bytes)
        MPI_Abort(MPI_COMM_WORLD, 1);
    MPI_Recv(bytes, size, MPI_BYTE, source, TAG_RESULT, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
    s->take(bytes, (size_t)size, s->data);
    free(bytes);
}

static void answer(const ranks_service *s, const MPI_Status *about, int *present)
{
    size_t run;
    uint64_t given;
    int size;
    MPI_Get_count(about, MPI_BYTE, &size);
    if (about->MPI_TAG == TAG_RESULT) {
        take_result(s, about->MPI_SOURCE, size);
        return;
    }
    MPI_Recv(NULL, 0, MPI_BYTE, about->MPI_SOURCE, about->MPI_TAG, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
    if (about->MPI_TAG == TAG_GOODBYE) {
        (*present)--;
        return;
    }
    given = s->next(&run, s->data) ? run : no_run;
    MPI_Send(&given, 1, MPI_UINT64_T, about->MPI_SOURCE, TAG_RUN, MPI_COMM_WORLD);
}

void ranks_serve(const ranks_service *s)
{
    /* Waiting inside MPI would keep a processor busy that could cook. */
    const struct timespec pause = {0, 100000};
    for (int present = count - 1; present > 0;) {
        int any;
        MPI_Status about;
        MPI_Iprobe(MPI_ANY_SOURCE, MPI_ANY_TAG, MPI_COMM_WORLD, &any, &about);
        if (any)
            answer(s, &about, &present);
        else
            nanosleep(&pause, NULL);
    }
}

/* ---- the others ---- */

bool ranks_ask(size_t *run)
{
    uint64_t given;
    MPI_Send(NULL, 0, MPI_BYTE, 0, TAG_ASK, MPI_COMM_WORLD);
    MPI_Recv(&given, 1, MPI_UINT64_T, 0, TAG_RUN, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
    *run = (size_t)given;
    return given != no_run;
}

void ranks_give(const void *bytes, size_t size)
{
    MPI_Send(bytes, (int)size, MPI_BYTE, 0, TAG_RESULT, MPI_COMM_WORLD);
}

void ranks_say_goodbye(void)
{
    MPI_Send(NULL, 0, MPI_BYTE, 0, TAG_GOODBYE, MPI_COMM_WORLD);
}

int ranks_share_status(int status)
{
    if (is_joined)
        MPI_Bcast(&status, 1, MPI_INT, 0, MPI_COMM_WORLD);
    return status;
}

void ranks_end(void)
{
    if (is_joined)
        MPI_Finalize();
}

#else

#include <stdlib.h>

static bool is_above(const char *variable, long limit)
{
    const char *value = getenv(variable);
    return value && strtol(value, NULL, 10) > limit;
}

int ranks_begin(void)
{
    /* How many there are, or which of them this is, as starters of parallel programs say it. */
    if (!is_above("OMPI_COMM_WORLD_SIZE", 1) && !is_above("PMI_SIZE", 1) && !is_above("PMI_RANK", 0) && !is_above("PMIX_RANK", 0))
        return EXIT_DONE;
    print_error("several processes are started, but this stallwright was built without MPI (SW_MPI=OFF): each would do all the work");
    return EXIT_BAD_USE;
}

int ranks_count(void)
{
    return 1;
}

int ranks_number(void)
{
    return 0;
}

void ranks_serve(const ranks_service *s)
{
    (void)s;
}

bool ranks_ask(size_t *run)
{
    (void)run;
    return false;
}

void ranks_give(const void *bytes, size_t size)
{
    (void)bytes;
    (void)size;
}

void ranks_say_goodbye(void)
{
}

int ranks_share_status(int status)
{
    return status;
}

void ranks_end(void)
{
}

#endif
