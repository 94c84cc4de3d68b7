/* Threads that work ahead, and results that are taken in order. */
#include "studies/team.h"

#include <CUnit/CUnit.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <time.h>

void suite_team(void);

enum { NEVER = -1 };

/* Work whose results are its numbers, made in very different times. */
struct count {
    pthread_t caller;
    long fails_at;   /* number whose making fails */
    long refused_at; /* number whose taking fails */
    long stops_at;   /* going on is denied once so many are taken */
    bool no_workspace;
    size_t taken;
    bool in_order, by_caller;
    atomic_int open_workspaces;
    atomic_size_t farthest; /* number made */
};

static void *open_workspace(void *context, struct pd_error *error)
{
    struct count *count = context;

    if (count->no_workspace) {
        (void)pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "no workspace");
        return NULL;
    }
    (void)atomic_fetch_add(&count->open_workspaces, 1);
    return count;
}

static void close_workspace(void *workspace)
{
    struct count *count = workspace;

    if (count != NULL) {
        (void)atomic_fetch_sub(&count->open_workspaces, 1);
    }
}

static bool make(void *workspace, size_t number, bool (*go_on)(void *team), void *team,
                 struct team_text *result, struct pd_error *error)
{
    struct count *count = workspace;
    struct timespec pause = {.tv_nsec = (long)(number * 7919 % 13) * 20000};

    (void)nanosleep(&pause, NULL);
    if ((long)number == count->fails_at) {
        return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "failed");
    }
    if (!go_on(team)) {
        return false;
    }
    size_t before = atomic_load(&count->farthest);
    while (number > before && !atomic_compare_exchange_weak(&count->farthest, &before, number)) {
    }
    result->text = calloc(1, 1);
    result->length = number;
    return result->text != NULL;
}

static bool take(void *context, size_t number, const struct team_text *result,
                 struct pd_error *error)
{
    struct count *count = context;

    if ((long)number == count->refused_at) {
        return pd_error_set(error, PD_OUTPUT_FAILED, NULL, 0, NULL, "refused");
    }
    count->in_order = count->in_order && result->length == number && number == count->taken;
    count->by_caller = count->by_caller && pthread_equal(pthread_self(), count->caller) != 0;
    count->taken++;
    return true;
}

static bool may_go_on(void *context)
{
    const struct count *count = context;

    return count->stops_at == NEVER || (long)count->taken < count->stops_at;
}

static struct count count_from(size_t first)
{
    return (struct count){.caller = pthread_self(),
                          .fails_at = NEVER,
                          .refused_at = NEVER,
                          .stops_at = NEVER,
                          .taken = first,
                          .in_order = true,
                          .by_caller = true};
}

static size_t run(struct count *count, size_t end, int jobs, struct pd_error *error)
{
    struct team_work work = {.first = count->taken,
                             .end = end,
                             .jobs = jobs,
                             .context = count,
                             .open = open_workspace,
                             .close = close_workspace,
                             .make = make,
                             .take = take,
                             .go_on = may_go_on};

    *error = (struct pd_error){.code = PD_DONE};
    size_t done = team_run(&work, error);
    // whatever happens, every workspace is closed and what is told as taken was taken in order
    CU_ASSERT_EQUAL(atomic_load(&count->open_workspaces), 0);
    CU_ASSERT_EQUAL(done, count->taken);
    CU_ASSERT(count->in_order);
    CU_ASSERT(count->by_caller);
    return done;
}

static void all_are_taken_in_order(void)
{
    static const int jobs[] = {1, 2, 7, 64};
    struct pd_error error;

    for (size_t i = 0; i < sizeof jobs / sizeof jobs[0]; i++) {
        struct count count = count_from(3);
        CU_ASSERT_EQUAL(run(&count, 300, jobs[i], &error), 300);
        CU_ASSERT_EQUAL(error.code, PD_DONE);
    }
    // less work than threads, and none
    struct count one = count_from(0), none = count_from(5);
    CU_ASSERT_EQUAL(run(&one, 1, 64, &error), 1);
    CU_ASSERT_EQUAL(run(&none, 5, 2, &error), 5);
    CU_ASSERT_EQUAL(error.code, PD_DONE);
}

static void a_failure_ends_the_work(void)
{
    struct count failing = count_from(0), refused = count_from(0), closed = count_from(0);
    struct pd_error error;

    failing.fails_at = 100;
    CU_ASSERT(run(&failing, 1000, 4, &error) <= 100);
    CU_ASSERT_STRING_EQUAL(error.text, "failed");
    refused.refused_at = 100;
    CU_ASSERT_EQUAL(run(&refused, 1000, 4, &error), 100);
    CU_ASSERT_STRING_EQUAL(error.text, "refused");
    // it was noticed before the threads had run far ahead
    CU_ASSERT(atomic_load(&refused.farthest) < 250);
    closed.no_workspace = true;
    CU_ASSERT_EQUAL(run(&closed, 1000, 4, &error), 0);
    CU_ASSERT_STRING_EQUAL(error.text, "no workspace");
}

/* What was ready is taken still, and no error is told. */
static void a_wish_to_stop_ends_it(void)
{
    struct count count = count_from(0);
    struct pd_error error;

    count.stops_at = 50;
    size_t done = run(&count, 1000, 4, &error);
    CU_ASSERT(done >= 50 && done < 250);
    CU_ASSERT_EQUAL(error.code, PD_DONE);
}

void suite_team(void)
{
    CU_pSuite suite = CU_add_suite("team", NULL, NULL);

    CU_ADD_TEST(suite, all_are_taken_in_order);
    CU_ADD_TEST(suite, a_failure_ends_the_work);
    CU_ADD_TEST(suite, a_wish_to_stop_ends_it);
}
