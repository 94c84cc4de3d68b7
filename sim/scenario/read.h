/* The files of a scenario, each read into its part of it.  All return false after a fault. */
#ifndef PD_SCENARIO_READ_H
#define PD_SCENARIO_READ_H

#include "scenario/quantity.h"
#include "scenario/table.h"

#include <pumpday/scenario.h>

/* Parts of a scenario whose checks make sense, as they were read without a fault. */
enum pd_part { PD_PART_SITE = 1, PD_PART_PUMP = 2, PD_PART_DEMAND = 4, PD_PART_SUPPLY = 8 };

/* *rows_read tells that no row was lost, so that an item not given is missing indeed. */
bool pd_read_site(struct pd_scenario *scenario, bool *rows_read, struct pd_faults *faults);
bool pd_read_pump(struct pd_scenario *scenario, struct pd_faults *faults);
/* The points of a pump at any path, and the leaning of its units (see struct pd_place). */
bool pd_read_pump_file(const char *path, struct pd_pump_points *pump, int *leaning,
                       struct pd_faults *faults);
bool pd_read_demand(struct pd_scenario *scenario, struct pd_faults *faults);
bool pd_read_profile(struct pd_scenario *scenario, struct pd_faults *faults);
bool pd_read_household(struct pd_scenario *scenario, struct pd_faults *faults);
bool pd_read_supply(struct pd_scenario *scenario, struct pd_faults *faults);
bool pd_read_tariff(struct pd_scenario *scenario, struct pd_faults *faults);

/* Reads a file of the scenario's folder that need not be there, by what reads its table of `most`
 * rows below the heads. */
bool pd_read_if_there(struct pd_scenario *scenario, const char *name, size_t most,
                      bool (*read)(struct pd_scenario *scenario, struct pd_table *table,
                                   struct pd_faults *faults),
                      struct pd_faults *faults);

/* The currency of a price's unit: "EUR" of `EUR/kWh`; "" of `/kWh` and `1/kWh`. */
void pd_currency_of(const char *unit, char currency[PD_CURRENCY_MOST]);

/* Takes the value of one item as text; NULL, or "none" where that is no choice of the item's own,
 * brings its default back. */
bool pd_item_take(struct pd_scenario *scenario, enum pd_item item, const struct pd_place *place,
                  const char *value, const char *unit);

/* An item's default, SI. */
double pd_item_default(enum pd_item item);

/* Puts the sizes of tanks usual where these units are into a scenario. */
void pd_tank_sizes_usual(struct pd_scenario *scenario, enum pd_unit_system units);

/* Checks between items and files, only those of the parts told (a sum of pd_part). */
bool pd_check_parts(const struct pd_scenario *scenario, unsigned parts, struct pd_faults *faults);

#endif
