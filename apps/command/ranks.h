/* SPDX-License-Identifier: BSD-3-Clause */
/* Several processes of this program under mpirun or srun, which hand each other cooks. Only ranks.c sees MPI; built without
 * it, or started alone, there is one rank. */
#ifndef SW_APPS_RANKS_H
#define SW_APPS_RANKS_H

#include <stdbool.h>
#include <stddef.h>

/* Joins the other processes if there are any; call once, before all else here. Built without MPI and started as one of several,
 * it says so. Returns an exit status. */
int ranks_begin(void);

/* How many there are, and the number of this one. Rank 0 hands out the cooks and writes everything. */
int ranks_count(void);
int ranks_number(void);

/* On rank 0: answers the other ranks until each has said goodbye. next gives out a cook, take takes the bytes of a result;
 * both are called on the calling thread. */
typedef struct ranks_service {
    bool (*next)(size_t *run, void *data);
    void (*take)(const void *bytes, size_t size, void *data);
    void *data;
} ranks_service;
void ranks_serve(const ranks_service *service);

/* On the others, one thread at a time: asks for a cook, gives back a result, says goodbye. */
bool ranks_ask(size_t *run);
void ranks_give(const void *bytes, size_t size);
void ranks_say_goodbye(void);

/* Sends an exit status from rank 0 to all; returns it. */
int ranks_share_status(int status);

/* Leaves; call last. */
void ranks_end(void);

#endif
