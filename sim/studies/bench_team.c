/* Benches side by side, by a team of threads. */
#include "studies/bench_team.h"

#include "studies/team.h"

#include <stdlib.h>

/* A thread's bench, and the question whether to go on, which is the team's. */
struct place {
    const struct bench_work *work;
    struct pd_day_options day;
    struct bench bench;
};

static void leave_place(void *context)
{
    struct place *place = context;

    if (place != NULL) {
        bench_free(&place->bench);
        free(place);
    }
}

static void *take_place(void *context, struct pd_error *error)
{
    const struct bench_work *work = context;
    struct place *place = calloc(1, sizeof *place);

    if (place == NULL) {
        (void)pd_error_memory(error);
        return NULL;
    }
    place->work = work;
    place->day = *work->day;
    if (!bench_make(&place->bench, work->scenario, work->kind, work->seen, &place->day, error)) {
        leave_place(place);
        return NULL;
    }
    return place;
}

static bool make_piece(void *context, size_t number, bool (*go_on)(void *team), void *team,
                       struct team_text *result, struct pd_error *error)
{
    struct place *place = context;

    (void)result;
    place->day.go_on = go_on;
    place->day.go_on_context = team;
    return place->work->make(place->work->context, &place->bench, number, error);
}

static bool may_go_on(void *context)
{
    const struct bench_work *work = context;

    return work->day->go_on == NULL || work->day->go_on(work->day->go_on_context);
}

bool bench_team_run(const struct bench_work *work, struct pd_error *error)
{
    struct bench_work context = *work;
    struct team_work team = {
        .end = work->count,
        .jobs = team_jobs(0),
        .context = &context,
        .open = take_place,
        .close = leave_place,
        .make = make_piece,
        .go_on = may_go_on,
    };
    size_t done = team_run(&team, error);

    if (error->code != PD_DONE) {
        return false;
    }
    return done == work->count ||
           pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request");
}
