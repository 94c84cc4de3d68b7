/* The tables of units.  Scales are built from their definitions.
 * Source: NIST Special Publication 811 (2008), appendix B; conventional water column at 1000 kg/m3
 * and standard gravity. */
#include <pumpday/units.h>

#include "base/text.h"

#include <stdio.h>
#include <string.h>

#define INCH 0.0254
#define FOOT 0.3048
#define POUND 0.45359237
#define GRAVITY 9.80665
#define WATER (1000.0 * GRAVITY)                    /* Pa per m of water */
#define PSI (POUND * GRAVITY / (INCH * INCH))       /* Pa */
#define GALLON (231.0 * INCH * INCH * INCH)         /* m3, US liquid gallon */
#define HORSEPOWER (550.0 * FOOT * POUND * GRAVITY) /* W, mechanical */
#define KWH 3.6e6

static const struct pd_unit pressures[] = {
    {"psi", PSI, 0.0},        {"kPa", 1e3, 0.0}, {"bar", 1e5, 0.0}, {"mbar", 100.0, 0.0},
    {"MPa", 1e6, 0.0},        {"GPa", 1e9, 0.0}, {"Pa", 1.0, 0.0},  {"m", WATER, 0.0},
    {"ft", WATER *FOOT, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit heads[] = {
    {"m", 1.0, 0.0},           {"ft", FOOT, 0.0},         {"psi", PSI / WATER, 0.0},
    {"kPa", 1e3 / WATER, 0.0}, {"bar", 1e5 / WATER, 0.0}, {"mbar", 100.0 / WATER, 0.0},
    {"MPa", 1e6 / WATER, 0.0}, {"Pa", 1.0 / WATER, 0.0},  {NULL, 0.0, 0.0}};

static const struct pd_unit lengths[] = {{"mm", 1e-3, 0.0}, {"cm", 1e-2, 0.0}, {"in", INCH, 0.0},
                                         {"m", 1.0, 0.0},   {"ft", FOOT, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit areas[] = {
    {"m2", 1.0, 0.0}, {"ft2", FOOT *FOOT, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit flows[] = {{"gpm", GALLON / 60.0, 0.0},
                                       {"L/min", 1e-3 / 60.0, 0.0},
                                       {"L/s", 1e-3, 0.0},
                                       {"L/h", 1e-3 / 3600.0, 0.0},
                                       {"m3/h", 1.0 / 3600.0, 0.0},
                                       {"m3/s", 1.0, 0.0},
                                       {NULL, 0.0, 0.0}};

static const struct pd_unit volumes[] = {
    {"gal", GALLON, 0.0}, {"L", 1e-3, 0.0}, {"m3", 1.0, 0.0}, {"mL", 1e-6, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit powers[] = {
    {"W", 1.0, 0.0}, {"kW", 1e3, 0.0}, {"hp", HORSEPOWER, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit energies[] = {
    {"J", 1.0, 0.0}, {"Wh", 3600.0, 0.0}, {"kWh", KWH, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit times[] = {
    {"s", 1.0, 0.0}, {"min", 60.0, 0.0}, {"h", 3600.0, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit temperatures[] = {
    {"degC", 1.0, 273.15}, {"degF", 5.0 / 9.0, 459.67}, {"K", 1.0, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit specific_capacities[] = {{"L/min/m", 1e-3 / 60.0, 0.0},
                                                     {"L/s/m", 1e-3, 0.0},
                                                     {"m3/h/m", 1.0 / 3600.0, 0.0},
                                                     {"gpm/ft", GALLON / 60.0 / FOOT, 0.0},
                                                     {NULL, 0.0, 0.0}};

// any currency may stand before the stroke; see is_price
static const struct pd_unit prices[] = {
    {"/kWh", 1.0 / KWH, 0.0}, {"1/kWh", 1.0 / KWH, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit starts[] = {{"1/h", 1.0, 0.0}, {"1/day", 1.0, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit specific_energies[] = {{"kWh/m3", KWH, 0.0},
                                                   {"kWh/kgal", KWH / (1000.0 * GALLON), 0.0},
                                                   {"Wh/m3", 3600.0, 0.0},
                                                   {"J/m3", 1.0, 0.0},
                                                   {NULL, 0.0, 0.0}};

static const struct pd_unit velocities[] = {
    {"m/s", 1.0, 0.0}, {"ft/s", FOOT, 0.0}, {NULL, 0.0, 0.0}};

static const struct pd_unit shares[] = {{"%", 0.01, 0.0}, {NULL, 0.0, 0.0}};

struct kind {
    const char *name;
    bool needs_unit;
    const struct pd_unit *units; /* ends with a NULL name; NULL: no unit at all */
};

static const struct kind kinds[] = {
    [PD_KIND_TEXT] = {"text", false, NULL},
    [PD_KIND_CHOICE] = {"choice", false, NULL},
    [PD_KIND_NUMBER] = {"number", false, NULL},
    [PD_KIND_PRESSURE] = {"pressure", true, pressures},
    [PD_KIND_HEAD] = {"head", true, heads},
    [PD_KIND_LENGTH] = {"length", true, lengths},
    [PD_KIND_BORE] = {"length", true, lengths},
    [PD_KIND_AREA] = {"area", true, areas},
    [PD_KIND_FLOW] = {"flow", true, flows},
    [PD_KIND_VOLUME] = {"volume", true, volumes},
    [PD_KIND_POWER] = {"power", true, powers},
    [PD_KIND_ENERGY] = {"energy", true, energies},
    [PD_KIND_TIME] = {"time", true, times},
    [PD_KIND_TEMPERATURE] = {"temperature", true, temperatures},
    [PD_KIND_SPECIFIC_CAPACITY] = {"specific capacity", true, specific_capacities},
    [PD_KIND_PRICE] = {"price", true, prices},
    [PD_KIND_STARTS] = {"starts", false, starts},
    [PD_KIND_SPECIFIC_ENERGY] = {"specific energy", true, specific_energies},
    [PD_KIND_VELOCITY] = {"velocity", true, velocities},
    [PD_KIND_SHARE] = {"share", true, shares},
};
_Static_assert(sizeof kinds / sizeof kinds[0] == PD_KIND_COUNT, "units of each kind");

/* The one unit in which each system shows a kind; a kind that is not here has a single unit, or
 * none. */
static const char *const shown[PD_KIND_COUNT][2] = {
    [PD_KIND_PRESSURE] = {"kPa", "psi"},
    [PD_KIND_HEAD] = {"m", "ft"},
    [PD_KIND_LENGTH] = {"m", "ft"},
    [PD_KIND_BORE] = {"mm", "in"},
    [PD_KIND_AREA] = {"m2", "ft2"},
    [PD_KIND_FLOW] = {"L/min", "gpm"},
    [PD_KIND_VOLUME] = {"L", "gal"},
    [PD_KIND_POWER] = {"W", "W"},
    [PD_KIND_ENERGY] = {"kWh", "kWh"},
    [PD_KIND_TIME] = {"s", "s"},
    [PD_KIND_TEMPERATURE] = {"degC", "degF"},
    [PD_KIND_SPECIFIC_CAPACITY] = {"L/min/m", "gpm/ft"},
    [PD_KIND_PRICE] = {"/kWh", "/kWh"},
    [PD_KIND_STARTS] = {"", ""},
    [PD_KIND_SPECIFIC_ENERGY] = {"kWh/m3", "kWh/kgal"},
    [PD_KIND_VELOCITY] = {"m/s", "ft/s"},
};

// a currency of a few letters or a sign, then /kWh
static bool is_price(const char *name)
{
    const char *stroke = strchr(name, '/');
    if (stroke == NULL || stroke == name || stroke - name > 8 || !pd_text_same(stroke, "/kWh")) {
        return false;
    }
    for (const char *c = name; c < stroke; c++) {
        unsigned char byte = (unsigned char)*c;
        bool letter = (byte >= 'A' && byte <= 'Z') || (byte >= 'a' && byte <= 'z');
        if (!letter && byte != '$' && byte < 0x80) {
            return false;
        }
    }
    return true;
}

// milli and mega differ by case alone, so the first letter of mbar, mL, mm and MPa must be right
static bool case_matters(const char *unit)
{
    bool letter = unit[0] != '\0' && unit[1] >= 'A' && unit[1] <= 'z';
    return (unit[0] == 'm' || unit[0] == 'M') && letter && strcmp(unit, "min") != 0;
}

static bool matches(const char *unit, const char *name)
{
    return pd_text_same(unit, name) && (!case_matters(unit) || unit[0] == name[0]);
}

const struct pd_unit *pd_unit_find(enum pd_kind kind, const char *name)
{
    const struct pd_unit *units = kinds[kind].units;
    for (size_t i = 0; units != NULL && units[i].name != NULL; i++) {
        if (matches(units[i].name, name)) {
            return &units[i];
        }
    }
    return kind == PD_KIND_PRICE && is_price(name) ? &prices[0] : NULL;
}

bool pd_unit_known(const char *name)
{
    for (size_t i = 0; i < PD_KIND_COUNT; i++) {
        if (pd_unit_find((enum pd_kind)i, name) != NULL) {
            return true;
        }
    }
    return false;
}

void pd_unit_list(enum pd_kind kind, char *text, size_t size)
{
    const struct pd_unit *units = kinds[kind].units;
    size_t at = 0;
    if (size > 0) {
        text[0] = '\0';
    }
    for (size_t i = 0; units != NULL && units[i].name != NULL && at < size; i++) {
        int wrote = snprintf(text + at, size - at, "%s%s", i > 0 ? ", " : "", units[i].name);
        at += wrote > 0 ? (size_t)wrote : 0;
    }
    if (kind == PD_KIND_PRICE && at < size) {
        (void)snprintf(text + at, size - at, ", EUR/kWh (any currency)");
    }
}

const char *pd_unit_shown(enum pd_kind kind, enum pd_unit_system system)
{
    const char *name = shown[kind][system == PD_UNITS_US ? 1 : 0];
    if (name == NULL) {
        name = kinds[kind].units != NULL ? kinds[kind].units[0].name : "";
    }
    return name;
}

int pd_unit_leaning(enum pd_kind kind, const char *name)
{
    static const char *const us[] = {"psi", "ft",   "in",     "ft2",      "gpm", "gal",
                                     "hp",  "degF", "gpm/ft", "kWh/kgal", "ft/s"};
    const char *const *both = shown[kind];
    for (size_t i = 0; i < sizeof us / sizeof us[0]; i++) {
        if (pd_text_same(us[i], name)) {
            return 1;
        }
    }
    // where both systems show the same, any other unit is everybody's
    return both[0] == NULL || strcmp(both[0], both[1]) == 0 ? 0 : -1;
}

const char *pd_kind_name(enum pd_kind kind)
{
    return kinds[kind].name;
}

bool pd_kind_needs_unit(enum pd_kind kind)
{
    return kinds[kind].needs_unit;
}

double pd_unit_to_si(const struct pd_unit *unit, double value)
{
    return (value + unit->offset) * unit->scale;
}

double pd_unit_from_si(const struct pd_unit *unit, double si)
{
    return si / unit->scale - unit->offset;
}
