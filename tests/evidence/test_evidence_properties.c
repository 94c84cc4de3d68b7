/* What must hold on any day of any installation: a thousand random ones, each by one strategy. */
#include "evidence/evidence.h"
#include "evidence/random_scene.h"
#include "evidence/scene.h"
#include "physics/near.h"

#include "sanitized.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

void suite_evidence_properties(void);

enum { SCENES = SANITIZED ? 50 : 1000, STEADY_SCENES = SANITIZED ? 2 : 20 };

static const struct evidence_source none = {"", 0};
static const struct evidence_source volume = {"conservation of volume", 0};
static const struct evidence_source energy = {"conservation of energy", 0};
static const struct evidence_source surge = {
    "E. B. Wylie and V. L. Streeter, Fluid Transients in Systems, 1993: rigid column into a "
    "compliance",
    EVIDENCE_FROM_MEMORY};

/* One property: its words, and how many of the days do not have it. */
enum property {
    VALID,
    NO_ERROR,
    NO_CHATTER,
    BALANCE,
    NO_NEGATIVES,
    VOLUME_DRAWS,
    STORED,
    POWER_OVER_HYDRAULIC,
    ENERGY_OF_RUNS,
    ENERGY_BETWEEN_ENDS,
    HEADER,
    ALTERNATE,
    REST,
    RUN_ON_KEPT,
    HOURS,
    RUN_TIME,
    WORST_HOUR,
    TAPS,
    GUARDS,
    TRACE,
    AGAIN,
    PROPERTY_COUNT
};

static const struct {
    const char *words;
    const struct evidence_source *source;
} properties[PROPERTY_COUNT] = {
    [VALID] = {"each scenario is valid: limits of the items, checks of the whole", &none},
    [NO_ERROR] = {"never an error", &none},
    [NO_CHATTER] = {"every day reaches midnight", &none},
    [BALANCE] = {"in = taps + leak + stored, within 1e-4 of in and what the tank moved", &volume},
    [NO_NEGATIVES] = {"taps, leak, energy and run time are never negative; no leak, none leaked",
                      &volume},
    [VOLUME_DRAWS] = {"taps by volume alone never give more than asked for", &volume},
    [STORED] = {"no more is stored than tank and pipe hold", &volume},
    [POWER_OVER_HYDRAULIC] = {"motor's power >= hydraulic power, at every event and minute",
                              &energy},
    [ENERGY_OF_RUNS] = {"energy = that of the runs + standby", &energy},
    [ENERGY_BETWEEN_ENDS] = {"energy of a run = its time at between least and most power", &energy},
    [HEADER] = {"header <= highest supply + shutoff + surge margin", &surge},
    [ALTERNATE] = {"start and stop alternate, no run overlaps the next", &none},
    [REST] = {"no rest is shorter than the least rest; it is the gap before the run", &none},
    [RUN_ON_KEPT] = {"a run stopped by low flow lasted its run-on time", &none},
    [HOURS] = {"hours add up to the day: starts, run time, energy, water", &none},
    [RUN_TIME] = {"run time <= 24 h and = that of the runs; none longer than the day", &none},
    [WORST_HOUR] =
        {"starts in the worst hour of a repeating day counted again; starts = runs begun", &none},
    [TAPS] = {"time under the limit <= time open <= 24 h; tap <= header's highest - lift", &none},
    [GUARDS] = {"no trip and no lock-out without their guards; stops only for given causes", &none},
    [TRACE] = {"valve shut: no flow; flow never negative; speed 0 to 1; tank 0 to its volume",
               &none},
    [AGAIN] = {"the same day again is the same to the last bit", &none},
};

static int broken[PROPERTY_COUNT];
static struct pd_day *workspace;

static int begin(void)
{
    struct pd_error error = {.code = PD_DONE};

    evidence_part(EVIDENCE_PROPERTIES);
    workspace = pd_day_create(&error);
    return workspace == NULL;
}

static int end(void)
{
    pd_day_free(workspace);
    return 0;
}

/* A scene, its plant and its day, with what the trace showed. */
struct sight {
    struct random_scene scene;
    struct pd_plant plant;
    struct pd_strategy strategy;
    struct pd_day_result day;
    bool hydraulic_over, trace_wrong;
};

static void hold(enum property property, bool holds, int seed)
{
    if (!holds && broken[property]++ < 3) {
        printf("\n    scene %d: not so: %s ", seed, properties[property].words);
    }
}

/* Every given item within the limits of its row, and the scenario as a whole accepted. */
static bool is_valid(const struct pd_scenario *scenario)
{
    static struct pd_faults faults;
    bool good = true;

    faults.count = 0;
    for (int i = 0; i < PD_ITEM_COUNT; i++) {
        const struct pd_item_row *row = &pd_items[i];
        const struct pd_unit *unit = pd_unit_find(row->kind, row->unit);
        if (scenario->given[i] && unit != NULL) {
            double shown = pd_unit_from_si(unit, scenario->value[i]);
            good = good && shown >= row->least && shown <= row->most;
        }
    }
    good = pd_scenario_check(scenario, &faults) && good;
    if (!good) {
        pd_faults_print(stdout, &faults);
    }
    return good;
}

/* What the trace shows at a minute or an event.  The speed is held to ten times the tolerance of
 * the integration. */
static enum pd_answer look(void *context, const struct pd_trace_row *row)
{
    struct sight *sight = context;
    const struct pd_plant *plant = &sight->plant;
    const double slack = 1e-5, flow_slack = 2e-9;
    double by_flow, by_speed;

    if (row->pump_on) {
        double rise =
            pd_pump_rise(&plant->branch[0].pump, row->pump_flow, row->speed, &by_flow, &by_speed);
        double hydraulic = pd_hydraulic_power(row->pump_flow, rise);
        sight->hydraulic_over = sight->hydraulic_over || hydraulic > row->power;
    }
    bool right = row->pump_flow >= -flow_slack && (row->valve_open || row->pump_flow == 0) &&
                 row->speed > -slack && row->speed < 1 + slack && row->tank_water >= 0 &&
                 row->tank_water < plant->tank.volume;
    sight->trace_wrong = sight->trace_wrong || !right;
    return PD_GO_ON;
}

/* Largest flow that supply and pump can push into a header at no pressure, or at that of taps below
 * the pump: found by halving. */
static double most_flow(const struct pd_plant *plant)
{
    double low = 0, high = 1;
    double back = fmin(plant->zone[0].elevation_pressure, 0);

    for (int i = 0; i < 60; i++) {
        double flow = (low + high) / 2;
        double slope, by_flow, by_speed;
        double left = plant->highest_supply +
                      pd_pump_rise(&plant->branch[0].pump, flow, 1, &by_flow, &by_speed);
        left -= pd_loss_table_at(&plant->branch[0].service, flow, &slope) + back +
                plant->branch[0].valve_coefficient * flow * flow + plant->well_drawdown * flow +
                plant->well_loss * flow * flow;
        *(left > 0 ? &low : &high) = flow;
    }
    return high;
}

/* How far the header may pass the pressure at rest, as a mass of water on a spring: flow times the
 * root of inertance over compliance.  The compliance is the house pipe's, with the tank's at the
 * pressure reached where its precharge lies under the pressure at rest.  A thermal gas that was
 * cold may warm to the wall's temperature after the valve has shut: by no more than the adiabatic
 * cooling from the pressure at rest down to the precharge. */
static double surge_margin(const struct sight *sight)
{
    const struct pd_plant *plant = &sight->plant;
    double rest = plant->highest_supply + plant->branch[0].pump.shutoff + plant->atmosphere;
    double precharge = sight->strategy.precharge + plant->atmosphere;
    double flow = most_flow(plant);
    double inertance = plant->branch[0].inertance / (1 - plant->branch[0].rising_share);
    double margin = flow * sqrt(inertance / plant->pipe_compliance);

    for (int i = 0; i < 10 && precharge < rest; i++) {
        struct pd_tank tank = plant->tank;
        tank.precharge = precharge;
        double reached = rest + margin;
        double exponent = tank.gas == PD_GAS_POLYTROPIC ? tank.exponent
                          : tank.gas == PD_GAS_THERMAL  ? PD_GAMMA
                                                        : 1;
        double gas = tank.volume * pow(precharge / reached, 1 / fmin(exponent, 1));
        double compliance = plant->pipe_compliance + gas / (exponent * reached);
        margin = flow * sqrt(inertance / compliance);
    }
    if (plant->tank.gas == PD_GAS_THERMAL && precharge < rest) {
        margin += (rest + margin) * (pow(rest / precharge, 1 - 1 / PD_GAMMA) - 1);
    }
    return margin;
}

static void check_water(const struct sight *sight, int seed)
{
    const struct pd_day_result *day = &sight->day;
    const struct pd_scenario *scenario = &sight->scene.scenario;
    double moved = fabs(day->supplied) + day->delivered + day->leaked + scene_litre;
    double asked = 0, largest_pressure = fabs(day->highest_header_pressure) + 1e5;
    bool by_volume = scenario->profile_count == 0;

    hold(BALANCE, fabs(day->balance_error) <= 1e-4 * moved, seed);
    bool leaks = scenario->value[PD_HOUSE_LEAK] > 0;
    // a microlitre is what the integration allows itself in a step
    hold(NO_NEGATIVES,
         day->delivered >= -1e-9 && day->leaked >= 0 && day->energy >= 0 && day->run_time >= 0 &&
             (leaks || day->leaked == 0),
         seed);
    for (size_t i = 0; i < scenario->draw_count; i++) {
        by_volume = by_volume && !isnan(scenario->draws[i].volume);
        asked += scenario->draws[i].volume;
    }
    // one draw of the day before may go on after midnight
    hold(VOLUME_DRAWS, !by_volume || day->delivered <= asked * (1 + 1e-6) + 0.12, seed);
    hold(STORED,
         fabs(day->stored) <=
             sight->plant.tank.volume + sight->plant.pipe_compliance * 2 * largest_pressure,
         seed);
}

static void check_energy(const struct sight *sight, int seed)
{
    const struct pd_day_result *day = &sight->day;
    const struct pd_curve *power = &sight->plant.branch[0].pump.power;
    double runs = 0, least = power->y[0], most = power->y[power->count - 1];
    bool between = true;

    for (size_t i = 0; i < day->run_count; i++) {
        const struct pd_run *run = &day->runs[i];
        runs += run->energy;
        between = between && run->energy >= least * run->run_time * (1 - 1e-5) - 1e-2 &&
                  run->energy <= most * run->run_time * (1 + 1e-5) + 1e-2;
    }
    runs += sight->plant.standby_power * day->end_time;
    hold(ENERGY_OF_RUNS, fabs(runs - day->energy) <= 1e-6 * runs + 1e-3, seed);
    hold(ENERGY_BETWEEN_ENDS, between, seed);
    hold(POWER_OVER_HYDRAULIC, !sight->hydraulic_over, seed);
}

/* Starts less than an hour after one of them, on a clock that goes round. */
static int starts_after(const struct pd_day_result *day, size_t first)
{
    int starts = 0;
    size_t i = first;
    double later = 0;

    do {
        starts += day->runs[i].start_cause != PD_CAUSE_CARRIED_OVER;
        i = (i + 1) % day->run_count;
        later = day->runs[i].start - day->runs[first].start;
        later += later < 0 ? PD_DAY_SECONDS : 0;
    } while (i != first && later < scene_hour);
    return starts;
}

static int worst_hour_again(const struct pd_day_result *day)
{
    int most = 0;

    for (size_t i = 0; i < day->run_count; i++) {
        int starts = starts_after(day, i);
        most = starts > most ? starts : most;
    }
    return most;
}

static void check_runs(const struct sight *sight, int seed)
{
    const struct pd_day_result *day = &sight->day;
    double run_time = 0;
    int begun = 0;
    bool alternate = true, rests = true, run_ons = true;

    for (size_t i = 0; i < day->run_count; i++) {
        const struct pd_run *run = &day->runs[i];
        double ended = run->start + run->run_time;
        bool carried = run->start_cause == PD_CAUSE_CARRIED_OVER;
        begun += !carried;
        run_time += run->run_time;
        alternate = alternate && run->run_time >= 0 && ended <= day->end_time + 1e-6 &&
                    (!carried || i == 0);
        if (i > 0) {
            double gap = run->start - day->runs[i - 1].start - day->runs[i - 1].run_time;
            alternate = alternate && gap >= -1e-6;
            rests = rests && fabs(gap - run->rest_before) <= 1e-6;
        }
        rests = rests && !(run->rest_before < sight->strategy.guards.least_rest - 1e-6);
        run_ons = run_ons && (carried || run->stop_cause != PD_CAUSE_LOW_FLOW ||
                              run->run_time >= sight->strategy.run_on - 1e-6);
    }
    hold(ALTERNATE, alternate, seed);
    hold(REST, rests, seed);
    hold(RUN_ON_KEPT, run_ons, seed);
    hold(RUN_TIME, day->run_time <= PD_DAY_SECONDS + 1e-6 && fabs(run_time - day->run_time) <= 1e-6,
         seed);
    hold(WORST_HOUR,
         begun == day->starts && (day->ending != PD_ENDING_MIDNIGHT ||
                                  day->starts_in_worst_hour == worst_hour_again(day)),
         seed);
}

static void check_hours(const struct sight *sight, int seed)
{
    const struct pd_day_result *day = &sight->day;
    struct pd_hour sum = {0};
    bool good = true;

    for (int i = 0; i < PD_HOURS; i++) {
        const struct pd_hour *hour = &day->hours[i];
        sum.starts += hour->starts;
        sum.run_time += hour->run_time;
        sum.energy += hour->energy;
        sum.volume += hour->volume;
        good = good && hour->run_time <= scene_hour + 1e-6 && hour->run_time >= 0 &&
               hour->starts <= day->starts_in_worst_hour;
    }
    hold(HOURS,
         good && sum.starts == day->starts && fabs(sum.run_time - day->run_time) <= 1e-5 &&
             fabs(sum.energy - day->energy) <= 1e-3 + 1e-9 * day->energy &&
             fabs(sum.volume - day->delivered) <= 1e-9,
         seed);
}

static void check_limits(const struct sight *sight, int seed)
{
    const struct pd_day_result *day = &sight->day;
    const struct pd_plant *plant = &sight->plant;
    double still = plant->highest_supply + plant->branch[0].pump.shutoff;
    bool causes = true;

    hold(HEADER, day->highest_header_pressure <= fmax(still, 0) + surge_margin(sight), seed);
    hold(TAPS,
         day->time_below_tap_limit >= 0 &&
             day->time_below_tap_limit <= day->time_draw_open + 1e-6 &&
             day->time_draw_open <= PD_DAY_SECONDS + 1e-6 &&
             !(day->lowest_tap_pressure >
               fmax(day->highest_header_pressure - plant->zone[0].elevation_pressure, 0) + 1e-3),
         seed);
    for (size_t i = 0; i < day->run_count; i++) {
        enum pd_cause stop = day->runs[i].stop_cause;
        bool two_pressure = !isnan(sight->strategy.stop_pressure);
        causes = causes && (stop != PD_CAUSE_LOW_SUCTION || day->suction_trips > 0) &&
                 (stop != PD_CAUSE_DRY || day->locked_out) &&
                 (stop != PD_CAUSE_STOP_PRESSURE || two_pressure) &&
                 (stop != PD_CAUSE_LOW_FLOW || !two_pressure);
    }
    hold(GUARDS,
         causes && (day->suction_trips == 0 || !isinf(sight->strategy.guards.low_suction)) &&
             (!day->locked_out || !isinf(sight->strategy.guards.dry_run_time)),
         seed);
    hold(TRACE, !sight->trace_wrong, seed);
}

/* Runs the day; every twentieth again without a trace. */
static bool run_day(struct sight *sight, int seed)
{
    struct pd_day_options options = pd_day_default();
    struct pd_error error = {.code = PD_DONE};

    options.trace_every = 60;
    options.trace = look;
    options.trace_context = sight;
    bool good =
        pd_day_run(workspace, &sight->plant, &sight->strategy, &options, &sight->day, &error);
    if (!good) {
        pd_error_print(stdout, &error);
        return false;
    }
    hold(NO_CHATTER, sight->day.ending == PD_ENDING_MIDNIGHT, seed);
    if (seed % 20 == 0) {
        struct pd_day_result first = sight->day;
        good =
            pd_day_run(workspace, &sight->plant, &sight->strategy, &options, &sight->day, &error);
        hold(AGAIN,
             good && first.starts == sight->day.starts && first.energy == sight->day.energy &&
                 first.delivered == sight->day.delivered && first.stored == sight->day.stored,
             seed);
    }
    return good;
}

static void check_scene(int seed)
{
    static struct sight sight;
    struct pd_error error = {.code = PD_DONE};

    memset(&sight, 0, sizeof sight);
    random_scene_fill(&sight.scene, (uint64_t)seed);
    hold(VALID, is_valid(&sight.scene.scenario), seed);
    CU_ASSERT_FATAL(pd_plant_build(&sight.scene.scenario, &sight.plant, &error));
    sight.strategy = pd_strategy_for(pd_strategies[(size_t)seed % pd_strategy_count], &sight.plant);
    bool good = run_day(&sight, seed);
    hold(NO_ERROR, good, seed);
    if (good) {
        check_water(&sight, seed);
        check_energy(&sight, seed);
        check_runs(&sight, seed);
        check_hours(&sight, seed);
        check_limits(&sight, seed);
    }
    pd_plant_free(&sight.plant);
}

static void random_installations(void)
{
    for (int seed = 1; seed <= SCENES; seed++) {
        check_scene(seed);
    }
    for (int i = 0; i < PROPERTY_COUNT; i++) {
        evidence_check(properties[i].words, properties[i].source, 0, broken[i],
                       i == AGAIN ? "of 50 days" : "of 1000 days", 0);
    }
}

/* A random installation with one tap open all day, under the stop flow, and nothing else to disturb
 * the controller. */
static void make_steady(struct random_scene *scene, double flow)
{
    struct pd_scenario *scenario = &scene->scenario;
    double *value = scenario->value;

    scenario->draw_count = scenario->supply_count = 0;
    scenario->profile = scene->profile;
    scenario->profile_count = 1;
    scene->profile[0] = (struct pd_sample){0, flow};
    value[PD_SUPPLY_KIND] = PD_SUPPLY_MAIN;
    value[PD_SUPPLY_PRESSURE] = random_between(scene, 0.5, 3) * scene_bar;
    value[PD_DEMAND_REFERENCE_PRESSURE] = 6 * scene_bar;
    value[PD_HOUSE_ELEVATION] = 3;
    value[PD_HOUSE_LEAK] = value[PD_CHECK_VALVE_LEAK_BY] = 0;
    value[PD_GUARD_LOW_SUCTION] = value[PD_GUARD_DRY_RUN_TIME] = (double)NAN;
    value[PD_PRESSURE_START_START] = value[PD_PRESSURE_START_STOP_PRESSURE] = (double)NAN;
    value[PD_TANK_PRECHARGE] = (double)NAN;
    value[PD_TANK_VOLUME] += 20 * scene_litre;
    value[PD_DAY_WARM_UP] = 0;
}

/* Counts how often a longer run-on gives more starts; the day begins at rest for each. */
static int rises_with_run_on(uint64_t seed, int *starts)
{
    static const double run_ons[] = {2, 7, 20, 60, 180};
    static struct random_scene scene;
    struct pd_day_options options = pd_day_default();
    struct pd_error error = {.code = PD_DONE};
    struct pd_plant plant;
    int rises = 0, before = 0;

    random_scene_fill(&scene, seed);
    make_steady(&scene, random_between(&scene, 0.2, 2.4) * scene_litre / scene_minute);
    CU_ASSERT_FATAL(pd_plant_build(&scene.scenario, &plant, &error));
    for (size_t i = 0; i < COUNT(run_ons); i++) {
        struct pd_strategy strategy = pd_strategy_for(pd_strategies[0], &plant);
        struct pd_day_result day;
        strategy.run_on = run_ons[i];
        CU_ASSERT_FATAL(pd_day_run(workspace, &plant, &strategy, &options, &day, &error));
        rises += i > 0 && day.starts > before;
        before = day.starts;
        *starts += day.starts;
    }
    pd_plant_free(&plant);
    return rises;
}

static void longer_run_on_gives_no_more_starts(void)
{
    int rises = 0, starts = 0;

    for (int seed = 1; seed <= STEADY_SCENES; seed++) {
        rises += rises_with_run_on((uint64_t)SCENES + (uint64_t)seed, &starts);
    }
    // the taps did make the pumps cycle
    CU_ASSERT(starts > 50 * STEADY_SCENES);
    evidence_check("steady draw: a longer run-on (2 to 180 s) gives no more starts", &none, 0,
                   rises, "of 80 pairs", 0);
}

void suite_evidence_properties(void)
{
    CU_pSuite suite = CU_add_suite("evidence_properties", begin, end);

    CU_ADD_TEST(suite, random_installations);
    CU_ADD_TEST(suite, longer_run_on_gives_no_more_starts);
}
