/* The processes of a run that a launcher has started together, on one machine or several: rank 0
 * and others.  Alone in a build without MPI (ranks_one.c), and where no launcher started it.
 * For the thread that began; nothing waits but sending, until what it sends is on its way. */
#ifndef PUMPDAY_STUDIES_RANKS_H
#define PUMPDAY_STUDIES_RANKS_H

#include <stdbool.h>
#include <stddef.h>

/* A message; its data from malloc, fit for any type. */
struct ranks_message {
    int from, kind;
    size_t size;
    void *data;
};

/* Joins the other ranks, if there are any.  False: it is built to, and cannot. */
bool ranks_begin(void);

/* Leaves them, once all do. */
void ranks_end(void);

int ranks_own(void);   /* 0 for the one that leads */
int ranks_count(void); /* 1: alone */

/* Threads that are a rank's share of its machine; 0: all. */
int ranks_jobs(void);

void ranks_send(int to, int kind, const void *data, size_t size);

/* The next message, if one has come; false: none has.  Messages of a rank come in their order. */
bool ranks_receive(struct ranks_message *message);

/* Sleeps a moment, so that who waits takes no processor. */
void ranks_rest(void);

#endif
