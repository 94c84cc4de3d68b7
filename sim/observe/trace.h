/* Rows of a day for whoever asked for them: which moments become rows. */
#ifndef PUMPDAY_TRACE_H
#define PUMPDAY_TRACE_H

#include "run/run.h"

/* A moment that may become a row of the trace, and what had flowed by then. */
struct trace_point {
    struct pd_trace_row row;
    double supplied, delivered; /* m3 */
    double work;                /* J of the motor */
};

/* Slopes between which a line from the last row passes near all that lies between. */
struct trace_door {
    double least, most;
};

struct trace {
    double next;               /* s, the even time that is due */
    long even;                 /* which one that is */
    bool has_row;              /* at least one was given */
    double given;              /* s, the time of the last row */
    struct trace_point anchor; /* the last row */
    struct trace_point reached;
    struct trace_door pressure_door, flow_door;
};

/* On a run whose options want a trace: rows at least every trace_every. */
struct observer trace_observer(struct trace *trace, const struct pd_day_options *options);

#endif
