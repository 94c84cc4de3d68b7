#include "scenario/invented.h"

#include <math.h>
#include <string.h>

/* A main so weak that one of the strategies leaves the taps short. */
static const struct invented_item on_a_main[] = {
    {PD_TITLE, "example house", ""},    {PD_SUPPLY_KIND, "main", ""},
    {PD_SUPPLY_PRESSURE, "1.4", "bar"}, {PD_SERVICE_LENGTH, "30", "m"},
    {PD_SERVICE_DIAMETER, "26", "mm"},  {PD_TANK_VOLUME, "24", "L"},
};

/* A drilled well with its pump down in the casing, and a two-pressure switch. */
static const struct invented_item on_a_well[] = {
    {PD_TITLE, "example well", ""},
    {PD_SUPPLY_KIND, "well", ""},
    {PD_SUPPLY_LEVEL, "-30", "m"},
    {PD_SUPPLY_EMPTY_LEVEL, "-48", "m"},
    {PD_SUPPLY_SPECIFIC_CAPACITY, "10", "L/min/m"},
    {PD_WELL_CASING_DIAMETER, "110", "mm"},
    {PD_SERVICE_LENGTH, "1", "m"},
    {PD_SERVICE_DIAMETER, "40", "mm"},
    {PD_SERVICE_LOSS_K, "1", ""},
    {PD_PUMP_HEIGHT, "-48", "m"},
    {PD_PUMP_MOTOR_POWER, "0.55", "kW"},
    {PD_RISING_MAIN_LENGTH, "52", "m"},
    {PD_RISING_MAIN_DIAMETER, "32", "mm"},
    {PD_RISING_MAIN_LOSS_K, "3", ""},
    {PD_TANK_VOLUME, "100", "L"},
    {PD_PRESSURE_START_START, "2.2", "bar"},
    {PD_PRESSURE_START_STOP_PRESSURE, "3.6", "bar"},
};

/* Items with a pointer to the end of their list. */
static const struct {
    const struct invented_item *first, *end;
} items[PD_TEMPLATE_KIND_COUNT] = {
    [PD_TEMPLATE_HOUSE] = {on_a_main, on_a_main + sizeof on_a_main / sizeof on_a_main[0]},
    [PD_TEMPLATE_WELL] = {on_a_well, on_a_well + sizeof on_a_well / sizeof on_a_well[0]},
};

static const invented_point booster[] = {{0, 30, 330, 1.5},
                                         {15, 29, 410, 1.6},
                                         {30, 26.5, 480, 1.9},
                                         {45, 22, 530, 2.5},
                                         {60, 15.5, 560, 3.4}};

static const invented_point down_a_well[] = {{0, 96, 620, 1},     {12, 93, 740, 1},
                                             {24, 86, 860, 1.2},  {36, 73, 950, 1.6},
                                             {48, 53, 1000, 2.4}, {58, 32, 980, 3.5}};

const struct invented_draw invented_draws[] = {
    {"05:50", 8, "", 6, "toilet cistern"},   {"05:52", 5, "20", NAN, "basin"},
    {"06:15", 10, "360", NAN, "shower"},     {"06:25", 8, "", 6, "toilet cistern"},
    {"06:30", 10, "300", NAN, "shower"},     {"06:31", 10, "240", NAN, "second shower"},
    {"06:33", 6, "30", NAN, "kitchen tap"},  {"06:45", 6, "45", NAN, "kitchen tap"},
    {"07:05", 8, "", 6, "toilet cistern"},   {"07:06", 5, "20", NAN, "basin"},
    {"08:30", 9, "", 12, "washing machine"}, {"08:52", 9, "", 14, "washing machine"},
    {"09:10", 9, "", 14, "washing machine"}, {"10:20", 8, "", 6, "toilet cistern"},
    {"12:05", 6, "60", NAN, "kitchen tap"},  {"12:40", 6, "40", NAN, "kitchen tap"},
    {"13:15", 8, "", 6, "toilet cistern"},   {"16:00", 5, "30", NAN, "basin"},
    {"17:45", 6, "90", NAN, "kitchen tap"},  {"18:20", 6, "40", NAN, "kitchen tap"},
    {"18:30", 8, "", 4, "dishwasher"},       {"18:45", 14, "900", NAN, "garden hose"},
    {"18:50", 10, "300", NAN, "shower"},     {"18:52", 6, "45", NAN, "kitchen tap"},
    {"18:55", 8, "", 4, "dishwasher"},       {"19:30", 12, "", 110, "bath"},
    {"20:10", 8, "", 6, "toilet cistern"},   {"21:40", 5, "30", NAN, "basin"},
    {"22:15", 8, "", 6, "toilet cistern"},
};

const size_t invented_draw_count = sizeof invented_draws / sizeof invented_draws[0];

const struct invented_item *invented_item(enum pd_template_kind kind, enum pd_item item)
{
    for (const struct invented_item *at = items[kind].first; at < items[kind].end; at++) {
        if (at->item == item) {
            return at;
        }
    }
    return NULL;
}

const invented_point *invented_pump(enum pd_template_kind kind, size_t *count)
{
    bool well = kind == PD_TEMPLATE_WELL;

    *count = well ? sizeof down_a_well / sizeof down_a_well[0] : sizeof booster / sizeof booster[0];
    return well ? down_a_well : booster;
}
