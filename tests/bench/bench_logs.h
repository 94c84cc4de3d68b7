/* How well the fit of a logged gauge finds what was planted. */
#ifndef PUMPDAY_TESTS_BENCH_LOGS_H
#define PUMPDAY_TESTS_BENCH_LOGS_H

#include "studies/planted.h"

/* Seconds by the clock on the wall. */
double wall_time(void);

/* Prints a line for each kind of log.  False if one could not be made. */
bool bench_logs(struct site site[SITES], struct chance *chance);

#endif
