/* A day: a run, and all that is to be watched of it. */
#include "observe/after_run.h"
#include "observe/extremes.h"
#include "observe/ledger.h"
#include "observe/marks.h"
#include "observe/trace.h"
#include "observe/usage.h"
#include "observe/worst_hour.h"

#include <stdlib.h>

struct pd_day {
    struct run run;
    struct ledger ledger;
    struct extremes extremes;
    struct usage usage;
    struct worst_hour worst_hour;
    struct trace trace;
    struct after_run after_run;
    struct marks marks;
    struct pd_day_result result;
    struct pd_run runs[PD_RUNS_MOST];
};

struct pd_day *pd_day_create(struct pd_error *error)
{
    struct pd_day *day = calloc(1, sizeof *day);

    if (day == NULL) {
        pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "not enough memory for a day");
        return NULL;
    }
    day->run.integrator = integrator_create(error);
    if (day->run.integrator == NULL) {
        free(day);
        return NULL;
    }
    return day;
}

void pd_day_free(struct pd_day *day)
{
    if (day != NULL) {
        integrator_free(day->run.integrator);
        free(day);
    }
}

static void watch(struct run *run, struct observer observer)
{
    run->observer[run->observers++] = observer;
}

static void watch_trace(struct pd_day *day)
{
    const struct pd_day_options *options = day->run.options;

    if (options->trace != NULL && options->trace_every > 0.0) {
        watch(&day->run, trace_observer(&day->trace, options));
    }
}

/* Who watches, in the order in which they are told: the runs of the ledger are the worst hour's. */
static void set_watchers(struct pd_day *day)
{
    struct run *run = &day->run;
    const struct pd_day_options *options = run->options;
    struct pd_day_result *result = &day->result;

    run->observers = 0;
    watch(run, ledger_observer(&day->ledger, result, day->runs));
    watch(run, usage_observer(&day->usage, result, run->plant));
    watch(run, extremes_observer(&day->extremes, result));
    watch(run, worst_hour_observer(&day->worst_hour, result));
    watch_trace(day);
    day->marks.count = 0;
    if (options->marks) {
        watch(run, marks_observer(&day->marks));
    }
    if (options->after_run != NULL) {
        watch(run, after_run_observer(&day->after_run, result));
    }
}

bool pd_day_run(struct pd_day *day, const struct pd_plant *plant,
                const struct pd_strategy *strategy, const struct pd_day_options *options,
                struct pd_day_result *result, struct pd_error *error)
{
    struct run *run = &day->run;

    if (!pd_day_options_check(options, error)) {
        return false;
    }
    run->plant = plant;
    run->strategy = strategy;
    run->options = options;
    set_watchers(day);
    if (!run_through(run, error)) {
        return false;
    }
    day->result.strategy = *strategy;
    day->result.ending = run->ending;
    day->result.effort = run->effort;
    *result = day->result;
    return true;
}

bool pd_day_show(struct pd_day *day, const struct pd_day_options *options, struct pd_error *error)
{
    struct run *run = &day->run;

    if (!pd_day_options_check(options, error)) {
        return false;
    }
    run->options = options;
    bool marked = marks_set(&day->marks, options->trace_from, run);
    run->observers = 0;
    watch_trace(day);
    return marked ? run_on(run, error) : run_through(run, error);
}
