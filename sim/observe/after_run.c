/* Asks after each run of the pump whether the day has shown enough. */
#include "observe/after_run.h"

static void stops(void *context, const struct run *run, enum pd_cause cause)
{
    struct after_run *after = context;

    (void)cause;
    after->ended = run->counting;
}

/* The stop is an event, and this comes behind it, when all is counted. */
static enum pd_answer event(void *context, const struct run *run)
{
    struct after_run *after = context;
    const struct pd_day_options *options = run->options;

    if (!after->ended) {
        return PD_GO_ON;
    }
    after->ended = false;
    return options->after_run(options->after_run_context, after->result);
}

struct observer after_run_observer(struct after_run *after, const struct pd_day_result *result)
{
    *after = (struct after_run){.result = result};
    return (struct observer){.context = after, .event = event, .stops = stops};
}
