/* Stands before the C library's allocator and counts, for the thread that asked for it. */
#include "day/count_memory.h"

#include <errno.h>
#include <stdatomic.h>
#include <stdbool.h>

#if COUNTS_MEMORY

/* the library's own allocator by its second names */
// NOLINTBEGIN(bugprone-reserved-identifier,readability-identifier-naming)
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *memory, size_t size);
void *__libc_memalign(size_t alignment, size_t size);
void __libc_free(void *memory);
// NOLINTEND(bugprone-reserved-identifier,readability-identifier-naming)

static _Thread_local bool watching;
static _Thread_local long fails_at;
static _Thread_local struct memory_calls calls;

void memory_watch(long failing)
{
    calls = (struct memory_calls){0};
    fails_at = failing;
    watching = true;
}

struct memory_calls memory_watched(void)
{
    watching = false;
    return calls;
}

static atomic_bool watching_all;
static atomic_long all_fails_at, all_calls;

void memory_watch_all(long failing)
{
    atomic_store(&all_calls, 0);
    atomic_store(&all_fails_at, failing);
    atomic_store(&watching_all, true);
}

long memory_watched_all(void)
{
    atomic_store(&watching_all, false);
    return atomic_load(&all_calls);
}

/* Counts for all threads together; false if this is the call to fail. */
static bool granted_to_all(void)
{
    return !atomic_load(&watching_all) ||
           atomic_fetch_add(&all_calls, 1) + 1 != atomic_load(&all_fails_at);
}

/* Counts a call that wants memory; false if this is the one to fail. */
static bool granted(void)
{
    if (!granted_to_all()) {
        errno = ENOMEM;
        return false;
    }
    if (!watching) {
        return true;
    }
    calls.taken++;
    if (calls.taken == fails_at) {
        errno = ENOMEM;
        return false;
    }
    return true;
}

void *malloc(size_t size)
{
    return granted() ? __libc_malloc(size) : NULL;
}

void *calloc(size_t count, size_t size)
{
    return granted() ? __libc_calloc(count, size) : NULL;
}

void *realloc(void *memory, size_t size)
{
    return granted() ? __libc_realloc(memory, size) : NULL;
}

void *aligned_alloc(size_t alignment, size_t size)
{
    return granted() ? __libc_memalign(alignment, size) : NULL;
}

void free(void *memory)
{
    if (watching && memory != NULL) {
        calls.given++;
    }
    __libc_free(memory);
}

#else

void memory_watch(long failing)
{
    (void)failing;
}

struct memory_calls memory_watched(void)
{
    return (struct memory_calls){0};
}

void memory_watch_all(long failing)
{
    (void)failing;
}

long memory_watched_all(void)
{
    return 0;
}

#endif
