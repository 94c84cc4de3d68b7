/* Days that grow batch by batch, until there are enough of them: after each batch it is looked at
 * whether more are needed, and a database is given what is new. */
#ifndef PUMPDAY_STUDIES_DAYS_GROWTH_H
#define PUMPDAY_STUDIES_DAYS_GROWTH_H

#include "studies/days_block.h"
#include "studies/days_store.h"

struct days_growth {
    struct days_work work;
    const struct pd_days_options *options;
    struct pd_days *days;     /* its count: those that are whole and kept */
    long room;                /* days that there is memory for */
    struct days_store *store; /* NULL: none */
};

/* Whether no more days are needed. */
bool growth_enough(const struct days_growth *growth);

/* Where the batch of a day ends that is not counted yet. */
long growth_batch_end(const struct days_growth *growth, long day);

/* Room for the days before `end`. */
bool growth_make_room(struct days_growth *growth, long end, struct pd_error *error);

/* Where days go, once there is room for them. */
struct days_block growth_block(const struct days_growth *growth, long first, long end);

/* Counts the next batch and keeps it, or several where all before `made` are made. */
bool growth_take(struct days_growth *growth, long made, struct pd_error *error);

/* Whether whoever asked for the days still wants them. */
bool growth_wanted(const struct days_growth *growth);

#endif
