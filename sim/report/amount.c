/* Which unit and how many decimals a kind of quantity is shown with. */
#include "report/amount.h"

#include <math.h>
#include <stdio.h>

/* as many digits as the number has: up to four, and all before the point */
enum { FREE = -1 };

struct habit {
    const char *si, *us;
    int si_decimals, us_decimals;
};

static const struct habit habits[PD_KIND_COUNT] = {
    [PD_KIND_TEXT] = {"", "", FREE, FREE},
    [PD_KIND_CHOICE] = {"", "", FREE, FREE},
    [PD_KIND_NUMBER] = {"", "", 2, 2},
    [PD_KIND_PRESSURE] = {"bar", "psi", 2, 1},
    [PD_KIND_HEAD] = {"m", "ft", 1, 1},
    [PD_KIND_LENGTH] = {"mm", "in", 1, 2},
    [PD_KIND_AREA] = {"m2", "ft2", 2, 1},
    [PD_KIND_FLOW] = {"L/min", "gpm", 1, 2},
    [PD_KIND_VOLUME] = {"L", "gal", 1, 1},
    [PD_KIND_POWER] = {"W", "W", 0, 0},
    [PD_KIND_ENERGY] = {"kWh", "kWh", 2, 2},
    [PD_KIND_TIME] = {"s", "s", 1, 1},
    [PD_KIND_TEMPERATURE] = {"degC", "degF", 0, 0},
    [PD_KIND_SPECIFIC_CAPACITY] = {"L/min/m", "gpm/ft", 1, 2},
    [PD_KIND_PRICE] = {"/kWh", "/kWh", 3, 3},
    [PD_KIND_STARTS] = {"", "", FREE, FREE},
    [PD_KIND_SPECIFIC_ENERGY] = {"kWh/m3", "kWh/kgal", 2, 2},
    [PD_KIND_VELOCITY] = {"m/s", "ft/s", 2, 1},
    [PD_KIND_SHARE] = {"%", "%", 1, 1},
};

const char *pd_amount_unit(enum pd_kind kind, enum pd_unit_system units)
{
    return units == PD_UNITS_US ? habits[kind].us : habits[kind].si;
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
    int decimals = units == PD_UNITS_US ? habits[kind].us_decimals : habits[kind].si_decimals;
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
