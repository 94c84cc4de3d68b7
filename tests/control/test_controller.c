/* When the pump starts and stops: run-on, rests, the two-pressure switch, the guards. */
#include "day/small_plant.h"

#include "physics/near.h"

#include <CUnit/CUnit.h>

void suite_controller(void);

static const double hour = 3600;
static const double instant = 1e-6; // s: of timers
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

static double stop_of(const struct pd_run *run)
{
    return run->start + run->run_time;
}

/* The flow falls under the stop flow once and for all; 7 s later the pump stands still. */
static void the_run_on_is_seven_seconds(void)
{
    small_draw(&small, 1 * hour, 15 * litre_per_minute, 120);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 1);
    const struct pd_run *run = &small.result.runs[0];
    CU_ASSERT_EQUAL(run->start_cause, PD_CAUSE_PRESSURE);
    CU_ASSERT_EQUAL(run->stop_cause, PD_CAUSE_LOW_FLOW);
    double stop_flow = small.strategy.stop_flow;
    // the flow is over only after the draw
    const struct pd_trace_row *gone =
        small_first(&small, 1 * hour + 120, row_flow_under, stop_flow * (1 + 1e-6));
    CU_ASSERT(near(gone->pump_flow, stop_flow, 1e-6));
    CU_ASSERT(within(stop_of(run), gone->time + 7, instant));
    // and the pump was on at the last row before
    CU_ASSERT(!small_row(&small, stop_of(run))->pump_on);
    CU_ASSERT(small_row(&small, gone->time)->pump_on);
}

/* The header stands exactly at the start pressure when the pump starts. */
static void it_starts_at_the_start_pressure(void)
{
    small_draw(&small, 1 * hour, 15 * litre_per_minute, 120);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 1);
    double start = small.result.runs[0].start;
    CU_ASSERT(start > 1 * hour);
    CU_ASSERT(
        within(small_row(&small, start)->header_pressure, small.strategy.start_pressure, located));
}

static void it_starts_at_the_start_flow(void)
{
    small_draw(&small, 1 * hour, 8 * litre_per_minute, 120);
    CU_ASSERT_FATAL(small_run(&small, "flow-start"));
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 1);
    double start = small.result.runs[0].start;
    CU_ASSERT_EQUAL(small.result.runs[0].start_cause, PD_CAUSE_FLOW);
    CU_ASSERT(within(small_row(&small, start)->pump_flow, small.strategy.start_flow, 1e-9));
}

/* A draw that never brings the flow over the start flow is the supply's alone. */
static void a_trickle_does_not_start_by_flow(void)
{
    // the flow swings to nearly twice what is drawn before it settles
    small_draw(&small, 1 * hour, 2 * litre_per_minute, 1200);
    CU_ASSERT_FATAL(small_run(&small, "flow-start"));
    CU_ASSERT(small_row(&small, 1 * hour + 600)->pump_flow > 1.5 * litre_per_minute);
    CU_ASSERT_EQUAL(small.result.run_count, 0);
}

/* A start pressure that the pump cannot reach: each run moves no water, so its clock runs from the
 * start; each rest is the least one. */
static void a_start_without_flow_stops_after_the_run_on(void)
{
    value[PD_PRESSURE_START_START] = 6 * bar;
    value[PD_PRESSURE_START_PRECHARGE] = 3 * bar;
    value[PD_GUARD_LEAST_REST] = 60;
    value[PD_DAY_WARM_UP] = 5000; // or the cycle falls out of step at midnight
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_FATAL(small.result.run_count > 1000);
    // the first may be cut by midnight and the last by the day's end
    for (size_t i = 1; i + 1 < small.result.run_count; i++) {
        const struct pd_run *run = &small.result.runs[i];
        CU_ASSERT(within(run->run_time, 7, instant));
        CU_ASSERT(within(run->rest_before, 60, instant));
        CU_ASSERT(within(run->volume, 0, 1e-9));
        CU_ASSERT(near(run->energy, 7 * 200, 1e-6)); // 200 W at no flow
        CU_ASSERT_EQUAL(run->stop_cause, PD_CAUSE_LOW_FLOW);
    }
    CU_ASSERT(within(small.result.starts, 86400 / 67.0, 1));
    CU_ASSERT_EQUAL(small.result.starts_in_worst_hour, 54); // 3600 s / 67 s, rounded up
    CU_ASSERT(within(small.result.shortest_rest, 60, instant));
}

/* Starts at 3 bar, stops at 4 bar, water or no water. */
static void a_two_pressure_switch_keeps_its_band(void)
{
    value[PD_PRESSURE_START_START] = 3 * bar;
    value[PD_PRESSURE_START_STOP_PRESSURE] = 4 * bar;
    small_draw(&small, 1 * hour, 5 * litre_per_minute, 900);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_FATAL(small.result.run_count > 5);
    for (size_t i = 0; i < small.result.run_count; i++) {
        const struct pd_run *run = &small.result.runs[i];
        CU_ASSERT_EQUAL(run->stop_cause, PD_CAUSE_STOP_PRESSURE);
        CU_ASSERT(within(small_row(&small, run->start)->header_pressure, 3 * bar, located));
        CU_ASSERT(within(small_row(&small, stop_of(run))->header_pressure, 4 * bar, located));
    }
}

/* The rest that the switch would like is shorter than the least. */
static void the_least_rest_holds_the_pump_back(void)
{
    value[PD_PRESSURE_START_START] = 3 * bar;
    value[PD_PRESSURE_START_STOP_PRESSURE] = 3.5 * bar;
    value[PD_GUARD_LEAST_REST] = 45;
    small_draw(&small, 1 * hour, 20 * litre_per_minute, 1200);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_FATAL(small.result.run_count > 3);
    for (size_t i = 1; i < small.result.run_count; i++) {
        CU_ASSERT(within(small.result.runs[i].rest_before, 45, instant));
    }
    // the header has fallen well under the start pressure meanwhile
    CU_ASSERT(small_row(&small, small.result.runs[2].start)->header_pressure < 2.9 * bar);
}

static bool suction_under(const struct pd_trace_row *row, double pressure)
{
    return row->valve_open && row->suction_pressure <= pressure + located;
}

/* The main gives way under the pump: 5 s after the suction has, the pump is tripped; it may try
 * again ten minutes after that. */
static void low_suction_trips_and_retries(void)
{
    value[PD_SUPPLY_PRESSURE] = 1 * bar;
    value[PD_GUARD_LOW_SUCTION] = 0.95 * bar;
    value[PD_SERVICE_DIAMETER] = 0.02;
    small_draw(&small, 1 * hour, 40 * litre_per_minute, 1800);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    // the last try fills the tank, after the draw
    CU_ASSERT_EQUAL(small.result.suction_trips, 4);
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 4);
    for (size_t i = 0; i + 1 < small.result.run_count; i++) {
        const struct pd_run *run = &small.result.runs[i];
        CU_ASSERT_EQUAL(run->stop_cause, PD_CAUSE_LOW_SUCTION);
        const struct pd_trace_row *low = small_first(&small, run->start, suction_under, 0.95 * bar);
        CU_ASSERT(within(stop_of(run), low->time + 5, instant));
        // held all the while: the header is far under the start pressure
        CU_ASSERT(within(small.result.runs[i + 1].rest_before, 600, instant));
    }
}

/* Suction that recovers within the delay trips nothing. */
static void a_short_dip_of_the_suction_is_forgiven(void)
{
    value[PD_SUPPLY_PRESSURE] = 1 * bar;
    value[PD_GUARD_LOW_SUCTION] = 0.95 * bar;
    value[PD_SERVICE_DIAMETER] = 0.02;
    value[PD_GUARD_DELAY] = 40;
    small_draw(&small, 1 * hour, 40 * litre_per_minute, 20);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    const struct pd_trace_row *low = small_first(&small, 1 * hour, suction_under, 0.94 * bar);
    CU_ASSERT(low->time < 1 * hour + 20);
    CU_ASSERT_EQUAL(small.result.suction_trips, 0);
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 1);
    CU_ASSERT_EQUAL(small.result.runs[0].stop_cause, PD_CAUSE_LOW_FLOW);
}

/* On, no flow, and the header under the start pressure: locked out after 5 s, until the day ends.
 */
static void running_dry_locks_out(void)
{
    value[PD_PRESSURE_START_START] = 6 * bar;
    value[PD_PRESSURE_START_PRECHARGE] = 3 * bar;
    value[PD_GUARD_DRY_RUN_TIME] = 5;
    value[PD_DAY_WARM_UP] = 0;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT(small.result.locked_out);
    CU_ASSERT_EQUAL(small.result.starts, 1);
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 1);
    const struct pd_run *run = &small.result.runs[0];
    CU_ASSERT_EQUAL(run->start, 0);
    CU_ASSERT_EQUAL(run->stop_cause, PD_CAUSE_DRY);
    // while it fills the tank there is flow enough
    const struct pd_trace_row *dry =
        small_first(&small, 5, row_flow_under, small.strategy.stop_flow * (1 + 1e-6));
    CU_ASSERT(dry->time > 10);
    CU_ASSERT(within(stop_of(run), dry->time + 5, instant));
}

/* Each run ends by its run-on before it is dry for long enough, but the time adds up over runs: 7 s
 * in the first, 5 s in the second make 12. */
static void dry_time_adds_up_over_runs(void)
{
    value[PD_PRESSURE_START_START] = 6 * bar;
    value[PD_PRESSURE_START_PRECHARGE] = 3 * bar;
    value[PD_GUARD_DRY_RUN_TIME] = 12;
    value[PD_GUARD_LEAST_REST] = 30;
    value[PD_DAY_WARM_UP] = 0;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT(small.result.locked_out);
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 2);
    CU_ASSERT_EQUAL(small.result.runs[0].stop_cause, PD_CAUSE_LOW_FLOW);
    CU_ASSERT_EQUAL(small.result.runs[1].stop_cause, PD_CAUSE_DRY);
    CU_ASSERT(within(small.result.runs[1].run_time, 5, instant));
    // a draw in the second run sets the time back, so that the third is the one
    small_draw(&small, small.result.runs[1].start, 20 * litre_per_minute, 10);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 3);
    CU_ASSERT_EQUAL(small.result.runs[1].stop_cause, PD_CAUSE_LOW_FLOW);
    CU_ASSERT_EQUAL(small.result.runs[2].stop_cause, PD_CAUSE_DRY);
    CU_ASSERT(within(small.result.runs[2].run_time, 5, instant));
}

/* A run that goes on over midnight is no start of this day; at the day's end it is cut. */
static void a_run_over_midnight_is_not_a_start(void)
{
    value[PD_DAY_WARM_UP] = 7200;
    small_draw(&small, 23 * hour + 3000, 15 * litre_per_minute, 1200);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL(small.result.starts, 1);
    CU_ASSERT_EQUAL_FATAL(small.result.run_count, 2);
    const struct pd_run *carried = &small.result.runs[0], *cut = &small.result.runs[1];
    CU_ASSERT_EQUAL(carried->start_cause, PD_CAUSE_CARRIED_OVER);
    CU_ASSERT_EQUAL(carried->start, 0);
    CU_ASSERT(carried->run_time > 600);
    CU_ASSERT(isnan(carried->rest_before));
    CU_ASSERT_EQUAL(small.result.hours[0].starts, 0);
    CU_ASSERT_EQUAL(cut->stop_cause, PD_CAUSE_END_OF_DAY);
    CU_ASSERT(cut->start > 23 * hour + 3000);
    CU_ASSERT(within(stop_of(cut), 86400, instant));
    CU_ASSERT(within(cut->rest_before, cut->start - stop_of(carried), instant));
    // both are pieces: no run of the day has a length of its own
    CU_ASSERT(isnan(small.result.shortest_run));
    CU_ASSERT_EQUAL(small.result.hours[23].starts, 1);
}

/* What one strategy's day leaves behind has no part in the next one's. */
static void a_lock_out_ends_with_the_day(void)
{
    value[PD_PRESSURE_START_START] = 6 * bar;
    value[PD_PRESSURE_START_PRECHARGE] = 3 * bar;
    value[PD_GUARD_DRY_RUN_TIME] = 5;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT(small.result.locked_out);
    small_draw(&small, 1 * hour, 8 * litre_per_minute, 120);
    CU_ASSERT_FATAL(small_run(&small, "flow-start"));
    CU_ASSERT_FALSE(small.result.locked_out);
    CU_ASSERT_EQUAL(small.result.starts, 1);
}

void suite_controller(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("controller", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, the_run_on_is_seven_seconds);
    CU_ADD_TEST(suite, it_starts_at_the_start_pressure);
    CU_ADD_TEST(suite, it_starts_at_the_start_flow);
    CU_ADD_TEST(suite, a_trickle_does_not_start_by_flow);
    CU_ADD_TEST(suite, a_start_without_flow_stops_after_the_run_on);
    CU_ADD_TEST(suite, a_two_pressure_switch_keeps_its_band);
    CU_ADD_TEST(suite, the_least_rest_holds_the_pump_back);
    CU_ADD_TEST(suite, low_suction_trips_and_retries);
    CU_ADD_TEST(suite, a_short_dip_of_the_suction_is_forgiven);
    CU_ADD_TEST(suite, running_dry_locks_out);
    CU_ADD_TEST(suite, dry_time_adds_up_over_runs);
    CU_ADD_TEST(suite, a_run_over_midnight_is_not_a_start);
    CU_ADD_TEST(suite, a_lock_out_ends_with_the_day);
}
