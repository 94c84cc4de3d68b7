/* The only user of MPI.  Its own answer to an error holds: it ends all ranks, and the launcher
 * tells of it, as of a rank that dies or has no memory for a message. */
#include "studies/ranks.h"

#include "base/memory.h"

#include <pumpday/error.h>

#include <limits.h>
#include <mpi.h>
#include <sched.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

/* A wait by MPI's own means would take a whole processor: it is asked again after so long. */
static const long rest = 1000000L; // ns

/* MPI alone would start a daemon where no launcher has: that is a second, for nothing. */
static bool was_launched(void)
{
    return getenv("OMPI_COMM_WORLD_SIZE") != NULL || getenv("PMIX_RANK") != NULL;
}

static bool has_begun(void)
{
    int begun = 0;

    return MPI_Initialized(&begun) == MPI_SUCCESS && begun != 0;
}

bool ranks_begin(void)
{
    int provided = MPI_THREAD_SINGLE;

    if (!was_launched()) {
        return true;
    }
    return MPI_Init_thread(NULL, NULL, MPI_THREAD_FUNNELED, &provided) == MPI_SUCCESS &&
           provided >= MPI_THREAD_FUNNELED;
}

void ranks_end(void)
{
    if (has_begun()) {
        (void)MPI_Finalize();
    }
}

int ranks_own(void)
{
    int own = 0;

    return has_begun() && MPI_Comm_rank(MPI_COMM_WORLD, &own) == MPI_SUCCESS ? own : 0;
}

int ranks_count(void)
{
    int count = 1;

    return has_begun() && MPI_Comm_size(MPI_COMM_WORLD, &count) == MPI_SUCCESS ? count : 1;
}

/* Processors that a launcher has bound this rank to, at the most those of the machine. */
static long processors(void)
{
    cpu_set_t bound;
    long all = sysconf(_SC_NPROCESSORS_ONLN);
    long own = sched_getaffinity(0, sizeof bound, &bound) == 0 ? CPU_COUNT(&bound) : all;

    return own < all ? own : all;
}

int ranks_jobs(void)
{
    const char *told = getenv("OMPI_COMM_WORLD_LOCAL_SIZE");
    long here = told != NULL ? strtol(told, NULL, 10) : 1;
    long share = sysconf(_SC_NPROCESSORS_ONLN) / (here > 0 ? here : 1);
    long own = processors();
    long jobs = own < share ? own : share;

    if (!has_begun()) {
        return 0;
    }
    return jobs < 1 ? 1 : jobs > INT_MAX ? INT_MAX : (int)jobs;
}

void ranks_send(int to, int kind, const void *data, size_t size)
{
    (void)MPI_Send(data, (int)size, MPI_BYTE, to, kind, MPI_COMM_WORLD);
}

bool ranks_receive(struct ranks_message *message)
{
    MPI_Message found;
    MPI_Status status;
    int is_there = 0, size = 0;

    *message = (struct ranks_message){0};
    if (!has_begun()) {
        return false;
    }
    (void)MPI_Improbe(MPI_ANY_SOURCE, MPI_ANY_TAG, MPI_COMM_WORLD, &is_there, &found, &status);
    if (is_there == 0) {
        return false;
    }
    (void)MPI_Get_count(&status, MPI_BYTE, &size);
    message->from = status.MPI_SOURCE;
    message->kind = status.MPI_TAG;
    message->size = (size_t)size;
    message->data = pd_memory_resize(NULL, message->size);
    if (message->data == NULL) {
        (void)MPI_Abort(MPI_COMM_WORLD, PD_SOLVER_FAILED);
        return false;
    }
    (void)MPI_Mrecv(message->data, size, MPI_BYTE, &found, MPI_STATUS_IGNORE);
    return true;
}

void ranks_rest(void)
{
    (void)nanosleep(&(struct timespec){.tv_nsec = rest}, NULL);
}
