/* A team of threads.  One lock guards all that changes, but for the wish to stop, which the days
 * ask for often and without a lock. */
#include "studies/team.h"

#include "base/memory.h"

#include <pumpday/sweep.h>

#include <pthread.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

/* Results that may be ready and not yet taken, for each thread: enough that none waits for a slow
 * neighbour, few enough to keep memory small. */
enum { AHEAD = 16 };

/* How often the calling thread asks whether to go on. */
static const long ask_every = 100000000L; /* ns */

struct slot {
    struct team_text result;
    bool ready;
};

struct team {
    const struct team_work *work;
    pthread_mutex_t lock;
    pthread_cond_t changed;
    size_t next;  /* to be made */
    size_t taken; /* all before it have been taken */
    struct slot *slots;
    size_t slot_count;
    struct pd_error *error;
    atomic_bool stopping;
};

/* The question that the days ask. */
static bool may_go_on(void *context)
{
    struct team *team = context;

    return !atomic_load(&team->stopping);
}

/* With the lock held. */
static void stop(struct team *team)
{
    atomic_store(&team->stopping, true);
    (void)pthread_cond_broadcast(&team->changed);
}

/* With the lock held: the next number for a thread to make; false if there is none. */
static bool next_number(struct team *team, size_t *number)
{
    while (may_go_on(team) && team->next < team->work->end &&
           team->next >= team->taken + team->slot_count) {
        (void)pthread_cond_wait(&team->changed, &team->lock);
    }
    if (!may_go_on(team) || team->next >= team->work->end) {
        return false;
    }
    *number = team->next++;
    return true;
}

/* With the lock held but while the result is made. */
static void make_results(struct team *team, void *workspace)
{
    size_t number;

    while (next_number(team, &number)) {
        struct slot slot = {.ready = true};
        struct pd_error error = {.code = PD_DONE};

        (void)pthread_mutex_unlock(&team->lock);
        bool good = team->work->make(workspace, number, may_go_on, team, &slot.result, &error);
        (void)pthread_mutex_lock(&team->lock);
        if (!good) {
            // the first fault counts; to have been stopped is none
            if (team->error->code == PD_DONE && error.code != PD_INTERRUPTED) {
                *team->error = error;
            }
            stop(team);
            return;
        }
        team->slots[number % team->slot_count] = slot;
        (void)pthread_cond_broadcast(&team->changed);
    }
}

static void *run_thread(void *context)
{
    struct team *team = context;
    struct pd_error error = {.code = PD_DONE};
    void *workspace = team->work->open(team->work->context, &error);

    (void)pthread_mutex_lock(&team->lock);
    if (workspace != NULL) {
        make_results(team, workspace);
    } else {
        *team->error = team->error->code == PD_DONE ? error : *team->error;
        stop(team);
    }
    (void)pthread_mutex_unlock(&team->lock);
    team->work->close(workspace);
    return NULL;
}

/* With the lock held but while the result is taken. */
static bool take_next(struct team *team, struct pd_error *error)
{
    struct slot *slot = &team->slots[team->taken % team->slot_count];
    struct team_text result = slot->result;

    *slot = (struct slot){.ready = false};
    (void)pthread_mutex_unlock(&team->lock);
    bool good = team->work->take == NULL ||
                team->work->take(team->work->context, team->taken, &result, error);
    free(result.text);
    (void)pthread_mutex_lock(&team->lock);
    team->taken += good ? 1 : 0;
    (void)pthread_cond_broadcast(&team->changed);
    return good;
}

static void wait_a_while(struct team *team)
{
    struct timespec until;

    (void)clock_gettime(CLOCK_REALTIME, &until);
    until.tv_nsec += ask_every;
    until.tv_sec += until.tv_nsec / 1000000000L;
    until.tv_nsec %= 1000000000L;
    (void)pthread_cond_timedwait(&team->changed, &team->lock, &until);
}

static bool is_ready(const struct team *team)
{
    return team->taken < team->work->end && team->slots[team->taken % team->slot_count].ready;
}

/* The calling thread's part, with the lock held: takes results until all are taken or it ends. */
static void take_results(struct team *team, struct pd_error *error)
{
    bool good = true;

    while (good && may_go_on(team) && team->taken < team->work->end) {
        if (is_ready(team)) {
            good = take_next(team, error);
        } else {
            wait_a_while(team);
        }
        (void)pthread_mutex_unlock(&team->lock);
        bool go_on = team->work->go_on(team->work->context);
        (void)pthread_mutex_lock(&team->lock);
        good = good && go_on;
    }
    stop(team);
}

/* Starts up to `count` threads, which take no signals: those are the calling thread's.  Returns how
 * many there are. */
static int start_threads(struct team *team, pthread_t *threads, int count)
{
    sigset_t all, before;
    int started = 0;

    (void)sigfillset(&all);
    (void)pthread_sigmask(SIG_SETMASK, &all, &before);
    while (started < count && pthread_create(&threads[started], NULL, run_thread, team) == 0) {
        started++;
    }
    (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
    return started;
}

/* All that is ready in a row is kept even where the work ends early; the rest is dropped. */
static void clear_slots(struct team *team)
{
    struct pd_error error = {.code = PD_DONE};
    bool good = team->error->code == PD_DONE || team->error->code == PD_SOLVER_FAILED;

    (void)pthread_mutex_lock(&team->lock);
    while (good && is_ready(team)) {
        good = take_next(team, &error);
    }
    (void)pthread_mutex_unlock(&team->lock);
    for (size_t i = 0; i < team->slot_count; i++) {
        free(team->slots[i].result.text);
    }
}

static void run_threads(struct team *team, pthread_t *threads, int count)
{
    struct pd_error error = {.code = PD_DONE};
    int started = start_threads(team, threads, count);

    (void)pthread_mutex_lock(&team->lock);
    if (started == 0) {
        (void)pd_error_set(&error, PD_SOLVER_FAILED, NULL, 0, NULL, "no thread could be started");
    } else {
        take_results(team, &error);
    }
    (void)pthread_mutex_unlock(&team->lock);
    for (int i = 0; i < started; i++) {
        (void)pthread_join(threads[i], NULL);
    }
    *team->error = team->error->code == PD_DONE ? error : *team->error;
    clear_slots(team);
}

int team_jobs(int wanted)
{
    long count = wanted > 0 ? wanted : sysconf(_SC_NPROCESSORS_ONLN);

    return count < 1 ? 1 : count > PD_JOBS_MOST ? PD_JOBS_MOST : (int)count;
}

size_t team_run(const struct team_work *work, struct pd_error *error)
{
    size_t left = work->end - work->first;
    int jobs = left < (size_t)work->jobs ? (int)left : work->jobs;
    struct team team = {.work = work, .next = work->first, .taken = work->first, .error = error};

    if (left == 0) {
        return work->end;
    }
    team.slot_count = (size_t)jobs * AHEAD;
    team.slots = pd_memory_resize(NULL, team.slot_count * sizeof *team.slots);
    pthread_t *threads = pd_memory_resize(NULL, (size_t)jobs * sizeof *threads);
    if (team.slots == NULL || threads == NULL) {
        (void)pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "no memory for the threads");
    } else {
        memset(team.slots, 0, team.slot_count * sizeof *team.slots);
        atomic_init(&team.stopping, false);
        (void)pthread_mutex_init(&team.lock, NULL);
        (void)pthread_cond_init(&team.changed, NULL);
        run_threads(&team, threads, jobs);
        (void)pthread_cond_destroy(&team.changed);
        (void)pthread_mutex_destroy(&team.lock);
    }
    free(threads);
    free(team.slots);
    return team.taken;
}
