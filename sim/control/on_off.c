/* The controller that starts a pump when the strategy's start margin is used up, stops it when the
 * stop margin has been for the whole of its run-on time, and guards it: against low suction,
 * against running dry, and against starts too close to the last stop. */
#include "control/instant.h"
#include "control/settings.h"

#include <math.h>

/* Its surfaces, in the order in which crossings of one instant are taken. */
enum { AT_SUCTION, AT_DRY, AT_SWITCH, SURFACES };

/* A condition with the time since when it holds. */
struct clock {
    bool runs;
    double since; /* s */
};

struct memory {
    bool on;
    bool locked_out;      /* the guard against running dry has spoken */
    double stopped;       /* s, last stop; -INFINITY before the first */
    double held_until;    /* s, retry time of the low-suction guard */
    struct clock low;     /* stop margin negative while on */
    struct clock suction; /* suction under its guard while on */
    struct clock dry;     /* no flow and no pressure while on */
    double dry_before;    /* s run dry in runs before this one, without a break */
};

_Static_assert(sizeof(struct memory) <= PD_CONTROL_MEMORY_MOST, "a controller's memory holds it");
_Static_assert((int)SURFACES <= (int)PD_CONTROL_SURFACES_MOST, "a controller may use so many");

static const double far_away = 1.0;

static void clear(void *memory)
{
    *(struct memory *)memory = (struct memory){.stopped = -INFINITY, .held_until = -INFINITY};
}

static double oriented(bool below, double margin)
{
    return below ? -margin : margin;
}

static bool reads_suction(const struct pd_strategy *strategy, const void *memory)
{
    return ((const struct memory *)memory)->on && !isinf(strategy->guards.low_suction);
}

/* Dry while both the flow is under the stop flow and the header under the dry pressure. */
static double dry_distance(const struct pd_strategy *strategy, const struct memory *memory,
                           const struct pd_readings *readings)
{
    if (isinf(strategy->guards.dry_run_time)) {
        return far_away;
    }
    double flow = (readings->pump_flow - strategy->stop_flow) / FLOW_SCALE;
    double pressure = (readings->header_pressure - strategy->dry_pressure) / PRESSURE_SCALE;
    return oriented(memory->dry.runs, fmax(flow, pressure));
}

/* Rested, not held, not locked out. */
static bool may_start(const struct memory *memory, const struct pd_guards *guards, double now)
{
    return !memory->locked_out && now >= memory->stopped + guards->least_rest - INSTANT &&
           now >= memory->held_until - INSTANT;
}

static void distances(const struct pd_strategy *strategy, const void *kept,
                      const struct pd_readings *readings, double *distance)
{
    const struct memory *memory = kept;
    const struct pd_guards *guards = &strategy->guards;

    distance[AT_SUCTION] = distance[AT_DRY] = distance[AT_SWITCH] = far_away;
    if (!memory->on) {
        if (may_start(memory, guards, readings->time)) {
            distance[AT_SWITCH] = strategy->kind->start_margin(strategy, readings);
        }
        return;
    }
    if (!isinf(guards->low_suction)) {
        distance[AT_SUCTION] =
            oriented(memory->suction.runs,
                     (readings->suction_pressure - guards->low_suction) / PRESSURE_SCALE);
    }
    distance[AT_DRY] = dry_distance(strategy, memory, readings);
    distance[AT_SWITCH] =
        oriented(memory->low.runs, strategy->kind->stop_margin(strategy, readings));
}

static void turn(struct clock *clock, double now)
{
    clock->runs = !clock->runs;
    clock->since = now;
}

/* Time run dry adds up over runs: the run-on would stop the pump before any longer guard. */
static void turn_dry(struct memory *memory, double now)
{
    turn(&memory->dry, now);
    if (memory->dry.runs) {
        memory->dry.since -= memory->dry_before;
    } else {
        memory->dry_before = 0.0;
    }
}

static void start(const struct pd_strategy *strategy, struct memory *memory,
                  const struct pd_readings *readings, struct pd_command *command)
{
    memory->on = true;
    // the clock of the run-on runs from the start too
    memory->low.runs = strategy->kind->stop_margin(strategy, readings) < 0.0;
    memory->low.since = readings->time;
    memory->suction.runs = false;
    memory->dry.runs = false;
    *command = (struct pd_command){true, strategy->kind->start_cause};
}

static void stop(struct memory *memory, double now, enum pd_cause cause, struct pd_command *command)
{
    memory->dry_before = memory->dry.runs ? now - memory->dry.since : 0.0;
    memory->on = false;
    memory->stopped = now;
    memory->low.runs = false;
    memory->suction.runs = false;
    memory->dry.runs = false;
    *command = (struct pd_command){false, cause};
}

static void crossed(const struct pd_strategy *strategy, void *kept, size_t surface,
                    const struct pd_readings *readings, struct pd_command *command)
{
    struct memory *memory = kept;

    switch (surface) {
    case AT_SUCTION:
        turn(&memory->suction, readings->time);
        break;
    case AT_DRY:
        turn_dry(memory, readings->time);
        break;
    default:
        if (memory->on) {
            turn(&memory->low, readings->time);
        } else {
            start(strategy, memory, readings, command);
        }
    }
}

static void earlier(double *next, double time, double now)
{
    if (time > now + INSTANT && time < *next) {
        *next = time;
    }
}

static double next_time(const struct pd_strategy *strategy, const void *kept, double now)
{
    const struct memory *memory = kept;
    const struct pd_guards *guards = &strategy->guards;
    double next = INFINITY;

    if (!memory->on) {
        earlier(&next, memory->stopped + guards->least_rest, now);
        earlier(&next, memory->held_until, now);
        return next;
    }
    if (memory->low.runs) {
        earlier(&next, memory->low.since + strategy->run_on, now);
    }
    if (memory->suction.runs) {
        earlier(&next, memory->suction.since + guards->suction_delay, now);
    }
    if (memory->dry.runs) {
        earlier(&next, memory->dry.since + guards->dry_run_time, now);
    }
    return next;
}

static bool elapsed(const struct clock *clock, double span, double now)
{
    return clock->runs && now >= clock->since + span - INSTANT;
}

/* Clocks that have come to their end, guards first. */
static bool on_time(const struct pd_strategy *strategy, void *kept,
                    const struct pd_readings *readings, struct pd_command *command)
{
    const struct pd_guards *guards = &strategy->guards;
    struct memory *memory = kept;
    double now = readings->time;

    if (!memory->on) {
        return false;
    }
    if (elapsed(&memory->suction, guards->suction_delay, now)) {
        memory->held_until = now + guards->suction_retry;
        stop(memory, now, PD_CAUSE_LOW_SUCTION, command);
        return true;
    }
    if (elapsed(&memory->dry, guards->dry_run_time, now)) {
        memory->locked_out = true;
        stop(memory, now, PD_CAUSE_DRY, command);
        return true;
    }
    if (elapsed(&memory->low, strategy->run_on, now)) {
        bool two_pressure = !isnan(strategy->stop_pressure);
        stop(memory, now, two_pressure ? PD_CAUSE_STOP_PRESSURE : PD_CAUSE_LOW_FLOW, command);
        return true;
    }
    return false;
}

const struct pd_controller_kind controller_on_off = {
    .surfaces = SURFACES,
    .memory = sizeof(struct memory),
    .clear = clear,
    .reads_suction = reads_suction,
    .distances = distances,
    .crossed = crossed,
    .next_time = next_time,
    .on_time = on_time,
};
