/* Counts calls of the heap, and lets one of them fail, in the whole test program.
 *
 * Works with the GNU C library, whose own allocator can be called by a second name; not under
 * sanitizers or valgrind, which put theirs in its place.  Elsewhere COUNTS_MEMORY is 0 and nothing
 * is counted.
 */
#ifndef PUMPDAY_TESTS_COUNT_MEMORY_H
#define PUMPDAY_TESTS_COUNT_MEMORY_H

#include <stdlib.h>

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define COUNTS_MEMORY 0
#elif defined(__GLIBC__)
#define COUNTS_MEMORY 1
#else
#define COUNTS_MEMORY 0
#endif

/* Calls from now on; the one of that number, from 1, gets no memory; 0: none fails. */
void memory_watch(long failing);

/* What has happened since; watching ends. */
struct memory_calls {
    long taken; /* malloc, calloc, realloc, aligned_alloc */
    long given; /* free of what is not NULL */
};
struct memory_calls memory_watched(void);

/* The same for all threads together; ended, it returns how many calls wanted memory. */
void memory_watch_all(long failing);
long memory_watched_all(void);

#endif
