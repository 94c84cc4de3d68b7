/* Days of a search for settings, run side by side. */
#include "studies/settings_parts.h"
#include "studies/team.h"
#include "studies/verdict.h"

#include <math.h>
#include <stdatomic.h>
#include <stdlib.h>

/* What the threads share. */
struct batch {
    const struct settings_search *search;
    struct settings_day *days;
    bool all_or_none; /* that not all pass is all that is asked */
    atomic_bool lost; /* one does not */
};

/* A thread's workspace. */
struct desk {
    struct batch *batch;
    struct pd_day *day;
};

struct settings_day settings_day_told(double tank, const struct pd_strategy *strategy)
{
    return (struct settings_day){.plant = PLANT_TOLD, .tank = tank, .strategy = *strategy};
}

struct settings_day settings_day_off(const struct settings_search *search, enum pd_off off,
                                     double tank, const struct pd_strategy *strategy)
{
    struct settings_day day = {.plant = (int)off, .tank = tank, .strategy = *strategy};

    if (off == PD_OFF_PRECHARGE || off == PD_OFF_ALL) {
        day.strategy.precharge = fmax(strategy->precharge - search->options->precharge_off, 0);
    }
    return day;
}

static struct pd_outcome outcome_of(const struct settings_search *search,
                                    const struct pd_plant *plant,
                                    const struct pd_day_result *result)
{
    struct pd_outcome outcome = {
        .ran = !verdict_never_ran(result),
        .starts = result->starts,
        .starts_in_worst_hour = result->starts_in_worst_hour,
        .shortest_run = result->shortest_run,
        .lowest_tap_pressure = result->lowest_tap_pressure,
        .lowest_suction_pressure = result->lowest_suction_pressure,
        .energy = result->energy,
        .cost = pd_day_cost(search->scenario, result),
    };

    outcome.good = pd_verdict(result, plant, outcome.verdict);
    return outcome;
}

static void close_desk(void *context)
{
    struct desk *desk = context;

    if (desk != NULL) {
        pd_day_free(desk->day);
        free(desk);
    }
}

static void *open_desk(void *context, struct pd_error *error)
{
    struct desk *desk = calloc(1, sizeof *desk);

    if (desk == NULL) {
        (void)pd_error_memory(error);
        return NULL;
    }
    desk->batch = context;
    desk->day = pd_day_create(error);
    if (desk->day == NULL) {
        close_desk(desk);
        return NULL;
    }
    return desk;
}

/* Nothing that is still to come mends a lost day, nor a day beside it. */
static enum pd_answer after_run(void *context, const struct pd_day_result *so_far)
{
    struct batch *batch = context;

    if (verdict_is_lost(so_far, batch->search->limits)) {
        atomic_store(&batch->lost, true);
    }
    return atomic_load(&batch->lost) ? PD_ENOUGH : PD_GO_ON;
}

static bool run_day(void *context, size_t number, bool (*go_on)(void *team), void *team,
                    struct team_text *text, struct pd_error *error)
{
    struct desk *desk = context;
    struct batch *batch = desk->batch;
    const struct settings_search *search = batch->search;
    struct settings_day *day = &batch->days[number];
    struct pd_day_options options = search->options->day;
    struct pd_day_result result;
    // all but the tank is shared
    struct pd_plant plant = search->plants->plant[day->plant];

    (void)text;
    if (batch->all_or_none && atomic_load(&batch->lost)) {
        return true;
    }
    plant.tank.volume = day->tank;
    options.go_on = go_on;
    options.go_on_context = team;
    options.after_run = batch->all_or_none ? after_run : NULL;
    options.after_run_context = batch;
    if (!pd_day_run(desk->day, &plant, &day->strategy, &options, &result, error)) {
        return false;
    }
    day->outcome = outcome_of(search, &plant, &result);
    if (!day->outcome.good || result.ending == PD_ENDING_TOLD) {
        atomic_store(&batch->lost, true);
    }
    return true;
}

static bool may_go_on(void *context)
{
    const struct batch *batch = context;
    const struct pd_day_options *day = &batch->search->options->day;

    return day->go_on == NULL || day->go_on(day->go_on_context);
}

static bool run_batch(struct batch *batch, size_t count)
{
    struct pd_error *error = batch->search->error;
    struct team_work work = {
        .end = count,
        .jobs = team_jobs(0),
        .context = batch,
        .open = open_desk,
        .close = close_desk,
        .make = run_day,
        .go_on = may_go_on,
    };

    // a quiet day is over before it asks by itself
    if (may_go_on(batch) && team_run(&work, error) == count) {
        return true;
    }
    return error->code == PD_DONE
               ? pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request")
               : false;
}

bool settings_run_days(const struct settings_search *search, struct settings_day *days,
                       size_t count)
{
    struct batch batch = {.search = search, .days = days};

    atomic_init(&batch.lost, false);
    return run_batch(&batch, count);
}

bool settings_all_pass(const struct settings_search *search, struct settings_day *days,
                       size_t count, bool *pass)
{
    struct batch batch = {.search = search, .days = days, .all_or_none = true};

    atomic_init(&batch.lost, false);
    bool good = run_batch(&batch, count);
    *pass = !atomic_load(&batch.lost);
    return good;
}
