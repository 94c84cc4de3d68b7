/* One scenario under several strategies, one after the other in one workspace. */
#include "base/memory.h"
#include "base/text.h"
#include "output/results.h"
#include "studies/report_day.h"
#include "studies/zoom.h"

#include <pumpday/compare.h>

#include <stdlib.h>
#include <string.h>

/* A comparison while it runs. */
struct job {
    const struct pd_scenario *scenario;
    const struct pd_compare_options *options;
    const char *strategy;      /* the one that runs */
    struct pd_results results; /* open if the options name a folder */
    bool trace_failed;
};

struct pd_compare_options pd_compare_default(void)
{
    struct pd_compare_options options = {.units = PD_UNITS_SI, .day = pd_day_default()};

    // a row every ten seconds: some 1 MB a strategy
    options.day.trace_every = 10;
    return options;
}

/* The list is const for its readers; the row owns it. */
static void free_runs(const struct pd_run *runs)
{
    union {
        const struct pd_run *shown;
        struct pd_run *owned;
    } list = {.shown = runs};

    free(list.owned);
}

void pd_comparison_free(struct pd_comparison *comparison)
{
    for (size_t i = 0; i < comparison->count; i++) {
        free_runs(comparison->row[i].result.runs);
    }
    memset(comparison, 0, sizeof *comparison);
}

/* Takes a copy of the runs, since the workspace's list holds for one day only. */
static bool keep_runs(struct pd_day_result *result, struct pd_error *error)
{
    size_t size = result->run_count * sizeof *result->runs;
    struct pd_run *copy = pd_memory_resize(NULL, size > 0 ? size : 1);

    if (copy == NULL) {
        result->runs = NULL;
        result->run_count = 0;
        return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL,
                            "no memory for the list of pump runs");
    }
    if (size > 0) {
        memcpy(copy, result->runs, size);
    }
    result->runs = copy;
    return true;
}

static enum pd_answer write_trace(void *context, const struct pd_trace_row *row)
{
    struct job *job = context;

    job->trace_failed = !pd_results_trace(&job->results, job->strategy, row);
    return job->trace_failed ? PD_FAILED : PD_GO_ON;
}

static enum pd_answer write_zoom(void *context, const struct pd_trace_row *row)
{
    struct job *job = context;

    job->trace_failed = !pd_results_zoom(&job->results, job->strategy, row);
    return job->trace_failed ? PD_FAILED : PD_GO_ON;
}

/* Takes how a day with a trace ended.  A full disk ends it too, but is no fault of the solver. */
static bool take_end(const struct job *job, bool good, const struct pd_error *day_error,
                     struct pd_error *error)
{
    if (!good && job->trace_failed) {
        return pd_error_set(error, PD_OUTPUT_FAILED, job->options->folder, 0, "trace",
                            "cannot write: no space, or a fault of the disk");
    }
    if (!good && error->code == PD_DONE) {
        *error = *day_error;
    }
    return good;
}

static bool run_traced_day(struct job *job, struct pd_day *day, const struct pd_plant *plant,
                           const struct pd_strategy *strategy, struct pd_day_result *result,
                           struct pd_error *error)
{
    struct pd_day_options options = job->options->day;
    struct pd_error day_error = {0};

    // without a folder nobody reads a trace
    options.trace = job->options->folder != NULL ? write_trace : NULL;
    options.trace_context = job;
    options.trace_every = options.trace != NULL ? options.trace_every : 0;
    options.marks = options.trace != NULL;
    bool good = pd_day_run(day, plant, strategy, &options, result, &day_error);
    return take_end(job, good, &day_error, error);
}

/* The run to look at closely, which is known only at the end of the day. */
static bool show_zoomed(struct job *job, struct pd_day *day, const struct pd_day_result *result,
                        struct pd_error *error)
{
    struct pd_day_options options = job->options->day;
    struct pd_error day_error = {0};
    struct zoom_window window;

    if (!zoom_window_for(result, &window)) {
        return true;
    }
    options.trace = write_zoom;
    options.trace_context = job;
    options.trace_every = window.every;
    options.trace_from = window.from;
    options.trace_to = window.to;
    options.until = window.to;
    return take_end(job, pd_day_show(day, &options, &day_error), &day_error, error);
}

/* Everything about a day that goes into files, but for its trace. */
static bool write_day(struct job *job, struct pd_day *day, const struct pd_limits *limits,
                      const struct pd_comparison_row *row, struct pd_error *error)
{
    const struct pd_scenario *scenario = job->scenario;
    char title[PD_PATH_MOST];
    struct pd_report_day shown = report_day_of(scenario, limits, row);
    struct pd_report_settings settings = {
        .strategy = row->result.strategy,
        .tap_limit = limits->tap_pressure,
        .static_limit = limits->static_pressure,
        .starts_limit = limits->starts_per_hour,
        .asked = pd_scenario_asked(scenario),
        .title = title,
    };

    pd_report_title(scenario, title);
    pd_results_day(&job->results, &shown);
    pd_results_settings(&job->results, &settings);
    return show_zoomed(job, day, &row->result, error);
}

static bool run_strategy(struct job *job, struct pd_day *day, const struct pd_plant *plant,
                         const struct pd_strategy_kind *kind, struct pd_comparison *comparison,
                         struct pd_error *error)
{
    struct pd_comparison_row *row = &comparison->row[comparison->count];
    struct pd_strategy strategy = pd_strategy_for(kind, plant);

    job->strategy = kind->name;
    if (!run_traced_day(job, day, plant, &strategy, &row->result, error) ||
        !keep_runs(&row->result, error)) {
        return false;
    }
    comparison->count++;
    pd_findings_judge(plant, &row->result, &row->findings);
    row->good = pd_findings_verdict(&row->findings, &row->result, row->verdict);
    return job->options->folder == NULL || write_day(job, day, &comparison->limits, row, error);
}

static bool run_strategies(struct job *job, const struct pd_plant *plant,
                           struct pd_comparison *comparison, struct pd_error *error)
{
    const struct pd_compare_options *options = job->options;
    bool all = options->strategy_count == 0;
    size_t count = all ? pd_strategy_count : options->strategy_count;
    struct pd_day *day = pd_day_create(error);
    bool good = day != NULL;

    for (size_t i = 0; good && i < count; i++) {
        const struct pd_strategy_kind *kind = all ? pd_strategies[i] : options->strategies[i];
        good = run_strategy(job, day, plant, kind, comparison, error);
    }
    pd_day_free(day);
    return good;
}

/* A wish to stop that came after the last day still leaves no file. */
static bool may_go_on(const struct pd_day_options *options, struct pd_error *error)
{
    if (options->go_on == NULL || options->go_on(options->go_on_context)) {
        return true;
    }
    return pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request");
}

/* Runs the days with the files open, and moves these to their places or drops them. */
static bool run_job(struct job *job, const struct pd_plant *plant, struct pd_comparison *comparison,
                    struct pd_error *error)
{
    const struct pd_compare_options *options = job->options;

    if (options->folder == NULL) {
        return run_strategies(job, plant, comparison, error);
    }
    if (!pd_results_open(&job->results, options->folder, options->units, error)) {
        return false;
    }
    if (run_strategies(job, plant, comparison, error) && may_go_on(&options->day, error)) {
        return pd_results_commit(&job->results, error);
    }
    pd_results_discard(&job->results);
    return false;
}

bool pd_compare(const struct pd_scenario *scenario, const struct pd_compare_options *options,
                struct pd_comparison *comparison, struct pd_error *error)
{
    struct job job = {.scenario = scenario, .options = options};
    struct pd_plant plant;

    memset(comparison, 0, sizeof *comparison);
    if (!pd_plant_build(scenario, &plant, error)) {
        return false;
    }
    comparison->limits = pd_limits_for(scenario);
    bool good = run_job(&job, &plant, comparison, error);
    pd_plant_free(&plant);
    if (!good) {
        pd_comparison_free(comparison);
    }
    return good;
}
