/* The trace of a day: which moments become rows.
 *
 * Lines drawn between the rows are to be the day: a reader who sums them by trapezoids finds its
 * energy and volumes.  So there is a row at each even time and at each event, where values jump one
 * a moment before it too, and as many between as the lines need.  How well a line fits is known:
 * the integrals of what it stands for are states of the integration.
 *
 * Times are told apart by milliseconds, as they are written: no two rows share one. */
#include "day/inside.h"

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

static struct trace_point point_of(const struct pd_day *day, double time, const double *state)
{
    const struct circuit *circuit = &day->circuit;
    const struct mode *mode = &day->mode;
    double absolute = state[AT_PRESSURE] + day->plant->atmosphere;
    double speed = circuit_speed(circuit, mode, time);
    double motor = mode->pump_on ? pd_pump_power(&day->plant->pump, state[AT_FLOW], NULL) : 0.0;
    struct pd_trace_row row = {
        .time = time,
        .header_pressure = state[AT_PRESSURE],
        .supply_pressure = circuit_supply(circuit, mode, time, state),
        .suction_pressure = circuit_suction(circuit, mode, time, state),
        .tap_pressure = circuit_tap_pressure(circuit, mode, state),
        .pump_flow = state[AT_FLOW],
        .demand_flow = circuit_house_flow(circuit, mode, state),
        .tank_water =
            mode->tank_wet ? pd_tank_water(&circuit->tank, absolute, state[AT_TEMPERATURE]) : 0.0,
        .speed = speed < still ? 0.0 : speed,
        .power = motor + day->plant->standby_power,
        .pump_on = mode->pump_on,
        .valve_open = mode->valve_open,
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
static bool fits(const struct pd_day *day, const struct trace_point *to)
{
    const struct trace_point *from = &day->trace.anchor;
    double half = (to->row.time - from->row.time) / 2;
    double standby = day->plant->standby_power;
    double work = half * (from->row.power + to->row.power - 2 * standby);
    // what a shut valve lets back is supplied too, and no flow through the pump
    bool pumps = !to->row.valve_open || is_near(half * (from->row.pump_flow + to->row.pump_flow),
                                                to->supplied - from->supplied, missed_water);

    return pumps && is_near(work, to->work - from->work, missed_work) &&
           is_near(half * (from->row.demand_flow + to->row.demand_flow),
                   to->delivered - from->delivered, missed_water);
}

static bool in_window(const struct pd_day *day, double time)
{
    const struct pd_day_options *options = day->options;
    double to = options->trace_to > 0.0 ? options->trace_to : PD_DAY_SECONDS;

    return time >= options->trace_from && time <= to + INSTANT;
}

/* Gives a row away, if its time has not been taken. */
static bool give(struct pd_day *day, const struct pd_trace_row *row)
{
    struct trace *trace = &day->trace;

    // by the rounding of the files, which multiply
    if (trace->has_row && llround(row->time * ticks) <= llround(trace->given * ticks)) {
        return true;
    }
    trace->has_row = true;
    trace->given = row->time;
    return day->options->trace(day->options->trace_context, row);
}

/* Makes a point a row, from which lines go on. */
static bool put(struct pd_day *day, const struct trace_point *point)
{
    day->trace.anchor = *point;
    day->trace.reached = *point;
    open_doors(&day->trace);
    return give(day, &point->row);
}

/* Puts rows into the step just taken until a line from the last of them to its end fits. */
static bool refine(struct pd_day *day, const struct trace_point *end)
{
    struct trace *trace = &day->trace;
    double state[STATE_COUNT];

    while (!fits(day, end) && end->row.time - trace->reached.row.time > finest) {
        struct trace_point next = *end;
        do {
            double middle = (trace->reached.row.time + next.row.time) / 2;
            if (!integrator_state_at(day->integrator, middle, state)) {
                return false;
            }
            next = point_of(day, middle, state);
        } while (!fits(day, &next) && next.row.time - trace->reached.row.time > finest);
        if (!put(day, &next)) {
            return false;
        }
    }
    return true;
}

/* A point further on has been reached: what lies between becomes rows where a line to it is not
 * enough. */
static bool consider(struct pd_day *day, const struct trace_point *point)
{
    struct trace *trace = &day->trace;

    if (!trace->has_row || !in_window(day, point->row.time)) {
        return true;
    }
    if (!passes(trace, &point->row) || !fits(day, point)) {
        bool moved = trace->reached.row.time > trace->anchor.row.time;
        if ((moved && !put(day, &trace->reached)) || !refine(day, point)) {
            return false;
        }
    }
    reach(trace, point);
    return true;
}

/* The even time after the last. */
static void set_next(struct pd_day *day)
{
    struct trace *trace = &day->trace;

    trace->even++;
    trace->next = day->options->trace_from + (double)trace->even * day->options->trace_every;
}

static bool is_wanted(const struct pd_day *day)
{
    return day->ledger.counting && day->options->trace != NULL && day->options->trace_every > 0.0;
}

void trace_begin(struct pd_day *day)
{
    day->trace = (struct trace){.next = day->options->trace_from};
    open_doors(&day->trace);
}

bool trace_step(struct pd_day *day, double to, const double *state)
{
    struct trace *trace = &day->trace;
    double between[STATE_COUNT];

    if (!is_wanted(day)) {
        return true;
    }
    for (; trace->next < to - INSTANT; set_next(day)) {
        if (!in_window(day, trace->next)) {
            continue;
        }
        if (!integrator_state_at(day->integrator, trace->next, between)) {
            return false;
        }
        struct trace_point even = point_of(day, trace->next, between);
        if (!consider(day, &even) || !put(day, &even)) {
            return false;
        }
    }
    struct trace_point end = point_of(day, to, state);
    return consider(day, &end);
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
static bool give_before(struct pd_day *day)
{
    struct pd_trace_row before = day->trace.reached.row;

    before.time = day->now - tick;
    return !in_window(day, before.time) || give(day, &before);
}

bool trace_event(struct pd_day *day)
{
    struct trace *trace = &day->trace;

    if (!is_wanted(day)) {
        return true;
    }
    if (fabs(trace->next - day->now) <= INSTANT) {
        set_next(day);
    }
    if (!in_window(day, day->now)) {
        return true;
    }
    struct trace_point after = point_of(day, day->now, day->state);
    bool followed = trace->has_row && fabs(trace->reached.row.time - day->now) <= INSTANT;
    if (followed && is_jump(&trace->reached.row, &after.row) && !give_before(day)) {
        return false;
    }
    // of events within a moment the later one waits for the next
    if (trace->has_row && after.row.time < trace->given + tick) {
        after.row.time = trace->given + tick;
    }
    return after.row.time > PD_DAY_SECONDS || put(day, &after);
}
