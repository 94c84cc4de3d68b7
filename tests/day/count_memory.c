/* Stands before the C library's allocator and counts, for the thread that asked for it. */
#include "day/count_memory.h"

#include <errno.h>
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

/* Counts a call that wants memory; false if this is the one to fail. */
static bool granted(void)
{
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

#endif
