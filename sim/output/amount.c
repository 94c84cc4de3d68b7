/* How many decimals a kind of quantity is shown with, in the unit that its system has for it. */
#include "output/amount.h"

#include <math.h>
#include <stdio.h>

/* as many digits as the number has: up to four, and all before the point */
enum { FREE = -1 };

struct decimals {
    int si, us;
};

static const struct decimals decimals_of[] = {
    [PD_KIND_TEXT] = {FREE, FREE},
    [PD_KIND_CHOICE] = {FREE, FREE},
    [PD_KIND_NUMBER] = {2, 2},
    [PD_KIND_PRESSURE] = {0, 1},
    [PD_KIND_HEAD] = {1, 1},
    [PD_KIND_LENGTH] = {1, 0},
    [PD_KIND_BORE] = {1, 2},
    [PD_KIND_AREA] = {2, 1},
    [PD_KIND_FLOW] = {1, 2},
    [PD_KIND_VOLUME] = {1, 1},
    [PD_KIND_POWER] = {0, 0},
    [PD_KIND_ENERGY] = {3, 3},
    [PD_KIND_TIME] = {1, 1},
    [PD_KIND_TEMPERATURE] = {0, 0},
    [PD_KIND_SPECIFIC_CAPACITY] = {1, 2},
    [PD_KIND_PRICE] = {3, 3},
    [PD_KIND_STARTS] = {FREE, FREE},
    [PD_KIND_SPECIFIC_ENERGY] = {2, 2},
    [PD_KIND_VELOCITY] = {2, 1},
    [PD_KIND_SHARE] = {1, 1},
};
_Static_assert(sizeof decimals_of / sizeof decimals_of[0] == PD_KIND_COUNT,
               "decimals for each kind");

const char *pd_amount_unit(enum pd_kind kind, enum pd_unit_system units)
{
    return pd_unit_shown(kind, units);
}

double pd_amount_number(enum pd_kind kind, enum pd_unit_system units, double si)
{
    const struct pd_unit *unit = pd_unit_find(kind, pd_amount_unit(kind, units));

    return unit != NULL ? pd_unit_from_si(unit, si) : si;
}

void pd_amount_text(char text[PD_AMOUNT_MOST], enum pd_kind kind, enum pd_unit_system units,
                    double si)
{
    const char *unit = pd_amount_unit(kind, units);
    const char *space = unit[0] != '\0' ? " " : "";
    int decimals = units == PD_UNITS_US ? decimals_of[kind].us : decimals_of[kind].si;
    double number = pd_amount_number(kind, units, si);

    if (!isfinite(number)) {
        (void)snprintf(text, PD_AMOUNT_MOST, "-");
    } else if (decimals == FREE && fabs(number) < 9999.5) {
        (void)snprintf(text, PD_AMOUNT_MOST, "%.4g%s%s", number, space, unit);
    } else {
        decimals = decimals == FREE ? 0 : decimals;
        // what rounds to nothing is shown without a sign
        number = fabs(number) < 0.5 * pow(10, -decimals) ? 0 : number;
        (void)snprintf(text, PD_AMOUNT_MOST, "%.*f%s%s", decimals, number, space, unit);
    }
}
