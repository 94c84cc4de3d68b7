#include "studies/days_serve.h"

#include "base/memory.h"
#include "studies/days_wire.h"
#include "studies/team.h"

#include <stdlib.h>
#include <unistd.h>

struct service {
    bool has_job, stopping, dismissed;
    struct days_work work;
    struct pd_scenario scenario;
    struct pd_strategy strategies[PD_STRATEGIES_MOST];
    struct wire_block queue[WIRE_AHEAD];
    size_t queued;
    struct days_block block; /* its memory is used again */
    size_t room;             /* days and strategies that it holds */
};

static void send_fault(long first, const struct pd_error *error)
{
    struct wire_fault fault = {.first = first, .error = *error};

    ranks_send(0, WIRE_FAULT, &fault, sizeof fault);
}

/* What may come while days are made. */
static void take(struct service *service, const struct ranks_message *message)
{
    if (message->kind == WIRE_STOP) {
        service->stopping = true;
    } else if (message->kind == WIRE_END) {
        service->dismissed = true;
    } else if (message->kind == WIRE_BLOCK && service->queued < WIRE_AHEAD) {
        service->queue[service->queued++] = wire_days(message);
    }
}

static bool may_go_on(void *context)
{
    struct service *service = context;
    struct ranks_message message;

    while (ranks_receive(&message)) {
        take(service, &message);
        free(message.data);
    }
    return !service->stopping && !service->dismissed;
}

static bool greet(struct service *service, struct pd_error *error)
{
    struct wire_hello hello = {.jobs = service->work.jobs};

    if (!wire_trait(&service->work, may_go_on, service, &hello.trait, error)) {
        return false;
    }
    if (gethostname(hello.host, sizeof hello.host - 1) != 0) {
        hello.host[0] = '\0';
    }
    ranks_send(0, WIRE_HELLO, &hello, sizeof hello);
    return true;
}

static void begin_job(struct service *service, const struct ranks_message *message)
{
    struct pd_error error = {.code = PD_DONE};

    service->has_job =
        wire_unpack_job(message, &service->scenario, service->strategies, &service->work, &error);
    if (service->has_job) {
        int jobs = service->work.jobs;
        service->work.jobs = team_jobs(jobs > 0 ? jobs : ranks_jobs());
    }
    if ((!service->has_job || !greet(service, &error)) && error.code != PD_DONE) {
        send_fault(-1, &error);
    }
}

static void end_job(struct service *service)
{
    if (service->has_job) {
        pd_scenario_free(&service->scenario);
    }
    service->has_job = false;
    service->stopping = false;
    service->queued = 0;
    ranks_send(0, WIRE_STOPPED, NULL, 0);
}

static bool make_room(struct service *service, long days, struct pd_error *error)
{
    size_t places = (size_t)days * service->work.strategy_count;

    if (places <= service->room) {
        return true;
    }
    service->room = 0;
    free(service->block.figure);
    free(service->block.faults);
    service->block.figure =
        pd_memory_resize(NULL, places * PD_FIGURE_COUNT * sizeof *service->block.figure);
    service->block.faults = pd_memory_resize(NULL, places * sizeof *service->block.faults);
    if (service->block.figure == NULL || service->block.faults == NULL) {
        return pd_error_memory(error);
    }
    service->room = places;
    return true;
}

static void run_next(struct service *service)
{
    struct pd_error error = {.code = PD_DONE};
    struct wire_block next = service->queue[0];

    service->queue[0] = service->queue[1];
    service->queued--;
    service->block.first = next.first;
    service->block.end = next.end;
    if (make_room(service, next.end - next.first, &error) &&
        days_run_block(&service->work, &service->block, may_go_on, service, &error)) {
        wire_send_days(&service->block, service->work.strategy_count);
    } else if (error.code != PD_DONE) {
        send_fault(next.first, &error);
    }
}

/* One thing that is to be done; false: there is none. */
static bool serve_once(struct service *service)
{
    struct ranks_message message;

    if (service->stopping) {
        end_job(service);
        return true;
    }
    if (ranks_receive(&message)) {
        if (message.kind == WIRE_JOB) {
            begin_job(service, &message);
        } else {
            take(service, &message);
        }
        free(message.data);
        return true;
    }
    if (service->queued > 0) {
        run_next(service);
        return true;
    }
    return false;
}

void days_serve(void)
{
    struct service service = {.has_job = false};

    while (!service.dismissed) {
        if (!serve_once(&service)) {
            ranks_rest();
        }
    }
    if (service.has_job) {
        pd_scenario_free(&service.scenario);
    }
    free(service.block.figure);
    free(service.block.faults);
}

void days_dismiss(void)
{
    for (int rank = 1; rank < ranks_count(); rank++) {
        ranks_send(rank, WIRE_END, NULL, 0);
    }
}
