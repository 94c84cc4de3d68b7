/* What a fitter has to know besides readings: whether it may be put into service, the pressures
 * that tank and relief valve must stand, room for water that warms, and the time of a leak test. */
#include "studies/sheet_parts.h"

#include <pumpday/check.h>

#include <math.h>

/* The least leak worth a search is a litre an hour, a fast drip; common practice, no source. */
static const double leak_worth = 1e-3 / 3600; /* m3/s */

/* A leak test takes whole steps of five minutes.  Less than ten is over before one has looked
 * around; more than two hours nobody waits: then a larger leak is the least that shows. */
static const double wait_step = 300, wait_least = 600, wait_most = 7200; /* s */

/* The gas has come within a twentieth of its wall's temperature after three time constants. */
static const double settle_least = 300, settle_constants = 3;

/* Water hardly minds the pressure that it is warmed under. */
static const double heater_pressure = 5e5; /* Pa absolute */

bool sheet_judge(const struct pd_scenario *scenario, const struct pd_day_options *day,
                 struct pd_sheet *sheet, struct pd_error *error)
{
    struct pd_check_options options = pd_check_default();

    options.day = *day;
    options.strategies[0] = sheet->strategy.kind;
    options.strategy_count = 1;
    return pd_check(scenario, &options, &sheet->findings, error);
}

/* A switch that stops by pressure holds its stop pressure, but the supply's where that is more. */
static double standing_pressure(const struct pd_plant *plant, const struct pd_sheet *sheet)
{
    double stop = sheet->strategy.stop_pressure;

    return isnan(stop) ? sheet->highest : fmax(fmin(stop, sheet->highest), plant->highest_supply);
}

/* The tank with its precharge, its gas as warm as its wall. */
static struct pd_tank slow_tank(const struct pd_plant *plant, const struct pd_sheet *sheet)
{
    struct pd_tank tank = plant->tank;

    tank.gas = PD_GAS_ISOTHERMAL;
    tank.precharge = sheet->strategy.precharge + plant->atmosphere;
    return tank;
}

static void survey_pressures(const struct pd_plant *plant, struct pd_sheet *sheet)
{
    const double *value = plant->scenario->value;
    struct pd_tank tank = slow_tank(plant, sheet);

    sheet->rated = value[PD_TANK_RATED_PRESSURE];
    sheet->highest = plant->highest_supply + plant->branch[0].pump.shutoff;
    sheet->standing = standing_pressure(plant, sheet);
    // fmin passes over a rating that is not known
    sheet->ceiling = fmin(sheet->rated, value[PD_LIMIT_STATIC_PRESSURE]);
    sheet->room = fmax(0, pd_tank_drawdown(&tank, sheet->standing + plant->atmosphere,
                                           sheet->ceiling + plant->atmosphere));
    sheet->expansion = pd_water_specific_volume(PD_HEATER_HOT, heater_pressure) /
                           pd_water_specific_volume(PD_HEATER_COLD, heater_pressure) -
                       1;
}

static void survey_supply(const struct pd_plant *plant, struct pd_sheet *sheet)
{
    double lowest = plant->lowest_supply;

    if (plant->level_moves && isfinite(plant->cistern_empty_level)) {
        lowest = fmin(lowest, plant->specific_weight * plant->cistern_empty_level);
    }
    sheet->supply = plant->supply_kind;
    // of a pump down a well there is none
    sheet->lift =
        plant->supply_kind == PD_SUPPLY_MAIN
            ? 0
            : fmax(0, (plant->branch[0].height_pressure - lowest) / plant->specific_weight);
}

/* The lowest gauge at rest that stands over its supply's, and over nothing; the lowest of all where
 * none does. */
static void find_rest(struct pd_leak_test *test, const struct pd_sheet *sheet)
{
    for (size_t i = 0; i < sheet->count; i++) {
        const struct pd_bench *bench = &sheet->bench[i];
        if (isnan(bench->rest)) {
            continue;
        }
        bool lifted = bench->rest > fmax(bench->supply, 0) + test->fall;
        bool better = lifted == test->lifted ? !(bench->rest >= test->from) : lifted;
        test->from = better ? bench->rest : test->from;
        test->lifted = test->lifted || lifted;
    }
}

static double settling(const struct pd_tank *tank)
{
    double gas = tank->gas == PD_GAS_THERMAL ? settle_constants * tank->time_constant : 0;

    return fmin(fmax(ceil(gas / wait_step) * wait_step, settle_least), wait_most);
}

static void survey_leak_test(const struct pd_plant *plant, double gauge_step,
                             struct pd_sheet *sheet)
{
    struct pd_leak_test *test = &sheet->leak_test;
    struct pd_tank tank = slow_tank(plant, sheet);

    *test = (struct pd_leak_test){.from = NAN, .fall = gauge_step, .worth = leak_worth};
    find_rest(test, sheet);
    double from = test->from + plant->atmosphere;
    double given = pd_tank_drawdown(&tank, from - gauge_step, from);
    test->settle = settling(&plant->tank);
    test->whole = ceil(given / leak_worth / wait_step) * wait_step;
    test->seconds = fmin(fmax(test->whole, wait_least), wait_most);
    test->flow = fmax(given / test->seconds, leak_worth);
}

void sheet_survey(const struct pd_plant *plant, double gauge_step, struct pd_sheet *sheet)
{
    survey_pressures(plant, sheet);
    survey_supply(plant, sheet);
    survey_leak_test(plant, gauge_step, sheet);
}
