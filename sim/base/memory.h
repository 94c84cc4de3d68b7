/* The one place where memory is asked for, so that a test can make it run out: a program that
 * defines pd_memory_resize itself is linked with its own in place of this one. */
#ifndef PD_BASE_MEMORY_H
#define PD_BASE_MEMORY_H

#include <stddef.h>

/* As realloc, for at least one byte.  NULL if memory runs out; the old block then stands. */
void *pd_memory_resize(void *block, size_t size);

#endif
