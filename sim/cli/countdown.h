/* How far a long piece of work is, told on a terminal. */
#ifndef PUMPDAY_CLI_COUNTDOWN_H
#define PUMPDAY_CLI_COUNTDOWN_H

#include <stdbool.h>
#include <stddef.h>
#include <time.h>

struct countdown {
    const char *what; /* "combinations" */
    time_t begun, told;
    size_t first; /* what was there already */
    bool has_first, shows;
};

/* For standard error; silent where that is no terminal. */
struct countdown countdown_begin(const char *what);

/* Tells how many of how many are done and the time left, once a second. */
void countdown_tell(void *countdown, size_t done, size_t total);

/* Leaves a clean line for what is printed next. */
void countdown_end(const struct countdown *countdown);

#endif
