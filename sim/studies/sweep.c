/* Runs a sweep: a team of threads makes the rows, the calling thread writes them in order. */
#include <pumpday/sweep.h>

#include "base/memory.h"
#include "studies/sweep_part.h"
#include "studies/team.h"

#include <stdlib.h>
#include <string.h>

/* A sweep while it runs. */
struct job {
    struct sweep_plan plan;
    struct sweep_part part;
};

struct pd_sweep_options pd_sweep_default(void)
{
    return (struct pd_sweep_options){.units = PD_UNITS_SI, .day = pd_day_default()};
}

static void *open_bench(void *context, struct pd_error *error)
{
    const struct job *job = context;

    return sweep_bench_create(&job->plan, error);
}

static void close_bench(void *workspace)
{
    sweep_bench_free(workspace);
}

static bool no_memory(struct pd_error *error)
{
    return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "no memory for the rows");
}

/* Rows wait for their turn: what they do not need is given back.  Where that fails they keep it. */
static void shrink(struct team_text *rows)
{
    char *smaller = pd_memory_resize(rows->text, rows->length);

    rows->text = smaller != NULL ? smaller : rows->text;
}

static bool make_rows(void *workspace, size_t number, bool (*go_on)(void *team), void *team,
                      struct team_text *rows, struct pd_error *error)
{
    size_t room = sweep_rows_room(workspace);
    FILE *stream = NULL;

    // a stream that grows would lose text without a word where memory runs out
    rows->text = pd_memory_resize(NULL, room);
    if (rows->text != NULL) {
        stream = fmemopen(rows->text, room, "w");
    }
    if (stream == NULL) {
        free(rows->text);
        return no_memory(error);
    }
    bool whole = sweep_rows_write(workspace, number, stream, go_on, team, error);
    bool written = fflush(stream) == 0 && ferror(stream) == 0;
    rows->length = written ? (size_t)ftello(stream) : 0;
    (void)fclose(stream);
    if (whole && written) {
        shrink(rows);
        return true;
    }
    free(rows->text);
    return whole ? no_memory(error) : false;
}

static bool add_rows(void *context, size_t number, const struct team_text *rows,
                     struct pd_error *error)
{
    struct job *job = context;
    const struct pd_sweep_options *options = job->plan.options;

    if (!sweep_part_add(&job->part, rows->text, rows->length, error)) {
        return false;
    }
    if (options->progress != NULL) {
        options->progress(options->progress_context, number + 1, job->plan.combinations);
    }
    return true;
}

static bool may_go_on(void *context)
{
    const struct job *job = context;
    const struct pd_day_options *day = &job->plan.options->day;

    return day->go_on == NULL || day->go_on(day->go_on_context);
}

static bool run(struct job *job, struct pd_sweep_totals *totals, struct pd_error *error)
{
    struct team_work work = {
        .first = job->part.combinations,
        .end = job->plan.combinations,
        .jobs = team_jobs(job->plan.options->jobs),
        .context = job,
        .open = open_bench,
        .close = close_bench,
        .make = make_rows,
        .take = add_rows,
        .go_on = may_go_on,
    };

    totals->resumed = job->part.combinations;
    totals->done = job->part.combinations;
    // a wish to stop that came before the first row leaves none
    if (may_go_on(job)) {
        totals->done = team_run(&work, error);
    }
    if (totals->done == totals->combinations && error->code == PD_DONE) {
        return sweep_part_finish(&job->part, error);
    }
    sweep_part_leave(&job->part);
    return pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request");
}

bool pd_sweep(const struct pd_scenario *scenario, const struct pd_sweep_options *options,
              struct pd_sweep_totals *totals, struct pd_error *error)
{
    struct job job;

    memset(totals, 0, sizeof *totals);
    if (!pd_day_options_check(&options->day, error) ||
        !sweep_plan_make(scenario, options, &job.plan, error)) {
        return false;
    }
    totals->combinations = job.plan.combinations;
    totals->strategies = job.plan.strategy_count;
    return sweep_part_open(&job.part, &job.plan, error) && run(&job, totals, error);
}
