/* What is counted of a day: runs, rests, hours, extremes, the trace. */
#include "day/small_plant.h"

#include "physics/near.h"

#include <CUnit/CUnit.h>

void suite_ledger(void);

static const double hour = 3600;
static const double instant = 1e-6; // s
static struct small_plant small;
static double *value; // of the small scenario's items

static void begin(void)
{
    small_begin(&small);
    value = small.scenario.value;
    value[PD_ENERGY_STANDBY] = 2.5;
}

static void end(void)
{
    small_end(&small);
}

/* Four starts round eleven, two on each side of it: no hour by the clock has more than two. */
static void the_worst_hour_slides(void)
{
    static const double minutes[] = {470, 650, 655, 665, 670, 900};

    for (size_t i = 0; i < COUNT(minutes); i++) {
        small_draw(&small, minutes[i] * 60, 10 * litre_per_minute, 60);
    }
    CU_ASSERT_FATAL(small_run(&small, "flow-start"));
    CU_ASSERT_EQUAL(small.result.starts, 6);
    CU_ASSERT_EQUAL(small.result.hours[10].starts, 2);
    CU_ASSERT_EQUAL(small.result.hours[11].starts, 2);
    CU_ASSERT_EQUAL(small.result.starts_in_worst_hour, 4);
}

/* Starts more than an hour apart do not share one; the rest of them do. */
static void an_hour_later_is_another_hour(void)
{
    small_draw(&small, 8 * hour - 1200, 10 * litre_per_minute, 60);
    small_draw(&small, 8 * hour, 10 * litre_per_minute, 60);
    small_draw(&small, 8 * hour + 1800, 10 * litre_per_minute, 60);
    small_draw(&small, 9 * hour + 1, 10 * litre_per_minute, 60);
    CU_ASSERT_FATAL(small_run(&small, "flow-start"));
    CU_ASSERT_EQUAL(small.result.starts, 4);
    CU_ASSERT_EQUAL(small.result.starts_in_worst_hour, 3);
    small.draws[3].time = 8 * hour + 2300;
    CU_ASSERT_FATAL(small_run(&small, "flow-start"));
    CU_ASSERT_EQUAL(small.result.starts_in_worst_hour, 4);
}

/* Counted for itself, by the clock on the wall: starts less than an hour after each start. */
static int worst_hour_by_hand(const struct pd_day_result *day)
{
    int most = 0;

    for (size_t i = 0; i < day->run_count; i++) {
        int starts = 0;
        for (size_t j = 0; j < day->run_count; j++) {
            double later = day->runs[j].start - day->runs[i].start;
            later += later < 0 ? 24 * hour : 0;
            starts += day->runs[j].start_cause != PD_CAUSE_CARRIED_OVER && later < hour;
        }
        most = starts > most ? starts : most;
    }
    return most;
}

/* A day comes after one like it: two starts before midnight and two after it share an hour, and a
 * run that goes on over midnight has one start, not two. */
static void the_worst_hour_goes_on_over_midnight(void)
{
    static const double minutes[] = {2, 14, 300, 1420, 1435};

    value[PD_DAY_WARM_UP] = 3600;
    for (size_t i = 0; i < COUNT(minutes); i++) {
        small_draw(&small, minutes[i] * 60, 10 * litre_per_minute, 60);
    }
    CU_ASSERT_FATAL(small_run(&small, "flow-start"));
    CU_ASSERT_EQUAL(small.result.starts, 5);
    CU_ASSERT_EQUAL(small.result.starts_in_worst_hour, 4);
    CU_ASSERT_EQUAL(worst_hour_by_hand(&small.result), 4);
    // now open until 00:05, and the run that was to begin at 00:02 is the same one
    small.draws[4].duration = 600;
    CU_ASSERT_FATAL(small_run(&small, "flow-start"));
    CU_ASSERT_EQUAL(small.result.runs[0].start_cause, PD_CAUSE_CARRIED_OVER);
    CU_ASSERT_EQUAL(small.result.starts_in_worst_hour, 3);
    CU_ASSERT_EQUAL(worst_hour_by_hand(&small.result), 3);
}

/* Without a warm-up the day's own evening goes before it. */
static void the_worst_hour_of_a_day_that_begins_from_rest(void)
{
    small_draw(&small, 300, 10 * litre_per_minute, 60);
    small_draw(&small, 10 * hour, 10 * litre_per_minute, 60);
    small_draw(&small, 23.5 * hour, 10 * litre_per_minute, 60);
    small_draw(&small, 23.8 * hour, 10 * litre_per_minute, 60);
    CU_ASSERT_FATAL(small_run(&small, "flow-start"));
    CU_ASSERT_EQUAL(small.result.starts, 4);
    CU_ASSERT_EQUAL(small.result.starts_in_worst_hour, 3);
}

/* Draws round both ends of the day and in between, some closer than the pump's run-on. */
static void the_worst_hour_by_another_count(void)
{
    for (int i = 0; i < SMALL_DRAWS; i++) {
        double minute = fmod(1380 + 7.3 * i * (i % 3 + 1), 1440);
        small_draw(&small, 60 * minute, (4 + i) * litre_per_minute, 20 + 5 * i);
    }
    for (int i = 1; i < SMALL_DRAWS; i++) { // by time
        for (int j = i; j > 0 && small.draws[j].time < small.draws[j - 1].time; j--) {
            struct pd_draw other = small.draws[j];
            small.draws[j] = small.draws[j - 1];
            small.draws[j - 1] = other;
        }
    }
    value[PD_DAY_WARM_UP] = 3600;
    CU_ASSERT_FATAL(small_run(&small, "flow-start"));
    CU_ASSERT(small.result.starts > 6);
    CU_ASSERT_EQUAL(small.result.starts_in_worst_hour, worst_hour_by_hand(&small.result));
}

/* A day with draws, a profile, a leak and a run over each midnight. */
static void busy_day(void)
{
    value[PD_DAY_WARM_UP] = 3600;
    value[PD_HOUSE_LEAK] = 0.05 * litre_per_minute;
    small_profile(&small, 9 * hour, 0.5 * litre_per_minute);
    small_profile(&small, 17 * hour, 0);
    small_draw(&small, 6.99 * hour, 12 * litre_per_minute, 900);
    small_draw_volume(&small, 11.9 * hour, 10 * litre_per_minute, 60 * litre);
    small_draw(&small, 18 * hour, 30 * litre_per_minute, 3.5 * hour);
    small_draw(&small, 23.95 * hour, 15 * litre_per_minute, 600);
}

static void hours_sum_to_the_day(void)
{
    struct pd_hour sum = {.lowest_tap_pressure = (double)INFINITY};

    busy_day();
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    const struct pd_day_result *day = &small.result;
    for (int i = 0; i < PD_HOURS; i++) {
        sum.starts += day->hours[i].starts;
        sum.run_time += day->hours[i].run_time;
        sum.energy += day->hours[i].energy;
        sum.volume += day->hours[i].volume;
        sum.lowest_tap_pressure = fmin(sum.lowest_tap_pressure, day->hours[i].lowest_tap_pressure);
        CU_ASSERT(day->hours[i].run_time <= hour + instant);
        CU_ASSERT(day->hours[i].energy >= 2.5 * hour * (1 - 1e-9));
    }
    CU_ASSERT_EQUAL(sum.starts, day->starts);
    CU_ASSERT(near(sum.run_time, day->run_time, 1e-9));
    CU_ASSERT(near(sum.energy, day->energy, 1e-9));
    CU_ASSERT(near(sum.volume, day->delivered, 1e-9));
    CU_ASSERT_EQUAL(sum.lowest_tap_pressure, day->lowest_tap_pressure);
    // the long draw runs the pump through whole hours
    CU_ASSERT(within(day->hours[19].run_time, hour, instant));
    CU_ASSERT(within(day->hours[20].run_time, hour, instant));
    // nothing is drawn before the carried run is over and seven o'clock comes
    CU_ASSERT(isnan(day->hours[3].lowest_tap_pressure));
    CU_ASSERT_EQUAL(day->hours[3].volume, 0);
}

static void runs_sum_to_the_day(void)
{
    double run_time = 0, energy = 0, volume = 0;

    busy_day();
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    const struct pd_day_result *day = &small.result;
    CU_ASSERT_FATAL(day->run_count > 4);
    double shortest_run = INFINITY, shortest_rest = INFINITY;
    for (size_t i = 0; i < day->run_count; i++) {
        const struct pd_run *run = &day->runs[i];
        run_time += run->run_time;
        energy += run->energy;
        volume += run->volume;
        if (i > 0) {
            const struct pd_run *before = run - 1;
            double rest = run->start - before->start - before->run_time;
            CU_ASSERT(within(run->rest_before, rest, instant));
            shortest_rest = fmin(shortest_rest, rest);
        }
        bool piece = i == 0 || i + 1 == day->run_count;
        shortest_run = piece ? shortest_run : fmin(shortest_run, run->run_time);
    }
    CU_ASSERT_EQUAL(day->runs[0].start_cause, PD_CAUSE_CARRIED_OVER);
    CU_ASSERT_EQUAL(day->runs[day->run_count - 1].stop_cause, PD_CAUSE_END_OF_DAY);
    CU_ASSERT(near(run_time, day->run_time, 1e-9));
    CU_ASSERT(near(energy, day->energy - 2.5 * 86400, 1e-9));
    CU_ASSERT(within(shortest_run, day->shortest_run, instant));
    CU_ASSERT(within(shortest_rest, day->shortest_rest, instant));
    // at rest the pump still lets the main's water through, and none back
    CU_ASSERT(volume <= day->supplied * (1 + 1e-6));
    CU_ASSERT(volume > 0.9 * day->supplied);
}

/* Standing by all day: 2.5 W for 24 h is 60 Wh. */
static void standby_alone(void)
{
    small_rest(&small);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT(near(small.result.energy, 0.06 * 3.6e6, 1e-12));
    CU_ASSERT(near(small.result.hours[5].energy, 2.5 * hour, 1e-12));
    CU_ASSERT_EQUAL(small.result.run_time, 0);
    CU_ASSERT_EQUAL(small.result.run_count, 0);
    CU_ASSERT(isnan(small.result.shortest_run));
    CU_ASSERT(isnan(small.result.shortest_rest));
    CU_ASSERT(isnan(small.result.lowest_tap_pressure));
    CU_ASSERT(isnan(small.result.lowest_suction_pressure));
}

/* Least and greatest of the day against those of a close trace. */
static void extremes_are_those_of_the_trace(void)
{
    double tap = INFINITY, header = -INFINITY, dark = 0;

    value[PD_LIMIT_TAP_PRESSURE] = 2.5 * bar;
    small_draw(&small, 1 * hour, 12 * litre_per_minute, 600);
    small_draw(&small, 1 * hour + 60, 60 * litre_per_minute, 200);
    small.options.trace_every = 0.05;
    small.options.trace_from = 1 * hour;
    small.options.trace_to = 1 * hour + 800;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    for (size_t i = 0; i + 1 < small.row_count; i++) {
        const struct pd_trace_row *row = &small.rows[i];
        bool low = row->demand_flow > 0 && row->tap_pressure < 2.5 * bar;
        tap = row->demand_flow > 0 ? fmin(tap, row->tap_pressure) : tap;
        header = fmax(header, row->header_pressure);
        dark += low ? row[1].time - row->time : 0;
    }
    CU_ASSERT(within(small.result.lowest_tap_pressure, tap, 1e-3 * bar));
    CU_ASSERT(small.result.lowest_tap_pressure <= tap + 1);
    // the highest may be of the tank's filling in the warm-up, which lasts into the day
    CU_ASSERT(within(small.result.highest_header_pressure, header, 1e-2 * bar));
    CU_ASSERT(dark > 100);
    CU_ASSERT(within(small.result.time_below_tap_limit, dark, 0.1));
}

/* Lowest and, while water flows, each pressure at the inlet over a draw that empties the tank: the
 * supply's less the losses of the pipe and the valve and less the pipe's inertance times the flow's
 * change, by differences of the trace. */
static void the_suction_is_that_of_the_momentum_equation(void)
{
    double lowest = INFINITY, slope;
    size_t checked = 0;

    small_draw(&small, 1 * hour, 60 * litre_per_minute, 90);
    // finer, and the row of an event would be moved on to the next millisecond
    small.options.trace_every = 2e-3;
    small.options.trace_from = 1 * hour;
    small.options.trace_to = 1 * hour + 60;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    const struct pd_plant *plant = &small.plant;
    for (size_t i = 1; i + 1 < small.row_count; i++) {
        const struct pd_trace_row *row = &small.rows[i], *last = row - 1, *next = row + 1;
        if (!(last->pump_flow > 0 && row->pump_flow > 0 && next->pump_flow > 0)) {
            continue;
        }
        lowest = fmin(lowest, row->suction_pressure);
        double flow = row->pump_flow;
        double change = (next->pump_flow - last->pump_flow) / (next->time - last->time);
        double losses = pd_loss_table_at(&plant->branch[0].service, flow, &slope) +
                        plant->branch[0].valve_opening +
                        plant->branch[0].valve_coefficient * flow * flow;
        // at an event the change has a corner, and next to one the rows are uneven
        if (fabs(next->time - last->time - 4e-3) < 1e-9) {
            double by_hand = row->supply_pressure - losses - plant->branch[0].inertance * change;
            CU_ASSERT(within(row->suction_pressure, by_hand, 400));
            checked++;
        }
    }
    CU_ASSERT(checked > 12500);
    CU_ASSERT(within(small.result.lowest_suction_pressure, lowest, 300));
    // what the losses alone would leave is a good deal more
    double losses = pd_loss_table_at(&plant->branch[0].service, small.result.highest_flow, &slope);
    CU_ASSERT(lowest < 2 * bar - 2 * losses);
}

/* The inlet of a pump with a long pipe from 6 m down: at the start the water boils there, for less
 * than a second, and never is the pressure under that, 1705.8 Pa absolute at 15 degC (steam tables,
 * value from memory). */
static void the_inlet_boils_at_the_start(void)
{
    double lowest = INFINITY;

    value[PD_SUPPLY_KIND] = PD_SUPPLY_CISTERN;
    value[PD_SUPPLY_PRESSURE] = NAN;
    value[PD_SUPPLY_LEVEL] = -6;
    value[PD_SERVICE_LENGTH] = 30;
    small_draw(&small, 1 * hour, 20 * litre_per_minute, 300);
    small.options.trace_every = 0.01;
    small.options.trace_from = 1 * hour;
    small.options.trace_to = 1 * hour + 600;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    for (size_t i = 0; i < small.row_count; i++) {
        lowest = fmin(lowest, small.rows[i].suction_pressure);
    }
    CU_ASSERT(within(lowest, 1705.8 - 101325, 1));
    CU_ASSERT(within(small.result.lowest_suction_pressure, lowest, 1e-6));
    CU_ASSERT(small.result.longest_short_suction > 0.05);
    CU_ASSERT(small.result.longest_short_suction < 1);
}

/* Where the pump works, against sums over a close trace: 80 L/min asked of a pump whose curve ends
 * at 60, and 12 L/min for longer, at which most of the water goes. */
static void the_use_of_the_pump_is_that_of_the_trace(void)
{
    double pumped = 0, beyond = 0, time_beyond = 0, highest = 0, at_low = 0;

    value[PD_SUPPLY_PRESSURE] = 4 * bar;
    value[PD_HOUSE_LOSS] = 0;
    small_draw(&small, 1 * hour, 12 * litre_per_minute, 3000);
    small_draw(&small, 2 * hour, 80 * litre_per_minute, 120);
    small.options.trace_every = 0.2;
    small.options.trace_from = 1 * hour;
    small.options.trace_to = 2.2 * hour;
    CU_ASSERT_FATAL(small_run(&small, "flow-start") && small.row_count < SMALL_ROWS);
    double end_of_curve = 60 * litre_per_minute;
    for (size_t i = 0; i + 1 < small.row_count; i++) {
        const struct pd_trace_row *row = &small.rows[i], *next = row + 1;
        double span = next->time - row->time;
        double flow = (row->pump_flow + next->pump_flow) / 2;
        if (!row->pump_on) {
            continue;
        }
        pumped += flow * span;
        beyond += flow > end_of_curve ? flow * span : 0;
        time_beyond += flow > end_of_curve ? span : 0;
        at_low += flow < 0.8 * end_of_curve ? flow * span : 0;
        highest = fmax(highest, row->pump_flow);
    }
    const struct pd_day_result *day = &small.result;
    CU_ASSERT(time_beyond > 60);
    CU_ASSERT(near(day->pumped, pumped, 2e-3));
    CU_ASSERT(near(day->pumped_beyond_curve, beyond, 5e-3));
    CU_ASSERT(near(day->time_beyond_curve, time_beyond, 5e-3));
    CU_ASSERT(near(day->highest_flow, highest, 5e-3));
    CU_ASSERT(at_low > pumped / 2);
    CU_ASSERT(day->usual_flow > 0 && day->usual_flow < 0.8 * end_of_curve);
}

/* A pump of 6 m lifts nothing from 9 m down: one spell on without flow, as long as the guard
 * against running dry lets it. */
static void a_dry_spell_lasts_as_long_as_its_guard(void)
{
    value[PD_SUPPLY_KIND] = PD_SUPPLY_CISTERN;
    value[PD_SUPPLY_PRESSURE] = NAN;
    value[PD_SUPPLY_LEVEL] = -9;
    for (size_t i = 0; i < small.scenario.pump.count; i++) {
        small.scenario.pump.head[i] /= 5;
    }
    value[PD_GUARD_DRY_RUN_TIME] = 42;
    value[PD_DAY_WARM_UP] = 0;
    value[PD_PRESSURE_START_START] = 1 * bar;
    small_draw(&small, 1 * hour, 12 * litre_per_minute, 600);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_TRUE(small.result.locked_out);
    CU_ASSERT(within(small.result.longest_dry, 42, 1.0));
}

/* The header swings between the steps that the integrator takes: its lowest is found all the same,
 * within a hundredth of the swing of half a kPa. */
static void a_turn_between_steps_is_found(void)
{
    double lowest = INFINITY;

    small_rest(&small);
    value[PD_HOUSE_LOSS] = 0;
    small_draw(&small, 1 * hour, 3 * litre_per_minute, 12);
    small.options.trace_every = 0.01;
    small.options.trace_from = 1 * hour;
    small.options.trace_to = 1 * hour + 60;
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    for (size_t i = 0; i < small.row_count; i++) {
        const struct pd_trace_row *row = &small.rows[i];
        lowest = row->demand_flow > 0 ? fmin(lowest, row->tap_pressure) : lowest;
    }
    CU_ASSERT(small_row(&small, 1 * hour + 11.9)->tap_pressure > lowest + 100);
    CU_ASSERT(within(small.result.lowest_tap_pressure, lowest, 0.5));
}

/* Available: pressure and atmosphere less vapour pressure, as a head; required: 2 m at every flow.
 */
static void the_npsh_margin_by_hand(void)
{
    struct pd_pump_points *pump = &small.scenario.pump;

    pump->has_npsh = true;
    for (size_t i = 0; i < pump->count; i++) {
        pump->npsh_required[i] = 2;
    }
    small_draw(&small, 1 * hour, 30 * litre_per_minute, 600);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    double absolute = small.result.lowest_suction_pressure + 101325;
    // steam tables, values from memory: 1705.8 Pa at 15 degC, 999.3 kg/m3 at 0.5 MPa
    double margin = (absolute - 1705.8) / (999.3 * 9.80665) - 2;
    CU_ASSERT(near(small.result.lowest_npsh_margin, margin, 1e-4));
    pump->has_npsh = false;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT(isnan(small.result.lowest_npsh_margin));
}

/* Rows at every multiple of the step, each once, and at the events between them. */
static void the_trace_has_its_rows(void)
{
    size_t multiples = 0;

    small_draw(&small, 1 * hour + 7.5, 12 * litre_per_minute, 600);
    small.options.trace_every = 60;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_FATAL(small.row_count > 1441);
    for (size_t i = 0; i < small.row_count; i++) {
        double time = small.rows[i].time;
        bool multiple = fabs(time / 60 - round(time / 60)) < 1e-9;
        multiples += multiple;
        CU_ASSERT(i == 0 || time >= small.rows[i - 1].time);
    }
    CU_ASSERT_EQUAL(multiples, 1441);
    CU_ASSERT_EQUAL(small.rows[0].time, 0);
    CU_ASSERT(within(small.rows[small.row_count - 1].time, 86400, instant));
    CU_ASSERT_EQUAL(small_row(&small, 1 * hour + 7.5)->time, 1 * hour + 7.5);
}

static enum pd_answer refuse(void *context, const struct pd_trace_row *row)
{
    (void)row;
    return --*(int *)context > 0 ? PD_GO_ON : PD_FAILED;
}

/* A day that is told to end early is the beginning of the whole day. */
static void a_day_ends_where_it_is_told(void)
{
    const double end = 7 * hour + 1234;

    small_draw(&small, 6 * hour, 2 * litre_per_minute, 2 * hour);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    size_t before = 0;
    while (before < small.result.run_count && small.result.runs[before].start < end) {
        before++;
    }
    double last = small.result.runs[before - 1].start, six = small.result.hours[6].volume;
    CU_ASSERT(before > 2 && before < small.result.run_count);
    small.options.until = end;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL(small.result.ending, PD_ENDING_TOLD);
    CU_ASSERT_EQUAL(small.result.end_time, end);
    CU_ASSERT_EQUAL(small.result.run_count, before);
    CU_ASSERT_EQUAL(small.result.runs[before - 1].start, last);
    CU_ASSERT(within(small.result.hours[6].volume, six, 1e-12));
    CU_ASSERT(within(small.result.time_draw_open, end - 6 * hour, 1e-6));
    CU_ASSERT_EQUAL(small.result.hours[8].volume, 0);
}

/* Rows of a stretch, and how often the day before it was asked whether to go on. */
struct stretch {
    struct pd_trace_row rows[4000];
    size_t count;
    long asked;
};

static enum pd_answer keep_row(void *context, const struct pd_trace_row *row)
{
    struct stretch *stretch = context;

    CU_ASSERT_FATAL(stretch->count < sizeof stretch->rows / sizeof stretch->rows[0]);
    stretch->rows[stretch->count++] = *row;
    return PD_GO_ON;
}

static bool count_question(void *context)
{
    ((struct stretch *)context)->asked++;
    return true;
}

static bool show(struct stretch *stretch, double from, double to)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_day_options options = small.options;

    *stretch = (struct stretch){.count = 0};
    options.marks = false;
    options.trace = keep_row;
    options.trace_context = stretch;
    options.trace_every = 0.5;
    options.trace_from = from;
    options.trace_to = options.until = to;
    options.go_on = count_question;
    options.go_on_context = stretch;
    return pd_day_show(small.day, &options, &error);
}

/* A stretch of a day that left marks is that of the whole day, to the last digit, for less work:
 * draws by duration, by volume and a profile are open at the marks. */
static void a_stretch_is_shown_again(void)
{
    static struct stretch whole, marked;

    for (int i = 0; i < 7; i++) {
        small_draw_volume(&small, hour * (3 * i + 2) + 100, 3 * litre_per_minute, 0.6);
        small_draw(&small, hour * (3 * i + 2) + 600, 2 * litre_per_minute, 2.9 * hour);
    }
    small_profile(&small, 1 * hour, 1 * litre_per_minute);
    small_profile(&small, 9 * hour, 0);
    // so close that the question is asked often
    small.options.relative_tolerance = 1e-9;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_FATAL(show(&whole, 20 * hour + 300, 20 * hour + 900));
    small.options.marks = true;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_FATAL(show(&marked, 20 * hour + 300, 20 * hour + 900));
    CU_ASSERT_FATAL(whole.count > 1000);
    CU_ASSERT_EQUAL_FATAL(marked.count, whole.count);
    for (size_t i = 0; i < whole.count; i++) {
        CU_ASSERT_EQUAL(marked.rows[i].time, whole.rows[i].time);
        CU_ASSERT_EQUAL(marked.rows[i].header_pressure, whole.rows[i].header_pressure);
        CU_ASSERT_EQUAL(marked.rows[i].pump_flow, whole.rows[i].pump_flow);
        CU_ASSERT_EQUAL(marked.rows[i].demand_flow, whole.rows[i].demand_flow);
        CU_ASSERT_EQUAL(marked.rows[i].pump_on, whole.rows[i].pump_on);
    }
    CU_ASSERT(whole.asked > 10);
    CU_ASSERT(marked.asked < whole.asked / 4);
    // before the first mark the day begins anew
    CU_ASSERT_FATAL(show(&marked, 0, 60));
    CU_ASSERT(marked.count > 100 && marked.rows[0].time == 0);
}

/* Counts the runs it is told of, and has enough of the third. */
static enum pd_answer three_runs_are_enough(void *context, const struct pd_day_result *so_far)
{
    size_t *told = context;

    CU_ASSERT_EQUAL(so_far->run_count, ++*told);
    CU_ASSERT(so_far->runs[*told - 1].run_time > 0);
    CU_ASSERT(so_far->shortest_run <= so_far->runs[*told - 1].run_time);
    return *told < 3 ? PD_GO_ON : PD_ENOUGH;
}

/* A day that is over after a run is the beginning of the whole day, up to that run's stop. */
static void a_day_ends_after_a_run_that_shows_enough(void)
{
    size_t told = 0;

    small_draw(&small, 6 * hour, 2 * litre_per_minute, 2 * hour);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_FATAL(small.result.run_count > 3);
    double stop = small.result.runs[2].start + small.result.runs[2].run_time;
    small.options.after_run = three_runs_are_enough;
    small.options.after_run_context = &told;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL(told, 3);
    CU_ASSERT_EQUAL(small.result.ending, PD_ENDING_TOLD);
    CU_ASSERT_EQUAL(small.result.run_count, 3);
    CU_ASSERT_EQUAL(small.result.starts, 3);
    CU_ASSERT_EQUAL(small.result.end_time, stop);
}

/* A main under the air's pressure lifts no water: the draws by volume wait, but for the one that
 * has only begun; the last but one waits from the day before too. With water none waits. */
static void draws_that_never_fill(void)
{
    static const double hours[] = {5, 22.5, 23.5};

    value[PD_SUPPLY_PRESSURE] = -0.5 * bar;
    value[PD_DAY_WARM_UP] = 2 * hour;
    small_draw(&small, 3 * hour, 10 * litre_per_minute, 60);
    for (size_t i = 0; i < COUNT(hours); i++) {
        small_draw_volume(&small, hours[i] * hour, 10 * litre_per_minute, 6 * litre);
    }
    small_rest(&small);
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT_EQUAL(small.result.draws_unfilled, 2);
    value[PD_SUPPLY_PRESSURE] = 2 * bar;
    CU_ASSERT_FATAL(small_run(&small, "peak-only"));
    CU_ASSERT_EQUAL(small.result.draws_unfilled, 0);
}

/* A trace that cannot be written ends the day with an error at once. */
static void a_refused_row_ends_the_day(void)
{
    struct pd_error error = {.code = PD_DONE};
    int left = 10;

    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    small.options.trace = refuse;
    small.options.trace_context = &left;
    small.options.trace_every = 60;
    CU_ASSERT_FALSE(pd_day_run(small.day, &small.plant, &small.strategy, &small.options,
                               &small.result, &error));
    CU_ASSERT_EQUAL(error.code, PD_OUTPUT_FAILED);
    CU_ASSERT_EQUAL(left, 0);
}

void suite_ledger(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("ledger", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, the_worst_hour_slides);
    CU_ADD_TEST(suite, the_worst_hour_goes_on_over_midnight);
    CU_ADD_TEST(suite, the_worst_hour_of_a_day_that_begins_from_rest);
    CU_ADD_TEST(suite, the_worst_hour_by_another_count);
    CU_ADD_TEST(suite, an_hour_later_is_another_hour);
    CU_ADD_TEST(suite, hours_sum_to_the_day);
    CU_ADD_TEST(suite, runs_sum_to_the_day);
    CU_ADD_TEST(suite, standby_alone);
    CU_ADD_TEST(suite, extremes_are_those_of_the_trace);
    CU_ADD_TEST(suite, the_suction_is_that_of_the_momentum_equation);
    CU_ADD_TEST(suite, the_inlet_boils_at_the_start);
    CU_ADD_TEST(suite, the_use_of_the_pump_is_that_of_the_trace);
    CU_ADD_TEST(suite, a_dry_spell_lasts_as_long_as_its_guard);
    CU_ADD_TEST(suite, a_turn_between_steps_is_found);
    CU_ADD_TEST(suite, the_npsh_margin_by_hand);
    CU_ADD_TEST(suite, the_trace_has_its_rows);
    CU_ADD_TEST(suite, a_day_ends_where_it_is_told);
    CU_ADD_TEST(suite, a_day_ends_after_a_run_that_shows_enough);
    CU_ADD_TEST(suite, a_stretch_is_shown_again);
    CU_ADD_TEST(suite, draws_that_never_fill);
    CU_ADD_TEST(suite, a_refused_row_ends_the_day);
}
