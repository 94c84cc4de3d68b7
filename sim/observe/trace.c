/* The trace of a day: which moments become rows.
 *
 * Lines drawn between the rows are to be the day: a reader who sums them by trapezoids finds its
 * energy and volumes.  So there is a row at each even time and at each event, where values jump one
 * a moment before it too, and as many between as the lines need.  How well a line fits is known:
 * the integrals of what it stands for are states of the integration.
 *
 * Times are told apart by milliseconds, as they are written: no two rows share one. */
#include "observe/trace.h"

#include <math.h>

/* s: the least time between two rows, and how far before a jump its first row stands. */
static const double tick = 1.0e-3, ticks = 1.0e3 /* in a second */;

/* Steps are cut no finer than this to make a line fit, s; the dry tank rings within 0.13 s. */
static const double finest = 4.0e-3;

/* A line may miss the integral under it by this share, or by a drop and a blink of the motor: over
 * a day a quarter of the 0.2 % that is promised. */
static const double missed_share = 1.0e-3, missed_water = 2.0e-7 /* m3 */,
                    missed_work = 0.1 /* J */;

/* How far a moment that is no row may lie from the line through it: of pressure and flow a share of
 * what is there, and what no gauge or chart shows. */
static const double off_share = 5.0e-3, off_pressure = 1.0e3 /* Pa */,
                    off_flow = 5.0e-6 /* m3/s, 0.3 L/min */;

/* What makes a jump, beyond the noise of a crossing. */
static const double jump_pressure = 1.0 /* Pa */, jump_flow = 1.0e-8 /* m3/s */,
                    jump_power = 0.01 /* W */;

/* a pump that runs down never quite stands: under this it is told to */
static const double still = 1e-9;

static struct trace_point point_of(const struct run *run, double time, const double *state)
{
    const struct circuit *circuit = &run->circuit;
    const struct mode *mode = &run->mode;
    double absolute = state[AT_PRESSURE] + run->plant->atmosphere;
    double speed = circuit_speed(circuit, mode, 0, time);
    double motor = mode->branch[0].pump_on
                       ? pd_pump_power(&run->plant->branch[0].pump, state[AT_FLOW], NULL)
                       : 0.0;
    struct pd_trace_row row = {
        .time = time,
        .header_pressure = state[AT_PRESSURE],
        .supply_pressure = circuit_supply(circuit, mode, time, state),
        .suction_pressure = circuit_suction(circuit, mode, 0, time, state),
        .tap_pressure = circuit_tap_pressure(circuit, mode, 0, state),
        .pump_flow = state[AT_FLOW],
        .demand_flow = circuit_house_flow(circuit, mode, 0, state),
        .tank_water =
            mode->tank_wet ? pd_tank_water(&circuit->tank, absolute, state[AT_TEMPERATURE]) : 0.0,
        .speed = speed < still ? 0.0 : speed,
        .power = motor + run->plant->standby_power,
        .pump_on = mode->branch[0].pump_on,
        .valve_open = mode->branch[0].valve_open,
    };

    return (struct trace_point){row, state[AT_SUPPLIED], state[AT_DELIVERED], state[AT_ENERGY]};
}

/* How far a moment may lie from a line: where the door stands open, between two slopes. */
static void open_doors(struct trace *trace)
{
    trace->pressure_door = (struct trace_door){-INFINITY, INFINITY};
    trace->flow_door = (struct trace_door){-INFINITY, INFINITY};
}

static void narrow(struct trace_door *door, double span, double from, double to, double off)
{
    off += off_share * fabs(to);
    door->least = fmax(door->least, (to - off - from) / span);
    door->most = fmin(door->most, (to + off - from) / span);
}

static bool is_through(const struct trace_door *door, double span, double from, double to)
{
    double slope = (to - from) / span;

    return slope >= door->least && slope <= door->most;
}

/* A line from the last row to a point passes near all that lies between. */
static bool passes(const struct trace *trace, const struct pd_trace_row *to)
{
    const struct pd_trace_row *from = &trace->anchor.row;
    double span = to->time - from->time;

    return is_through(&trace->pressure_door, span, from->header_pressure, to->header_pressure) &&
           is_through(&trace->flow_door, span, from->pump_flow, to->pump_flow);
}

/* A point is no row as yet: later lines must pass near it. */
static void reach(struct trace *trace, const struct trace_point *point)
{
    const struct pd_trace_row *from = &trace->anchor.row, *to = &point->row;
    double span = to->time - from->time;

    if (span > 0.0) {
        narrow(&trace->pressure_door, span, from->header_pressure, to->header_pressure,
               off_pressure);
        narrow(&trace->flow_door, span, from->pump_flow, to->pump_flow, off_flow);
    }
    trace->reached = *point;
}

static bool is_near(double line, double integral, double missed)
{
    return fabs(line - integral) <= missed_share * fabs(integral) + missed;
}

/* The trapezoids under a line from the last row to a point are the integrals. */
static bool fits(const struct trace *trace, const struct run *run, const struct trace_point *to)
{
    const struct trace_point *from = &trace->anchor;
    double half = (to->row.time - from->row.time) / 2;
    double standby = run->plant->standby_power;
    double work = half * (from->row.power + to->row.power - 2 * standby);
    // what a shut valve lets back is supplied too, and no flow through the pump
    bool pumps = !to->row.valve_open || is_near(half * (from->row.pump_flow + to->row.pump_flow),
                                                to->supplied - from->supplied, missed_water);

    return pumps && is_near(work, to->work - from->work, missed_work) &&
           is_near(half * (from->row.demand_flow + to->row.demand_flow),
                   to->delivered - from->delivered, missed_water);
}

static bool in_window(const struct run *run, double time)
{
    const struct pd_day_options *options = run->options;
    double to = options->trace_to > 0.0 ? options->trace_to : PD_DAY_SECONDS;

    return time >= options->trace_from && time <= to + INSTANT;
}

/* Gives a row away, if its time has not been taken. */
static enum pd_answer give(struct trace *trace, const struct run *run,
                           const struct pd_trace_row *row)
{
    // by the rounding of the files, which multiply
    if (trace->has_row && llround(row->time * ticks) <= llround(trace->given * ticks)) {
        return PD_GO_ON;
    }
    trace->has_row = true;
    trace->given = row->time;
    return run->options->trace(run->options->trace_context, row);
}

/* Makes a point a row, from which lines go on. */
static enum pd_answer put(struct trace *trace, const struct run *run,
                          const struct trace_point *point)
{
    trace->anchor = *point;
    trace->reached = *point;
    open_doors(trace);
    return give(trace, run, &point->row);
}

/* A point within the step just taken, up to which a line fits or which is as near as may be. */
static enum pd_answer nearest(const struct trace *trace, const struct run *run,
                              struct trace_point *next)
{
    double state[STATE_COUNT];

    do {
        double middle = (trace->reached.row.time + next->row.time) / 2;
        if (!integrator_state_at(run->integrator, middle, state)) {
            return PD_FAILED;
        }
        *next = point_of(run, middle, state);
    } while (!fits(trace, run, next) && next->row.time - trace->reached.row.time > finest);
    return PD_GO_ON;
}

/* Puts rows into the step just taken until a line from the last of them to its end fits. */
static enum pd_answer refine(struct trace *trace, const struct run *run,
                             const struct trace_point *end)
{
    enum pd_answer answer = PD_GO_ON;

    while (answer == PD_GO_ON && !fits(trace, run, end) &&
           end->row.time - trace->reached.row.time > finest) {
        struct trace_point next = *end;
        answer = nearest(trace, run, &next);
        if (answer == PD_GO_ON) {
            answer = put(trace, run, &next);
        }
    }
    return answer;
}

/* A point further on has been reached: what lies between becomes rows where a line to it is not
 * enough. */
static enum pd_answer consider(struct trace *trace, const struct run *run,
                               const struct trace_point *point)
{
    enum pd_answer answer = PD_GO_ON;

    if (!trace->has_row || !in_window(run, point->row.time)) {
        return PD_GO_ON;
    }
    if (!passes(trace, &point->row) || !fits(trace, run, point)) {
        bool moved = trace->reached.row.time > trace->anchor.row.time;
        if (moved) {
            answer = put(trace, run, &trace->reached);
        }
        if (answer == PD_GO_ON) {
            answer = refine(trace, run, point);
        }
    }
    reach(trace, point);
    return answer;
}

/* The even time after the last. */
static void set_next(struct trace *trace, const struct pd_day_options *options)
{
    trace->even++;
    trace->next = options->trace_from + (double)trace->even * options->trace_every;
}

/* A row at the even time that is due, within the step just taken. */
static enum pd_answer put_even(struct trace *trace, const struct run *run)
{
    double state[STATE_COUNT];

    if (!integrator_state_at(run->integrator, trace->next, state)) {
        return PD_FAILED;
    }
    struct trace_point even = point_of(run, trace->next, state);
    enum pd_answer answer = consider(trace, run, &even);
    return answer == PD_GO_ON ? put(trace, run, &even) : answer;
}

static enum pd_answer step(void *context, const struct run *run, double to, const double *state)
{
    struct trace *trace = context;

    for (; trace->next < to - INSTANT; set_next(trace, run->options)) {
        enum pd_answer answer = in_window(run, trace->next) ? put_even(trace, run) : PD_GO_ON;
        if (answer != PD_GO_ON) {
            return answer;
        }
    }
    // outside of what is asked for there is no line
    if (!trace->has_row || !in_window(run, to)) {
        return PD_GO_ON;
    }
    struct trace_point end = point_of(run, to, state);
    return consider(trace, run, &end);
}

static bool differs(double a, double b, double noise)
{
    return fabs(a - b) > noise;
}

static bool is_jump(const struct pd_trace_row *from, const struct pd_trace_row *to)
{
    return from->pump_on != to->pump_on || from->valve_open != to->valve_open ||
           differs(from->demand_flow, to->demand_flow, jump_flow) ||
           differs(from->pump_flow, to->pump_flow, jump_flow) ||
           differs(from->power, to->power, jump_power) ||
           differs(from->supply_pressure, to->supply_pressure, jump_pressure) ||
           differs(from->suction_pressure, to->suction_pressure, jump_pressure) ||
           differs(from->tap_pressure, to->tap_pressure, jump_pressure);
}

/* What held until now, a moment before now. */
static enum pd_answer give_before(struct trace *trace, const struct run *run)
{
    struct pd_trace_row before = trace->reached.row;

    before.time = run->now - tick;
    return in_window(run, before.time) ? give(trace, run, &before) : PD_GO_ON;
}

/* The row of an event that is over; where values jump in it, one before it too. */
static enum pd_answer put_event(struct trace *trace, const struct run *run)
{
    struct trace_point after = point_of(run, run->now, run->state);
    bool followed = trace->has_row && fabs(trace->reached.row.time - run->now) <= INSTANT;
    enum pd_answer answer = PD_GO_ON;

    if (followed && is_jump(&trace->reached.row, &after.row)) {
        answer = give_before(trace, run);
    }
    // of events within a moment the later one waits for the next
    if (trace->has_row && after.row.time < trace->given + tick) {
        after.row.time = trace->given + tick;
    }
    bool fits_in = answer == PD_GO_ON && after.row.time <= PD_DAY_SECONDS;
    return fits_in ? put(trace, run, &after) : answer;
}

static enum pd_answer event(void *context, const struct run *run)
{
    struct trace *trace = context;

    if (fabs(trace->next - run->now) <= INSTANT) {
        set_next(trace, run->options);
    }
    return in_window(run, run->now) ? put_event(trace, run) : PD_GO_ON;
}

struct observer trace_observer(struct trace *trace, const struct pd_day_options *options)
{
    *trace = (struct trace){.next = options->trace_from};
    open_doors(trace);
    return (struct observer){.context = trace, .step = step, .event = event};
}
