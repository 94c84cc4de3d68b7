/* The supply over the day: lines between the points of supply.csv, repeated every day, cut where a
 * reducing valve holds the main back. */
#ifndef PUMPDAY_SUPPLY_DAY_H
#define PUMPDAY_SUPPLY_DAY_H

#include <pumpday/plant.h>

/* A straight piece: value [Pa gauge] at a time [s], slope [Pa/s]. */
struct supply_line {
    double time, value, slope;
};

/* Fills a plant's supply, and from it lowest_supply, mean_supply and highest_supply.  False and
 * PD_SOLVER_FAILED if memory runs out. */
bool supply_day_build(struct pd_plant *plant, struct pd_error *error);

/* The piece that begins at a sample of the plant's supply; `day` seconds are added to its time. */
struct supply_line supply_line_from(const struct pd_plant *plant, size_t sample, double day);

/* The piece in force at a time, which may be negative (the day before). */
struct supply_line supply_line_at(const struct pd_plant *plant, double time);

#endif
