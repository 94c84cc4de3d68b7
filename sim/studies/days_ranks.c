/* Batches are looked at in their order, whatever order the blocks come in, so that the answer is
 * that of one rank; what was made beyond it is dropped. */
#include "studies/days_ranks.h"

#include "base/memory.h"
#include "studies/days_wire.h"

#include <stdlib.h>
#include <string.h>

/* Days that a thread makes of a block: enough that the end of a block, where threads wait for each
 * other, is short beside it, and few enough that little is lost where it was not needed. */
static const long days_each = 16;

/* Blocks become smaller towards the end: so many for each rank are left at any time, that all may
 * end together. */
static const long shares = 4;

/* What a rank is about. */
struct seat {
    bool heard; /* it takes blocks */
    int jobs;   /* threads; of one not heard, as many as here */
    struct wire_block queue[WIRE_AHEAD];
    size_t queued;
};

struct hand_out {
    struct days_growth *growth;
    struct seat *seats; /* by rank */
    int ranks;
    long next; /* first day that nobody has */
    uint64_t trait;
    struct pd_error fault; /* of the first block that has one */
    long fault_at;         /* days before it count */
};

static void note_fault(struct hand_out *out, long first, const struct pd_error *error)
{
    long at = first < 0 ? out->growth->days->count : first;

    if (out->fault.code == PD_DONE || at < out->fault_at) {
        out->fault = *error;
        out->fault_at = at;
    }
}

static void note_no_memory(struct hand_out *out)
{
    struct pd_error error = {.code = PD_DONE};

    (void)pd_error_memory(&error);
    note_fault(out, -1, &error);
}

/* All days before it are made. */
static long made_before(const struct hand_out *out)
{
    long least =
        out->fault.code != PD_DONE && out->fault_at < out->next ? out->fault_at : out->next;

    for (int rank = 0; rank < out->ranks; rank++) {
        const struct seat *seat = &out->seats[rank];
        if (seat->queued > 0 && seat->queue[0].first < least) {
            least = seat->queue[0].first;
        }
    }
    return least;
}

/* Enough, or no more can be had. */
static bool is_over(const struct hand_out *out)
{
    return growth_enough(out->growth) ||
           (out->fault.code != PD_DONE && made_before(out) >= out->fault_at);
}

static void take_batches(struct hand_out *out)
{
    struct days_growth *growth = out->growth;
    struct pd_error error = {.code = PD_DONE};
    long made = made_before(out);

    while (!growth_enough(growth) && growth_batch_end(growth, growth->days->count) <= made) {
        if (!growth_take(growth, made, &error)) {
            note_fault(out, -1, &error);
            return;
        }
    }
}

static long block_size(const struct hand_out *out, int jobs)
{
    const struct days_growth *growth = out->growth;
    bool may_end_before = growth->options->until > 0;
    long left = growth->options->count - out->next;
    long all = 0;

    for (int rank = 0; rank < out->ranks; rank++) {
        all += out->seats[rank].jobs;
    }
    long size = all > 0 ? left * jobs / (shares * all) : left;
    size = size < jobs ? jobs : size > jobs * days_each ? jobs * days_each : size;
    // a day that fails is not to take those along that may do without it
    left = may_end_before ? growth_batch_end(growth, out->next) - out->next : left;
    return size < left ? size : left;
}

/* The next block for a rank; false if there is none. */
static bool give(struct hand_out *out, int rank)
{
    struct seat *seat = &out->seats[rank];
    struct pd_error error = {.code = PD_DONE};
    long size = block_size(out, seat->jobs);

    if (size < 1 || out->fault.code != PD_DONE) {
        return false;
    }
    if (!growth_make_room(out->growth, out->next + size, &error)) {
        note_fault(out, -1, &error);
        return false;
    }
    seat->queue[seat->queued++] = (struct wire_block){out->next, out->next + size};
    out->next += size;
    return true;
}

static void fill_seat(struct hand_out *out, int rank)
{
    struct seat *seat = &out->seats[rank];

    while (seat->heard && seat->queued < WIRE_AHEAD && give(out, rank)) {
        ranks_send(rank, WIRE_BLOCK, &seat->queue[seat->queued - 1], sizeof seat->queue[0]);
    }
}

static void drop_first(struct seat *seat)
{
    seat->queue[0] = seat->queue[1];
    seat->queued--;
}

static void hear(struct hand_out *out, const struct ranks_message *message)
{
    struct seat *seat = &out->seats[message->from];
    struct pd_error error = {.code = PD_DONE};
    struct wire_hello hello;

    memcpy(&hello, message->data, sizeof hello);
    if (hello.trait != out->trait) {
        (void)pd_error_set(&error, PD_SOLVER_FAILED, NULL, 0, NULL,
                           "rank %d (%s) does not find the day 1 that rank 0 finds: another build, "
                           "mathematical library or kind of processor",
                           message->from, hello.host);
        note_fault(out, -1, &error);
        return;
    }
    seat->jobs = hello.jobs;
    seat->heard = true;
}

static void put_days(struct hand_out *out, const struct ranks_message *message)
{
    struct seat *seat = &out->seats[message->from];
    struct wire_block part = wire_days(message);
    struct days_block into = growth_block(out->growth, part.first, part.end);

    wire_put_days(message, &into, out->growth->work.strategy_count);
    seat->queue[0].first = part.end;
    if (seat->queue[0].first >= seat->queue[0].end) {
        drop_first(seat);
    }
}

static void take_fault(struct hand_out *out, const struct ranks_message *message)
{
    struct wire_fault fault;

    memcpy(&fault, message->data, sizeof fault);
    note_fault(out, fault.first, &fault.error);
    if (fault.first >= 0) {
        drop_first(&out->seats[message->from]);
    }
}

static void take(struct hand_out *out, const struct ranks_message *message)
{
    if (message->kind == WIRE_HELLO) {
        hear(out, message);
    } else if (message->kind == WIRE_DAYS) {
        put_days(out, message);
    } else if (message->kind == WIRE_FAULT) {
        take_fault(out, message);
    }
    fill_seat(out, message->from);
}

/* Takes what has come; whether to go on. */
static bool attend(void *context)
{
    struct hand_out *out = context;
    struct ranks_message message;

    while (ranks_receive(&message)) {
        take(out, &message);
        free(message.data);
    }
    take_batches(out);
    return !is_over(out) && growth_wanted(out->growth);
}

static bool wanted(void *context)
{
    return growth_wanted(context);
}

/* A block of rank 0's own, made apart: the list may move meanwhile. */
static void run_own(struct hand_out *out, struct days_block *block)
{
    struct days_growth *growth = out->growth;
    struct seat *seat = &out->seats[0];
    size_t strategies = growth->work.strategy_count;
    struct pd_error error = {.code = PD_DONE};

    block->first = seat->queue[0].first;
    block->end = seat->queue[0].end;
    if (days_run_block(&growth->work, block, attend, out, &error)) {
        struct days_block into = growth_block(growth, block->first, block->end);
        size_t places = (size_t)(block->end - block->first) * strategies;
        memcpy(into.figure, block->figure, places * PD_FIGURE_COUNT * sizeof *into.figure);
        memcpy(into.faults, block->faults, places * sizeof *into.faults);
        seat->queued = 0;
    } else if (error.code != PD_DONE) {
        note_fault(out, block->first, &error);
        seat->queued = 0;
    }
}

static void gather(struct hand_out *out)
{
    struct days_growth *growth = out->growth;
    size_t places = (size_t)(growth->work.jobs * days_each) * growth->work.strategy_count;
    struct days_block own = {
        .figure = pd_memory_resize(NULL, places * PD_FIGURE_COUNT * sizeof *own.figure),
        .faults = pd_memory_resize(NULL, places * sizeof *own.faults),
    };

    if (own.figure == NULL || own.faults == NULL) {
        note_no_memory(out);
    }
    while (attend(out)) {
        if (give(out, 0)) {
            run_own(out, &own);
        } else {
            ranks_rest();
        }
    }
    free(own.figure);
    free(own.faults);
}

static bool send_job(struct hand_out *out)
{
    const struct days_growth *growth = out->growth;
    size_t size = 0;
    void *job = wire_pack_job(&growth->work, growth->options->jobs, &size);

    for (int rank = 1; job != NULL && rank < out->ranks; rank++) {
        ranks_send(rank, WIRE_JOB, job, size);
    }
    free(job);
    return job != NULL;
}

/* Ends the job with all ranks; what still comes of it is dropped. */
static void stop_others(const struct hand_out *out)
{
    struct ranks_message message;

    for (int rank = 1; rank < out->ranks; rank++) {
        ranks_send(rank, WIRE_STOP, NULL, 0);
    }
    for (int stopped = 1; stopped < out->ranks;) {
        if (ranks_receive(&message)) {
            stopped += message.kind == WIRE_STOPPED ? 1 : 0;
            free(message.data);
        } else {
            ranks_rest();
        }
    }
}

static void run_job(struct hand_out *out)
{
    struct days_growth *growth = out->growth;
    struct pd_error error = {.code = PD_DONE};

    if (!send_job(out)) {
        note_no_memory(out);
        return;
    }
    if (wire_trait(&growth->work, wanted, growth, &out->trait, &error)) {
        gather(out);
    } else {
        note_fault(out, -1, &error);
    }
    stop_others(out);
}

bool days_ranks_serve(const struct pd_days_options *options)
{
    return ranks_count() > 1 && options->most_failing < 0 && options->day.trace == NULL &&
           options->day.after_run == NULL;
}

bool days_ranks_run(struct days_growth *growth, struct pd_error *error)
{
    struct hand_out out = {.growth = growth, .ranks = ranks_count(), .next = growth->days->count};

    if (growth_enough(growth)) {
        return true;
    }
    out.seats = pd_memory_resize(NULL, (size_t)out.ranks * sizeof *out.seats);
    if (out.seats == NULL) {
        return pd_error_memory(error);
    }
    memset(out.seats, 0, (size_t)out.ranks * sizeof *out.seats);
    for (int rank = 0; rank < out.ranks; rank++) {
        out.seats[rank].jobs = growth->work.jobs;
    }
    run_job(&out);
    free(out.seats);
    if (growth_enough(growth)) {
        return true;
    }
    *error = error->code == PD_DONE ? out.fault : *error;
    return pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request");
}
