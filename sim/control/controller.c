#include "control/controller.h"

#include <math.h>

void controller_clear(struct controller *controller)
{
    *controller = (struct controller){.stopped = -INFINITY, .held_until = -INFINITY};
}

bool controller_may_start(const struct controller *controller, const struct pd_plant *plant,
                          double now)
{
    return !controller->on && !controller->locked_out &&
           now >= controller->stopped + plant->least_rest - INSTANT &&
           now >= controller->held_until - INSTANT;
}

void controller_turn(struct controller_clock *clock, double now)
{
    clock->runs = !clock->runs;
    clock->since = now;
}

bool controller_elapsed(const struct controller_clock *clock, double span, double now)
{
    return clock->runs && now >= clock->since + span - INSTANT;
}

static void earlier(double *next, double time, double now)
{
    if (time > now + INSTANT && time < *next) {
        *next = time;
    }
}

double controller_next(const struct controller *controller, const struct pd_plant *plant,
                       const struct pd_strategy *strategy, double now)
{
    double next = INFINITY;

    if (!controller->on) {
        earlier(&next, controller->stopped + plant->least_rest, now);
        earlier(&next, controller->held_until, now);
        return next;
    }
    if (controller->low.runs) {
        earlier(&next, controller->low.since + strategy->run_on, now);
    }
    if (controller->suction.runs) {
        earlier(&next, controller->suction.since + plant->suction_delay, now);
    }
    if (controller->dry.runs) {
        earlier(&next, controller->dry.since + plant->dry_run_time, now);
    }
    return next;
}
