/* Draws, the profile and the supply's line through a day: when taps open and close, what flows. */
#include "day/small_plant.h"

#include "physics/near.h"
#include "run/draws.h"

#include <CUnit/CUnit.h>
#include <string.h>

void suite_draws(void);

static const double hour = 3600;
static const double instant = 1e-6; // s: times that are known beforehand
static struct small_plant small;

static void begin(void)
{
    small_begin(&small);
    small_rest(&small);
    small.options.trace_every = 10;
}

static void end(void)
{
    small_end(&small);
}

static void a_draw_by_duration_closes_to_the_second(void)
{
    small_draw(&small, 1 * hour, 10 * litre_per_minute, 97.5);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    const struct pd_trace_row *opens = small_first(&small, 0, row_draws, 0);
    const struct pd_trace_row *closes = small_first(&small, opens->time, row_idle, 0);
    CU_ASSERT(within(opens->time, 3600, instant));
    CU_ASSERT(within(closes->time, 3697.5, instant));
    CU_ASSERT(within(small.result.time_draw_open, 97.5, instant));
    // never again
    CU_ASSERT(within(small_first(&small, closes->time, row_draws, 0)->time, 86400, instant));
}

/* The flow is c sqrt(p) of the tap's own pressure, which the house pipe takes from: by hand from
 * the header's. */
static void taps_follow_the_square_root_law(void)
{
    const double *value = small.scenario.value;
    double flow = 12 * litre_per_minute;

    small_draw(&small, 1 * hour, flow, 600);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    const struct pd_trace_row *row = small_row(&small, 1 * hour + 300);
    double c = flow / sqrt(value[PD_DEMAND_REFERENCE_PRESSURE]);
    double loss = value[PD_HOUSE_LOSS] * pow(row->demand_flow / value[PD_HOUSE_LOSS_FLOW], 2);
    CU_ASSERT(row->tap_pressure > 1 * bar);
    CU_ASSERT(near(row->tap_pressure, row->header_pressure - loss, 1e-9));
    CU_ASSERT(near(row->demand_flow, c * sqrt(row->tap_pressure), 1e-9));
    // long settled: what leaves the taps comes through the branch
    CU_ASSERT(near(row->pump_flow, row->demand_flow, 1e-5));
}

/* The same water from a main of 3 bar and of a quarter of it: twice the time, but for the losses.
 */
static void a_draw_by_volume_takes_longer_at_low_pressure(void)
{
    double open[2];

    small.scenario.value[PD_CHECK_VALVE_OPENING_PRESSURE] = 0;
    small.scenario.value[PD_HOUSE_LOSS] = 0;
    small_draw_volume(&small, 1 * hour, 2 * litre_per_minute, 100 * litre);
    for (int i = 0; i < 2; i++) {
        small.scenario.value[PD_SUPPLY_PRESSURE] = (i == 0 ? 3 : 0.75) * bar;
        CU_ASSERT_FATAL(small_run(&small, "peak-only"));
        CU_ASSERT(near(small.result.delivered, 100 * litre, 1e-5));
        open[i] = small.result.time_draw_open;
    }
    // 2 L/min at the reference pressure of 3 bar
    CU_ASSERT(near(open[0], 3000, 5e-3));
    CU_ASSERT(near(open[1], 6000, 5e-3));
}

/* Each gets its own volume, whatever else is open beside it. */
static void draws_by_volume_side_by_side(void)
{
    double flow = 6 * litre_per_minute;

    small_draw_volume(&small, 1 * hour, flow, 20 * litre);
    small_draw_volume(&small, 1 * hour, flow, 20 * litre);
    small_draw_volume(&small, 1 * hour + 30, flow, 7 * litre);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT(near(small.result.delivered, 47 * litre, 1e-5));
    // the third is over first; the twins end at one instant, and then nothing is open
    const struct pd_trace_row *over = small_first(&small, 1 * hour, row_idle, 0);
    CU_ASSERT(within(over->time, 1 * hour + small.result.time_draw_open, instant));
    CU_ASSERT(within(small_first(&small, over->time, row_draws, 0)->time, 86400, instant));
}

static void the_profile_steps(void)
{
    double flow = 3 * litre_per_minute;

    small_profile(&small, 1 * hour, flow);
    small_profile(&small, 3 * hour, 2 * flow);
    small_profile(&small, 6 * hour, 0);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT(within(small.result.time_draw_open, 5 * hour, instant));
    CU_ASSERT_EQUAL(small_row(&small, 0.99 * hour)->demand_flow, 0);
    const struct pd_trace_row *single = small_row(&small, 2 * hour);
    const struct pd_trace_row *twofold = small_row(&small, 5 * hour);
    double c = flow / sqrt(3 * bar);
    CU_ASSERT(near(single->demand_flow, c * sqrt(single->tap_pressure), 1e-9));
    CU_ASSERT(near(twofold->demand_flow, 2 * c * sqrt(twofold->tap_pressure), 1e-9));
}

/* The last value of the day before holds until the first of this. */
static void the_profile_goes_on_over_midnight(void)
{
    small_profile(&small, 6 * hour, 0);
    small_profile(&small, 18 * hour, 3 * litre_per_minute);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT(within(small.result.time_draw_open, 12 * hour, instant));
    CU_ASSERT(small_row(&small, 0)->demand_flow > 0);
    CU_ASSERT(small_row(&small, 23 * hour)->demand_flow > 0);
    CU_ASSERT_EQUAL(small_row(&small, 12 * hour)->demand_flow, 0);
}

static void the_supply_is_linear_between_its_points(void)
{
    small_supply(&small, 2 * hour, 2 * bar);
    small_supply(&small, 4 * hour, 3 * bar);
    small_supply(&small, 20 * hour, 2.5 * bar);
    small_draw(&small, 3 * hour, 10 * litre_per_minute, 2 * hour);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    static const double times[] = {0, 1, 2, 3, 4, 12, 20, 23, 24};
    // six hours from 2.5 at 20:00 to 2.0 at 02:00
    static const double wanted[] = {2.5 - 1 / 3.0, 2.5 - 2.5 / 6, 2,    2.5,          3,
                                    2.75,          2.5,           2.25, 2.5 - 1 / 3.0};
    for (size_t i = 0; i < COUNT(times); i++) {
        double got = small_row(&small, times[i] * hour)->supply_pressure;
        CU_ASSERT(near(got, wanted[i] * bar, 1e-9));
    }
}

/* Without draws the header rises with the supply, by the valve's opening pressure under it, and
 * keeps the highest it was given. */
static void the_header_keeps_the_supply_s_peak(void)
{
    small_supply(&small, 0, 2 * bar);
    small_supply(&small, 6 * hour, 3 * bar);
    small_supply(&small, 12 * hour, 1.5 * bar);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    double opening = small.plant.branch[0].valve_opening;
    CU_ASSERT(
        within(small_row(&small, 5 * hour)->header_pressure, (2 + 5 / 6.0) * bar - opening, 50));
    CU_ASSERT(within(small_row(&small, 12 * hour)->header_pressure, 3 * bar - opening, 50));
    CU_ASSERT(!small_row(&small, 12 * hour)->valve_open);
}

/* What is open at midnight goes on; what is open at the day's end is cut there. */
static void a_draw_over_midnight(void)
{
    small_draw(&small, 23 * hour + 3300, 10 * litre_per_minute, 600);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT(within(small.result.time_draw_open, 600, instant));
    CU_ASSERT(within(small_first(&small, 0, row_idle, 0)->time, 300, instant));
    CU_ASSERT(within(small_first(&small, 300, row_draws, 0)->time, 86100, instant));
    // one that begins with the warm-up exists, one from before it does not
    small.scenario.value[PD_DAY_WARM_UP] = 300;
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT(within(small.result.time_draw_open, 600, instant));
    small.scenario.value[PD_DAY_WARM_UP] = 200;
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT(within(small.result.time_draw_open, 300, instant));
}

/* The list of open draws by itself: each by volume ends at its own sigma, all of one instant
 * together; closing by duration leaves those by volume alone. */
static void the_list_closes_what_is_full(void)
{
    static struct open_draws draws;
    double c = 6 * litre_per_minute / sqrt(3 * bar);

    small_draw_volume(&small, 0, 6 * litre_per_minute, 1 * litre);
    small_draw_volume(&small, 0, 6 * litre_per_minute, 2 * litre);
    small_draw_volume(&small, 0, 12 * litre_per_minute, 2 * litre);
    small_draw(&small, 0, 3 * litre_per_minute, 5);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    draws_clear(&draws);
    CU_ASSERT_EQUAL(draws_coefficient(&draws), 0);
    CU_ASSERT(isinf(draws.next_sigma));
    for (size_t i = 0; i < 4; i++) {
        CU_ASSERT(draws_open(&draws, &small.plant, i, 100));
    }
    CU_ASSERT(near(draws_coefficient(&draws), 4.5 * c, 1e-12));
    CU_ASSERT(near(draws.next_sigma, 100 + 1 * litre / c, 1e-12));
    draws_close(&draws, 1);
    CU_ASSERT(near(draws_coefficient(&draws), 4.5 * c, 1e-12));
    draws_close_full(&draws, draws.next_sigma - 0.01);
    CU_ASSERT_EQUAL(draws.count, 4);
    // the first and the third are full together
    draws_close_full(&draws, draws.next_sigma);
    CU_ASSERT(near(draws_coefficient(&draws), 1.5 * c, 1e-12));
    CU_ASSERT(near(draws.next_sigma, 100 + 2 * litre / c, 1e-12));
    draws_close(&draws, 3);
    draws_set_profile(&draws, &small.plant, 12 * litre_per_minute);
    CU_ASSERT(near(draws_coefficient(&draws), 3 * c, 1e-12));
    draws_close_full(&draws, draws.next_sigma);
    CU_ASSERT(near(draws_coefficient(&draws), 2 * c, 1e-12));
    CU_ASSERT(isinf(draws.next_sigma));
}

/* More taps than anyone has are refused, with the time. */
static void too_many_open_draws_are_told(void)
{
    enum { MANY = 5000 };
    static struct pd_draw many[MANY];
    struct pd_plant plant;
    struct pd_error error = {.code = PD_DONE};

    for (size_t i = 0; i < MANY; i++) {
        many[i] = (struct pd_draw){1 * hour, 0.001 * litre_per_minute, 60, NAN, "tap"};
    }
    small.scenario.draws = many;
    small.scenario.draw_count = MANY;
    CU_ASSERT_FATAL(pd_plant_build(&small.scenario, &plant, &error));
    struct pd_strategy strategy = pd_strategy_for(pd_strategy_find("peak-only"), &plant);
    struct pd_day_options options = pd_day_default();
    CU_ASSERT_FALSE(pd_day_run(small.day, &plant, &strategy, &options, &small.result, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_INPUT);
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "3600 s"));
    pd_plant_free(&plant);
}

void suite_draws(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("draws", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, a_draw_by_duration_closes_to_the_second);
    CU_ADD_TEST(suite, taps_follow_the_square_root_law);
    CU_ADD_TEST(suite, a_draw_by_volume_takes_longer_at_low_pressure);
    CU_ADD_TEST(suite, draws_by_volume_side_by_side);
    CU_ADD_TEST(suite, the_profile_steps);
    CU_ADD_TEST(suite, the_profile_goes_on_over_midnight);
    CU_ADD_TEST(suite, the_supply_is_linear_between_its_points);
    CU_ADD_TEST(suite, the_header_keeps_the_supply_s_peak);
    CU_ADD_TEST(suite, a_draw_over_midnight);
    CU_ADD_TEST(suite, the_list_closes_what_is_full);
    CU_ADD_TEST(suite, too_many_open_draws_are_told);
}
