/* The words above the lines of a quick check. */
#ifndef PUMPDAY_PRESENT_QUICK_PRINT_H
#define PUMPDAY_PRESENT_QUICK_PRINT_H

#include <pumpday/quick.h>

/* Prints what was taken for granted, and the cycles, in the units of `quick`. */
void quick_print(const struct pd_quick *quick, const struct pd_quick_found *found);

#endif
