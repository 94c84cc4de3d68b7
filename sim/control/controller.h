/* The controller's memory: is the pump on, and which clocks run. */
#ifndef PUMPDAY_CONTROLLER_H
#define PUMPDAY_CONTROLLER_H

#include <pumpday/strategy.h>

/* times closer than this are one instant */
#define INSTANT 1.0e-9 /* s */

/* A condition with the time since when it holds. */
struct controller_clock {
    bool runs;
    double since; /* s */
};

struct controller {
    bool on;
    bool locked_out;                 /* the guard against running dry has spoken */
    double stopped;                  /* s, last stop; -INFINITY before the first */
    double held_until;               /* s, retry time of the low-suction guard */
    struct controller_clock low;     /* stop margin negative while on */
    struct controller_clock suction; /* suction under its guard while on */
    struct controller_clock dry;     /* no flow and no pressure while on */
    double dry_before;               /* s run dry in runs before this one, without a break */
};

void controller_clear(struct controller *controller);

/* The pump may start: rested, not held, not locked out. */
bool controller_may_start(const struct controller *controller, const struct pd_plant *plant,
                          double now);

/* The condition of a clock turns to the other side. */
void controller_turn(struct controller_clock *clock, double now);

/* A clock has run for a time. */
bool controller_elapsed(const struct controller_clock *clock, double span, double now);

/* Next time at which a clock or a rest comes to its end, after now; INFINITY if none. */
double controller_next(const struct controller *controller, const struct pd_plant *plant,
                       const struct pd_strategy *strategy, double now);

#endif
