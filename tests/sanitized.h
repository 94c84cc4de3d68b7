/* Whether the tests run under the sanitizers, which look for faults of memory and arithmetic: every
 * path is to be gone once, not a thousand times.  The figures are held to the full count without
 * them. */
#ifndef PUMPDAY_TESTS_SANITIZED_H
#define PUMPDAY_TESTS_SANITIZED_H

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define SANITIZED 1
#else
#define SANITIZED 0
#endif

#endif
