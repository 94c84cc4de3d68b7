/* What people say is wrong, and what to read first. */
#ifndef PUMPDAY_PRESENT_SYMPTOMS_H
#define PUMPDAY_PRESENT_SYMPTOMS_H

#include <stdbool.h>
#include <stdio.h>

/* Writes what may be behind a complaint in plain words, and the readings that tell, in the order of
 * work.  False if no symptom is known by such words; then nothing is written. */
bool symptom_write(FILE *stream, const char *words);

#endif
