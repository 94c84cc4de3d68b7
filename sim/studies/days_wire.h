/* What ranks say to each other about days: plain memory, since all are one program.
 *
 * Rank 0 gives a JOB, which each other rank answers with HELLO, then BLOCKs of days, up to
 * WIRE_AHEAD of them at once; their DAYS come back in the order of the blocks, each in several
 * messages, or a FAULT for a whole block.  STOP ends the job at any time: nothing more comes after
 * STOPPED.  END ends the rank. */
#ifndef PUMPDAY_STUDIES_DAYS_WIRE_H
#define PUMPDAY_STUDIES_DAYS_WIRE_H

#include "studies/days_block.h"
#include "studies/ranks.h"

enum wire_kind {
    WIRE_JOB,
    WIRE_HELLO,
    WIRE_BLOCK,
    WIRE_DAYS,
    WIRE_FAULT,
    WIRE_STOP,
    WIRE_STOPPED,
    WIRE_END
};

/* A rank has the next block at hand when it is done with one. */
enum { WIRE_AHEAD = 2, WIRE_HOST_MOST = 64 };

struct wire_hello {
    int jobs;
    uint64_t trait;
    char host[WIRE_HOST_MOST];
};

struct wire_block {
    long first, end;
};

struct wire_fault {
    long first; /* of the block; -1: of the job */
    struct pd_error error;
};

/* What another rank needs to make days, as text from malloc; `jobs` as the options tell it, 0: the
 * rank's own share.  NULL if memory runs out. */
void *wire_pack_job(const struct days_work *work, int jobs, size_t *size);

/* The job that was received.  *scenario and *strategies are what its work points to; the scenario
 * is to be freed where this is true.  False and the error otherwise. */
bool wire_unpack_job(const struct ranks_message *message, struct pd_scenario *scenario,
                     struct pd_strategy strategies[PD_STRATEGIES_MOST], struct days_work *work,
                     struct pd_error *error);

/* Sends the days of a block to rank 0. */
void wire_send_days(const struct days_block *block, size_t strategy_count);

/* How many days a message holds. */
struct wire_block wire_days(const struct ranks_message *message);

/* Puts them where there is room for so many. */
void wire_put_days(const struct ranks_message *message, const struct days_block *into,
                   size_t strategy_count);

/* A number that tells whether two ranks find the same to the last digit: of the figures of day 1,
 * in which every difference of program, mathematical library or processor shows. */
bool wire_trait(const struct days_work *work, bool (*go_on)(void *context), void *context,
                uint64_t *trait, struct pd_error *error);

#endif
