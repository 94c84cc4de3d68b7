/* A quantity as text, number and unit, turned into SI, with every fault told at its place. */
#ifndef PD_SCENARIO_QUANTITY_H
#define PD_SCENARIO_QUANTITY_H

#include <pumpday/error.h>
#include <pumpday/units.h>

/* Where a text stands, for faults. */
struct pd_place {
    const char *file; /* NULL: an override */
    int line;
    const char *item;
    struct pd_faults *faults;
    bool *comma_told; /* set by the first decimal comma of a file, then no more is told; or NULL */
    int *leaning;     /* counts the units found: up for US ones, down for SI ones; or NULL */
};

/* What a quantity may be; limits in `unit`, "" for a pure number. */
struct pd_bounds {
    enum pd_kind kind;
    const char *unit;
    double least, most;
};

/* Reads a number and nothing else.  False and a fault otherwise. */
bool pd_quantity_number(const struct pd_place *place, const char *text, double *value);

/* Finds a unit of a kind.  NULL and a fault otherwise. */
const struct pd_unit *pd_quantity_unit(const struct pd_place *place, enum pd_kind kind,
                                       const char *name);

/* Checks an SI value against its limits; text is what was written.  False and a fault outside. */
bool pd_quantity_within(const struct pd_place *place, const struct pd_bounds *bounds, double si,
                        const char *text);

/* Reads a number and its unit ("80" and "L", or "80 L" and ""), in SI; the number may be a fraction
 * of the trade ("3/4 in", "1 1/4 in", "1-1/2 hp").  False and a fault if wrong. */
bool pd_quantity_read(const struct pd_place *place, const struct pd_bounds *bounds,
                      const char *value, const char *unit, double *si);

#endif
