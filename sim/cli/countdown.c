/* One line that is written over and over. */
#include "cli/countdown.h"

#include <stdio.h>
#include <unistd.h>

struct countdown countdown_begin(const char *what)
{
    time_t now = time(NULL);

    return (struct countdown){
        .what = what, .begun = now, .told = now, .shows = isatty(STDERR_FILENO) == 1};
}

static void show(struct countdown *countdown, size_t done, size_t total, time_t now)
{
    double each = (double)(now - countdown->begun) / (double)(done - countdown->first);
    long left = (long)(each * (double)(total - done) + 0.5);

    (void)fprintf(stderr, "\r%zu of %zu %s, %ld:%02ld:%02ld left ", done, total, countdown->what,
                  left / 3600, left / 60 % 60, left % 60);
    (void)fflush(stderr);
    countdown->told = now;
}

void countdown_tell(void *context, size_t done, size_t total)
{
    struct countdown *countdown = context;
    time_t now = time(NULL);

    if (!countdown->has_first) {
        countdown->first = done - 1;
        countdown->has_first = true;
    }
    // once a second is enough
    if (countdown->shows && now != countdown->told) {
        show(countdown, done, total, now);
    }
}

void countdown_end(const struct countdown *countdown)
{
    if (countdown->shows && countdown->told != countdown->begun) {
        (void)fprintf(stderr, "\r%60s\r", "");
    }
}
