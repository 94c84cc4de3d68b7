/* Quantities for people to read: a few digits, the unit behind. */
#ifndef PUMPDAY_OUTPUT_AMOUNT_H
#define PUMPDAY_OUTPUT_AMOUNT_H

#include <pumpday/units.h>

enum { PD_AMOUNT_MOST = 32 };

/* The unit's name in which a kind is shown; "" for none. */
const char *pd_amount_unit(enum pd_kind kind, enum pd_unit_system units);

/* The number in that unit. */
double pd_amount_number(enum pd_kind kind, enum pd_unit_system units, double si);

/* "328 kPa"; "-" for what is not known. */
void pd_amount_text(char text[PD_AMOUNT_MOST], enum pd_kind kind, enum pd_unit_system units,
                    double si);

#endif
