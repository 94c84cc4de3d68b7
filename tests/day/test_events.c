/* The check valve, the tank, the cistern, the warm gas; and several events of one instant. */
#include "day/small_plant.h"

#include "physics/near.h"
#include "run/run.h"

#include <CUnit/CUnit.h>

void suite_events(void);

static const double hour = 3600;
static const double instant = 1e-6; // s: of times known beforehand
static const double located = 1;    // Pa: of crossings that the integrator finds
static struct small_plant small;
static double *value; // of the small scenario's items

static void begin(void)
{
    small_begin(&small);
    value = small.scenario.value;
    small.options.trace_every = 10;
}

static void end(void)
{
    small_end(&small);
}

/* A valve that nothing holds shut, the same pressure before and behind it: it opens as the pump
 * begins to turn, be the integrator's step ever so long. */
static void a_valve_at_balance_opens_at_once(void)
{
    value[PD_CHECK_VALVE_OPENING_PRESSURE] = 0;
    value[PD_DAY_WARM_UP] = 0;
    value[PD_PRESSURE_START_STOP_PRESSURE] = 4.9 * bar;
    small.options.trace_every = 0.02;
    small.options.trace_to = 2;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT(small.rows[0].pump_on);
    CU_ASSERT(small_first(&small, 0, row_valve_open, 0)->time < 2e-3);
}

/* The supply alone: the tank gives until its pressure lets the valve open; when the draw is over
 * and the tank full again, the valve shuts with its flow gone. */
static void the_check_valve_opens_and_closes(void)
{
    small_rest(&small);
    small.options.trace_every = 0.02;
    small.options.trace_from = 1 * hour;
    small.options.trace_to = 1 * hour + 600;
    small_draw(&small, 1 * hour, 6 * litre_per_minute, 300);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    const struct pd_trace_row *opens = small_first(&small, 1 * hour, row_valve_open, 0);
    CU_ASSERT(opens->time > 1 * hour);
    CU_ASSERT(within(opens->header_pressure,
                     opens->supply_pressure - small.plant.branch[0].valve_opening, located));
    const struct pd_trace_row *shuts = small_first(&small, 1 * hour + 300, row_valve_shut, 0);
    CU_ASSERT(shuts->time > 1 * hour + 300);
    CU_ASSERT_EQUAL(shuts->pump_flow, 0);
    CU_ASSERT(within((shuts - 1)->pump_flow, 0, 0.1 * litre_per_minute));
    CU_ASSERT(shuts->header_pressure > opens->header_pressure);
    // tight: nothing moves any more
    const struct pd_trace_row *last = small_row(&small, 1 * hour + 600);
    CU_ASSERT(within(last->header_pressure, shuts->header_pressure, 1e-3));
}

/* Seconds that an isothermal tank takes to fall between two gauge pressures through a worn seat of
 * a square-root law, by Simpson's rule. */
static double leak_by_time(double high, double low, double supply)
{
    enum { PANELS = 200 };
    double step = (high - low) / PANELS, sum = 0;
    double charge = value[PD_TANK_VOLUME] * (small.strategy.precharge + small.plant.atmosphere);

    for (int i = 0; i <= PANELS; i++) {
        double p = low + i * step, absolute = p + small.plant.atmosphere;
        double compliance = charge / (absolute * absolute) + small.plant.pipe_compliance;
        double flow = value[PD_CHECK_VALVE_LEAK_BY] * sqrt((p - supply) / 1e5);
        int weight = i == 0 || i == PANELS ? 1 : 2 + 2 * (i % 2);
        sum += weight * compliance / flow;
    }
    return sum * step / 3;
}

/* A worn seat empties the tank into the main and the pump fills it again, all day. */
static void a_worn_seat_cycles_the_pump(void)
{
    value[PD_CHECK_VALVE_LEAK_BY] = 0.5 * litre_per_minute;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_FATAL(small.result.run_count > 10);
    const struct pd_run *last = &small.result.runs[4], *next = last + 1;
    // from where the pump stands quite still
    const struct pd_trace_row *row = small_row(&small, last->start + last->run_time + 15);
    CU_ASSERT_FALSE(row->valve_open);
    double time = leak_by_time(row->header_pressure, small.strategy.start_pressure, 2 * bar);
    CU_ASSERT(time > 60);
    CU_ASSERT(within(next->start - row->time, time, 0.01));
    // what is pumped goes back: nothing is drawn, nothing is supplied
    double pumped = 0;
    for (size_t i = 0; i < small.result.run_count; i++) {
        pumped += small.result.runs[i].volume;
    }
    CU_ASSERT(pumped > 100 * litre);
    CU_ASSERT_EQUAL(small.result.delivered, 0);
    CU_ASSERT(within(small.result.supplied, small.result.stored, 1e-4 * pumped));
}

/* A great draw empties the tank: it is at its precharge then, and again when water comes back. */
static void the_tank_runs_empty_and_fills(void)
{
    small_rest(&small);
    value[PD_PEAK_ONLY_PRECHARGE] = 1.5 * bar;
    value[PD_HOUSE_LOSS] = 0;
    small_draw(&small, 1 * hour, 120 * litre_per_minute, 120);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    const struct pd_trace_row *dry = small_first(&small, 1 * hour, row_tank_dry, 0);
    const struct pd_trace_row *wet = small_first(&small, dry->time + 1, row_tank_wet, 0);
    CU_ASSERT(dry->time < 1 * hour + 120);
    CU_ASSERT(within(dry->header_pressure, 1.5 * bar, 2 * located));
    CU_ASSERT(small_row(&small, 1 * hour + 60)->header_pressure < 1.4 * bar);
    CU_ASSERT_EQUAL(small_row(&small, 1 * hour + 60)->tank_water, 0);
    // the first row with water is a little later than the instant it came
    CU_ASSERT(wet->time >= 1 * hour + 120);
    CU_ASSERT(wet->header_pressure >= 1.5 * bar - located);
    const struct pd_trace_row *last = small_row(&small, 86400);
    double absolute = last->header_pressure + 101325;
    CU_ASSERT(near(last->tank_water, 20 * litre * (1 - (1.5 * bar + 101325) / absolute), 1e-6));
}

static double level_of(const struct pd_trace_row *row)
{
    return row->supply_pressure / small.plant.specific_weight;
}

static void fill_cistern(double full, double empty)
{
    value[PD_SUPPLY_KIND] = PD_SUPPLY_CISTERN;
    value[PD_SUPPLY_PRESSURE] = (double)NAN;
    value[PD_SUPPLY_LEVEL] = full;
    value[PD_SUPPLY_AREA] = 0.2;
    value[PD_SUPPLY_REFILL] = 1 * litre_per_minute;
    value[PD_SUPPLY_EMPTY_LEVEL] = empty;
    small_draw(&small, 1 * hour, 20 * litre_per_minute, 1800);
}

/* Drawn empty at 0.5 m the pump draws air until 50 mm have come in: 10 L at 1 L/min. */
static void a_cistern_runs_empty_and_recovers(void)
{
    fill_cistern(1, 0.5);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    const struct pd_trace_row *empty = small_first(&small, 1 * hour + 60, row_valve_shut, 0);
    const struct pd_trace_row *again = small_first(&small, empty->time, row_valve_open, 0);
    CU_ASSERT(within(level_of(empty), 0.5, 1e-5));
    CU_ASSERT_EQUAL(empty->pump_flow, 0);
    CU_ASSERT(within(again->time - empty->time, 600, 0.05));
    CU_ASSERT(within(level_of(again), 0.55, 1e-5));
    // meanwhile the house has only what was in the tank
    CU_ASSERT(small_row(&small, empty->time + 300)->demand_flow < 1e-3 * litre_per_minute);
    // at the day's end it is full to the last millimetre, which never quite comes
    CU_ASSERT(within(level_of(small_row(&small, 86400)), 1, 1e-4));
}

/* 60 mm between empty and full: half of it is enough, and the float valve throttles meanwhile.
 * 10 mm at the full refill, then from 50 mm to 30 mm below full: A/r (0.01 + 0.05 ln(5/3)). */
static void a_shallow_cistern_recovers_half_way(void)
{
    fill_cistern(0.56, 0.5);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    const struct pd_trace_row *empty = small_first(&small, 1 * hour + 20, row_valve_shut, 0);
    const struct pd_trace_row *again = small_first(&small, empty->time, row_valve_open, 0);
    double area_by_refill = 0.2 / (1 * litre_per_minute);
    double wanted = area_by_refill * (0.01 + 0.05 * log(5.0 / 3.0));
    CU_ASSERT(within(level_of(empty), 0.5, 1e-5));
    CU_ASSERT(within(again->time - empty->time, wanted, 0.05));
}

/* Gas squeezed fast is warm.  With the water shut in it keeps its volume and cools to the wall, so
 * its pressure falls to that of Boyle's law, by e in one time constant. */
static void warm_gas_gives_its_heat_away(void)
{
    value[PD_TANK_GAS] = PD_GAS_THERMAL;
    value[PD_TANK_TIME_CONSTANT] = 60;
    value[PD_PRESSURE_START_START] = 3 * bar;
    value[PD_PRESSURE_START_STOP_PRESSURE] = 4.5 * bar;
    small_draw(&small, 1 * hour, 20 * litre_per_minute, 60);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_FATAL(small.result.run_count >= 1);
    const struct pd_run *run = &small.result.runs[small.result.run_count - 1];
    const struct pd_trace_row *shut =
        small_first(&small, fmax(run->start + run->run_time, 1 * hour + 60), row_valve_shut, 0);
    double from = 10 * ceil(shut->time / 10);
    const struct pd_trace_row *first = small_row(&small, from);
    const struct pd_trace_row *later = small_row(&small, from + 60);
    const struct pd_trace_row *last = small_row(&small, 86400);
    double volume = 20 * litre - last->tank_water;
    double cold = 20 * litre * (small.strategy.precharge + 101325) / volume;
    CU_ASSERT(first->header_pressure > last->header_pressure + 0.1 * bar);
    CU_ASSERT(near(last->header_pressure + 101325, cold, 1e-6));
    double share = (later->header_pressure - last->header_pressure) /
                   (first->header_pressure - last->header_pressure);
    // the elastic pipe gives a little as the pressure falls
    CU_ASSERT(near(share, exp(-1), 5e-3));
}

/* One draw closes and another like it opens: the taps never rest. */
static void a_draw_takes_over_from_another(void)
{
    small_draw(&small, 1 * hour, 10 * litre_per_minute, 100);
    small_draw(&small, 1 * hour + 100, 10 * litre_per_minute, 100);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT(within(small_first(&small, 1 * hour, row_idle, 0)->time, 1 * hour + 200, instant));
    CU_ASSERT(within(small.result.time_draw_open, 200, instant));
    CU_ASSERT_EQUAL(small.result.starts, 1);
}

/* A draw opens as a draw by volume is full, as near as two runs can tell when that is. */
static void a_draw_opens_as_another_is_full(void)
{
    double flow = 10 * litre_per_minute;

    small_rest(&small);
    small_draw_volume(&small, 1 * hour, flow, 15 * litre);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    double full = 1 * hour + small.result.time_draw_open;
    small_draw(&small, full, 2 * flow, 60);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT(within(small.result.time_draw_open, full + 60 - 1 * hour, 1e-4));
    // the next of the even rows: which of the two came first is below the tolerance
    const struct pd_trace_row *row = small_row(&small, 10 * ceil(full / 10));
    double c = 2 * flow / sqrt(3 * bar);
    CU_ASSERT(near(row->demand_flow, c * sqrt(row->tap_pressure), 1e-9));
    // the first got its 15 L; the rest is the second's
    const struct pd_trace_row *middle = small_row(&small, full + 30);
    CU_ASSERT(near(small.result.delivered - 15 * litre, middle->demand_flow * 60, 0.02));
}

/* A draw opens at the run-on's deadline: its flow has not come yet, so the pump stops; then the
 * draw brings it back. */
static void a_draw_opens_at_the_run_on_deadline(void)
{
    small_draw(&small, 1 * hour, 15 * litre_per_minute, 120);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 1);
    double stop = small.result.runs[0].start + small.result.runs[0].run_time;
    small_draw(&small, stop, 15 * litre_per_minute, 120);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 2);
    const struct pd_run *run = &small.result.runs[0];
    CU_ASSERT(within(run->start + run->run_time, stop, instant));
    CU_ASSERT_EQUAL(run->stop_cause, PD_CAUSE_LOW_FLOW);
    const struct pd_trace_row *row = small_row(&small, stop);
    CU_ASSERT_FALSE(row->pump_on);
    CU_ASSERT(row->demand_flow > 0);
    CU_ASSERT(small.result.runs[1].rest_before > 1);
}

/* The supply's corner falls on a draw's opening, and on its end. */
static void the_supply_turns_as_a_draw_opens(void)
{
    small_rest(&small);
    small_supply(&small, 0, 2 * bar);
    small_supply(&small, 1 * hour, 2 * bar);
    small_supply(&small, 1 * hour + 600, 3 * bar);
    small_supply(&small, 3 * hour, 2 * bar);
    small_draw(&small, 1 * hour, 10 * litre_per_minute, 600);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT(within(small_first(&small, 0, row_draws, 0)->time, 1 * hour, instant));
    CU_ASSERT(within(small_first(&small, 1 * hour, row_idle, 0)->time, 1 * hour + 600, instant));
    CU_ASSERT(near(small_row(&small, 1 * hour + 300)->supply_pressure, 2.5 * bar, 1e-9));
    CU_ASSERT(near(small_row(&small, 1 * hour + 600)->supply_pressure, 3 * bar, 1e-9));
    CU_ASSERT(near(small_row(&small, 2 * hour + 300)->supply_pressure, 2.5 * bar, 1e-9));
}

/* Draws open and close at midnight itself, both by duration; none is lost or counted twice. */
static void events_at_midnight(void)
{
    small_rest(&small);
    small_draw(&small, 0, 10 * litre_per_minute, 60);
    small_draw(&small, 86400 - 60, 10 * litre_per_minute, 60);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT(within(small.result.time_draw_open, 120, instant));
    CU_ASSERT(within(small_first(&small, 0, row_idle, 0)->time, 60, instant));
    CU_ASSERT(within(small_first(&small, 60, row_draws, 0)->time, 86400 - 60, instant));
}

/* A tank of next to nothing between two pressures next to each other, and no rest: the day ends
 * early, says so, and holds what it has counted. */
static void a_chattering_system_is_told(void)
{
    value[PD_TANK_VOLUME] = 0.05 * litre;
    value[PD_HOUSE_PIPE_LENGTH] = 0;
    value[PD_PRESSURE_START_START] = 3 * bar;
    value[PD_PRESSURE_START_STOP_PRESSURE] = 3.0002 * bar;
    value[PD_GUARD_LEAST_REST] = 0;
    value[PD_PUMP_RUN_UP_TIME] = 0;
    small.options.trace_every = 0;
    small_draw(&small, 1 * hour, 5 * litre_per_minute, 4 * hour);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    const struct pd_day_result *result = &small.result;
    CU_ASSERT_EQUAL(result->ending, PD_ENDING_CHATTER);
    CU_ASSERT(result->end_time > 1 * hour && result->end_time < 5 * hour);
    CU_ASSERT(result->starts > 300);
    // more than 3000 events in a minute: it did not take many minutes to tell
    CU_ASSERT(result->end_time < 1.1 * hour);
    CU_ASSERT(result->run_count < PD_RUNS_MOST);
    CU_ASSERT((size_t)result->starts <= result->run_count);
    CU_ASSERT(result->run_time > 0 && result->run_time < result->end_time);
    CU_ASSERT(within(result->time_draw_open, result->end_time - 1 * hour, instant));
    CU_ASSERT(fabs(result->balance_error) < 1e-4 * result->delivered + 1e-7);
}

/* A day that would need more steps than it may take is broken off, and told so. */
static void too_many_steps_are_told(void)
{
    small_draw(&small, 1 * hour, 6 * litre_per_minute, 300);
    small_draw(&small, 20 * hour, 6 * litre_per_minute, 300);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL(small.result.ending, PD_ENDING_MIDNIGHT);
    long whole = small.result.effort.steps;
    small.options.most_steps = whole / 2;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL(small.result.ending, PD_ENDING_CHATTER);
    CU_ASSERT(small.result.effort.steps >= whole / 3 && small.result.effort.steps < whole);
    CU_ASSERT(small.result.end_time > 0 && small.result.end_time < 86400);
}

/* A run of a second and a rest of a second, for nothing: slow enough to be no chatter by the
 * minute, but no list of runs is long enough for a day of it. */
static void a_full_list_of_runs_is_told(void)
{
    value[PD_PRESSURE_START_START] = 6 * bar;
    value[PD_PRESSURE_START_PRECHARGE] = 3 * bar;
    value[PD_PRESSURE_START_RUN_ON] = 1;
    small.options.trace_every = 0;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL(small.result.ending, PD_ENDING_CHATTER);
    CU_ASSERT_EQUAL(small.result.run_count, PD_RUNS_MOST);
    CU_ASSERT(within(small.result.end_time, 2.0 * PD_RUNS_MOST, 4));
    CU_ASSERT(within(small.result.run_time, 1.0 * PD_RUNS_MOST, 4));
    CU_ASSERT(within(small.result.starts_in_worst_hour, 1800, 1));
    CU_ASSERT(within(small.result.last_rate, 1800, 1));
}

/* Broken off before its midnight, a day has nothing to tell but the rate of its warm-up. */
static void chatter_of_a_warm_up_is_told(void)
{
    value[PD_DAY_WARM_UP] = 7200;
    value[PD_PRESSURE_START_START] = 6 * bar;
    value[PD_PRESSURE_START_PRECHARGE] = 3 * bar;
    value[PD_PRESSURE_START_RUN_ON] = 1;
    small.options.trace_every = 0;
    small.options.most_steps = 2000;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL(small.result.ending, PD_ENDING_CHATTER);
    CU_ASSERT_EQUAL(small.result.end_time, 0);
    CU_ASSERT_EQUAL(small.result.starts, 0);
    CU_ASSERT(within(small.result.last_rate, 1800, 2));
}

/* The little tank with the least rest of a second is a poor system, but a whole day of it is
 * simulated. */
static void a_second_of_rest_is_no_chatter(void)
{
    value[PD_TANK_VOLUME] = 0.05 * litre;
    value[PD_PRESSURE_START_START] = 3 * bar;
    value[PD_PRESSURE_START_STOP_PRESSURE] = 3.01 * bar;
    small.options.trace_every = 0;
    small_draw(&small, 1 * hour, 5 * litre_per_minute, 900);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL(small.result.ending, PD_ENDING_MIDNIGHT);
    CU_ASSERT_EQUAL(small.result.end_time, 86400);
    CU_ASSERT(small.result.starts > 300 && small.result.starts <= 900);
}

/* The flow ends at the very instant at which the cistern is empty: the valve is shut once. */
static void an_empty_cistern_keeps_its_valve_shut(void)
{
    static struct run run;

    run.mode.branch[0].valve_open = true;
    surfaces_cross(&run, SURFACE_CISTERN);
    surfaces_cross(&run, SURFACE_VALVE);
    CU_ASSERT(run.mode.supply_dry);
    CU_ASSERT_FALSE(run.mode.branch[0].valve_open);
}

void suite_events(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("events", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, a_valve_at_balance_opens_at_once);
    CU_ADD_TEST(suite, the_check_valve_opens_and_closes);
    CU_ADD_TEST(suite, a_worn_seat_cycles_the_pump);
    CU_ADD_TEST(suite, the_tank_runs_empty_and_fills);
    CU_ADD_TEST(suite, a_cistern_runs_empty_and_recovers);
    CU_ADD_TEST(suite, a_shallow_cistern_recovers_half_way);
    CU_ADD_TEST(suite, an_empty_cistern_keeps_its_valve_shut);
    CU_ADD_TEST(suite, warm_gas_gives_its_heat_away);
    CU_ADD_TEST(suite, a_draw_takes_over_from_another);
    CU_ADD_TEST(suite, a_draw_opens_as_another_is_full);
    CU_ADD_TEST(suite, a_draw_opens_at_the_run_on_deadline);
    CU_ADD_TEST(suite, the_supply_turns_as_a_draw_opens);
    CU_ADD_TEST(suite, events_at_midnight);
    CU_ADD_TEST(suite, a_chattering_system_is_told);
    CU_ADD_TEST(suite, too_many_steps_are_told);
    CU_ADD_TEST(suite, a_full_list_of_runs_is_told);
    CU_ADD_TEST(suite, chatter_of_a_warm_up_is_told);
    CU_ADD_TEST(suite, a_second_of_rest_is_no_chatter);
}
