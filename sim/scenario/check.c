/* Checks what must hold between items, and between items and files. */
#include "scenario/path.h"
#include "scenario/read.h"
#include "scenario/table.h"

#include <math.h>

/* What the checks share. */
struct checker {
    const struct pd_scenario *scenario;
    struct pd_faults *faults;
    char site[PD_PATH_MOST];
    bool good;
};

// the value in the item's own unit, for a message
static double shown(const struct checker *checker, enum pd_item item)
{
    const struct pd_unit *unit = pd_unit_find(pd_items[item].kind, pd_items[item].unit);
    double value = checker->scenario->value[item];
    return unit != NULL ? pd_unit_from_si(unit, value) : value;
}

// where an item stands: a line of site.csv, the file as a whole, or an override
static void tell(struct checker *checker, enum pd_item item, const char *text)
{
    const struct pd_scenario *scenario = checker->scenario;
    bool overridden = scenario->given[item] && scenario->line[item] == 0;
    checker->good = pd_faults_add(checker->faults, overridden ? NULL : checker->site,
                                  scenario->line[item], pd_items[item].name, "%s", text);
}

static void need(struct checker *checker, enum pd_item item, const char *text)
{
    if (!checker->scenario->given[item]) {
        tell(checker, item, text);
    }
}

static void refuse(struct checker *checker, enum pd_item item, const char *text)
{
    if (checker->scenario->given[item]) {
        tell(checker, item, text);
    }
}

// true if both are given and good, and the first is not over the second
static bool not_over(const struct checker *checker, enum pd_item low, enum pd_item high)
{
    const struct pd_scenario *scenario = checker->scenario;
    return scenario->given[low] && scenario->given[high] &&
           scenario->value[high] <= scenario->value[low];
}

static void check_stop(struct checker *checker, enum pd_item start, enum pd_item stop)
{
    char text[PD_TEXT_MOST];
    if (not_over(checker, start, stop)) {
        (void)snprintf(
            text, sizeof text,
            "not above the start pressure, got %.6g bar, expected more than %s, %.6g bar",
            shown(checker, stop), pd_items[start].name, shown(checker, start));
        tell(checker, stop, text);
    }
}

static void check_pairs(struct checker *checker)
{
    const struct pd_scenario *scenario = checker->scenario;
    double poles = scenario->value[PD_PUMP_POLES];
    if (!(poles == 2.0 || poles == 4.0 || poles == 6.0)) {
        tell(checker, PD_PUMP_POLES, "no such motor, expected 2, 4 or 6 poles");
    }
    if (scenario->given[PD_HOUSE_LOSS] != scenario->given[PD_HOUSE_LOSS_FLOW]) {
        enum pd_item missing = scenario->given[PD_HOUSE_LOSS] ? PD_HOUSE_LOSS_FLOW : PD_HOUSE_LOSS;
        need(checker, missing, "missing, expected house.loss and house.loss_flow together");
    }
    check_stop(checker, PD_PRESSURE_START_START, PD_PRESSURE_START_STOP_PRESSURE);
    check_stop(checker, PD_PEAK_ONLY_START, PD_PEAK_ONLY_STOP_PRESSURE);
}

static void check_needed(struct checker *checker)
{
    static const enum pd_item needed[] = {PD_SUPPLY_KIND, PD_TANK_VOLUME, PD_SERVICE_LENGTH,
                                          PD_SERVICE_DIAMETER};
    for (size_t i = 0; i < sizeof needed / sizeof needed[0]; i++) {
        need(checker, needed[i], "missing, expected this item in site.csv");
    }
}

// what belongs to one kind of supply says nothing about another, and must not seem to
static void check_kind(struct checker *checker, int kind)
{
    if (kind == PD_SUPPLY_MAIN) {
        refuse(checker, PD_SUPPLY_LEVEL, "a main has no level, expected supply.pressure");
    } else {
        refuse(checker, PD_SUPPLY_PRESSURE,
               "a cistern or well has no pressure of its own, expected supply.level");
        refuse(checker, PD_SUPPLY_REDUCING_VALVE, "only for a main, expected supply.kind main");
    }
    if (kind != PD_SUPPLY_CISTERN) {
        refuse(checker, PD_SUPPLY_AREA,
               kind == PD_SUPPLY_WELL ? "only for a cistern, expected well.casing_diameter"
                                      : "only for a cistern, expected supply.kind cistern");
    }
    if (kind == PD_SUPPLY_MAIN ||
        (kind == PD_SUPPLY_WELL && !checker->scenario->given[PD_WELL_CASING_DIAMETER])) {
        refuse(checker, PD_SUPPLY_EMPTY_LEVEL,
               "only for a cistern, or a well with well.casing_diameter");
    }
    if (kind != PD_SUPPLY_WELL) {
        refuse(checker, PD_SUPPLY_SPECIFIC_CAPACITY, "only for a well, expected supply.kind well");
        refuse(checker, PD_WELL_CASING_DIAMETER, "only for a well, expected supply.kind well");
        // a loss of 0 says nothing and may stand anywhere
        if (checker->scenario->value[PD_WELL_LOSS] > 0.0) {
            tell(checker, PD_WELL_LOSS, "only for a well, expected supply.kind well");
        }
    } else {
        need(checker, PD_SUPPLY_SPECIFIC_CAPACITY, "missing, expected it for a well");
    }
}

// the constant value or supply.csv, never both and never neither
static void check_source(struct checker *checker, int kind)
{
    const struct pd_scenario *scenario = checker->scenario;
    bool main = kind == PD_SUPPLY_MAIN;
    enum pd_item constant = main ? PD_SUPPLY_PRESSURE : PD_SUPPLY_LEVEL;
    char path[PD_PATH_MOST];
    if (scenario->supply_count == 0) {
        need(checker, constant, "missing, expected this item in site.csv or a file supply.csv");
        return;
    }
    refuse(checker, constant, "given here and by supply.csv too, expected one of them");
    refuse(checker, PD_SUPPLY_AREA, "supply.csv tells the levels, expected no area besides");
    refuse(checker, PD_WELL_CASING_DIAMETER,
           "supply.csv tells the levels, expected supply.level besides a casing");
    if (scenario->supply_is_level == main && pd_path_join(path, scenario->folder, "supply.csv")) {
        checker->good =
            pd_faults_add(checker->faults, path, 0, NULL, "got %s, expected %s for a %s",
                          main ? "levels" : "pressures", main ? "pressures" : "levels",
                          main ? "main" : "cistern or well");
    }
}

// a cistern that is never more than empty feeds nothing
static void check_empty(struct checker *checker)
{
    const struct pd_scenario *scenario = checker->scenario;
    double highest = scenario->value[PD_SUPPLY_LEVEL];
    for (size_t i = 0; i < scenario->supply_count && scenario->supply_is_level; i++) {
        highest = fmax(highest, pd_scenario_supply(scenario, i));
    }
    if (scenario->given[PD_SUPPLY_EMPTY_LEVEL] &&
        highest <= scenario->value[PD_SUPPLY_EMPTY_LEVEL]) {
        tell(checker, PD_SUPPLY_EMPTY_LEVEL,
             "empty all day, expected a level below the highest of the supply");
    }
}

// what the offset makes of supply.csv must keep to the limits of the constant that it stands for
static void check_offset(struct checker *checker)
{
    const struct pd_scenario *scenario = checker->scenario;
    const struct pd_item_row *row =
        &pd_items[scenario->supply_is_level ? PD_SUPPLY_LEVEL : PD_SUPPLY_PRESSURE];
    const struct pd_unit *unit = pd_unit_find(row->kind, row->unit);
    char text[PD_TEXT_MOST];
    if (scenario->value[PD_SUPPLY_OFFSET] == 0.0) {
        return;
    }
    if (scenario->supply_count == 0) {
        tell(checker, PD_SUPPLY_OFFSET,
             "no use without supply.csv, expected another supply.pressure or supply.level");
        return;
    }
    for (size_t i = 0; i < scenario->supply_count; i++) {
        double moved = pd_unit_from_si(unit, pd_scenario_supply(scenario, i));
        if (moved < row->least || moved > row->most) {
            (void)snprintf(text, sizeof text,
                           "out of range, it makes %.6g %s of a value of supply.csv, expected %g "
                           "to %g %s",
                           moved, row->unit, row->least, row->most, row->unit);
            tell(checker, PD_SUPPLY_OFFSET, text);
            return;
        }
    }
}

static void check_supply(struct checker *checker, unsigned parts)
{
    const struct pd_scenario *scenario = checker->scenario;
    double value = scenario->value[PD_SUPPLY_KIND];
    if (isnan(value)) {
        return;
    }
    int kind = (int)value;
    check_kind(checker, kind);
    if ((parts & PD_PART_SUPPLY) != 0) {
        check_source(checker, kind);
        check_empty(checker);
        check_offset(checker);
    }
    // a refill of 0 says nothing and may stand anywhere
    if (scenario->value[PD_SUPPLY_REFILL] > 0.0 && !scenario->given[PD_SUPPLY_AREA]) {
        tell(checker, PD_SUPPLY_REFILL, "no use without supply.area, expected both or neither");
    }
}

static void check_files(struct checker *checker, unsigned parts)
{
    const struct pd_scenario *scenario = checker->scenario;
    char path[PD_PATH_MOST];
    if ((parts & PD_PART_PUMP) != 0 && scenario->pump.count < 3 &&
        pd_path_join(path, scenario->folder, "pump.csv")) {
        checker->good =
            pd_faults_add(checker->faults, path, 0, NULL, "too few points, expected at least 3");
    }
    if ((parts & PD_PART_DEMAND) != 0 && scenario->draw_count == 0 &&
        scenario->profile_count == 0 && scenario->use_count == 0 &&
        pd_path_join(path, scenario->folder, "demand.csv")) {
        checker->good = pd_faults_add(checker->faults, path, 0, NULL,
                                      "there is no such file, expected demand.csv, profile.csv or "
                                      "household.csv");
    }
}

bool pd_check_parts(const struct pd_scenario *scenario, unsigned parts, struct pd_faults *faults)
{
    struct checker checker = {.scenario = scenario, .faults = faults, .good = true};
    if (!pd_path_join(checker.site, scenario->folder, "site.csv")) {
        return pd_faults_add(faults, NULL, 0, NULL, "the path of the folder is too long");
    }
    if ((parts & PD_PART_SITE) != 0) {
        check_needed(&checker);
        check_pairs(&checker);
        check_supply(&checker, parts);
    }
    check_files(&checker, parts);
    return checker.good;
}

bool pd_scenario_check(const struct pd_scenario *scenario, struct pd_faults *faults)
{
    unsigned all = PD_PART_SITE | PD_PART_PUMP | PD_PART_DEMAND | PD_PART_SUPPLY;
    return pd_check_parts(scenario, all, faults);
}
