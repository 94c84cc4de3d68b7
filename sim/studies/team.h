/* Work done by several threads whose results are taken in order.
 *
 * Threads make the results of the numbers from `first` to before `end`, whichever comes next; the
 * calling thread takes them one by one in rising order.  A thread that is far ahead waits. */
#ifndef PUMPDAY_STUDIES_TEAM_H
#define PUMPDAY_STUDIES_TEAM_H

#include <pumpday/error.h>

/* A result: text from malloc. */
struct team_text {
    char *text;
    size_t length;
};

struct team_work {
    size_t first, end;
    int jobs; /* threads, at least 1; fewer are used for less work */
    void *context;
    /* in each thread: a workspace of its own; NULL and an error ends the work */
    void *(*open)(void *context, struct pd_error *error);
    void (*close)(void *workspace);
    /* in each thread: one result; false and an error ends the work, without one only where going on
     * was denied */
    bool (*make)(void *workspace, size_t number, bool (*go_on)(void *team), void *team,
                 struct team_text *result, struct pd_error *error);
    /* in the calling thread: the next result; false and an error ends the work.  NULL: nothing to
     * take, each result is kept where no other is */
    bool (*take)(void *context, size_t number, const struct team_text *result,
                 struct pd_error *error);
    /* in the calling thread, a few times a second: false ends the work */
    bool (*go_on)(void *context);
};

/* Threads that are wanted, up to PD_JOBS_MOST; 0: one a processor. */
int team_jobs(int wanted);

/* Does the work.  Returns the number before which all results have been taken: `end` if all went
 * well; otherwise the error says why, and is empty where go_on ended it. */
size_t team_run(const struct team_work *work, struct pd_error *error);

#endif
