/* Where a run stood, so that a stretch of it can be run again without all that came before. */
#ifndef PUMPDAY_MARKS_H
#define PUMPDAY_MARKS_H

#include "run/run.h"

/* A mark an hour, and the draws that may be open at one; with more there is none that hour. */
enum { MARKS_MOST = 24, MARK_DRAWS_MOST = 64 };

struct mark {
    double time; /* s after midnight */
    size_t draws;
    char run[offsetof(struct run, draws.list)];
    struct open_draw list[MARK_DRAWS_MOST];
};

struct marks {
    double next; /* s after midnight, the earliest for the next */
    size_t count;
    struct mark mark[MARKS_MOST];
};

struct observer marks_observer(struct marks *marks);

/* Sets a run to the last mark before a time [s after midnight], as it stood there but for its
 * options; who watches is to be set anew; false if there is none. */
bool marks_set(const struct marks *marks, double before, struct run *run);

#endif
