/* Asks the C library for memory.  Keep this function alone in its file: see memory.h. */
#include "base/memory.h"

#include <stdlib.h>

void *pd_memory_resize(void *block, size_t size)
{
    return realloc(block, size > 0 ? size : 1);
}
