/* The table of items as text, for the template and the list of items. */
#ifndef PD_SCENARIO_ITEMS_H
#define PD_SCENARIO_ITEMS_H

#include <pumpday/scenario.h>

/* An item's default as a file would have it, without its unit: "24" or "isothermal"; "" where there
 * is none or it is worked out. */
void pd_item_default_text(enum pd_item item, char *text, size_t size);

#endif
