/* A finished sweep for people: all its rows where they are few, else the best and the worst. */
#ifndef PUMPDAY_PRESENT_SWEEP_TABLE_H
#define PUMPDAY_PRESENT_SWEEP_TABLE_H

#include <pumpday/error.h>

/* Reads a sweep's file, with so many varied columns, and writes its table.  False and
 * PD_OUTPUT_FAILED if the file cannot be read. */
bool pd_sweep_table_write(FILE *stream, const char *file, size_t varied_count,
                          struct pd_error *error);

#endif
