/* What the parts of a diagnosis' page share. */
#ifndef PUMPDAY_PRESENT_DIAGNOSE_PARTS_H
#define PUMPDAY_PRESENT_DIAGNOSE_PARTS_H

#include <pumpday/diagnose.h>

enum { CELL_MOST = 48 };

/* An amount; small leaks get more digits than taps. */
void size_text(char text[CELL_MOST], enum pd_kind kind, enum pd_unit_system units, double si);

/* Gas does not pull: a tank that acts as if its precharge were under nothing has lost its gas. */
bool gas_is_lost(double gauge);
void precharge_text(char text[CELL_MOST], enum pd_unit_system units, double gauge);

void part_text(char text[CELL_MOST], const struct pd_part *part, enum pd_unit_system units);
void reading_text(char text[CELL_MOST], enum pd_sign sign, enum pd_unit_system units, double value);

bool suspect_is_out(const struct pd_suspect *suspect);

/* The likeliest in words, what to look at first, and what would tell the first two apart. */
void write_next(FILE *stream, const struct pd_diagnosis *diagnosis, const struct pd_seen *seen,
                enum pd_unit_system units);

#endif
