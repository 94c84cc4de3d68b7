/* What a day costs, in calls and not in seconds: no memory, few steps where nothing happens; the
 * same figures each time, in any workspace and beside other threads. */
#include "day/count_memory.h"
#include "day/folders.h"
#include "day/small_plant.h"

#include "physics/near.h"

#include <CUnit/CUnit.h>
#include <pthread.h>
#include <string.h>
#include <sundials/sundials_config.h>
#include <sundials/sundials_context.h>

#if SUNDIALS_VERSION_MAJOR >= 7
#define NO_COMMUNICATOR SUN_COMM_NULL
#else
#define NO_COMMUNICATOR NULL
#endif

void suite_cost(void);

static const char *const folder = "scenarios/hillside-house";
static struct pd_scenario scenario;
static struct pd_plant plant;

static void begin(void)
{
    struct pd_error error = {.code = PD_DONE};

    CU_ASSERT_FATAL(folders_read(folder, &scenario));
    CU_ASSERT_FATAL(pd_plant_build(&scenario, &plant, &error));
}

static void end(void)
{
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
}

static enum pd_answer ignore(void *context, const struct pd_trace_row *row)
{
    (void)row;
    ++*(long *)context;
    return PD_GO_ON;
}

/* The counter counts: else the tests below could not fail. */
static void the_counter_counts(void)
{
    // kept where the compiler must believe that they are wanted
    static void *volatile first, *volatile second, *volatile third;

    memory_watch(3);
    first = malloc(10);
    second = calloc(2, 10);
    third = malloc(10);
    second = realloc(second, 50);
    free(first);
    free(second);
    struct memory_calls calls = memory_watched();
    CU_ASSERT_EQUAL(calls.taken, COUNTS_MEMORY ? 4 : 0);
    CU_ASSERT_EQUAL(calls.given, COUNTS_MEMORY ? 2 : 0);
    CU_ASSERT_EQUAL(third == NULL, COUNTS_MEMORY);
    free(third);
}

static void a_day_takes_no_memory(void)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_day *day = pd_day_create(&error);
    struct pd_day_options options = pd_day_default();
    struct pd_day_result result;
    long rows = 0;

    CU_ASSERT_PTR_NOT_NULL_FATAL(day);
    options.trace = ignore;
    options.trace_context = &rows;
    options.trace_every = 10;
    for (size_t k = 0; k < pd_strategy_count; k++) {
        struct pd_strategy strategy = pd_strategy_for(pd_strategies[k], &plant);
        memory_watch(0);
        bool ran = pd_day_run(day, &plant, &strategy, &options, &result, &error);
        struct memory_calls calls = memory_watched();
        CU_ASSERT(ran);
        CU_ASSERT_EQUAL(calls.taken, 0);
        CU_ASSERT_EQUAL(calls.given, 0);
        CU_ASSERT(result.effort.steps > 1000);
    }
    CU_ASSERT(rows > 3L * 8640);
    pd_day_free(day);
}

/* Calls for memory of a new SUNDIALS context. */
static long calls_of_a_context(void)
{
    SUNContext context;

    memory_watch(0);
    int flag = SUNContext_Create(NO_COMMUNICATOR, &context);
    struct memory_calls calls = memory_watched();
    CU_ASSERT_EQUAL_FATAL(flag, 0);
    CU_ASSERT_EQUAL(SUNContext_Free(&context), 0);
    return calls.taken;
}

/* A workspace with one call for memory failing: it is told, and nothing is kept. */
static void check_failing(long failing)
{
    struct pd_error error = {.code = PD_DONE};

    memory_watch(failing);
    struct pd_day *day = pd_day_create(&error);
    struct memory_calls calls = memory_watched();
    CU_ASSERT_PTR_NULL(day);
    CU_ASSERT_EQUAL(error.code, PD_SOLVER_FAILED);
    CU_ASSERT(strlen(error.text) > 10);
    CU_ASSERT_EQUAL(calls.taken - 1, calls.given);
    pd_day_free(day);
}

/* The calls that the program makes itself fail in turn: the day, the integrator, a vector's five;
 * and the last of all, the library's.  SUNDIALS 6.4 does not outlive a failure of those of its
 * context or of its own vectors, whose clones it does not look at. */
static void a_workspace_without_memory_is_told(void)
{
    struct pd_error error = {.code = PD_DONE};
    const long own = 2, context = calls_of_a_context(), vector = 5;

    memory_watch(0);
    struct pd_day *day = pd_day_create(&error);
    long needed = memory_watched().taken;
    CU_ASSERT_PTR_NOT_NULL_FATAL(day);
    pd_day_free(day);
    CU_ASSERT(needed > own + context + vector || !COUNTS_MEMORY);
    for (long failing = 1; failing <= needed; failing++) {
        long after = failing - own - context;
        if (failing <= own || (after > 0 && after <= vector) || failing == needed) {
            check_failing(failing);
        }
    }
}

/* Days on which nothing happens: a few steps between the hours of the supply, if it has any, and
 * no more for a longer warm-up. */
static void an_idle_day_costs_few_steps(void)
{
    static struct small_plant small;
    long steps[2];

    small_begin(&small);
    small_rest(&small);
    for (int i = 0; i < 2; i++) {
        small.scenario.value[PD_DAY_WARM_UP] = i == 0 ? 0 : 86400;
        CU_ASSERT_FATAL(small_run(&small, "peak-only"));
        steps[i] = small.result.effort.steps;
        CU_ASSERT(steps[i] > 0 && steps[i] < 100);
        CU_ASSERT(small.result.effort.rhs_calls < 1000);
        CU_ASSERT(small.result.effort.retries == 0);
    }
    // the pump fills the tank once, in the warm-up, and rests
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT_EQUAL(small.result.starts, 0);
    CU_ASSERT(small.result.effort.steps < 2000);
    small_end(&small);
}

/* Every figure of two days is the same to the last bit. */
static void check_same(const struct pd_day_result *one, const struct pd_day_result *two)
{
    CU_ASSERT_EQUAL(one->starts, two->starts);
    CU_ASSERT_EQUAL(one->run_time, two->run_time);
    CU_ASSERT_EQUAL(one->energy, two->energy);
    CU_ASSERT_EQUAL(one->supplied, two->supplied);
    CU_ASSERT_EQUAL(one->delivered, two->delivered);
    CU_ASSERT_EQUAL(one->stored, two->stored);
    CU_ASSERT_EQUAL(one->highest_header_pressure, two->highest_header_pressure);
    CU_ASSERT_EQUAL(one->lowest_tap_pressure, two->lowest_tap_pressure);
    CU_ASSERT_EQUAL(one->time_below_tap_limit, two->time_below_tap_limit);
    CU_ASSERT_EQUAL(memcmp(&one->effort, &two->effort, sizeof one->effort), 0);
    CU_ASSERT_EQUAL_FATAL(one->run_count, two->run_count);
    for (size_t i = 0; i < one->run_count; i++) {
        CU_ASSERT_EQUAL(one->runs[i].start, two->runs[i].start);
        CU_ASSERT_EQUAL(one->runs[i].run_time, two->runs[i].run_time);
        CU_ASSERT_EQUAL(one->runs[i].energy, two->runs[i].energy);
    }
}

static bool run(struct pd_day *day, size_t kind, struct pd_day_result *result)
{
    struct pd_strategy strategy = pd_strategy_for(pd_strategies[kind], &plant);
    struct pd_day_options options = pd_day_default();
    struct pd_error error = {.code = PD_DONE};

    return pd_day_run(day, &plant, &strategy, &options, result, &error);
}

/* A fresh workspace, and one that has seen other days, another plant and a failure. */
static void a_day_is_the_same_each_time(void)
{
    static struct small_plant small;
    struct pd_error error = {.code = PD_DONE};
    struct pd_day *fresh = pd_day_create(&error);
    struct pd_day_result first, again;

    CU_ASSERT_PTR_NOT_NULL_FATAL(fresh);
    small_begin(&small);
    small.options.trace_every = 60;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    for (size_t k = 0; k < pd_strategy_count; k++) {
        CU_ASSERT(run(fresh, k, &first));
        CU_ASSERT(run(small.day, k, &again));
        CU_ASSERT(first.runs != again.runs);
        check_same(&first, &again);
    }
    small_end(&small);
    pd_day_free(fresh);
}

/* Watching a day does not change it. */
static void a_trace_changes_nothing(void)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_day *plain = pd_day_create(&error), *traced = pd_day_create(&error);
    struct pd_day_options options = pd_day_default();
    struct pd_strategy strategy = pd_strategy_for(pd_strategies[0], &plant);
    struct pd_day_result first, again;
    long rows = 0;

    CU_ASSERT_FATAL(plain != NULL && traced != NULL);
    CU_ASSERT(run(plain, 0, &first));
    options.trace = ignore;
    options.trace_context = &rows;
    options.trace_every = 1;
    CU_ASSERT(pd_day_run(traced, &plant, &strategy, &options, &again, &error));
    CU_ASSERT(rows > 86400);
    check_same(&first, &again);
    pd_day_free(plain);
    pd_day_free(traced);
}

struct worker {
    pthread_t thread;
    struct pd_day *day;
    struct pd_day_result result[PD_STRATEGIES_MOST];
    bool good;
};

/* The days of one thread; assertions are left to the main one. */
static void *work(void *context)
{
    struct worker *worker = context;

    worker->good = true;
    for (int round = 0; round < 3; round++) {
        for (size_t k = 0; k < pd_strategy_count; k++) {
            worker->good = worker->good && run(worker->day, k, &worker->result[k]);
        }
    }
    return NULL;
}

/* Two threads on one plant, at the same time, each with its workspace. */
static void threads_do_not_disturb_each_other(void)
{
    static struct worker workers[2], alone;
    struct pd_error error = {.code = PD_DONE};
    size_t last = pd_strategy_count - 1;

    for (int i = 0; i < 2; i++) {
        workers[i].day = pd_day_create(&error);
        CU_ASSERT_PTR_NOT_NULL_FATAL(workers[i].day);
    }
    alone.day = pd_day_create(&error);
    CU_ASSERT_PTR_NOT_NULL_FATAL(alone.day);
    for (int i = 0; i < 2; i++) {
        CU_ASSERT_EQUAL_FATAL(pthread_create(&workers[i].thread, NULL, work, &workers[i]), 0);
    }
    for (int i = 0; i < 2; i++) {
        CU_ASSERT_EQUAL(pthread_join(workers[i].thread, NULL), 0);
    }
    (void)work(&alone);
    for (int i = 0; i < 2; i++) {
        CU_ASSERT_FATAL(workers[i].good && alone.good);
        // the list of runs is that of the last day
        check_same(&workers[i].result[last], &alone.result[last]);
        for (size_t k = 0; k < last; k++) {
            CU_ASSERT_EQUAL(workers[i].result[k].energy, alone.result[k].energy);
            CU_ASSERT_EQUAL(workers[i].result[k].starts, alone.result[k].starts);
        }
        pd_day_free(workers[i].day);
    }
    pd_day_free(alone.day);
}

static bool count_down(void *context)
{
    return --*(int *)context > 0;
}

/* The caller is asked often enough to stop a day early, and the workspace is none the worse. */
static void a_day_can_be_stopped(void)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_day *day = pd_day_create(&error), *other = pd_day_create(&error);
    struct pd_day_options options = pd_day_default();
    struct pd_strategy strategy = pd_strategy_for(pd_strategies[0], &plant);
    struct pd_day_result result, again;
    int left = 3;

    CU_ASSERT_FATAL(day != NULL && other != NULL);
    options.go_on = count_down;
    options.go_on_context = &left;
    CU_ASSERT_FALSE(pd_day_run(day, &plant, &strategy, &options, &result, &error));
    CU_ASSERT_EQUAL(error.code, PD_INTERRUPTED);
    CU_ASSERT_EQUAL(left, 0);
    CU_ASSERT(run(day, 0, &result));
    CU_ASSERT(run(other, 0, &again));
    check_same(&result, &again);
    pd_day_free(day);
    pd_day_free(other);
}

void suite_cost(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("cost", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, the_counter_counts);
    CU_ADD_TEST(suite, a_day_takes_no_memory);
    CU_ADD_TEST(suite, a_workspace_without_memory_is_told);
    CU_ADD_TEST(suite, an_idle_day_costs_few_steps);
    CU_ADD_TEST(suite, a_day_is_the_same_each_time);
    CU_ADD_TEST(suite, a_trace_changes_nothing);
    CU_ADD_TEST(suite, threads_do_not_disturb_each_other);
    CU_ADD_TEST(suite, a_day_can_be_stopped);
}
