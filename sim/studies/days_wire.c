#include "studies/days_wire.h"

#include "base/memory.h"
#include "studies/fingerprint.h"

#include <pumpday/pumpday.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { PROGRAM_MOST = 32, KIND_MOST = 32 };

/* What comes first in a job; draws, profile and supply follow. */
struct head {
    char program[PROGRAM_MOST];
    size_t size; /* of the whole */
    uint64_t seed;
    bool carry;
    int jobs;
    struct pd_day_options day;
    size_t strategy_count;
    char kind[PD_STRATEGIES_MOST][KIND_MOST];
    struct pd_scenario scenario; /* its lists are not those of the receiver */
};

static size_t job_size(const struct pd_scenario *scenario)
{
    return sizeof(struct head) + scenario->draw_count * sizeof *scenario->draws +
           scenario->profile_count * sizeof *scenario->profile +
           scenario->supply_count * sizeof *scenario->supply;
}

static char *append(char *to, const void *list, size_t size)
{
    if (size > 0) {
        memcpy(to, list, size);
    }
    return to + size;
}

static void fill(struct head *head, const struct days_work *work, int jobs)
{
    head->size = job_size(work->scenario);
    head->seed = work->seed;
    head->carry = work->carry;
    head->jobs = jobs;
    head->day = work->day;
    head->day.go_on = NULL;
    head->day.go_on_context = NULL;
    head->scenario = *work->scenario;
    head->strategy_count = work->strategy_count;
    (void)snprintf(head->program, sizeof head->program, "%s", PD_VERSION);
    for (size_t i = 0; i < work->strategy_count; i++) {
        (void)snprintf(head->kind[i], sizeof head->kind[i], "%s", work->strategies[i].kind->name);
    }
}

void *wire_pack_job(const struct days_work *work, int jobs, size_t *size)
{
    const struct pd_scenario *scenario = work->scenario;

    *size = job_size(scenario);
    struct head *head = pd_memory_resize(NULL, *size);
    if (head != NULL) {
        memset(head, 0, sizeof *head);
        fill(head, work, jobs);
        char *end = (char *)(head + 1);
        end = append(end, scenario->draws, scenario->draw_count * sizeof *scenario->draws);
        end = append(end, scenario->profile, scenario->profile_count * sizeof *scenario->profile);
        (void)append(end, scenario->supply, scenario->supply_count * sizeof *scenario->supply);
    }
    return head;
}

/* A copy that owns its lists. */
static bool copy_scenario(struct head *head, struct pd_scenario *scenario, struct pd_error *error)
{
    struct pd_scenario *sent = &head->scenario;

    // each list ends where the next, of types that need no more, begins
    sent->draws = (struct pd_draw *)(void *)(head + 1);
    sent->profile = (struct pd_sample *)(void *)(sent->draws + sent->draw_count);
    sent->supply = sent->profile + sent->profile_count;
    return pd_scenario_copy(sent, scenario) || pd_error_memory(error);
}

static bool is_ours(const struct ranks_message *message)
{
    const struct head *head = message->data;

    return message->size >= sizeof *head && head->size == message->size &&
           strncmp(head->program, PD_VERSION, sizeof head->program) == 0;
}

static bool find_kinds(const struct head *head, const struct pd_strategy_kind **kinds)
{
    for (size_t i = 0; i < head->strategy_count; i++) {
        kinds[i] = pd_strategy_find(head->kind[i]);
        if (kinds[i] == NULL) {
            return false;
        }
    }
    return true;
}

bool wire_unpack_job(const struct ranks_message *message, struct pd_scenario *scenario,
                     struct pd_strategy strategies[PD_STRATEGIES_MOST], struct days_work *work,
                     struct pd_error *error)
{
    const struct pd_strategy_kind *kinds[PD_STRATEGIES_MOST];
    struct head *head = message->data;

    if (!is_ours(message) || !find_kinds(head, kinds)) {
        return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL,
                            "rank %d runs another program than rank 0", ranks_own());
    }
    if (!copy_scenario(head, scenario, error)) {
        return false;
    }
    *work = (struct days_work){
        .scenario = scenario,
        .strategies = strategies,
        .strategy_count = head->strategy_count,
        .seed = head->seed,
        .carry = head->carry,
        .jobs = head->jobs,
        .day = head->day,
    };
    if (!days_settle(scenario, kinds, head->strategy_count, strategies, NULL, error)) {
        pd_scenario_free(scenario);
        return false;
    }
    return true;
}

/* A message is kept as short as MPI sends without waiting for its receiver. */
enum { MESSAGE_MOST = 4000 };

static size_t day_size(size_t strategy_count)
{
    return strategy_count * (PD_FIGURE_COUNT * sizeof(double) + sizeof(uint32_t));
}

static void send_part(const struct days_block *block, const struct wire_block *part,
                      size_t strategy_count)
{
    char message[sizeof *part + MESSAGE_MOST];
    size_t skip = (size_t)(part->first - block->first) * strategy_count;
    size_t places = (size_t)(part->end - part->first) * strategy_count;

    char *end = append(message, part, sizeof *part);
    end = append(end, block->figure + skip * PD_FIGURE_COUNT,
                 places * PD_FIGURE_COUNT * sizeof *block->figure);
    end = append(end, block->faults + skip, places * sizeof *block->faults);
    ranks_send(0, WIRE_DAYS, message, (size_t)(end - message));
}

_Static_assert(PD_STRATEGIES_MOST *(PD_FIGURE_COUNT * sizeof(double) + sizeof(uint32_t)) <=
                   MESSAGE_MOST,
               "a message holds a day");

void wire_send_days(const struct days_block *block, size_t strategy_count)
{
    long most = (long)(MESSAGE_MOST / day_size(strategy_count));

    for (long first = block->first; first < block->end; first += most) {
        long left = block->end - first;
        struct wire_block part = {first, first + (left < most ? left : most)};
        send_part(block, &part, strategy_count);
    }
}

struct wire_block wire_days(const struct ranks_message *message)
{
    struct wire_block block;

    memcpy(&block, message->data, sizeof block);
    return block;
}

void wire_put_days(const struct ranks_message *message, const struct days_block *into,
                   size_t strategy_count)
{
    size_t places = (size_t)(into->end - into->first) * strategy_count;
    size_t figures = places * PD_FIGURE_COUNT * sizeof *into->figure;
    const char *from = (const char *)message->data + sizeof(struct wire_block);

    memcpy(into->figure, from, figures);
    memcpy(into->faults, from + figures, places * sizeof *into->faults);
}

bool wire_trait(const struct days_work *work, bool (*go_on)(void *context), void *context,
                uint64_t *trait, struct pd_error *error)
{
    double figure[PD_STRATEGIES_MOST * PD_FIGURE_COUNT];
    uint32_t faults[PD_STRATEGIES_MOST];
    struct days_block first = {.end = 1, .figure = figure, .faults = faults};

    if (!days_run_block(work, &first, go_on, context, error)) {
        return false;
    }
    *trait = numbers_fingerprint(figure, work->strategy_count * PD_FIGURE_COUNT);
    return true;
}
