/* Units: what a number in a file means.  SI inside, converted once at the edge. */
#ifndef PUMPDAY_UNITS_H
#define PUMPDAY_UNITS_H

#include <stdbool.h>
#include <stddef.h>

/* Kinds of quantity.  Each has its own accepted units and its SI unit, named in the comment. */
enum pd_kind {
    PD_KIND_TEXT,              /* words; no unit */
    PD_KIND_CHOICE,            /* one word of a list; no unit */
    PD_KIND_NUMBER,            /* pure number; no unit */
    PD_KIND_PRESSURE,          /* Pa; also m and ft of water at 1000 kg/m3 */
    PD_KIND_HEAD,              /* m of the water pumped */
    PD_KIND_LENGTH,            /* m: lengths of pipe, heights, levels */
    PD_KIND_BORE,              /* m: diameters, walls, roughness: what is small */
    PD_KIND_AREA,              /* m2 */
    PD_KIND_FLOW,              /* m3/s */
    PD_KIND_VOLUME,            /* m3 */
    PD_KIND_POWER,             /* W */
    PD_KIND_ENERGY,            /* J */
    PD_KIND_TIME,              /* s */
    PD_KIND_TEMPERATURE,       /* K */
    PD_KIND_SPECIFIC_CAPACITY, /* m2/s: flow per length of drawdown of a well */
    PD_KIND_PRICE,             /* money per J */
    PD_KIND_STARTS,            /* starts in the item's own period; no unit or 1/h, 1/day */
    PD_KIND_SPECIFIC_ENERGY,   /* J/m3 */
    PD_KIND_VELOCITY,          /* m/s */
    PD_KIND_SHARE,             /* of a whole, 0 to 1 */
    PD_KIND_COUNT
};

/* SI value = (value + offset) * scale. */
struct pd_unit {
    const char *name;
    double scale;
    double offset;
};

/* Which units results are written in. */
enum pd_unit_system { PD_UNITS_SI, PD_UNITS_US };

/* Finds a unit of a kind by its name, as written (`L/min`; letter case is forgiven where it is not
 * ambiguous).  NULL if the kind has no such unit. */
const struct pd_unit *pd_unit_find(enum pd_kind kind, const char *name);

/* True if some other kind has a unit of this name: a wrong kind of unit, not an unknown one. */
bool pd_unit_known(const char *name);

/* The accepted unit names of a kind, `psi, kPa, ...`, into text of the given size. */
void pd_unit_list(enum pd_kind kind, char *text, size_t size);

/* The unit in which a system shows a kind, the same in every output; "" for none. */
const char *pd_unit_shown(enum pd_kind kind, enum pd_unit_system system);

/* Which system a unit of a kind is at home in: 1 US, -1 SI, 0 both (W, kWh, s). */
int pd_unit_leaning(enum pd_kind kind, const char *name);

/* Plain word for a kind: "pressure", "flow", ... */
const char *pd_kind_name(enum pd_kind kind);

/* True if a quantity of this kind must carry a unit. */
bool pd_kind_needs_unit(enum pd_kind kind);

double pd_unit_to_si(const struct pd_unit *unit, double value);
double pd_unit_from_si(const struct pd_unit *unit, double si);

#endif
